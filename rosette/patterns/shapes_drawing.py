"""A maker's own outline out of an SVG file: one closed line, checked and centred."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from rosette.geometry.outline import Outline, Point, polygon
from rosette.geometry.tracing import Ring, TracingError, place

MOST_BYTES = 256 * 1024
MOST_CORNERS = 1000
"""An outline of an inlay has some dozens; curves count as the lines that stand for them."""
LEAST_AREA = 0.5
"""mm²: what encloses less is no shape to inlay."""
SAME = 1e-6


@lru_cache(maxsize=16)
def own_outline(data: bytes) -> Outline:
    """The one closed line in an SVG file, counter-clockwise about the middle of its box (mm).

    Curves are straight lines that stand off them by 0.02 mm at the most.

    Raises:
        TracingError: saying what is wrong with the file.
    """
    from rosette.geometry.svg_lines import svg_lines

    rings = [ring for one in svg_lines(data).rings if len(ring := _cleaned(one)) > 2]
    if not rings:
        raise TracingError("has no closed line in it; draw the shape as one closed path")
    if len(rings) > 1:
        raise TracingError(
            "has {n} closed lines in it, and a shape is one without holes; delete the others, or"
            ' put the shape on a layer named "cut", and then only that layer is read',
            n=len(rings),
        )
    ring = rings[0]
    if len(ring) > MOST_CORNERS:
        raise TracingError(
            "comes to {n} corners; at most {most} do: simplify it", n=len(ring), most=MOST_CORNERS
        )
    _check_simple(ring)
    outline = polygon(ring)
    if abs(outline.area()) < LEAST_AREA:
        raise TracingError("encloses hardly anything: is it drawn in mm?")
    left, low, right, high = outline.bounds()
    centred = outline.mapped(shift=(-(left + right) / 2.0, -(low + high) / 2.0))
    if centred.area() < 0.0:
        centred = Outline(centred.vertices[::-1])
    return centred


def scaled(outline: Outline, by: float) -> Outline:
    """The same, larger or smaller; arcs stay arcs."""
    return Outline(tuple(v._replace(x=v.x * by, y=v.y * by) for v in outline.vertices))


def _cleaned(ring: Ring) -> Ring:
    """Its points without those that stand twice in a row, or in the middle of a straight line."""
    points: list[Point] = []
    for point in ring:
        if not points or math.dist(points[-1], point) > SAME:
            points.append(point)
    while len(points) > 1 and math.dist(points[0], points[-1]) <= SAME:
        points.pop()
    kept = [q for p, q, r in _triples(points) if abs(_turn(p, q, r)) > SAME * math.dist(p, r)]
    return tuple(kept)


def _triples(points: list[Point]) -> Iterator[tuple[Point, Point, Point]]:
    return zip([*points[-1:], *points[:-1]], points, [*points[1:], *points[:1]], strict=True)


def _turn(p: Point, q: Point, r: Point) -> float:
    """Twice the area of a triangle, positive to the left."""
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])


def _check_simple(ring: Ring) -> None:
    """That no edge meets another but its neighbours: by a sweep from left to right.

    Raises:
        TracingError: with the place where two do.
    """
    count = len(ring)
    edges = [(ring[i], ring[(i + 1) % count], i) for i in range(count)]
    edges.sort(key=lambda edge: min(edge[0][0], edge[1][0]))
    open_: list[tuple[Point, Point, int]] = []
    for p, q, i in edges:
        left = min(p[0], q[0])
        open_ = [edge for edge in open_ if max(edge[0][0], edge[1][0]) >= left]
        for r, s, j in open_:
            if (i - j) % count not in (1, count - 1) and _meet(p, q, r, s):
                raise TracingError(
                    "crosses or touches itself near x {x}, y {y}; go round the edge once, in order",
                    **place(p),
                )
        open_.append((p, q, i))


def _meet(p: Point, q: Point, r: Point, s: Point) -> bool:
    if max(p[1], q[1]) < min(r[1], s[1]) or max(r[1], s[1]) < min(p[1], q[1]):
        return False
    return _turn(p, q, r) * _turn(p, q, s) <= 0.0 and _turn(r, s, p) * _turn(r, s, q) <= 0.0
