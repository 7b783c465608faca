"""Rings of bands to test with: made from keys, measured by shapely."""

from __future__ import annotations

import math
from collections.abc import Iterator
from random import Random
from typing import Any

import numpy as np
from shapely import STRtree, area, intersection
from shapely.geometry import LineString, Polygon

from rosette.geometry.outline import Outline
from rosette.patterns.base import Piece, RingPlan
from rosette.plan import make_plan
from tests.properties.designs import design

FINE = 1e-4
"""How finely arcs are flattened where overlaps are looked for (mm)."""
PLIES = [{"wood": "maple", "thickness": 0.6}, {"wood": "walnut", "thickness": 0.6}]
THREE = [
    {"wood": "maple", "thickness": 0.5},
    {"wood": "walnut", "thickness": 0.9},
    {"wood": "cherry", "thickness": 1.4},
]


def keys(pattern: str, **given: Any) -> dict[str, Any]:
    """A ring's keys, usual ones where not given."""
    usual: dict[str, Any] = {
        "pattern": pattern,
        "inner_radius": 50.0,
        "width": 6.0,
        "tile_thickness": 2.0,
    }
    if pattern == "checker":
        usual |= {"wood": ["maple", "walnut"]}
    else:
        usual |= {"plies": PLIES}
    return {**usual, **given}


def ring(pattern: str, *, instrument: dict[str, Any] | None = None, **given: Any) -> RingPlan:
    """One ring, planned."""
    return make_plan(design([keys(pattern, **given)], instrument=instrument or {})).rings[0]


def generated(pattern: str, count: int) -> Iterator[dict[str, Any]]:
    """Keys spread over widths, radii, plies, angles, forms; the same each time."""
    dice = Random(f"bands of {pattern}")
    for number in range(count):
        bent = number % 2 == 0
        inner = dice.uniform(46.0, 70.0)
        width = dice.uniform(1.5, 0.035 * inner) if bent else dice.uniform(4.0, 14.0)
        one: dict[str, Any] = {"inner_radius": round(inner, 3), "width": round(width, 3)}
        if pattern == "checker":
            one["rows"] = dice.choice([2, 3] if bent else [2, 3, 4, 5])
            if dice.random() < 0.5:
                one["square_length"] = round(dice.uniform(1.0, 2.0) * width / one["rows"], 3)
        else:
            one["plies"] = [
                {
                    "wood": dice.choice(["maple", "walnut", "cherry", "holly"]),
                    "thickness": round(dice.uniform(0.5, 1.2), 3),
                }
                for _ in range(dice.choice([2, 2, 3, 4]))
            ]
        if pattern in ("rope", "herringbone"):
            one["angle"] = round(dice.uniform(25.0, 75.0), 2)
            one["twist"] = dice.choice(["clockwise", "counter-clockwise"])
            one["adjust"] = dice.choice(["angle", "plies"])
        if pattern == "herringbone" and dice.random() < 0.6:
            one["line"] = {"wood": "ebony", "thickness": 0.4}
        yield {**one, "form": "bent" if bent else "straight", "bend_limit": 4.0}


def polygon(outline: Outline, holes: tuple[Outline, ...] = ()) -> Polygon:
    """The same for shapely, its arcs flattened finely."""
    return Polygon(outline.points(FINE), [hole.points(FINE) for hole in holes])


def polygons(pieces: tuple[Piece, ...]) -> list[Polygon]:
    """All of them."""
    return [polygon(one.outline, one.holes) for one in pieces]


def exact_area(one: Piece) -> float:
    """A piece's area with its arcs as arcs."""
    return one.outline.area() - sum(abs(hole.area()) for hole in one.holes)


def annulus(plan: RingPlan) -> float:
    """The ring's area."""
    return math.pi * (plan.outer_radius**2 - plan.inner_radius**2)


def overlap(shapes: list[Polygon]) -> float:
    """What any two of them have in common (mm²)."""
    first, second = STRtree(shapes).query(shapes, predicate="intersects")
    apart = first < second
    every = np.array(shapes)
    return float(area(intersection(every[first[apart]], every[second[apart]])).sum())


def runs_along(plan: RingPlan, path: LineString) -> list[tuple[str, float]]:
    """Wood and length of every stretch of a line through a ring, in order; alike ones apart."""
    shapes = polygons(plan.pieces)
    found = []
    for i in STRtree(shapes).query(path, predicate="intersects"):
        part = path.intersection(shapes[i])
        if part.length > 1e-6:
            middle = path.project(part.interpolate(0.5, normalized=True))
            found.append((middle, plan.pieces[i].wood, part.length))
    return [(wood, length) for _, wood, length in sorted(found)]
