"""Where closed outlines cross, touch or lie in one another, by plane geometry without a kernel.

Exact to `ERROR`, the distance between an arc and the chords that stand for it.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from jigs.letters import inside
from jigs.terrace import Contour
from rosette.geometry.outline import Outline, Point

ERROR = 0.0005
"""Greatest distance in mm between an arc and its chords."""
TOUCH = 1e-4
"""Outlines nearer to each other than this, in mm, count as touching."""


class Box(NamedTuple):
    """Left, bottom, right, top (mm)."""

    left: float
    low: float
    right: float
    high: float

    def near(self, other: Box, gap: float = TOUCH) -> bool:
        """Whether two boxes are nearer to each other than `gap`."""
        return (
            self.left - gap < other.right
            and other.left - gap < self.right
            and self.low - gap < other.high
            and other.low - gap < self.high
        )


class Edge(NamedTuple):
    """A straight edge, its box, and how many come before it."""

    a: Point
    b: Point
    box: Box
    number: int


@dataclass(frozen=True, slots=True)
class Loop:
    """A flattened outline: its points, its edges from left to right, its box."""

    points: tuple[Point, ...]
    edges: tuple[Edge, ...]
    longest: float
    box: Box

    @classmethod
    def of(cls, outline: Outline | Contour) -> Loop:
        """An outline, flattened."""
        points = tuple(outline.points(ERROR))
        xs, ys = [x for x, _ in points], [y for _, y in points]
        ends = zip(points, points[1:] + points[:1], strict=True)
        edges = [Edge(a, b, _box_of(a, b), i) for i, (a, b) in enumerate(ends)]
        edges.sort(key=lambda edge: edge.box.left)
        longest = max(edge.box.right - edge.box.left for edge in edges)
        return cls(points, tuple(edges), longest, Box(min(xs), min(ys), max(xs), max(ys)))

    @property
    def middle(self) -> Point:
        """The middle of its box."""
        box = self.box
        return (box.left + box.right) / 2.0, (box.low + box.high) / 2.0

    def edges_near(self, box: Box, gap: float) -> list[Edge]:
        """Its edges that are nearer to a box than `gap`, from left to right."""
        first = bisect_left(self.edges, box.left - gap - self.longest, key=_left)
        last = bisect_right(self.edges, box.right + gap, key=_left)
        return [edge for edge in self.edges[first:last] if edge.box.near(box, gap)]

    def holds(self, point: Point) -> bool:
        """Whether a point lies in it; one on its edge may be told either way."""
        x, y = point
        box = self.box
        if not (box.left <= x <= box.right and box.low <= y <= box.high):
            return False
        return inside(point, list(self.points))


def meeting(a: Loop, b: Loop, gap: float = TOUCH) -> Point | None:
    """A point at which two outlines come nearer to each other than `gap`; None where nowhere."""
    if not a.box.near(b.box, gap):
        return None
    near = a.edges_near(b.box, gap), b.edges_near(a.box, gap)
    for one, other in _close(*near, gap):
        point = _meeting_of(one, other, gap)
        if point is not None:
            return point
    return None


def own_crossing(loop: Loop) -> Point | None:
    """A point at which an outline crosses itself; None where it does not."""
    last = len(loop.edges) - 1
    for one, other in _close(loop.edges, loop.edges, 0.0):
        if one.number < other.number and other.number - one.number not in (1, last):
            point = _crossing(one, other)
            if point is not None:
                return point
    return None


def _box_of(a: Point, b: Point) -> Box:
    (ax, ay), (bx, by) = a, b
    left, right = (ax, bx) if ax < bx else (bx, ax)
    low, high = (ay, by) if ay < by else (by, ay)
    return Box(left, low, right, high)


def _left(edge: Edge) -> float:
    return edge.box.left


def _close(ones: Iterable[Edge], others: Iterable[Edge], gap: float) -> Iterator[tuple[Edge, Edge]]:
    """Pairs of edges whose boxes are nearer than `gap`, found from left to right."""
    queue = [(edge.box.left, 0, edge) for edge in ones]
    queue += [(edge.box.left, 1, edge) for edge in others]
    queue.sort(key=lambda entry: entry[:2])
    active: tuple[list[Edge], list[Edge]] = ([], [])
    for left, side, edge in queue:
        facing = active[1 - side]
        facing[:] = [one for one in facing if one.box.right > left - gap - TOUCH]
        for one in facing:
            if edge.box.near(one.box, gap + TOUCH):
                yield (edge, one) if side == 0 else (one, edge)
        active[side].append(edge)


def _meeting_of(one: Edge, other: Edge, gap: float) -> Point | None:
    crossing = _crossing(one, other)
    if crossing is not None:
        return crossing
    for point, edge in ((one.a, other), (one.b, other), (other.a, one), (other.b, one)):
        if _distance(point, edge) < gap:
            return point
    return None


def _crossing(one: Edge, other: Edge) -> Point | None:
    """Where two edges cross, ends and all; None where they don't or run side by side."""
    (ax, ay), (bx, by) = one.a, one.b
    (cx, cy), (dx, dy) = other.a, other.b
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    turn = ux * vy - uy * vx
    if not turn:
        return None
    s = ((cx - ax) * vy - (cy - ay) * vx) / turn
    t = ((cx - ax) * uy - (cy - ay) * ux) / turn
    return (ax + s * ux, ay + s * uy) if 0.0 <= s <= 1.0 and 0.0 <= t <= 1.0 else None


def _distance(point: Point, edge: Edge) -> float:
    (ax, ay), (bx, by), (x, y) = edge.a, edge.b, point
    ux, uy = bx - ax, by - ay
    length = ux * ux + uy * uy
    t = max(0.0, min(1.0, ((x - ax) * ux + (y - ay) * uy) / length)) if length else 0.0
    return math.hypot(x - ax - t * ux, y - ay - t * uy)
