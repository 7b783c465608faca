"""Where a pivot plate's holes stand: at exact radii, turned aside where they would crowd."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from jigs.pivot_plate_digits import number_width
from jigs.pivot_plate_shapes import Disc
from jigs.process import Process
from rosette.geometry.outline import Outline, Point, at_angle, circle
from rosette.plan.model import Plan
from rosette.units import number_in

MOST_LABELS = 36
"""Numbers are the dearest thing in a file: of more holes, those that clear have none."""
TO_LABEL = 1.0
"""From a hole's edge to the letters below it (mm)."""
ROUND_LABEL = 2.2
LEAST_WEB = 2.0
"""Between two holes: what is thinner lets the pin through."""
CLEARING = "clearing"
STEP_DEGREES = 1.5
WIDEST = 150.0
"""Holes keep out of the last stretch behind the bit (degrees either way of the plate's arm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A radius asked for (mm) and what it is for; `cuts` tells that the channel needs it.

    `ring` is the ring that it trims, `inside` whether at its inner edge.
    """

    radius: float
    use: str
    cuts: bool = False
    ring: int = 0
    inside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A radius in letters below its hole; `height` is that of a digit (mm)."""

    text: str
    height: float
    width: float

    def baseline(self, hole: float) -> float:
        """The y of its baseline, from the hole's centre."""
        return -hole / 2.0 - TO_LABEL - self.height

    def corners(self, at: Point, hole: float) -> tuple[Point, ...]:
        """The corners of the room it takes, below a hole at `at`."""
        x, y = at
        low, half = y + self.baseline(hole), self.width / 2.0
        return tuple((x + i * half, low + j * self.height) for i in (-1, 1) for j in (0, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A hole for the pin: its distance from the bit (mm), its direction (degrees), its use."""

    radius: float
    angle: float
    use: str
    trims: int = 0
    label: Label | None = None

    @property
    def at(self) -> Point:
        """Its centre."""
        return at_angle(self.radius, self.angle)


_Placed = tuple[Hole, tuple[float, ...]]
"""A hole and the room of its letters."""


def hole_outline(hole: Hole, diameter: float) -> Outline:
    """The edge of a hole."""
    return circle(diameter / 2.0, hole.at)


def spread(
    wanted: Sequence[Wanted],
    plan: Plan,
    *,
    hole: float,
    wall: float,
    taken: Sequence[Disc],
    process: Process,
) -> tuple[tuple[Hole, ...], tuple[Wanted, ...]]:
    """A hole of diameter `hole` for every radius, apart from one another, and those without room.

    Each stands as near the plate's arm (0°) as those before it and the discs `taken` allow.
    """
    lettered = _lettered(wanted, plan, process)
    web = max(LEAST_WEB, process.feature)
    placed: list[_Placed] = []
    crowded: list[Wanted] = []
    for one in sorted(wanted, key=lambda one: one.radius):
        label = _label(one, plan, process) if one in lettered else None
        for angle in _angles():
            new = Hole(radius=one.radius, angle=angle, use=one.use, trims=one.ring, label=label)
            box = _box(new, hole)
            clear = all(
                math.dist(new.at, (x, y)) >= hole / 2.0 + wall + r - 1e-9
                and (not label or _off_box((x, y), box) >= r + ROUND_LABEL)
                for x, y, r in taken
            )
            if clear and all(_apart((new, box), other, hole, web) for other in reversed(placed)):
                placed.append((new, box))
                break
        else:
            crowded.append(one)
    return tuple(one for one, _ in placed), tuple(crowded)


def _lettered(wanted: Sequence[Wanted], plan: Plan, process: Process) -> Sequence[Wanted]:
    if not (plan.fixtures.text and process.text_depth):
        return ()
    if len(wanted) > MOST_LABELS:
        return [one for one in wanted if one.use != CLEARING][:MOST_LABELS]
    return wanted


def _angles() -> Iterator[float]:
    yield 0.0
    for k in range(1, int(WIDEST / STEP_DEGREES) + 1):
        yield k * STEP_DEGREES
        yield -k * STEP_DEGREES


def _label(one: Wanted, plan: Plan, process: Process) -> Label:
    text = number_in(one.radius, plan.units)
    height = process.text_height
    return Label(text=text, height=height, width=number_width(text, height))


def _box(hole: Hole, diameter: float) -> tuple[float, ...]:
    """Left, low, right, high of the room that a hole's letters take; its centre where none."""
    points: Iterable[Point] = hole.label.corners(hole.at, diameter) if hole.label else (hole.at,)
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _apart(a: _Placed, b: _Placed, hole: float, web: float) -> bool:
    (one, box_a), (two, box_b) = a, b
    if math.dist(one.at, two.at) < hole + web - 1e-9:
        return False
    reach = hole / 2.0 + TO_LABEL
    return (
        (not two.label or _off_box(one.at, box_b) >= reach)
        and (not one.label or _off_box(two.at, box_a) >= reach)
        and not (one.label and two.label and _meet(box_a, box_b, ROUND_LABEL))
    )


def _meet(a: tuple[float, ...], b: tuple[float, ...], gap: float) -> bool:
    return all(a[i] < b[i + 2] + gap and b[i] < a[i + 2] + gap for i in (0, 1))


def _off_box(point: Point, box: tuple[float, ...]) -> float:
    """How far a point is from a box; 0 inside."""
    left, low, right, high = box
    x, y = point
    return math.hypot(max(left - x, 0.0, x - right), max(low - y, 0.0, y - high))
