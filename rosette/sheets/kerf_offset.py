"""The way of a beam or bit round a blank, half a kerf outside it, so that it comes out at size.

Corners are mitred, so that the way turns at once and the blank's corner stays sharp. Where a
mitred corner would come nearer than half a kerf to a neighbour it is rounded about the blank's
corner instead: the whole way then stands half a kerf off the blank, and half a kerf or more off
whatever is a kerf away from it (mm).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from rosette.geometry.outline import Outline, Point, Vertex

TOLERANCE = 1e-5
"""mm: layouts keep a kerf apart to within this."""


def offset(
    corners: Sequence[Point], by: float, *, neighbours: Sequence[Sequence[Point]] = ()
) -> Outline:
    """A convex polygon grown by `by` mm on every side, counter-clockwise.

    >>> square = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (0.0, 2.0)]
    >>> [(v.x, v.y) for v in offset(square, 0.5).vertices]
    [(-0.5, -0.5), (4.5, -0.5), (4.5, 2.5), (-0.5, 2.5)]
    """
    points = list(corners) if _area(corners) > 0.0 else list(reversed(corners))
    if by == 0.0:
        return Outline(tuple(Vertex(x, y) for x, y in points))
    found: list[Vertex] = []
    for i, corner in enumerate(points):
        before, after = points[i - 1], points[(i + 1) % len(points)]
        tip = _mitred(before, corner, after, by)
        if all(_distance(tip, one) >= by - TOLERANCE for one in neighbours):
            found.append(Vertex(*tip))
        else:
            found.extend(_rounded(before, corner, after, by))
    return Outline(tuple(found))


def _area(points: Sequence[Point]) -> float:
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return sum(p[0] * q[1] - q[0] * p[1] for p, q in pairs) / 2.0


def _normal(a: Point, b: Point) -> Point:
    """The unit vector to the right of the way from a to b: outwards."""
    length = math.dist(a, b)
    return (b[1] - a[1]) / length, (a[0] - b[0]) / length


def _mitred(before: Point, corner: Point, after: Point, by: float) -> Point:
    """Where the two sides at a corner meet when both are moved outwards."""
    (mx, my), (nx, ny) = _normal(before, corner), _normal(corner, after)
    share = by / (1.0 + mx * nx + my * ny)
    return corner[0] + (mx + nx) * share, corner[1] + (my + ny) * share


def _rounded(before: Point, corner: Point, after: Point, by: float) -> tuple[Vertex, Vertex]:
    """An arc about the corner from one moved side to the other."""
    (mx, my), (nx, ny) = _normal(before, corner), _normal(corner, after)
    sweep = math.atan2(mx * ny - my * nx, mx * nx + my * ny)
    return (
        Vertex(corner[0] + mx * by, corner[1] + my * by, math.tan(sweep / 4.0)),
        Vertex(corner[0] + nx * by, corner[1] + ny * by),
    )


def _distance(point: Point, ring: Sequence[Point]) -> float:
    """From a point to a polygon's boundary, 0 inside it (convex, either way round)."""
    pairs = list(zip(ring, [*ring[1:], ring[0]], strict=True))
    turns = [
        (q[0] - p[0]) * (point[1] - p[1]) - (q[1] - p[1]) * (point[0] - p[0]) for p, q in pairs
    ]
    if min(turns) >= 0.0 or max(turns) <= 0.0:
        return 0.0
    return min(_to_segment(point, p, q) for p, q in pairs)


def _to_segment(point: Point, p: Point, q: Point) -> float:
    dx, dy = q[0] - p[0], q[1] - p[1]
    share = ((point[0] - p[0]) * dx + (point[1] - p[1]) * dy) / (dx * dx + dy * dy)
    share = min(1.0, max(0.0, share))
    return math.dist(point, (p[0] + share * dx, p[1] + share * dy))
