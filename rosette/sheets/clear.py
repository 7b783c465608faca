"""Clear spots for words among lines: what is taken on a picture, and polygons with holes (mm)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from rosette.geometry.outline import Point
from rosette.lettering import text_width
from rosette.sheets.block import text_corners
from rosette.sheets.drawing import Circle, Element, Stroke, Text
from rosette.sheets.marks import Box, broken, centred

Rings = Sequence[Sequence[Point]]
Frame = tuple[float, float, float, float]
"""Left, bottom, right, top."""

CELL = 8.0
AIR = 0.35
"""Clear space in mm round words and marks."""
MOST_TRIES = 600


class Taken:
    """The lines and words already on a picture, looked up by squares of `CELL` mm."""

    def __init__(self) -> None:
        self._lines: dict[tuple[int, int], list[tuple[Point, Point]]] = {}
        self._boxes: dict[tuple[int, int], list[Box]] = {}

    def add(self, elements: Iterable[Element]) -> None:
        """Everything of these elements that words must not touch; a tint takes no room."""
        for one in elements:
            if isinstance(one, Text):
                self.add_box(text_corners(one))
            elif isinstance(one, Circle):
                self.add_box(octagon(one.centre, one.radius))
            elif isinstance(one, Stroke) and one.colour is not None:
                for outline in (one.outline, *one.holes):
                    points = outline.points()
                    self.add_chain([*points, points[0]] if outline.closed else points)

    def add_chain(self, points: Sequence[Point]) -> None:
        """A run of straight lines."""
        for a, b in pairwise(points):
            parts = max(1, math.ceil(math.dist(a, b) / (4.0 * CELL)))
            for i in range(parts):
                p, q = _between(a, b, i / parts), _between(a, b, (i + 1) / parts)
                for cell in _cells((p, q)):
                    self._lines.setdefault(cell, []).append((p, q))

    def add_box(self, box: Box) -> None:
        """A convex polygon that is full."""
        for cell in _cells(box):
            self._boxes.setdefault(cell, []).append(box)

    def is_free(self, box: Box, *, air: float = AIR) -> bool:
        """Whether a convex polygon, grown by `air`, touches nothing."""
        grown = _grown(box, air)
        for cell in _cells(grown):
            for a, b in self._lines.get(cell, ()):
                if broken(a, b, [grown], air=0.0) != ((a, b),):
                    return False
            if any(_meet(grown, other) for other in self._boxes.get(cell, ())):
                return False
        return True


def octagon(centre: Point, radius: float) -> list[Point]:
    """The regular octagon round a circle."""
    reach = radius / math.cos(math.pi / 8.0)
    return [
        (
            centre[0] + reach * math.cos(math.pi * (i + 0.5) / 4.0),
            centre[1] + reach * math.sin(math.pi * (i + 0.5) / 4.0),
        )
        for i in range(8)
    ]


def is_inside(rings: Rings, point: Point) -> bool:
    """Whether a point lies in a polygon with holes, by the even-odd rule."""
    x0, y0 = point
    inside = False
    for ring in rings:
        px, py = ring[-1]
        for x, y in ring:
            if (py < y0) != (y < y0):
                along = px - x0
                if along + (x - x0 - along) * (y0 - py) / (y - py) > 0.0:
                    inside = not inside
            px, py = x, y
    return inside


def crossings(rings: Rings, start: Point, way: Point) -> list[float]:
    """How far along `way` (a unit vector) from `start` a straight line meets the rings, sorted."""
    (x0, y0), (ux, uy) = start, way
    found: list[float] = []
    for ring in rings:
        sides = [uy * (x - x0) - ux * (y - y0) for x, y in ring]
        along = [ux * (x - x0) + uy * (y - y0) for x, y in ring]
        for i in range(len(ring)):
            a, b = sides[i - 1], sides[i]
            if (a > 0.0) != (b > 0.0):
                found.append(along[i - 1] + (along[i] - along[i - 1]) * a / (a - b))
    return sorted(found)


def hatched(
    rings: Rings, boxes: Sequence[Box], *, angle: float, spacing: float
) -> Iterator[tuple[Point, Point]]:
    """Parallel lines across a polygon with holes, broken for boxes of words."""
    ux, uy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    across = [-uy * x + ux * y for ring in rings for x, y in ring]
    first, last = math.ceil(min(across) / spacing), math.floor(max(across) / spacing)
    for i in range(first, last + 1):
        foot = (-uy * i * spacing, ux * i * spacing)
        met = crossings(rings, foot, (ux, uy))
        for low, high in zip(met[::2], met[1::2], strict=False):
            a = (foot[0] + ux * low, foot[1] + uy * low)
            b = (foot[0] + ux * high, foot[1] + uy * high)
            yield from broken(a, b, boxes)


def within(rings: Rings, a: Point, b: Point) -> Iterator[tuple[Point, Point]]:
    """What of a line lies in a polygon with holes."""
    length = math.dist(a, b)
    if length == 0.0:
        return
    met = crossings(rings, a, ((b[0] - a[0]) / length, (b[1] - a[1]) / length))
    shares = [0.0, *(one / length for one in met if 0.0 < one < length), 1.0]
    for low, high in pairwise(shares):
        if high > low and is_inside(rings, _between(a, b, (low + high) / 2.0)):
            yield _between(a, b, low), _between(a, b, high)


def clipped(a: Point, b: Point, frame: Frame) -> tuple[Point, Point] | None:
    """What of a line lies in an upright rectangle (Liang and Barsky)."""
    left, bottom, right, top = frame
    dx, dy = b[0] - a[0], b[1] - a[1]
    low, high = 0.0, 1.0
    for step, room in ((-dx, a[0] - left), (dx, right - a[0]), (-dy, a[1] - bottom),
                       (dy, top - a[1])):  # fmt: skip
        if step == 0.0:
            if room < 0.0:
                return None
        elif step < 0.0:
            low = max(low, room / step)
        else:
            high = min(high, room / step)
    return (_between(a, b, low), _between(a, b, high)) if low < high else None


def words_in(
    rings: Rings, taken: Taken, words: Sequence[str], *, turn: float, bold: bool = False
) -> Text | None:
    """The first of some wordings, largest first, that stands clear inside a polygon; or None.

    Each of `words` is tried at a few heights; the spot is the one nearest to the middle.
    """
    for text in words:
        for height in (2.6, 2.2, 1.8):
            for spot in _spots(rings):
                one = centred(text, spot, height=height, turn=turn, bold=bold)
                if (
                    is_inside(rings, spot)
                    and taken.is_free(text_corners(one))
                    and all(is_inside(rings, corner) for corner in text_corners(one))
                ):
                    return one
            if text_width(text, height) < height:
                break
    return None


def _spots(rings: Rings) -> list[Point]:
    """Points all over a polygon's extent, those nearest to its middle first."""
    xs, ys = [x for x, _ in rings[0]], [y for _, y in rings[0]]
    left, right, low, high = min(xs), max(xs), min(ys), max(ys)
    step = max(1.5, math.sqrt((right - left) * (high - low) / MOST_TRIES))
    columns, rows = int((right - left) / step), int((high - low) / step)
    middle = ((left + right) / 2.0, (low + high) / 2.0)
    points = [
        (middle[0] + (i - columns / 2.0) * step, middle[1] + (j - rows / 2.0) * step)
        for i in range(columns + 1)
        for j in range(rows + 1)
    ]
    return sorted(points, key=lambda p: math.dist(p, middle))


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _cells(points: Iterable[Point]) -> Iterator[tuple[int, int]]:
    kept = list(points)
    xs, ys = [x for x, _ in kept], [y for _, y in kept]
    for i in range(math.floor(min(xs) / CELL), math.floor(max(xs) / CELL) + 1):
        for j in range(math.floor(min(ys) / CELL), math.floor(max(ys) / CELL) + 1):
            yield i, j


def _grown(box: Box, air: float) -> Box:
    x = sum(p[0] for p in box) / len(box)
    y = sum(p[1] for p in box) / len(box)
    reach = min(math.dist(p, (x, y)) for p in box)
    share = 1.0 + air * math.sqrt(2.0) / reach
    if len(box) == 4:  # a rectangle grows by as much on each side
        a, b, d = box[0], box[1], box[3]
        wide, tall = math.dist(a, b), math.dist(a, d)
        ux, uy = (b[0] - a[0]) / wide * air, (b[1] - a[1]) / wide * air
        vx, vy = (d[0] - a[0]) / tall * air, (d[1] - a[1]) / tall * air
        signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
        return [
            (p[0] + i * ux + j * vx, p[1] + i * uy + j * vy)
            for p, (i, j) in zip(box, signs, strict=True)
        ]
    return [(x + (p[0] - x) * share, y + (p[1] - y) * share) for p in box]


def _meet(one: Box, other: Box) -> bool:
    """Whether two convex polygons share a point (separating axes)."""
    for box in (one, other):
        for p, q in zip(box, [*box[1:], box[0]], strict=True):
            nx, ny = q[1] - p[1], p[0] - q[0]
            mine = [nx * x + ny * y for x, y in one]
            theirs = [nx * x + ny * y for x, y in other]
            if max(mine) < min(theirs) or max(theirs) < min(mine):
                return False
    return True
