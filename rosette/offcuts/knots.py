"""Round things as outlines of straight lines."""

from __future__ import annotations

import math

from rosette.geometry.tracing import ERROR
from rosette.offcuts.model import Point, Ring


def around(centre: Point, radius: float, error: float = ERROR) -> Ring:
    """A polygon round a circle, nowhere inside it and nowhere more than `error` mm outside.

    >>> ring = around((0, 0), 6.0)
    >>> min(math.hypot(x, y) for x, y in ring) >= 6.0
    True
    """
    half = math.acos(radius / (radius + error))
    count = max(8, math.ceil(math.pi / half))
    reach = radius / math.cos(math.pi / count)
    turns = [2.0 * math.pi * (i + 0.5) / count for i in range(count)]
    x, y = centre
    return tuple((x + reach * math.cos(t), y + reach * math.sin(t)) for t in turns)


def knot_of(ring: Ring) -> tuple[Point, float] | None:
    """The centre and radius of the circle that `around` made a ring for; None for any other ring.

    >>> centre, radius = knot_of(around((40.0, 16.0), 6.0))
    >>> [round(value, 6) for value in (*centre, radius)]
    [40.0, 16.0, 6.0]
    """
    count = len(ring)
    if count < 8:
        return None
    x, y = sum(p[0] for p in ring) / count, sum(p[1] for p in ring) / count
    reach = math.dist(ring[0], (x, y))
    radius = reach * math.cos(math.pi / count)
    again = around((x, y), radius)
    same = len(again) == count and all(
        math.dist(a, b) <= 1e-6 for a, b in zip(ring, again, strict=True)
    )
    return ((x, y), radius) if same else None
