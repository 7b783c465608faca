"""The sawing carrier: a small sled in the saw's mitre slot that holds the strip at the mitre.

The carrier's own coordinates: the cut runs along x = 0 towards +y, the kerf half on either side;
z = 0 is the saw's table. Fence, facing, holder and stop have coordinates along the strip: u to
the right along the fence, v away from it, turned by the mitre against x and y. So the cut leans
by the mitre from square to the strip, and the wide edge of every wedge lies at the fence.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

from jigs.base import Check, Fixture, Part, Place
from jigs.hardware import Fastener
from jigs.process import Process, process_for
from jigs.saw_carrier_findings import bar_too_small, too_steep, warnings_for
from jigs.saw_carrier_layout import FAR, NEAR, Frame, frame_for
from jigs.saw_carrier_screws import (
    NUT_DEPTH,
    THREAD,
    UNDER,
    BarFit,
    bar_fit,
    reaching,
    sunk_depth,
)
from rosette.errors import Finding
from rosette.geometry.outline import Point
from rosette.patterns.base import RingPlan
from rosette.plan.model import Plan
from rosette.units import format_angle
from rosette.words import Length, say

STEEPEST = 45.0
"""The greatest mitre in degrees."""
LEAST_HOLDER = 10.0
OVER_BLADE = 25.0
"""How far fence and tie stand above the blade: they hold the two plates together."""
BLADE_OVER = 3.0
"""How far the blade stands above the strip."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SawCarrier(Fixture):
    """Sizes of one carrier (mm, degrees).

    `thickness` is the strip's, `base` that of the plates, `tall` the height of fence, guard and
    tie above them, `holder` the thickness of what presses the strip, with screws `holder_screw`
    long. `label` is what is engraved where `lettered` is true.
    """

    frame: Frame
    bar: BarFit
    thickness: float
    base: float
    tall: float
    facing_height: float
    stop_height: float
    holder: float
    holder_screw: int
    label: str
    lettered: bool
    process: Process

    def screw(self, height: float, *, least: float = 0.0) -> tuple[int, float]:
        """Length and sunk depth of screws from `height` above the base down to their nuts."""
        return sunk_depth(self.base + height, least=least)

    def nuts(self) -> tuple[Point, ...]:
        """Where screws come down to nuts in the plates, the stop's and the bar's apart."""
        frame = self.frame
        turned = (
            *frame.facing_screws(),
            *frame.fence_screws(),
            *frame.rail_screws(),
            *frame.holder_screws(),
        )
        return (
            *(frame.at(u, v) for u, v in turned),
            *frame.guard_screws(),
            *frame.tie_screws(),
            *frame.grip_screws(),
        )

    def parts(self) -> tuple[Part, ...]:
        """Every part, the set block in its place between stop and strip."""
        from jigs import saw_carrier_blocks as blocks

        on_base, along = Place(z=self.base), Place(z=self.base, turn=self.frame.mitre)
        on_fence = Place(z=self.base + self.tall, turn=self.frame.mitre)
        on_strip = Place(z=self.base + self.thickness, turn=self.frame.mitre)
        below = Place(x=-(NEAR + FAR) / 2.0, z=-self.bar.height)
        listed = (
            ("base", "Base", blocks.base_block, Place(), 0),
            ("wing", "Base right of the cut", blocks.wing_block, Place(), 0),
            ("bar", "Bar for the mitre slot", blocks.bar_block, below, 1),
            ("facing", "Facing, to be renewed", blocks.facing_block, along, 2),
            ("fence", "Fence", blocks.fence_block, along, 3),
            ("rail", "Rail for the left hand", blocks.rail_block, on_fence, 4),
            ("grip", "Grip for the right hand", blocks.grip_block, on_base, 4),
            ("tie", "Tie", blocks.tie_block, on_base, 3),
            ("guard", "Guard over the blade", blocks.guard_block, on_base, 5),
            ("holder", "Holder of the strip", blocks.holder_block, on_strip, 6),
            ("stop", "Stop", blocks.stop_block, along, 1),
            ("set-block", "Set block, drawn before the cut", blocks.set_block, along, 2),
        )
        return tuple(
            Part(
                name=name,
                title=title,
                block=block(self),
                places=(place,),
                print_over=name in {"wing", "bar", "holder"},
                colour=colour,
            )
            for name, title, block, place, colour in listed
        )

    def checks(self) -> tuple[Check, ...]:
        """What the slide in the slot and the wedges' length depend on."""
        frame, half = self.frame, self.bar.width / 2.0
        middle = (NEAR + FAR) / 2.0
        y = (frame.y_front + frame.y_back) / 2.0
        low = frame.at(frame.end_at(2.0), 2.0)
        across = frame.stand_off * math.cos(frame.mitre_rad)
        square = (
            low[0] + across * math.cos(2.0 * frame.mitre_rad),
            low[1] + across * math.sin(2.0 * frame.mitre_rad),
        )
        return (
            Check(
                part="bar",
                what="across the bar",
                size=self.bar.width,
                ends=((-middle - half, y), (half - middle, y)),
            ),
            Check(
                part="base",
                what="thickness of both plates",
                size=self.base,
                at=(-5.0, frame.y_front + 5.0),
                heights=(0.0, self.base),
            ),
            Check(part="set-block", what="across the set block", size=across, ends=(low, square)),
        )

    def hardware(self) -> tuple[Fastener, ...]:
        """Screws and nuts, and knobs for the holder."""
        from jigs.saw_carrier_blocks import GRIP_HEIGHT, RAIL_HEIGHT

        frame, bar = self.frame, self.bar
        screws: Counter[tuple[int, int]] = Counter({(bar.thread, bar.length): 2})
        for places, height, least in (
            (frame.facing_screws(), self.facing_height, 0.0),
            (frame.fence_screws() + frame.guard_screws() + frame.tie_screws(), self.tall, 0.0),
            (frame.rail_screws(), self.tall + RAIL_HEIGHT, 5.3),
            (frame.grip_screws(), GRIP_HEIGHT, 5.3),
            (frame.stop_screws(), self.stop_height, 0.0),
        ):
            screws[THREAD, self.screw(height, least=least)[0]] += len(places)
        knurled = len(frame.holder_screws())
        nuts: Counter[int] = Counter({THREAD: knurled})
        for (thread, _), count in screws.items():
            nuts[thread] += count
        return (
            *(
                Fastener(
                    what=f"socket head screw M{thread} x {length}", standard="ISO 4762", count=count
                )
                for (thread, length), count in sorted(screws.items())
            ),
            Fastener(
                what=f"knurled screw M{THREAD} x {self.holder_screw}",
                standard="DIN 464",
                count=knurled,
            ),
            *(
                Fastener(what=f"hexagon nut M{thread}", standard="ISO 4032", count=count)
                for thread, count in sorted(nuts.items())
            ),
        )


def fixtures(plan: Plan) -> tuple[SawCarrier | Finding, ...]:
    """The carrier of every ring of wedges, or why it can't be made and what would work."""
    return tuple(carrier_for(plan, ring) for ring in plan.wedge_rings)


def carrier_for(plan: Plan, ring: RingPlan) -> SawCarrier | Finding:
    """The carrier of one ring."""
    wedges, process = ring.wedges, process_for(plan.fixtures)
    assert wedges is not None
    bar = bar_fit(plan.fixtures, process)
    if wedges.mitre_angle > STEEPEST + 1e-9:
        return too_steep(ring, wedges, STEEPEST)
    if bar is None:
        return bar_too_small(ring, plan.fixtures)
    blank, thickness = wedges.blank, ring.tile_thickness
    frame = frame_for(
        mitre=wedges.mitre_angle, kerf=wedges.kerf, width=blank.outer_width, height=blank.height
    )
    base = max(NUT_DEPTH + process.floor, bar.least_base)
    holder_screw = reaching(LEAST_HOLDER + thickness + base - UNDER)
    middle = blank.height / 2.0
    return SawCarrier(
        name=f"ring-{ring.index}-saw-carrier",
        kind="saw-carrier",
        title=f"Sawing carrier, ring {ring.index}",
        purpose=(
            f"Holds the strip of ring {ring.index} at {format_angle(wedges.mitre_angle)} in the"
            " saw's mitre slot, and the hands away from the blade."
        ),
        why=say(
            "{count} wedges, only {width} wide, are cut at {mitre} without a finger near the blade",
            count=wedges.segments + sum(one.spares for one in wedges.woods),
            width=Length(blank.outer_width),
            mitre=format_angle(wedges.mitre_angle),
        ),
        warnings=tuple(warnings_for(ring, wedges.kerf)),
        section=((frame.x_left, middle), (frame.x_right, middle)),
        frame=frame,
        bar=bar,
        thickness=thickness,
        base=base,
        tall=thickness + BLADE_OVER + OVER_BLADE,
        facing_height=thickness + 12.0,
        stop_height=thickness + 10.0,
        holder=holder_screw + UNDER - thickness - base,
        holder_screw=holder_screw,
        label=f"ring {ring.index}, {format_angle(wedges.mitre_angle)}",
        lettered=bool(plan.fixtures.text and process.text_depth),
        process=process,
    )
