"""Whether a ring's pieces fill its annulus: areas exact, overlaps by shapely on fine flattening."""

from __future__ import annotations

import itertools
import math

from shapely import Polygon

from rosette.patterns.base import Piece, RingPlan

FLAT = 1e-3
"""Arcs are flattened this finely (mm) for shapely."""


def shape(piece: Piece) -> Polygon:
    return Polygon(piece.outline.points(FLAT), [hole.points(FLAT) for hole in piece.holes])


def area(piece: Piece) -> float:
    """mm², arcs as arcs."""
    return abs(piece.outline.area()) - sum(abs(hole.area()) for hole in piece.holes)


def annulus(ring: RingPlan) -> float:
    return math.pi * (ring.outer_radius**2 - ring.inner_radius**2)


def overlap(ring: RingPlan) -> float:
    """mm² that any two pieces share, at the most."""
    shapes = [shape(piece) for piece in (*ring.pieces, *ring.spacers)]
    assert all(one.is_valid for one in shapes)
    pairs = itertools.combinations(shapes, 2)
    return max((a.intersection(b).area for a, b in pairs if a.intersects(b)), default=0.0)


def outside(ring: RingPlan) -> float:
    """How far (mm) any corner lies beyond the ring's two edges."""
    radii = [
        math.hypot(x, y)
        for piece in (*ring.pieces, *ring.spacers)
        for outline in (piece.outline, *piece.holes)
        for x, y, _ in outline.vertices
    ]
    return max(ring.inner_radius - min(radii), max(radii) - ring.outer_radius)
