"""What of a block's plan is solid, thin or marked, as polygons, to find room for seams.

Curves are flattened; nothing of this goes into the solid itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jigs.terrace import Block, Contour, Step
from rosette.geometry.outline import Outline

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

FLAT = 0.02
"""Greatest distance of curves from their chords here (mm)."""
LEAST_KEYED = 2.0
"""A tongue in thinner material than this (mm) breaks off."""
SAME = 1e-9
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """Something that a seam had better not cross: its bounds, and what it is.

    `kind` is "hole" (right through), "letter" or "step".
    """

    kind: str
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Footprint:
    """A block's plan: where there is material, where a tongue may stand, the edges of steps."""

    solid: BaseGeometry
    sound: BaseGeometry
    edges: BaseGeometry
    features: tuple[Feature, ...]

    @property
    def box(self) -> Box:
        """Left, low, right, high."""
        left, low, right, high = self.solid.bounds
        return left, low, right, high


def footprint(block: Block) -> Footprint:
    """The plan of a block."""
    from shapely import MultiLineString, unary_union

    whole = _polygon(block.outline)
    tops = list(_levels(whole, block.top, block.steps))
    bottoms = list(_levels(whole, 0.0, block.under))
    holes: list[BaseGeometry] = []
    thin: list[BaseGeometry] = []
    for top, above in tops:
        for bottom, below in bottoms:
            if top - bottom < LEAST_KEYED:
                (holes if top - bottom < SAME else thin).append(above.intersection(below))
    solid = whole.difference(unary_union(holes))
    every = [*_every(block.steps), *_every(block.under)]
    letters = [_polygon(one.outline).buffer(0.5) for one in every if _is_letter(one)]
    rings = [_polygon(one.outline).exterior for one in every]
    return Footprint(
        solid=solid,
        sound=solid.difference(unary_union([*thin, *letters])),
        edges=MultiLineString([ring.coords for ring in rings]),
        features=tuple(_feature(one, solid) for one in every),
    )


def _levels(within: Polygon, height: float, steps: tuple[Step, ...]) -> Iterator[tuple[float, Any]]:
    """Every height there is, and where."""
    from shapely import unary_union

    outlines = [_polygon(step.outline) for step in steps]
    yield height, within.difference(unary_union(outlines))
    for outline, step in zip(outlines, steps, strict=True):
        yield from _levels(outline, step.top, step.steps)


def _every(steps: tuple[Step, ...]) -> Iterator[Step]:
    for step in steps:
        yield step
        yield from _every(step.steps)


def _feature(step: Step, solid: BaseGeometry) -> Feature:
    outline = _polygon(step.outline)
    left, low, right, high = outline.bounds
    if _is_letter(step):
        kind = "letter"
    elif outline.intersection(solid).area < outline.area / 100.0:
        kind = "hole"
    else:
        kind = "step"
    return Feature(kind=kind, box=(left, low, right, high))


def _is_letter(step: Step) -> bool:
    return isinstance(step.outline, Contour)


def _polygon(outline: Outline | Contour) -> Polygon:
    from shapely import Polygon

    return Polygon(outline.points(FLAT))
