"""Whether an outline is one: it goes round some wood once, and what lies in it does lie in it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence

import shapely
import shapely.ops
from shapely.geometry import Polygon

from rosette.geometry.tracing import place
from rosette.offcuts.model import Point, Ring
from rosette.words import Length, Saying, say

LEAST_AREA = 1.0
"""mm²: what encloses less than this encloses no wood."""

LEAST_DEFECT = 1e-3
"""mm²: a crack may be narrow, but not without any width."""

_SAME = 1e-9
_ON_EDGE = 1e-6
_PLACE = re.compile(r"\[(\S+) (\S+)\]")


def cleaned(points: Sequence[Point]) -> Ring:
    """The points without those that stand twice in a row; an outline is closed without them.

    >>> cleaned([(0, 0), (1, 0), (1, 0), (1, 1), (0, 0)])
    ((0, 0), (1, 0), (1, 1))
    """
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > _SAME:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= _SAME:
        kept.pop()
    return tuple(kept)


def fault(ring: Ring, *, least: float = LEAST_AREA) -> Saying | None:
    """What is wrong with a cleaned outline, or None; the end of a sentence that starts with it.

    `least` is the area in mm² below which it encloses nothing.
    """
    if len(ring) < 3:
        return say(
            "has {n}; three different points at the least enclose wood",
            n="one point" if len(ring) == 1 else f"{len(ring) or 'no'} points",
        )
    if shapely.LineString(ring).convex_hull.area < least:
        return say(
            "encloses no wood: its points lie on one line, or nearly, through x {x}, y {y}",
            **place(ring[0]),
        )
    shape = Polygon(ring)
    if not shape.is_valid:
        return _crossing(ring, shapely.is_valid_reason(shape))
    if shape.area < least:
        return say("encloses hardly any wood, at x {x}, y {y}", **place(ring[0]))
    return None


def _crossing(ring: Ring, reason: str) -> Saying:
    match = _PLACE.search(reason)
    point = (float(match[1]), float(match[2])) if match else ring[0]
    edges = [f"{i + 1} to {(i + 1) % len(ring) + 1}" for i in _through(ring, point)]
    between = f", between its points {' and '.join(edges[:2])}" if len(edges) > 1 else ""
    return say(
        "crosses or touches itself at x {x}, y {y}{between}; go round the edge once, in order",
        between=between,
        **place(point),
    )


def _through(ring: Ring, point: Point) -> Iterator[int]:
    """The edges that pass through a point, those that only end beside one another once."""
    x, y = point
    before = -2
    for i, (a, b) in enumerate(zip(ring, (*ring[1:], ring[0]), strict=True)):
        dx, dy = b[0] - a[0], b[1] - a[1]
        long = math.hypot(dx, dy)
        t = max(0.0, min(1.0, ((x - a[0]) * dx + (y - a[1]) * dy) / (long * long)))
        if math.dist((a[0] + t * dx, a[1] + t * dy), point) <= _ON_EDGE * max(1.0, long):
            if i != before + 1:
                yield i
            before = i


def outside(outline: Ring, inner: Ring) -> Saying | None:
    """That no part of `inner` lies in the outline, with the point that comes nearest; or None."""
    wood, bad = Polygon(outline), Polygon(inner)
    if wood.intersection(bad).area > 0.0:
        return None
    off, on = (one.coords[0] for one in shapely.ops.nearest_points(bad, wood))
    return say(
        "lies wholly outside the outline; its point nearest the wood is x {x}, y {y}, {gap} away",
        gap=Length(math.dist(off, on)),
        **place((off[0], off[1])),
    )


def usable_area(outline: Ring, holes: Sequence[Ring], defects: Sequence[Ring]) -> float:
    """mm² of wood without holes and defects; every ring must be sound."""
    taken = shapely.union_all([Polygon(ring) for ring in (*holes, *defects)])
    return float(Polygon(outline).difference(taken).area)
