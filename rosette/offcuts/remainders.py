"""What is left of an offcut, and whether another job could use it."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from rosette.offcuts.cutplan import Remainder
from rosette.offcuts.leftover import is_worth
from rosette.offcuts.model import Offcut, Ring
from rosette.offcuts.region import frame_for

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
        useful=is_worth(plain, wood, bad),
    )


def _ring(ring: BaseGeometry) -> Ring:
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1])
