"""The half tray: half a ring's wedges are glued in it against a wall and trued along its rail.

In its own coordinates the ring's centre is the origin and the half lies above the x axis, show
face up; wedges follow one another clockwise from the left. The rail is the bed's front face, half
a joint above the x axis: where the end faces of both halves must lie. What it is for and why it is
so: docs/fixtures/half-tray.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.base import Check, Fixture, Part, Place
from jigs.caul_pads import HEIGHT, Pads, pads_for
from jigs.caul_press import LENGTHS
from jigs.half_tray_screws import HOLE, SCREW, frame_for
from jigs.half_tray_wall import Wall, wall_for
from jigs.hardware import Fastener
from jigs.process import Process, process_for
from jigs.tray import proud_of
from jigs.tray_floor import Floor, floor_for
from rosette.errors import Finding, finding
from rosette.geometry.closing import sanded_off
from rosette.geometry.outline import Point
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.words import Length, say

RAIL = 6.0
"""Height of the rail: the part of a sanding board below the grit runs along it."""
LAND = 2.0
"""From the rail's top to what the wedges stand on: the grit may begin anywhere between."""
FAT = 0.5
"""Degrees by which a half is cut fat, for what is said of it."""
SET_BACK = 0.5
"""Wall and post end so far behind the rail, so that no grit reaches them."""
POST_LEAST = 4.0
"""A post of a smaller radius is left away: the wall alone places the wedges."""
WORN = 0.1
"""What may come off the rail before it is time for a new bed."""
NUT_AND_WASHERS = 10.0
"""A washer, a wing nut and a little thread above the cap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HalfTray(Fixture):
    """Sizes of one half tray (mm, degrees).

    `count` wedges of a ring of `segments` stand in it, on lands at `floor_top`; wall and post
    reach up to `top`. `rail` is the y of its front face. `post` is the post's radius, 0 where
    there is none. `fat` is how far a half that is `FAT` degrees fat reaches past the rail at its
    outer corners. `side` is where along x an end face of the half begins and ends. `half_width`
    and `back` bound the bed, `screws` are where the cap is screwed down, `cap` is its thickness.
    """

    segments: int
    joint: float
    floor: Floor
    wall: Wall
    post: float
    pads: Pads
    tile_thickness: float
    floor_top: float
    top: float
    fat: float
    side: tuple[float, float]
    half_width: float
    back: float
    screws: tuple[Point, ...]
    cap: float
    label: str
    process: Process

    @property
    def count(self) -> int:
        """Wedges in the half."""
        return self.segments // 2

    @property
    def mitre_rad(self) -> float:
        """Half the angle from wedge to wedge, in radians."""
        return math.pi / self.segments

    @property
    def rail(self) -> float:
        """The y of the rail: half a joint."""
        return self.joint / 2.0

    @property
    def axes(self) -> tuple[float, ...]:
        """The directions of the wedges' axes, from the left round to the right."""
        pitch = 360.0 / self.segments
        return tuple(180.0 - pitch * (i + 0.5) for i in range(self.count))

    @property
    def wedges_top(self) -> float:
        """The height of the wedges' upper faces."""
        return self.floor_top + self.tile_thickness

    def parts(self) -> tuple[Part, ...]:
        """The bed, the cap over the wedges, the bar that closes their joints."""
        from jigs.half_tray_bed import bed_block
        from jigs.half_tray_press import bar_block, bar_low, cap_block

        return (
            Part(name="bed", title=f"{self.title}: bed", block=bed_block(self)),
            Part(
                name="cap",
                title=f"{self.title}: cap",
                block=cap_block(self),
                places=(Place(z=self.wedges_top + HEIGHT),),
                print_over=True,
                colour=1,
            ),
            Part(
                name="bar",
                title=f"{self.title}: closing bar",
                block=bar_block(self),
                places=(Place(z=bar_low(self)),),
                print_over=True,
                colour=2,
            ),
        )

    def checks(self) -> tuple[Check, ...]:
        """First the size that truing goes by."""
        x = self.half_width - 1.0
        mid = math.radians(self.axes[self.count // 2])
        pad = (self.pads.start + self.pads.end) / 2.0
        at = (pad * math.cos(mid), pad * math.sin(mid))
        found = [
            Check(
                part="bed",
                what="from the back edge to the rail, at both ends and in the middle",
                size=self.back - self.rail,
                minus=WORN,
                plus=0.1,
                ends=((x, self.rail), (x, self.back)),
            ),
            Check(
                part="bed",
                what="how high the wall stands over the lands",
                size=self.top - self.floor_top,
                heights=(self.floor_top, self.top),
                at=at,
            ),
            Check(
                part="cap",
                what="over a pad, and the same over every pad",
                size=self.cap + HEIGHT,
                heights=(-HEIGHT, self.cap),
                at=at,
            ),
        ]
        if self.post:
            y = self.rail + SET_BACK
            half = math.sqrt(self.post**2 - y**2)
            found.insert(
                1,
                Check(
                    part="bed",
                    what="across the post, at the rail",
                    size=2.0 * half,
                    ends=((-half, y), (half, y)),
                ),
            )
        return tuple(found)

    def hardware(self) -> tuple[Fastener, ...]:
        """The screws that hold the cap, their heads in the bed's underside."""
        from jigs.half_tray_bed import SLOT_DEPTH

        least = self.wedges_top + HEIGHT + self.cap - SLOT_DEPTH + NUT_AND_WASHERS
        length = next((one for one in LENGTHS if one >= least), 10 * math.ceil(least / 10.0))
        count = len(self.screws)
        return (
            Fastener(
                what=f"hexagon head screw M{SCREW} x {length}", standard="ISO 4017", count=count
            ),
            Fastener(what=f"wing nut M{SCREW}", standard="DIN 315", count=count),
            Fastener(what=f"large washer M{SCREW}", standard="ISO 7093-1", count=count),
        )


def fixtures(plan: Plan) -> tuple[HalfTray | Finding, ...]:
    """The half tray of every ring of wedges, or why it can't be made."""
    return tuple(half_tray_for(plan, ring) for ring in plan.wedge_rings)


def half_tray_for(plan: Plan, ring: RingPlan) -> HalfTray | Finding:
    """The half tray of one ring."""
    from jigs.half_tray_press import cap_thickness

    wedges, process = ring.wedges, process_for(plan.fixtures)
    assert wedges is not None
    if wedges.segments % 2:
        return _odd(ring, wedges)
    floor, pads = floor_for(wedges), pads_for(wedges, rim=_rim(), bit=process.bit)
    if floor is None or pads is None:
        return _too_fine(ring, wedges)
    rail = wedges.joint / 2.0
    wall = wall_for(wedges, process, front=rail + SET_BACK)
    post = wedges.blank.inner_distance - process.loose
    post = post if post >= max(POST_LEAST, rail + 2.0 * SET_BACK) else 0.0
    frame = frame_for(wall.reach, post, process, rail=rail, front=rail + SET_BACK)
    side = _side(wedges)
    fat = sanded_off(side[1], FAT)
    floor_top = RAIL + LAND
    return HalfTray(
        name=f"ring-{ring.index}-half-tray",
        kind="half-tray",
        title=f"Half tray, ring {ring.index}",
        purpose=(
            f"Holds half of ring {ring.index}, {wedges.half_set} wedges, while it is glued and"
            " while its ends are trued to a straight line."
        ),
        why=say(
            "the {segments} wedges close from two halves of {half}; cut {degrees}° fat, each"
            " reaches {fat} past the rail at its outer corners, and that is sanded off",
            segments=wedges.segments,
            half=wedges.half_set,
            degrees=FAT,
            fat=Length(fat),
        ),
        warnings=_warnings(ring, pads),
        section=((0.0, rail), (0.0, frame.back)),
        segments=wedges.segments,
        joint=wedges.joint,
        floor=floor,
        wall=wall,
        post=post,
        pads=pads,
        tile_thickness=ring.tile_thickness,
        floor_top=floor_top,
        top=floor_top + ring.tile_thickness - proud_of(ring.tile_thickness),
        fat=fat,
        side=side,
        half_width=frame.half_width,
        back=frame.back,
        screws=frame.screws,
        cap=cap_thickness(wedges, frame, process),
        label=f"ring {ring.index}" if plan.fixtures.text else "",
        process=process,
    )


def _rim() -> float:
    """How far inside the wedges' ends the cap's pads end: the play of its screws and a little."""
    from jigs.caul import KEPT_OFF

    return HOLE - SCREW + KEPT_OFF


def _side(wedges: Wedges) -> tuple[float, float]:
    """Where along x an end face of the half begins and ends: at its inner and outer corner."""
    blank, angle = wedges.blank, math.pi / wedges.segments
    ends = (
        (blank.inner_distance, blank.inner_width / 2.0),
        (blank.outer_distance, blank.outer_width / 2.0),
    )
    inner, outer = (x * math.cos(angle) + y * math.sin(angle) for x, y in ends)
    return inner, outer


def _odd(ring: RingPlan, wedges: Wedges) -> Finding:
    return finding(
        "no-half-tray",
        f"ring[{ring.index}].segments",
        "no half tray: {segments} wedges make no two equal halves, and the last one is fitted to"
        " its opening instead; {even} close from two halves",
        segments=wedges.segments,
        even="4" if wedges.segments == 3 else f"{wedges.segments - 1} or {wedges.segments + 1}",
    )


def _too_fine(ring: RingPlan, wedges: Wedges) -> Finding:
    return finding(
        "no-half-tray",
        f"ring[{ring.index}]",
        "no half tray: {segments} wedges, {width} wide at the inner end and {height} high, leave"
        " nothing to stand on between the relief grooves under their joints; fewer wedges, or more"
        " trim allowance, make room",
        segments=wedges.segments,
        width=Length(wedges.blank.inner_width),
        height=Length(wedges.blank.height),
    )


def _warnings(ring: RingPlan, pads: Pads) -> tuple[Finding, ...]:
    if not pads.narrow:
        return ()
    return (
        finding(
            "half-tray-grooves",
            f"ring[{ring.index}]",
            "the grooves between the lands of the half tray, and between the pads of its cap, are"
            " {groove} wide, which the bit for fixtures does not go into: cut them with a finer"
            " one",
            groove=Length(pads.groove),
        ),
    )
