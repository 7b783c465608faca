"""Outlines of straight lines and circular arcs, kept exact until a format needs lines.

An arc is stored as its *bulge*: the tangent of a quarter of the angle it sweeps,
positive counter-clockwise, as DXF's LWPOLYLINE defines it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

Point = tuple[float, float]

FLATTEN_ERROR = 0.005
"""Greatest distance in mm between an arc and the chords that stand for it."""


class Vertex(NamedTuple):
    """A corner, and the bulge of the edge that leaves it (0: a straight line)."""

    x: float
    y: float
    bulge: float = 0.0


class Arc(NamedTuple):
    """A circular arc: centre, radius, start angle and signed sweep, both in radians."""

    x: float
    y: float
    radius: float
    start_rad: float
    sweep_rad: float


@dataclass(frozen=True, slots=True)
class Outline:
    """A chain of lines and arcs; closed unless said otherwise."""

    vertices: tuple[Vertex, ...]
    closed: bool = True

    def edges(self) -> Iterator[tuple[Vertex, Vertex]]:
        """Each edge as its two ends; the first carries the bulge."""
        yield from zip(self.vertices, self.vertices[1:], strict=False)
        if self.closed:
            yield self.vertices[-1], self.vertices[0]

    def area(self) -> float:
        """Signed area in mm², exact with its arcs; positive counter-clockwise."""
        total = 0.0
        for a, b in self.edges():
            total += (a.x * b.y - b.x * a.y) / 2.0
            if a.bulge:
                arc = arc_between(a, b)
                total += arc.radius**2 * (arc.sweep_rad - math.sin(arc.sweep_rad)) / 2.0
        return total

    def points(self, error: float = FLATTEN_ERROR) -> list[Point]:
        """Its corners with arcs flattened to within `error` mm, all points on the arc."""
        points: list[Point] = []
        for a, b in self.edges():
            points.append((a.x, a.y))
            if a.bulge:
                points.extend(_inside(arc_between(a, b), error))
        if not self.closed:
            points.append((self.vertices[-1].x, self.vertices[-1].y))
        return points

    def mapped(self, turn_rad: float = 0.0, shift: Point = (0.0, 0.0)) -> Outline:
        """Turned about the origin, then shifted."""
        c, s = math.cos(turn_rad), math.sin(turn_rad)
        dx, dy = shift
        return Outline(
            tuple(Vertex(c * x - s * y + dx, s * x + c * y + dy, b) for x, y, b in self.vertices),
            self.closed,
        )

    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top (mm), exact with its arcs."""
        xs, ys = [v.x for v in self.vertices], [v.y for v in self.vertices]
        for a, b in self.edges():
            if a.bulge:
                for x, y in _quadrant_points(arc_between(a, b)):
                    xs.append(x)
                    ys.append(y)
        return min(xs), min(ys), max(xs), max(ys)


def arc_between(a: Vertex, b: Vertex) -> Arc:
    """The arc that leaves `a` with its bulge and ends in `b`."""
    sweep = 4.0 * math.atan(a.bulge)
    dx, dy = b.x - a.x, b.y - a.y
    # centre: from the chord's middle, square to the chord, by half the chord over tan(sweep/2)
    offset = (1.0 / a.bulge - a.bulge) / 4.0
    x, y = (a.x + b.x) / 2.0 - offset * dy, (a.y + b.y) / 2.0 + offset * dx
    return Arc(x, y, math.hypot(a.x - x, a.y - y), math.atan2(a.y - y, a.x - x), sweep)


def _quadrant_points(arc: Arc) -> Iterator[Point]:
    """The points where the arc itself turns from left to right or from up to down."""
    low, high = sorted((arc.start_rad, arc.start_rad + arc.sweep_rad))
    for quarter in range(math.ceil(low / (math.pi / 2.0)), math.floor(high / (math.pi / 2.0)) + 1):
        angle = quarter * math.pi / 2.0
        yield arc.x + arc.radius * math.cos(angle), arc.y + arc.radius * math.sin(angle)


def _inside(arc: Arc, error: float) -> Iterator[Point]:
    """The points strictly between the arc's ends."""
    if arc.radius <= error:
        return
    count = math.ceil(abs(arc.sweep_rad) / (2.0 * math.acos(1.0 - error / arc.radius)) - 1e-9)
    for i in range(1, count):
        angle = arc.start_rad + arc.sweep_rad * i / count
        yield arc.x + arc.radius * math.cos(angle), arc.y + arc.radius * math.sin(angle)


def polygon(points: Iterable[Point]) -> Outline:
    """A closed outline of straight lines."""
    return Outline(tuple(Vertex(x, y) for x, y in points))


def line(a: Point, b: Point) -> Outline:
    """One straight line."""
    return Outline((Vertex(*a), Vertex(*b)), closed=False)


def circle(radius: float, centre: Point = (0.0, 0.0)) -> Outline:
    """A whole circle as two half arcs, counter-clockwise.

    >>> round(circle(2.0).area(), 12) == round(math.pi * 4, 12)
    True
    """
    x, y = centre
    return Outline((Vertex(x + radius, y, 1.0), Vertex(x - radius, y, 1.0)))


def arc(radius: float, start: float, end: float, centre: Point = (0.0, 0.0)) -> Outline:
    """An open arc from `start` to `end` degrees (counter-clockwise where end > start)."""
    x, y = centre
    a, b = math.radians(start), math.radians(end)
    pieces = max(1, math.ceil(abs(b - a) / math.pi - 1e-9))
    bulge = math.tan((b - a) / pieces / 4.0)
    angles = [a + (b - a) * i / pieces for i in range(pieces + 1)]
    return Outline(
        tuple(Vertex(x + radius * math.cos(t), y + radius * math.sin(t), bulge) for t in angles),
        closed=False,
    )


def at_angle(radius: float, degrees: float) -> Point:
    """The point at `radius` in the direction `degrees`, counter-clockwise from +x."""
    angle = math.radians(degrees)
    return radius * math.cos(angle), radius * math.sin(angle)
