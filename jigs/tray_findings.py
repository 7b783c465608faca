"""Why a ring gets no tray, and what to mind about the tray it gets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigs.tray_floor import END_RELIEF, LEAST_LENGTH, most_wedges
from rosette.errors import Finding, finding
from rosette.patterns.base import RingPlan, Wedges
from rosette.words import Length

if TYPE_CHECKING:
    from jigs.tray import Tray

LEAST_POST = 2.0
"""A post of a smaller radius breaks off."""
LOOSEST = 1.0
"""With more clearance than this a wedge is not held at all."""
LOWEST_WALL = 0.8
"""Four layers of a print: wedges climb over a lower wall."""


def refusal_for(ring: RingPlan, wedges: Wedges, clearance: float) -> Finding | None:
    """Why a ring gets no tray, whatever its floor."""
    if clearance > LOOSEST:
        return finding(
            "no-tray",
            "fixtures.clearance",
            "ring {index} gets no glue-up tray: with {clearance} of clearance it would not hold"
            " the wedges; use {most} or less",
            index=ring.index,
            clearance=Length(clearance),
            most=Length(LOOSEST),
        )
    if wedges.blank.inner_distance - clearance < LEAST_POST:
        return finding(
            "no-tray",
            _where(ring),
            "no glue-up tray: the wedges reach to {distance} from the centre, and the post needs"
            " {least}; a larger inner radius, less inner allowance or more wedges make room",
            distance=Length(wedges.blank.inner_distance),
            least=Length(LEAST_POST + clearance),
        )
    return None


def too_fine(ring: RingPlan, wedges: Wedges) -> Finding:
    """Why wedges have nothing to stand on."""
    most = most_wedges(wedges, ring.inner_radius - wedges.inner_allowance)
    short = wedges.blank.height * (1.0 - 2.0 * END_RELIEF) < LEAST_LENGTH
    remedy = (
        "; more trim allowance makes room"
        if short or not most
        else "; at most {most} wedges of this ring can stand in one"
    )
    return finding(
        "no-tray",
        _where(ring),
        "no glue-up tray: {segments} wedges, {width} wide at the inner end and {height} high, leave"
        " nothing to stand on between the relief grooves under their joints" + remedy,
        segments=wedges.segments,
        width=Length(wedges.blank.inner_width),
        height=Length(wedges.blank.height),
        most=most,
    )


def warnings_for(tray: Tray, ring: RingPlan) -> tuple[Finding, ...]:
    """What to mind about a tray."""
    found = (
        _shallow(tray, ring),
        _backing(tray, ring),
        _no_finger_holes(tray, ring),
        _no_bolt(tray, ring),
    )
    return tuple(one for one in found if one is not None)


def _shallow(tray: Tray, ring: RingPlan) -> Finding | None:
    if tray.depth >= LOWEST_WALL:
        return None
    return finding(
        "tray-shallow",
        _where(ring),
        "the wall of the glue-up tray is only {depth} high, since the wedges are {thickness}"
        " thick; see that none climbs over it when they are pressed",
        depth=Length(tray.depth),
        thickness=Length(ring.tile_thickness),
    )


def _backing(tray: Tray, ring: RingPlan) -> Finding | None:
    if ring.backing <= tray.depth / 2.0:
        return None
    return finding(
        "tray-backing",
        _where(ring),
        "glue the backing of {backing} on after the ring has left the glue-up tray: under the"
        " wedges it would lift them out of the wall, which is {depth} high",
        backing=Length(ring.backing),
        depth=Length(tray.depth),
    )


def _no_finger_holes(tray: Tray, ring: RingPlan) -> Finding | None:
    if tray.floor.holes:
        return None
    return finding(
        "tray-no-finger-holes",
        _where(ring),
        "the wedges are too small for finger holes in the glue-up tray; lay two strips of release"
        " film across under the ring and lift it out by them",
    )


def _no_bolt(tray: Tray, ring: RingPlan) -> Finding | None:
    if tray.hole:
        return None
    return finding(
        "tray-no-bolt",
        _where(ring),
        "the post of the glue-up tray is too thin for a centre hole; press the caul down with"
        " clamps instead of a bolt",
    )


def _where(ring: RingPlan) -> str:
    return f"ring[{ring.index}]"
