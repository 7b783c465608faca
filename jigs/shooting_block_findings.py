"""Why a ring's wedges can't be held in a shooting block, and what to mind where they can."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jigs.process import Process
from jigs.shooting_block_station import INSET, LEAST_CONTACT, Station, on_fence, station_for
from rosette.errors import Finding, finding
from rosette.geometry import wedge
from rosette.patterns.base import Blank, RingPlan, Wedges
from rosette.words import Length

if TYPE_CHECKING:
    from jigs.shooting_block import ShootingBlock

LEAST_MIDDLE = 3.5
"""A wedge narrower than this in its middle is not held down by the bar's nose."""
LEAST_HEIGHT = 7.0
LEAST_THICKNESS = 0.8
THICKEST = 20.0
WIDEST_BIT = 8.0
LEAST_STOP = 1.5
"""What of the outer end must stand against the stop."""
LOOSEST = 0.6
LARGEST = 400.0
"""A longer or deeper block is no help at a bench."""


def refusal_for(
    ring: RingPlan, wedges: Wedges, station: Station, process: Process
) -> Finding | None:
    """Why a ring gets no shooting block."""
    return _by_machine(ring, process) or _by_size(ring, wedges, station, process)


def _by_machine(ring: RingPlan, process: Process) -> Finding | None:
    """What stands in the way whatever the wedges."""
    if process.slide > LOOSEST:
        return finding(
            "no-shooting-block",
            "fixtures.clearance",
            "ring {index} gets no shooting block: with {slide} of clearance its stop would rattle;"
            " use {most} or less",
            index=ring.index,
            slide=Length(process.slide),
            most=Length(LOOSEST),
        )
    if process.bit > WIDEST_BIT:
        return finding(
            "no-shooting-block",
            "fixtures.bit_diameter",
            "ring {index} gets no shooting block: a bit of {bit} does not go into its stop's"
            " pocket; cut it with one of {most} or less",
            index=ring.index,
            bit=Length(process.bit),
            most=Length(WIDEST_BIT, 0),
        )
    return None


def _by_size(ring: RingPlan, wedges: Wedges, station: Station, process: Process) -> Finding | None:
    """What is too thin, too thick, too large or too small."""
    blank = wedges.blank
    if ring.tile_thickness < LEAST_THICKNESS:
        return _refused(
            ring,
            "the wedges are {thickness} thick, and {least} is the least that a fence holds; glue"
            " the backing to the strip before it is sawn, or true the half rings instead",
            thickness=Length(ring.tile_thickness),
            least=Length(LEAST_THICKNESS),
        )
    if ring.tile_thickness > THICKEST:
        return _refused(
            ring,
            "the wedges are {thickness} thick, and no clamp reaches over more than {most}; true"
            " them on a shooting board",
            thickness=Length(ring.tile_thickness),
            most=Length(THICKEST, 0),
        )
    if _large(station):
        return _refused(
            ring,
            "{segments} wedges {width} wide would need a block longer than {largest}; true them on"
            " a shooting board with a fence at {angle:.4g}° to its edge",
            segments=wedges.segments,
            width=Length(blank.outer_width),
            largest=Length(LARGEST, 0),
            angle=2.0 * wedges.mitre_angle,
        )
    return None if holds(station, blank) else _small(ring, wedges, process)


def holds(station: Station, blank: Blank) -> bool:
    """Whether fence, stop and clamp have enough of a wedge."""
    side = blank.height / math.cos(station.mitre_rad)
    narrow = blank.inner_width * math.cos(station.mitre_rad)
    return (
        blank.height >= LEAST_HEIGHT
        and (blank.inner_width + blank.outer_width) / 2.0 >= LEAST_MIDDLE
        and narrow >= INSET
        and on_fence(station) >= LEAST_CONTACT * side
        and blank.outer_width / 2.0 - station.stop_low >= LEAST_STOP
    )


def _large(station: Station) -> bool:
    corners = [*station.wedge(1).points(), *station.wedge(2).points(), *station.pocket_corners()]
    xs = [x for x, _ in corners]
    return 2.0 * (max(xs) - min(xs)) + 30.0 > LARGEST


def _small(ring: RingPlan, wedges: Wedges, process: Process) -> Finding:
    most = most_wedges(ring, wedges, process)
    remedy = (
        "at most {most} wedges of this ring can be shot, or glue half rings of these as sawn"
        if most
        else "glue half rings of these as sawn"
    )
    return _refused(
        ring,
        "{segments} wedges, {inner} to {outer} wide and {height} long, are too small to be held"
        " between fence, stop and clamp; " + remedy + " and true the halves",
        segments=wedges.segments,
        inner=Length(wedges.blank.inner_width),
        outer=Length(wedges.blank.outer_width),
        height=Length(wedges.blank.height),
        most=most,
    )


def most_wedges(ring: RingPlan, wedges: Wedges, process: Process) -> int:
    """The largest count below this ring's own that a block holds; 0 where none does."""
    from jigs.shooting_block import fat_for

    corner = ring.inner_radius - wedges.inner_allowance
    outer = wedges.blank.outer_distance
    for count in range(wedges.segments - 1, 4, -1):
        if wedge.half_angle_rad(corner, segments=count, joint=wedges.joint) <= 0.0:
            continue
        inner = wedge.inner_distance(corner, segments=count, joint=wedges.joint)
        blank = Blank(
            inner_width=wedge.width_at(inner, segments=count, joint=wedges.joint),
            outer_width=wedge.width_at(outer, segments=count, joint=wedges.joint),
            height=outer - inner,
            inner_distance=inner,
            outer_distance=outer,
        )
        if blank.inner_width <= 0.0:
            continue
        mitre = wedge.mitre_angle(count)
        station = station_for(blank, mitre, fat=fat_for(blank, mitre), process=process)
        if not _large(station) and holds(station, blank):
            return count
    return 0


def warnings_for(block: ShootingBlock, ring: RingPlan) -> tuple[Finding, ...]:
    """That the wedges must be cut fat, and what that takes."""
    wedges = ring.wedges
    assert wedges is not None
    wider = 2.0 * block.station.fat / math.cos(block.station.mitre_rad)
    return (
        finding(
            "shooting-block-fat",
            f"ring[{ring.index}]",
            "for the shooting block cut the wedges fat by {fat} on each side: set the saw's stop"
            " {wider} wider than the sheets say, and have {more} more of strip for {segments}"
            " wedges",
            fat=Length(block.station.fat),
            wider=Length(wider),
            more=Length(wider * wedges.segments, 0),
            segments=wedges.segments,
        ),
    )


def _refused(ring: RingPlan, template: str, **words: object) -> Finding:
    return finding(
        "no-shooting-block", f"ring[{ring.index}]", "no shooting block: " + template, **words
    )
