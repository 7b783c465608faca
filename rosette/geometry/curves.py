"""Curves as straight lines that stand off them by a stated error at the most."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from rosette.geometry.outline import Point
from rosette.geometry.tracing import MOST_POINTS, TracingError

LARGEST_RADIUS = 1e9
"""mm: beyond it an arc is a straight line to more digits than floats have."""


class Matrix(NamedTuple):
    """An affine map: x' = a·x + c·y + e, y' = b·x + d·y + f (as SVG's matrix has it)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def moved(self, point: Point) -> Point:
        """The point that a point goes to."""
        x, y = point
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def after(self, first: Matrix) -> Matrix:
        """The map that does `first` and then this one.

        >>> Matrix(e=10.0).after(Matrix(a=2.0, d=2.0)).moved((1.0, 1.0))
        (12.0, 2.0)
        """
        (a, b), (c, d) = self._straight(first.a, first.b), self._straight(first.c, first.d)
        e, f = self.moved((first.e, first.f))
        return Matrix(a, b, c, d, e, f)

    def _straight(self, x: float, y: float) -> Point:
        return self.a * x + self.c * y, self.b * x + self.d * y

    @property
    def stretch(self) -> float:
        """By how much it lengthens at the most."""
        p, q = (
            math.hypot(self.a + self.d, self.b - self.c),
            math.hypot(self.a - self.d, self.b + self.c),
        )
        return (p + q) / 2.0


def bezier(points: tuple[Point, ...], error: float) -> Iterator[Point]:
    """A Bézier curve of two to four control points, its first point left out.

    A chord over 1/n of the parameter stands off by at most max|B''|/(8·n²), and B'' is largest
    at a control point of its own.
    """
    degree = len(points) - 1
    bend = max(
        (
            math.hypot(p[0] - 2.0 * q[0] + r[0], p[1] - 2.0 * q[1] + r[1])
            for p, q, r in zip(points, points[1:], points[2:], strict=False)
        ),
        default=0.0,
    )
    count = _pieces(math.sqrt(degree * (degree - 1) * bend / (8.0 * error)))
    for i in range(1, count):
        yield _at(points, i / count)
    yield points[-1]


def _at(points: tuple[Point, ...], t: float) -> Point:
    while len(points) > 1:
        points = tuple(
            ((1.0 - t) * p[0] + t * q[0], (1.0 - t) * p[1] + t * q[1]) for p, q in pairwise(points)
        )
    return points[0]


class Ellipse(NamedTuple):
    """A circle of radius 1 about 0,0 put in place by `matrix`; angles in radians on that circle."""

    matrix: Matrix
    start_rad: float = 0.0
    sweep_rad: float = 2.0 * math.pi

    def points(self, error: float) -> Iterator[Point]:
        """Points along it, its first left out: chords of the circle, stretched."""
        reach = self.matrix.stretch
        if not reach <= LARGEST_RADIUS:
            raise TracingError("has an arc in it whose radius is far too large")
        # sagitta of a chord: r·(1 − cos(step/2))
        step = 4.0 * math.asin(math.sqrt(min(error / reach, 1.0) / 2.0)) if reach else math.pi
        # never so few that the shape is lost
        count = _pieces(max(abs(self.sweep_rad) / step, abs(self.sweep_rad) / (math.pi / 4.0)))
        for i in range(1, count + 1):
            angle = self.start_rad + self.sweep_rad * i / count
            yield self.matrix.moved((math.cos(angle), math.sin(angle)))


def _pieces(count: float) -> int:
    if not count <= MOST_POINTS:
        raise TracingError(
            "has curves that come to more than {most} points; simplify it", most=MOST_POINTS
        )
    return max(1, math.ceil(count))


def arc_between(
    start: Point,
    end: Point,
    radii: Point,
    *,
    turn: float,
    large: bool,
    sweep: bool,
) -> Ellipse | None:
    """SVG's elliptical arc from its ends (SVG 1.1, appendix F.6.5); None where it is a line.

    `turn` in degrees; radii too small for the ends are made larger, as F.6.6 asks.
    """
    rx, ry = abs(radii[0]), abs(radii[1])
    if rx == 0.0 or ry == 0.0 or start == end:
        return None
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    dx, dy = (start[0] - end[0]) / 2.0, (start[1] - end[1]) / 2.0
    x, y = (c * dx + s * dy) / rx, (-s * dx + c * dy) / ry
    square = x * x + y * y
    if square > 1.0:
        rx, ry = rx * math.sqrt(square), ry * math.sqrt(square)
        x, y, square = x / math.sqrt(square), y / math.sqrt(square), 1.0
    if square == 0.0:
        return None
    off = math.sqrt(max(0.0, 1.0 / square - 1.0)) * (-1.0 if large == sweep else 1.0)
    # the centre and both ends, seen on the circle of radius 1
    cx, cy = off * y, -off * x
    first, last = math.atan2(y - cy, x - cx), math.atan2(-y - cy, -x - cx)
    turned = (last - first) % (2.0 * math.pi)
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    flat = Matrix(c * rx, s * rx, -s * ry, c * ry)
    e, f = flat.moved((cx, cy))
    placed = Matrix(*flat[:4], middle[0] + e, middle[1] + f)
    return Ellipse(placed, first, turned if sweep else turned - 2.0 * math.pi)
