"""Whether the pieces of a ring fill it: exact areas by arcs, overlaps on flattened outlines."""

from __future__ import annotations

import math

import shapely
from shapely.geometry import Polygon

from rosette.patterns.base import RingPlan


def assert_fills(ring: RingPlan, *, joint: float = 0.0, joints: int = 0) -> None:
    """Pieces and spacers have the annulus's area less the glue in `joints`, and none overlap.

    A joint `joint` mm wide, its middle on a radius, leaves out the part of the annulus that lies
    between two lines joint/2 to each side: by integration, ∫ 2·asin(d/2r)·r dr. Neighbours meet
    in straight lines, so flattening their arcs makes no overlap.
    """
    pieces = (*ring.pieces, *ring.spacers)
    area = sum(abs(p.outline.area()) - sum(abs(hole.area()) for hole in p.holes) for p in pieces)
    annulus = math.pi * (ring.outer_radius**2 - ring.inner_radius**2)
    glue = joints * (_joint(ring.outer_radius, joint) - _joint(ring.inner_radius, joint))
    assert math.isclose(area, annulus - glue, abs_tol=1e-6 * annulus)
    shapes = [Polygon(p.outline.points()) for p in pieces]
    assert all(shape.is_valid for shape in shapes)
    union = shapely.union_all(shapes, grid_size=1e-7).area
    assert math.isclose(union, sum(s.area for s in shapes), abs_tol=1e-4)


def _joint(radius: float, width: float) -> float:
    """Area of the disc of `radius` between two parallel lines, on one side of the centre."""
    half = width / 2.0
    return half * math.sqrt(radius**2 - half**2) + radius**2 * math.asin(half / radius)
