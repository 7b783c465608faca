"""Level cuts through fixtures as plane shapes: quick proofs by shapely instead of the CAD kernel.

Fixtures are flat steps, so a cut at a height between two faces is the same all the way between
them: what holds there in the plane holds in the solid.
"""

from __future__ import annotations

from typing import Any

from shapely import affinity
from shapely.geometry import Polygon
from shapely.ops import unary_union

from jigs.base import Fixture, Part, Place
from jigs.terrace import Block, Contour, Step
from rosette.geometry.outline import Outline, Point, circle

ERROR = 0.0005
"""Greatest distance in mm between an arc and the chords that stand for it here."""


def shape(outline: Outline | Contour) -> Polygon:
    """A closed outline as a polygon."""
    return Polygon(outline.points(ERROR))


def cut(block: Block, height: float) -> Any:
    """What is solid of a block at a height that no face of it lies at (chamfer left out)."""
    whole = shape(block.outline)
    up = _over(whole, block.steps, block.top, height)
    down = _over(whole, block.under, 0.0, height)
    return up.difference(down)


def _over(inside: Any, steps: tuple[Step, ...], level: float, height: float) -> Any:
    """Where, of `inside`, the face stands above a height."""
    found = inside if level > height else Polygon()
    for step in steps:
        area = shape(step.outline)
        found = found.difference(area).union(_over(area, step.steps, step.top, height))
    return found


def cut_at(part: Part, place: Place, height: float) -> Any:
    """What is solid of a part at a place, at a height of the fixture."""
    own = height - place.z
    flat = cut(part.block, -own if place.over else own)
    if place.over:
        flat = affinity.scale(flat, 1.0, -1.0, origin=(0.0, 0.0))
    turned = affinity.rotate(flat, place.turn, origin=(0.0, 0.0))
    return affinity.translate(turned, place.x, place.y)


def cut_of(fixture: Fixture, height: float) -> Any:
    """What is solid of a whole fixture at a height."""
    return unary_union(
        [cut_at(part, place, height) for part in fixture.parts() for place in part.places]
    )


def disc(radius: float, at: Point = (0.0, 0.0)) -> Polygon:
    """A circle, flattened as the outlines are."""
    return shape(circle(radius, at))


def turned(flat: Any, degrees: float) -> Any:
    """Turned about the origin, counter-clockwise."""
    return affinity.rotate(flat, degrees, origin=(0.0, 0.0))
