"""The coupon's parts as flat steps, and the sizes to check on them."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from jigs.base import Check, Part, Place
from jigs.corners import dog_boned, rectangle
from jigs.coupon import ALLOWANCES, Coupon
from jigs.letters import engraving
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, Point, circle

SPOT, APART = 0.7, 2.2
"""Radius of the spots that count the slots where there are no letters, and from one to the next."""
MARK = 0.6
AROUND = 3.0
"""How far the grips stand out round plug and pin."""
LABEL = 3.0
CLOSE = 0.02
"""How true plug and pin must be, or they would try the printer twice (mm)."""
ROOM = 10.0
"""The part of the plate in front of the slots, for letters or spots."""
BEFORE = 12.0
"""From the plate to the grips that stand before it."""


def parts(coupon: Coupon) -> tuple[Part, ...]:
    """Plate, plug and pin."""
    low = plate_bounds(coupon)[1]
    y = low - BEFORE - coupon.length / 2.0
    return (
        Part(name="plate", title="Fit coupon: plate", block=plate(coupon)),
        Part(
            name="plug",
            title="Fit coupon: plug",
            block=_on_grip(coupon, _rectangle(coupon.width, coupon.length)),
            places=(Place(x=coupon.pitch, y=y),),
            colour=1,
        ),
        Part(
            name="pin",
            title="Fit coupon: pin",
            block=_on_grip(coupon, circle(coupon.pin / 2.0)),
            places=(Place(x=4.0 * coupon.pitch, y=y),),
            colour=2,
        ),
    )


def plate_bounds(coupon: Coupon) -> tuple[float, float, float, float]:
    """Left, low, right, high of the plate."""
    wall = max(4.0, coupon.process.wall)
    side = coupon.width / 2.0 + ALLOWANCES[-1] + wall
    low = -coupon.length / 2.0 - ALLOWANCES[-1] - ROOM
    high = coupon.holes + coupon.pin / 2.0 + ALLOWANCES[-1] + wall
    return -side, low, coupon.middle(len(ALLOWANCES) - 1) + side, high


def plate(coupon: Coupon) -> Block:
    """Slots and holes right through, what each allows in front of it."""
    steps: list[Step] = []
    under: list[Step] = []
    mouth = coupon.process.chamfer
    for number, allowance in enumerate(ALLOWANCES):
        steps += (Step(outline=one, top=mouth) for one in _openings(coupon, number, allowance))
        if mouth:
            wider = _openings(coupon, number, allowance + mouth)
            under += (Step(outline=one, top=mouth) for one in wider)
        steps += _label(coupon, number)
    return Block(
        outline=rectangle(*plate_bounds(coupon)),
        top=coupon.thick,
        steps=tuple(steps),
        under=tuple(under),
        chamfer=coupon.process.chamfer,
    )


def _openings(coupon: Coupon, number: int, allowance: float) -> tuple[Outline, Outline]:
    """The slot and the hole of a number; printed, they are wider where the first layer swells."""
    x = coupon.middle(number)
    hole = circle(coupon.pin / 2.0 + allowance, (x, coupon.holes))
    return slot_outline(coupon, x, allowance), hole


def slot_outline(coupon: Coupon, x: float, allowance: float) -> Outline:
    """A slot that stands off the plug by `allowance` all round, its corners cut out for it."""
    a, b = coupon.width / 2.0 + allowance, coupon.length / 2.0 + allowance
    corners = [(x - a, -b), (x + a, -b), (x + a, b), (x - a, b)]
    return dog_boned(corners, coupon.process.bit)


def _label(coupon: Coupon, number: int) -> Iterator[Step]:
    """Hundredths of a millimetre, or as many spots as the slot's number in the row."""
    x, y = coupon.middle(number), -coupon.length / 2.0 - ALLOWANCES[-1]
    if coupon.text:
        yield from engraving(
            f"{round(100 * ALLOWANCES[number]):02d}",
            middle=x,
            baseline=y - 3.0 - max(LABEL, coupon.process.text_height),
            height=max(LABEL, coupon.process.text_height),
            top=coupon.thick,
            depth=coupon.process.text_depth,
        )
        return
    for at in _spots(number + 1):
        spot = circle(SPOT, (x + APART * at[0], y - 3.0 - APART * at[1]))
        yield Step(outline=spot, top=coupon.thick - MARK)


def _spots(count: int) -> list[Point]:
    """Spots three to a row.

    >>> _spots(4)
    [(-1.0, 0.0), (0.0, 0.0), (1.0, 0.0), (-1.0, 1.0)]
    """
    return [(float(i % 3 - 1), float(i // 3)) for i in range(count)]


def _rectangle(width: float, length: float) -> Outline:
    return rectangle(-width / 2.0, -length / 2.0, width / 2.0, length / 2.0)


def _on_grip(coupon: Coupon, outline: Outline) -> Block:
    """A plug standing on a grip to hold it by."""
    left, low, right, high = outline.bounds()
    grip = rectangle(left - AROUND, low - AROUND, right + AROUND, high + AROUND)
    plug = Step(outline=outline, top=coupon.grip + coupon.tall)
    return Block(outline=grip, top=coupon.grip, steps=(plug,), chamfer=coupon.process.chamfer)


def checks(coupon: Coupon) -> tuple[Check, ...]:
    """What is tried must be true; and the plate's first and last slot tell if it is to scale."""
    a, b, r = coupon.width / 2.0, coupon.length / 2.0, coupon.pin / 2.0
    tried = (
        ("plug", "the plug's thickness", ((-a, 0.0), (a, 0.0))),
        ("plug", "the plug's length", ((0.0, -b), (0.0, b))),
        ("pin", "across the pin", ((-r, 0.0), (r, 0.0))),
    )
    first, last = -a - ALLOWANCES[0], coupon.middle(len(ALLOWANCES) - 1) - a - ALLOWANCES[-1]
    return (
        *(
            Check(part=part, what=what, size=dist(*ends), ends=ends, minus=CLOSE, plus=CLOSE)
            for part, what, ends in tried
        ),
        Check(
            part="plate",
            what="from the first slot's left side to the last one's",
            size=last - first,
            ends=((first, 0.0), (last, 0.0)),
            minus=0.2,
            plus=0.2,
        ),
    )
