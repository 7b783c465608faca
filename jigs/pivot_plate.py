"""The pivot plate: a small router's base with a pin hole for every radius that its bit turns at.

The bit stands at the origin. The router's screws come up from below, their heads sunk in the
underside; the pin that the plate turns on comes up into one of the holes. What counts is each
hole's distance from the bit; where two would run into each other, one stands aside.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jigs.base import Check, Fixture, Part
from jigs.hardware import CLEARANCE_HOLES, SOCKET_HEADS, Fastener
from jigs.pivot_plate_digits import number_steps
from jigs.pivot_plate_holes import Hole, hole_outline, spread
from jigs.pivot_plate_radii import left_out, no_hole, small_base, wanted_radii
from jigs.pivot_plate_shapes import Disc, around
from jigs.pivot_plate_thickness import SINK, plate_thickness
from jigs.process import process_for
from jigs.terrace import Block, Step
from jigs.trimming_table import TrimmingTable, table_for
from rosette.errors import Finding
from rosette.geometry.outline import Point, at_angle, circle
from rosette.plan.model import Channel, Plan
from rosette.words import Length, Saying, say

OPENING = 10.0
"""Radius of the opening where there is room: the bit is seen through it, and dust goes out."""
ROUND_BIT = 1.5
"""Least room between bit and opening."""
ON_THE_RIM = 8.0
"""How far the plate reaches over the rim of the trimming table, with the bit at the ring."""
TAIL = 6.0
"""Radius of the end that reaches over the rim."""
EDGE = 2.0
"""Left round letters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PivotPlate(Fixture):
    """Sizes of one plate (mm).

    The router has `screws`, their places, of size `thread`; `opening` is the radius of the
    bit's, `pin` the nominal diameter of the pin, `hole` that of its holes. `reaches` are discs
    that the plate covers beside those round its holes and screws.
    """

    thickness: float
    bit: float
    opening: float
    pin: int
    hole: float
    wall: float
    holes: tuple[Hole, ...]
    screws: tuple[Point, ...]
    thread: int
    sink_diameter: float
    sink_depth: float
    reaches: tuple[Disc, ...]
    chamfer: float
    text_depth: float

    def discs(self) -> tuple[Disc, ...]:
        """What the plate's outline goes round."""
        router = max(abs(complex(*one)) for one in self.screws) + self.sink_diameter / 2.0
        holes = [(*one.at, self.hole / 2.0 + self.wall) for one in self.holes]
        words = [
            (x, y, EDGE)
            for one in self.holes
            if one.label
            for x, y in one.label.corners(one.at, self.hole)
        ]
        return ((0.0, 0.0, router + self.wall), *holes, *words, *self.reaches)

    def block(self) -> Block:
        """The plate, its underside down."""
        shank = CLEARANCE_HOLES[self.thread][1] / 2.0
        opening = Step(outline=circle(self.opening), top=0.0)
        above = [Step(outline=circle(shank, at), top=self.sink_depth) for at in self.screws]
        below = [
            Step(outline=circle(self.sink_diameter / 2.0, at), top=self.sink_depth)
            for at in self.screws
        ]
        holes = [Step(outline=hole_outline(one, self.hole), top=0.0) for one in self.holes]
        return Block(
            outline=around(self.discs()),
            top=self.thickness,
            steps=(opening, *above, *holes, *self._words()),
            under=tuple(below),
            chamfer=self.chamfer,
        )

    def _words(self) -> Iterator[Step]:
        for one in self.holes:
            if one.label:
                yield from number_steps(
                    one.label.text,
                    middle=one.at[0],
                    baseline=one.at[1] + one.label.baseline(self.hole),
                    height=one.label.height,
                    top=self.thickness,
                    depth=self.text_depth,
                )

    def parts(self) -> tuple[Part, ...]:
        """The one plate."""
        part = Part(name="plate", title=self.title, block=self.block(), print_over=True)
        return (part,)

    def checks(self) -> tuple[Check, ...]:
        """What is left between the opening and each hole: with both diameters it is the radius."""
        across = (self.holes[0].at[0], self.holes[0].at[1])
        half = self.hole / 2.0
        yard = [
            Check(
                part="plate",
                what=f"between opening and hole {number} ({one.use})",
                size=one.radius - self.opening - half,
                ends=(at_angle(self.opening, one.angle), at_angle(one.radius - half, one.angle)),
            )
            for number, one in enumerate(self.holes, start=1)
        ]
        return (
            Check(
                part="plate",
                what="across each pin hole",
                size=self.hole,
                ends=((across[0] - half, across[1]), (across[0] + half, across[1])),
            ),
            Check(
                part="plate",
                what="across the opening",
                size=2.0 * self.opening,
                ends=((0.0, -self.opening), (0.0, self.opening)),
            ),
            *yard,
        )

    def hardware(self) -> tuple[Fastener, ...]:
        """The pin, and the router's own screws, longer by what the plate is thick there."""
        longer = self.thickness - self.sink_depth
        return (
            Fastener(
                what=f"socket head screw M{self.thread}, {longer:g} mm longer than the screws"
                " are to go into the router's base",
                standard="ISO 4762",
                count=len(self.screws),
            ),
            Fastener(
                what=f"dowel pin {self.pin} mm (as the table's or longer)", standard="ISO 8734"
            ),
        )


def fixtures(plan: Plan) -> tuple[PivotPlate | Finding, ...]:
    """The plate of every channel, or why it can't be made and what would work."""
    return tuple(plate_for(plan, channel) for channel in plan.channels)


def plate_for(plan: Plan, channel: Channel) -> PivotPlate | Finding:
    """The plate of one channel."""
    wishes, process = plan.fixtures, process_for(plan.fixtures)
    sink = SOCKET_HEADS[wishes.router_thread][0] + 2.0 * process.loose
    hole = wishes.pivot_pin + 2.0 * process.slide
    least = channel.bit_diameter / 2.0 + ROUND_BIT
    most = wishes.router_circle / 2.0 - sink / 2.0 - process.wall
    if most < least:
        return small_base(channel, wishes.router_circle, 2.0 * least + sink + 2.0 * process.wall)
    screws = tuple(
        at_angle(wishes.router_circle / 2.0, (180.0 + 360.0 * k) / wishes.router_screws)
        for k in range(wishes.router_screws)
    )
    wanted = wanted_radii(plan, channel)
    nearest = least + process.wall + hole / 2.0
    near = [one for one in wanted if one.radius < nearest]
    far = [one for one in wanted if one.radius >= nearest]
    smallest = min((one.radius for one in far), default=0.0)
    opening = min(OPENING, most, smallest - hole / 2.0 - process.wall)
    taken = ((0.0, 0.0, opening), *((*at, sink / 2.0) for at in screws))
    holes, crowded = spread(far, plan, hole=hole, wall=process.wall, taken=taken, process=process)
    missing = (*near, *crowded)
    if not holes or any(one.cuts for one in missing):
        return no_hole(plan, channel, missing, nearest)
    return PivotPlate(
        name=f"channel-{channel.index}-pivot-plate",
        kind="pivot-plate",
        title=f"Pivot plate, channel {channel.index}",
        purpose=(
            f"Turns a small router on the pivot pin at each radius of channel {channel.index}"
            " and of the rings in it."
        ),
        why=_why(holes, channel),
        warnings=tuple(left_out(channel, missing)),
        section=((-wishes.router_circle / 2.0 - sink, 0.0), (holes[-1].radius + hole, 0.0)),
        thickness=plate_thickness(plan),
        bit=channel.bit_diameter,
        opening=opening,
        pin=wishes.pivot_pin,
        hole=hole,
        wall=process.wall,
        holes=holes,
        screws=screws,
        thread=wishes.router_thread,
        sink_diameter=sink,
        sink_depth=SOCKET_HEADS[wishes.router_thread][1] + SINK,
        reaches=tuple(_tails(plan, holes)),
        chamfer=process.chamfer,
        text_depth=process.text_depth,
    )


def _why(holes: tuple[Hole, ...], channel: Channel) -> Saying:
    return say(
        "{count} pin holes set a bit of {bit} to every radius of channel {index} and of its rings,"
        " from {least} to {most}, without measuring",
        count=len(holes),
        bit=Length(channel.bit_diameter, 3),
        index=channel.index,
        least=Length(holes[0].radius),
        most=Length(holes[-1].radius),
    )


def _tails(plan: Plan, holes: tuple[Hole, ...]) -> Iterator[Disc]:
    """What carries the plate on the trimming table's rim, beyond the bit as seen from the pin."""
    rings = {ring.index: ring for ring in plan.wedge_rings}
    for one in holes:
        table = table_for(plan, rings[one.trims]) if one.trims else None
        if isinstance(table, TrimmingTable):
            beyond = table.recess + ON_THE_RIM - one.radius
            yield (*at_angle(beyond - TAIL, one.angle + 180.0), TAIL)
