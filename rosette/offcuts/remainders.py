"""What is left of an offcut, and whether another job could use it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from rosette.offcuts.cutplan import Remainder
from rosette.offcuts.model import Offcut, Ring
from rosette.offcuts.region import frame_for

USEFUL_SIDE, USEFUL_AREA = 15.0, 600.0
"""mm and mm²: a remainder with a shorter side, or less clear wood, is not worth keeping."""
SCRAP = 25.0
"""mm²: smaller pieces than this are swept up with the dust."""


def remainders(wood: Offcut, left: Sequence[shapely.Polygon]) -> tuple[Remainder, ...]:
    """The pieces that are left, largest first, in the offcut's own coordinates."""
    found = [_remainder(wood, one) for one in left if one.area >= SCRAP]
    return tuple(sorted(found, key=lambda one: -one.area))


def _remainder(wood: Offcut, shape: shapely.Polygon) -> Remainder:
    plain = shapely.Polygon(
        _ring(shapely.LinearRing(shape.exterior).simplify(1e-6)),
        [_ring(shapely.LinearRing(ring).simplify(1e-6)) for ring in shape.interiors],
    )
    bad = [shapely.Polygon(ring) for ring in wood.defects]
    clear = plain.difference(shapely.union_all(bad)) if bad else plain
    best = max(shapely.get_parts(clear), key=lambda one: float(one.area), default=None)
    frame = frame_for(wood.grain, (0.0, 0.0))
    turned = shapely.transform(plain, frame.along_grain)
    left, low, right, high = turned.bounds
    return Remainder(
        outline=_ring(plain.exterior),
        holes=tuple(_ring(ring) for ring in plain.interiors),
        defects=tuple(
            ring for ring, one in zip(wood.defects, bad, strict=True) if one.intersects(plain)
        ),
        area=float(plain.area),
        along=high - low,
        across=right - left,
        useful=best is not None and useful(best),
    )


def useful(shape: BaseGeometry) -> bool:
    """Whether a piece of clear wood is worth putting back into the box."""
    if shape.area < USEFUL_AREA:
        return False
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(shape))
    sides = [math.dist(a, b) for a, b in pairwise(corners.tolist())]
    return min(sides) >= USEFUL_SIDE


def _ring(ring: BaseGeometry) -> Ring:
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1])
