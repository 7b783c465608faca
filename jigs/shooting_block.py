"""The shooting block: trues a rough wedge's sides to the mitre, one off the other.

A wedge lies on the table with its finished side on a fence, which stands at exactly the wedge's
own angle to the working edge, and its outer end at a stop. What stands out past the working edge
comes off. Two stations, mirror images of one another, serve both sides and both hands.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from jigs.base import Check, Fixture, Part
from jigs.hardware import Fastener
from jigs.process import Process, process_for
from jigs.shooting_block_findings import refusal_for, warnings_for
from jigs.shooting_block_station import (
    INSET,
    Station,
    highest_between,
    station_for,
)
from jigs.tray import proud_of
from rosette.errors import Finding
from rosette.geometry.outline import Outline, Point, polygon
from rosette.patterns.base import Blank, RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.words import Length, Saying, say

FAT = 0.4
"""What a wedge is cut fat on each side (mm), where it may be."""
LEAST_FAT = 0.1
RAIL = 4.0
"""Height of the rail that the sole runs on: lower than the strip beside any plane's mouth."""
POCKET = 4.0
"""Depth of the stop's pocket."""
LEAST_TABLE = 9.0
FROM_EDGE = 40.0
"""The clamp's screw, and the hand at it, stand at least this far from the working edge."""
BAR = 14.0
NOSE = 1.5
"""From the table's edge to the nose of the clamp bar."""
DRAW = 14.0
"""How far the bar draws back off the wedge."""
HEEL, BEHIND_SCREW, BEHIND_HEEL = 8.0, 9.0, 4.0
SCREW_ROOM = 7.0
"""From the middle of the clamp screw to whatever stands on the table."""
THREAD = 5
SCREW_LENGTHS = (16, 20, 25, 30, 35, 40)
LEAST_BAR = 6.0
WASHER = 1.0
BOARD_SCREW = 4
BOARD_ROOM = 8.0
"""From the middle of a screw into the board to the edges of the block."""
BOARD_HEAD = 9.0
STANDS_OFF = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ShootingBlock(Fixture):
    """Sizes of one shooting block (mm); the working edge lies along y = 0, the middle at x = 0.

    `station` is the right one, its point 0, 0 at x = `aside`; the left one is its mirror image.
    `half` is half the block's length, `depth` what it measures from front to back. Wedges lie
    at `table`, walls stand `wall_top` high, the clamp bars `bar` thick on heels as high as the
    wedge. The clamp screws stand at `screw`.
    """

    process: Process
    station: Station
    ring: int
    segments: int
    thickness: float
    aside: float
    half: float
    depth: float
    table: float
    wall_top: float
    bar: float
    screw: Point
    screw_length: int
    text: bool

    def parts(self) -> tuple[Part, ...]:
        """The block, the stops and the clamp bars."""
        from jigs.shooting_block_shape import parts

        return parts(self)

    def checks(self) -> tuple[Check, ...]:
        """The fence by its two distances from the working edge; the stop; the back edge."""
        from jigs.shooting_block_shape import checks

        return checks(self)

    def hardware(self) -> tuple[Fastener, ...]:
        """What clamps the wedge, and what holds the block to its board."""
        screw = f"socket head screw M{THREAD} x {self.screw_length}"
        return (
            Fastener(what=screw, standard="ISO 4762", count=2),
            Fastener(what=f"hexagon nut M{THREAD}", standard="ISO 4032", count=2),
            Fastener(what=f"plain washer M{THREAD}", standard="ISO 7089", count=2),
            Fastener(what="pan head wood screw 4 x 16", standard="", count=3),
        )

    def mapped(self, outline: Outline, *, left: bool = False) -> Outline:
        """An outline of the right station where it stands in the block, or its mirror image."""
        sign = -1.0 if left else 1.0
        moved = outline.mapped(shift=(self.aside, 0.0))
        return Outline(
            tuple(v._replace(x=sign * v.x, bulge=sign * v.bulge) for v in moved.vertices)
        )


def fixtures(plan: Plan) -> tuple[Fixture | Finding, ...]:
    """A shooting block for every ring of wedges, or why it can't be held in one."""
    return tuple(_for_ring(plan, ring) for ring in plan.wedge_rings)


def _for_ring(plan: Plan, ring: RingPlan) -> Fixture | Finding:
    assert ring.wedges is not None
    process = process_for(plan.fixtures)
    station = station_of(ring.wedges, process)
    refused = refusal_for(ring, ring.wedges, station, process)
    if refused:
        return refused
    made = _block(plan, ring, ring.wedges, station)
    return replace(made, warnings=warnings_for(made, ring))


def station_of(wedges: Wedges, process: Process) -> Station:
    """The station for a ring's wedges, whether or not it holds them."""
    fat = fat_for(wedges.blank, wedges.mitre_angle)
    return station_for(wedges.blank, wedges.mitre_angle, fat=fat, process=process)


def fat_for(blank: Blank, mitre: float) -> float:
    """How fat wedges are cut, so that the stop moves by no more than a third of their length.

    A whole number of 0.05 mm.
    """
    most = blank.height / 3.0 * 2.0 * math.sin(math.radians(mitre))
    return min(FAT, max(LEAST_FAT, math.floor(most / 0.05 + 1e-9) * 0.05))


def _block(plan: Plan, ring: RingPlan, wedges: Wedges, station: Station) -> ShootingBlock:
    process = process_for(plan.fixtures)
    middle = (station.near + station.far) / (2.0 * math.cos(station.mitre_rad))
    standing = [
        station.wedge(1),
        station.wedge(2),
        station.fence(station.groove),
        polygon(station.pocket_corners()),
    ]
    strip = (middle - BAR / 2.0, middle + BAR / 2.0)
    screw = max(FROM_EDGE, highest_between(standing, *strip) + SCREW_ROOM)
    left = min(outline.bounds()[0] for outline in standing)
    right = max(outline.bounds()[2] for outline in standing)
    room = BOARD_HEAD / 2.0 + STANDS_OFF
    aside = max(room - left, room - strip[0])
    end = max(right + process.wall, strip[1] + room + BOARD_ROOM)
    back = max(outline.bounds()[3] for outline in standing[2:]) + INSET + process.feature
    table = max(LEAST_TABLE, process.floor + POCKET)
    length, bar = _bar(table + ring.tile_thickness)
    angle = say("{angle:.4g}", angle=2.0 * wedges.mitre_angle).text()
    return ShootingBlock(
        name=f"ring-{ring.index}-shooting-block",
        kind="shooting-block",
        title=f"Shooting block, ring {ring.index}",
        purpose=f"Trues the sides of ring {ring.index}'s wedges to {angle}° between them.",
        why=_why(wedges, station.fat),
        section=((aside + middle, -1.0), (aside + middle, screw + 30.0)),
        process=process,
        station=station,
        ring=ring.index,
        segments=wedges.segments,
        thickness=ring.tile_thickness,
        aside=aside,
        half=aside + end + INSET,
        depth=max(screw + BEHIND_SCREW + HEEL + BEHIND_HEEL, back),
        table=table,
        wall_top=table + ring.tile_thickness - proud_of(ring.tile_thickness),
        bar=bar,
        screw=(aside + middle, screw),
        screw_length=length,
        text=plan.fixtures.text and process.text_depth > 0.0,
    )


def _bar(under: float) -> tuple[int, float]:
    """Length of the clamp screw, and a bar so thick that the screw ends just above the bench."""
    for length in SCREW_LENGTHS:
        bar = length + 0.5 - WASHER - under
        if bar >= LEAST_BAR:
            return length, bar
    raise ValueError(f"no screw reaches through {under} mm")


def _why(wedges: Wedges, fat: float) -> Saying:
    closing = wedges.closing
    return say(
        "{faces} cut faces meet in this ring; to close it within {gap} each must be true to"
        " {error:.2g}°, which no saw holds: cut {fat} fat a side and shoot them",
        faces=2 * wedges.segments,
        gap=Length(closing.wanted_gap),
        error=closing.face_error_for_gap,
        fat=Length(fat),
    )
