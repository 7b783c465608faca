"""The figure of a wood inside a piece: grain, pores, fleck, curl, as lines cut to its outline.

Nothing is left to chance: a piece's figure follows from its label, so the same plan gives the
same picture.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rosette.geometry.outline import Point
from rosette.wood.looks import Look, mixed


@dataclass(frozen=True, slots=True, kw_only=True)
class Streak:
    """A line of the figure: its points, its weight in mm and its colour."""

    points: tuple[Point, ...]
    weight: float
    colour: str


Chance = Iterator[float]
"""Numbers from 0 to 1 that follow from a name."""


def chance(name: str) -> Chance:
    """Numbers from 0 to 1, even over that range, the same ones for the same name.

    >>> [round(x, 3) for x, _ in zip(chance("1-07"), range(2))] == [
    ...     round(x, 3) for x, _ in zip(chance("1-07"), range(2))]
    True
    """
    count = 0
    while True:
        digest = hashlib.sha256(f"{name}/{count}".encode()).digest()
        for i in range(0, 32, 4):
            yield int.from_bytes(digest[i : i + 4], "big") / 2**32
        count += 1


def figured(outline: Sequence[Point], axis: float, look: Look, name: str) -> list[Streak]:
    """The figure inside a closed outline, its grain running in the direction `axis` (degrees)."""
    c, s = math.cos(math.radians(axis)), math.sin(math.radians(axis))
    turned = [(c * x + s * y, -s * x + c * y) for x, y in outline]
    streaks = _FIGURES[look.figure](_Field(turned), look, chance(name))
    return [
        Streak(
            points=tuple((c * u - s * v, s * u + c * v) for u, v in part),
            weight=streak.weight,
            colour=streak.colour,
        )
        for streak in streaks
        for part in inside(streak.points, turned)
    ]


class _Field:
    """The rectangle round an outline whose grain runs along +x."""

    def __init__(self, outline: Sequence[Point]) -> None:
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        self.left, self.right, self.bottom, self.top = min(xs), max(xs), min(ys), max(ys)

    @property
    def area(self) -> float:
        return (self.right - self.left) * (self.top - self.bottom)

    def lines(self, spacing: float, dice: Chance) -> Iterator[tuple[Point, ...]]:
        """Nearly straight lines along the grain, unevenly spaced, a little bowed."""
        y = self.bottom + spacing * next(dice)
        while y < self.top:
            bow, lean = 0.5 * (next(dice) - 0.5), 0.4 * (next(dice) - 0.5)
            yield tuple(
                (
                    self.left + t * (self.right - self.left),
                    y + lean * (t - 0.5) + bow * math.sin(math.pi * t),
                )
                for t in (0.0, 0.25, 0.5, 0.75, 1.0)
            )
            y += spacing * (0.55 + 0.9 * next(dice))

    def spots(self, density: float, dice: Chance) -> Iterator[Point]:
        """Points scattered over the rectangle, so many a square millimetre."""
        for _ in range(min(400, round(self.area * density))):
            yield (
                self.left + (self.right - self.left) * next(dice),
                self.bottom + (self.top - self.bottom) * next(dice),
            )


def _plain(_field: _Field, _look: Look, _dice: Chance) -> Iterator[Streak]:
    yield from ()


def _straight(field: _Field, look: Look, dice: Chance) -> Iterator[Streak]:
    for points in field.lines(0.75, dice):
        shade = mixed(look.colour, look.mark, 0.35 + 0.6 * next(dice))
        yield Streak(points=points, weight=0.07 + 0.12 * next(dice), colour=shade)


def _pores(field: _Field, look: Look, dice: Chance) -> Iterator[Streak]:
    for points in field.lines(2.6, dice):
        yield Streak(points=points, weight=0.3, colour=mixed(look.colour, look.mark, 0.35))
    for x, y in field.spots(0.4, dice):
        half = 0.4 + 1.1 * next(dice)
        shade = mixed(look.colour, look.mark, 0.6 + 0.4 * next(dice))
        yield Streak(points=((x - half, y), (x + half, y)), weight=0.12, colour=shade)


def _streaks(field: _Field, look: Look, dice: Chance) -> Iterator[Streak]:
    for points in field.lines(0.9, dice):
        yield Streak(points=points, weight=0.1, colour=mixed(look.colour, look.mark, 0.5))
    for points in field.lines(2.4, dice):
        shade = mixed(look.colour, look.mark, 0.75 + 0.25 * next(dice))
        yield Streak(points=points, weight=0.25 + 0.45 * next(dice), colour=shade)


def _fleck(field: _Field, look: Look, dice: Chance) -> Iterator[Streak]:
    for points in field.lines(2.2, dice):
        yield Streak(points=points, weight=0.1, colour=mixed(look.colour, look.mark, 0.4))
    for x, y in field.spots(0.36, dice):
        half, lean = 0.2 + 0.3 * next(dice), 0.25 * (next(dice) - 0.5)
        shade = mixed(look.colour, look.mark, 0.5 + 0.5 * next(dice))
        yield Streak(points=((x - lean, y - half), (x + lean, y + half)), weight=0.12, colour=shade)


def _curl(field: _Field, look: Look, dice: Chance) -> Iterator[Streak]:
    x = field.left + next(dice)
    high = field.top - field.bottom
    while x < field.right:
        wave, turn = 0.25 + 0.3 * next(dice), 6.283 * next(dice)
        points = tuple(
            (x + wave * math.sin(turn + 1.3 * t * high), field.bottom + t * high)
            for t in (i / 8.0 for i in range(9))
        )
        shade = mixed(look.colour, look.mark, 0.4 + 0.45 * next(dice))
        yield Streak(points=points, weight=0.25 + 0.35 * next(dice), colour=shade)
        x += 0.9 + 1.0 * next(dice)


def _ribbon(field: _Field, look: Look, dice: Chance) -> Iterator[Streak]:
    for points in field.lines(2.4, dice):
        shade = mixed(look.colour, look.mark, 0.3 + 0.35 * next(dice))
        yield Streak(points=points, weight=0.6 + 0.5 * next(dice), colour=shade)
    for points in field.lines(0.9, dice):
        yield Streak(points=points, weight=0.08, colour=mixed(look.colour, look.mark, 0.8))


_FIGURES: dict[str, Callable[[_Field, Look, Chance], Iterator[Streak]]] = {
    "plain": _plain,
    "straight": _straight,
    "pores": _pores,
    "streaks": _streaks,
    "fleck": _fleck,
    "curl": _curl,
    "ribbon": _ribbon,
}


def inside(line: Sequence[Point], polygon: Sequence[Point]) -> Iterator[tuple[Point, ...]]:
    """The parts of a polyline that run inside a polygon.

    >>> square = [(0, 0), (2, 0), (2, 2), (0, 2)]
    >>> list(inside([(-1, 1), (1, 1), (3, 1)], square))
    [((0.0, 1.0), (1, 1), (2.0, 1.0))]
    """
    part: list[Point] = []
    for a, b in pairwise(line):
        for low, high in _spans(a, b, polygon):
            start, end = _along(a, b, low), _along(a, b, high)
            if part and low > 0.0:
                yield tuple(part)
                part = []
            part = [*part, end] if part else [start, end]
            if high < 1.0:
                yield tuple(part)
                part = []
    if part:
        yield tuple(part)


def _along(a: Point, b: Point, t: float) -> Point:
    if t in (0.0, 1.0):
        return b if t else a
    return a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])


def _spans(a: Point, b: Point, polygon: Sequence[Point]) -> list[tuple[float, float]]:
    """Between which shares of its length a segment runs inside the polygon."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    cuts = [0.0, 1.0]
    for p, q in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        ex, ey = q[0] - p[0], q[1] - p[1]
        cross = dx * ey - dy * ex
        if cross == 0.0:
            continue
        t = ((p[0] - a[0]) * ey - (p[1] - a[1]) * ex) / cross
        u = ((p[0] - a[0]) * dy - (p[1] - a[1]) * dx) / cross
        if 0.0 < t < 1.0 and 0.0 <= u <= 1.0:
            cuts.append(t)
    cuts.sort()
    spans: list[tuple[float, float]] = []
    for low, high in pairwise(cuts):
        if high - low > 1e-9 and _within(_along(a, b, (low + high) / 2.0), polygon):
            if spans and spans[-1][1] == low:
                spans[-1] = (spans[-1][0], high)
            else:
                spans.append((low, high))
    return spans


def _within(point: Point, polygon: Sequence[Point]) -> bool:
    x, y = point
    odd = False
    for p, q in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        if (p[1] > y) != (q[1] > y) and x < p[0] + (y - p[1]) / (q[1] - p[1]) * (q[0] - p[0]):
            odd = not odd
    return odd
