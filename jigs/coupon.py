"""The fit coupon: finds the clearance at which a maker's own printer or router gives a sliding fit.

A plate with a row of slots and a row of holes, each larger than the one before by the same little,
and a plug and a pin to try in them. The first slot in which the plug slides freely names the one
number that every other fixture is made with: `clearance` under [fixtures].
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.base import Check, Fixture, Part
from jigs.process import Process, process_for
from rosette.errors import Finding, finding
from rosette.plan.model import Plan
from rosette.words import Length, say

ALLOWANCES = (0.05, 0.10, 0.15, 0.20, 0.25, 0.30, 0.35, 0.40, 0.45)
"""Clearances at each side that are tried (mm)."""
PLUG_WIDTH = 6.0
"""Thickness of the plug; it is twice as long."""
BITS = 1.8
"""So many bits wide is a slot at the least, or its dog-bones would meet."""
PIN = 6.0
LARGEST_BIT = 12.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Coupon(Fixture):
    """Sizes of the coupon (mm).

    Slots and holes stand `pitch` apart, the first about x = 0, slots about y = 0 and holes
    about y = `holes`. The plate is `thick`; plug and pin stand `tall` on their grips.
    """

    process: Process
    width: float
    length: float
    pin: float
    pitch: float
    holes: float
    thick: float
    tall: float
    grip: float
    text: bool

    def middle(self, number: int) -> float:
        """The x of the slot and the hole of a number, counted from 0."""
        return self.pitch * number

    def parts(self) -> tuple[Part, ...]:
        """The plate, the plug and the pin, these standing before it on their grips."""
        from jigs.coupon_shape import parts

        return parts(self)

    def checks(self) -> tuple[Check, ...]:
        """The plug and the pin: they are to be of their size before they are tried."""
        from jigs.coupon_shape import checks

        return checks(self)


def fixtures(plan: Plan) -> tuple[Fixture | Finding, ...]:
    """The one coupon, or why a bit can't cut it."""
    process = process_for(plan.fixtures)
    if process.bit > LARGEST_BIT:
        return (
            finding(
                "no-coupon",
                "fixtures.bit_diameter",
                "no fit coupon: a bit of {bit} does not go into its slots; cut it with one"
                " of {most} or less",
                bit=Length(process.bit),
                most=Length(LARGEST_BIT),
            ),
        )
    return (_coupon(plan, process),)


def _coupon(plan: Plan, process: Process) -> Coupon:
    width = max(PLUG_WIDTH, math.ceil(BITS * process.bit))
    widest = width + 2.0 * ALLOWANCES[-1] + process.bit * 0.3
    pitch = widest + max(process.wall, 3.5)
    thick = max(5.0, process.floor)
    return Coupon(
        name="fit-coupon",
        kind="coupon",
        title="Fit coupon",
        purpose="Finds the clearance that your printer or router needs for all fixtures.",
        why=say(
            "every fixture is made with {clearance} of clearance; printers and routers differ by"
            " more than that, so try yours first",
            clearance=Length(plan.fixtures.clearance),
        ),
        section=((-pitch, 0.0), (9.0 * pitch, 0.0)),
        process=process,
        width=width,
        length=2.0 * width,
        pin=PIN,
        pitch=pitch,
        holes=width + PIN / 2.0 + 2.0 * ALLOWANCES[-1] + max(process.wall, 4.0) + 1.0,
        thick=thick,
        tall=thick + 4.0,
        grip=max(3.0, process.floor - 1.0),
        text=plan.fixtures.text and process.text_depth > 0.0,
    )
