"""Round things as outlines of straight lines."""

from __future__ import annotations

import math

from rosette.offcuts.model import Point, Ring

ERROR = 0.02
"""How far in mm the straight lines may stand off a curve."""


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
