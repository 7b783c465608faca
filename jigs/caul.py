"""The pressing caul: a stiff round plate that a bolt pulls down on the ring in its tray.

Everything is in ring coordinates, show face up, the neck at 12 o'clock; z = 0 is the underside of
the plate, from which the pads hang down. What it is for and why it is so: docs/fixtures/caul.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.base import Check, Fixture, Part, Place
from jigs.caul_pads import HEIGHT, Pads, pads_for
from jigs.caul_press import (
    BOW,
    bolt_to_buy,
    force_for,
    slope_allowed,
    thickness_against_bow,
    whole_thickness,
)
from jigs.hardware import CLEARANCE_HOLES, Fastener
from jigs.process import Process, process_for
from jigs.terrace import Block
from jigs.tray import Tray, proud_of, tray_for
from rosette.errors import Finding, finding
from rosette.geometry.outline import Point
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.words import Length, say

OVERHANG = 6.0
"""How far the rim reaches past the tray, so that fingers get under it to lift it."""
EDGE = 3.0
"""From the pads' corners, and from the sight holes, to the rim."""
KEPT_OFF = 0.1
"""The pads' ends stay so far inside wall and post even when all play is on one side."""
BY_HAND = 1.0
"""The rim that pads leave free where no bolt centres the caul."""
SIGHT = 4.0
"""Diameter of the holes through which the tray's marks are seen."""
MARK_DEPTH = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Caul(Fixture):
    """Sizes of one caul (mm, degrees, N).

    `axes` are the directions of the wedges' axes. `rest` is the height in the tray, from its
    underside, of the wedges' upper faces; `spare` how much thinner than planned wedges may be
    before it comes down on wall or post. `backing` may lie under them. `bolt` and `hole` are 0
    where there is none.
    """

    axes: tuple[float, ...]
    pads: Pads
    radius: float
    thickness: float
    rest: float
    backing: float
    spare: float
    bolt: int
    hole: float
    force: float
    sights: tuple[Point, ...]
    label: str
    process: Process

    def block(self) -> Block:
        """Its shape, pads down."""
        from jigs.caul_block import caul_block

        return caul_block(self)

    @property
    def place(self) -> Place:
        """Where it stands over the tray, whose underside is at z = 0."""
        return Place(z=self.rest + HEIGHT)

    def parts(self) -> tuple[Part, ...]:
        """The one plate; it is printed with its pads up."""
        block, places = self.block(), (self.place,)
        return (Part(name="plate", title=self.title, block=block, places=places, print_over=True),)

    def checks(self) -> tuple[Check, ...]:
        """Thickness and flatness first: they are what a caul is for."""
        pad = (self.pads.start + self.pads.end) / 2.0
        axis = math.radians(self.axes[0])
        at = (pad * math.cos(axis), pad * math.sin(axis))
        found = [
            Check(
                part="plate",
                what="over a pad, and the same over every pad",
                size=self.thickness + HEIGHT,
                heights=(-HEIGHT, self.thickness),
                at=at,
            ),
            Check(
                part="plate",
                what="how far a pad stands out",
                size=HEIGHT,
                heights=(-HEIGHT, 0.0),
                at=at,
            ),
            Check(
                part="plate",
                what="across the plate",
                size=2.0 * self.radius,
                minus=0.5,
                plus=0.5,
                ends=((-self.radius, 0.0), (self.radius, 0.0)),
            ),
        ]
        if self.hole:
            half = self.hole / 2.0
            found.append(
                Check(
                    part="plate",
                    what="centre hole",
                    size=self.hole,
                    plus=0.2,
                    ends=((-half, 0.0), (half, 0.0)),
                )
            )
        return tuple(found)

    def hardware(self) -> tuple[Fastener, ...]:
        """The bolt with its nut and washers; nothing where clamps press."""
        upper = self.rest + self.backing + HEIGHT + self.thickness
        return bolt_to_buy(self.bolt, upper) if self.bolt else ()


def fixtures(plan: Plan) -> tuple[Caul | Finding, ...]:
    """The caul of every ring that has a tray, or why it can't be made."""
    return tuple(caul_for(plan, ring) for ring in plan.wedge_rings)


def caul_for(plan: Plan, ring: RingPlan) -> Caul | Finding:
    """The caul of one ring."""
    tray, wedges, process = tray_for(plan, ring), ring.wedges, process_for(plan.fixtures)
    assert wedges is not None
    if isinstance(tray, Finding):
        return _no_tray(ring)
    pads = pads_for(wedges, rim=_rim(tray), bit=process.bit)
    if pads is None:
        return _too_fine(ring)
    force = force_for(wedges, tray.bolt)
    thickness = _thickness(wedges, force, process)
    sights = _sights(tray)
    radius = _radius(wedges, tray, sights)
    return Caul(
        name=f"ring-{ring.index}-caul",
        kind="caul",
        title=f"Pressing caul, ring {ring.index}",
        purpose=(
            f"Presses the {wedges.segments} wedges of ring {ring.index} flat in the glue-up tray"
            " while the glue sets."
        ),
        why=say(
            "a pad on each of the {segments} wedges and none on the joints; {thick} thick, it"
            " stays flat within {bow} over the ring's width under {force} N at its {where}",
            segments=wedges.segments,
            thick=Length(thickness + HEIGHT, 1),
            bow=Length(BOW, 1),
            force=round(force),
            where="bolt" if tray.bolt else "middle",
        ),
        warnings=_warnings(ring, tray, pads),
        section=((-radius, 0.0), (radius, 0.0)),
        axes=tuple(piece.axis for piece in ring.pieces if piece.axis is not None),
        pads=pads,
        radius=radius,
        thickness=thickness,
        rest=tray.floor_top + ring.tile_thickness,
        backing=ring.backing,
        spare=_spare(ring.tile_thickness, _inside(pads, wedges, tray)),
        bolt=tray.bolt,
        hole=CLEARANCE_HOLES[tray.bolt][1] if tray.bolt else 0.0,
        force=force,
        sights=sights,
        label=f"ring {ring.index}" if plan.fixtures.text else "",
        process=process,
    )


def _rim(tray: Tray) -> float:
    """How far inside the wedges' ends the pads end, so that they never come over wall or post.

    The caul may stand off centre by half the play of the bolt in either hole.
    """
    if not tray.bolt:
        return BY_HAND
    play = (tray.hole - tray.bolt + CLEARANCE_HOLES[tray.bolt][1] - tray.bolt) / 2.0
    return max(KEPT_OFF, play + KEPT_OFF - tray.clearance)


def _spare(thickness: float, inside: bool) -> float:
    """How much thinner wedges may be: by all of it where pads go down between wall and post."""
    return min(proud_of(thickness) + (HEIGHT if inside else 0.0), thickness)


def _inside(pads: Pads, wedges: Wedges, tray: Tray) -> bool:
    """Whether no pad ever comes over wall or post; on very short wedges some may."""
    return wedges.blank.outer_distance - pads.end >= _rim(tray) - 1e-9


def _thickness(wedges: Wedges, force: float, process: Process) -> float:
    blank = wedges.blank
    mean = (blank.inner_distance + blank.outer_distance) / 2.0
    slope = slope_allowed(blank.height)
    least = thickness_against_bow(force, mean, slope, process=process.name)
    return whole_thickness(least, process)


def _radius(wedges: Wedges, tray: Tray, sights: tuple[Point, ...]) -> float:
    corner = math.hypot(wedges.blank.outer_distance, wedges.blank.outer_width / 2.0)
    sight = max(math.hypot(*one) for one in sights) + SIGHT / 2.0
    return max(tray.outer + OVERHANG, corner + EDGE, sight + EDGE)


def _sights(tray: Tray) -> tuple[Point, ...]:
    """Over the marks on the tray's wall at 12 and 6 o'clock."""
    from jigs.tray_block import rim_middle

    return (0.0, rim_middle(tray, 90.0)), (0.0, -rim_middle(tray, 270.0))


def _no_tray(ring: RingPlan) -> Finding:
    return finding(
        "no-caul",
        f"ring[{ring.index}]",
        "no pressing caul: it goes with the glue-up tray, and this ring gets none; what makes room"
        " for the tray makes room for the caul",
    )


def _too_fine(ring: RingPlan) -> Finding:
    return finding(
        "no-caul",
        f"ring[{ring.index}]",
        "no pressing caul: the wedges are too small for a pad on each; press them with a flat board"
        " faced with release film, or make them with more trim allowance",
    )


def _warnings(ring: RingPlan, tray: Tray, pads: Pads) -> tuple[Finding, ...]:
    found = []
    if pads.narrow:
        found.append(
            finding(
                "caul-grooves",
                f"ring[{ring.index}]",
                "the grooves between the caul's pads are {groove} wide, which the bit for fixtures"
                " does not go into: cut them with a finer one, or leave them out and mind the film",
                groove=Length(pads.groove),
            )
        )
    if not tray.bolt:
        found.append(
            finding(
                "caul-no-bolt",
                f"ring[{ring.index}]",
                "the tray's post is too thin for a bolt, so the caul has no centre hole: press it"
                " down with clamps over the ring, all round",
            )
        )
    return tuple(found)
