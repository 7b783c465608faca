"""Shapes let into a ring of another wood, repeated round it: dots, diamonds, leaves, your own."""

from __future__ import annotations

from rosette.errors import CannotMakeError, Finding, finding
from rosette.patterns.arcs_form import across_share
from rosette.patterns.base import Pattern, RingPlan, RingSite
from rosette.patterns.shapes_form import inlay_of
from rosette.patterns.shapes_keys import ShapesKeys
from rosette.patterns.shapes_ring import (
    ground_pieces,
    ground_sides,
    left_out,
    round_of,
    shape_pieces,
)
from rosette.patterns.shapes_words import (
    shape_blanks,
    shape_stock,
    shapes_stages,
    shapes_steps,
    shapes_warnings,
)
from rosette.patterns.sides import Sides
from rosette.words import Length


def plan_shapes(keys: ShapesKeys, site: RingSite) -> RingPlan:
    """Work out a ring with inlaid shapes.

    Raises:
        CannotMakeError: where a shape can't be cut, leaves its ring or meets the next one.
    """
    thick = keys.shape_thickness or keys.tile_thickness
    if thick > keys.tile_thickness + 1e-9:
        raise CannotMakeError([_too_thick(thick, keys, site)])
    around = round_of(inlay_of(keys, site), keys, site)
    skipped = left_out(around, keys, site)
    ground = ground_pieces(around, skipped, keys, site)
    shapes = shape_pieces(around, skipped, keys, site)
    sides = ground_sides(around, keys, site)
    return RingPlan(
        index=site.index,
        pattern="shapes",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=tuple(dict.fromkeys((keys.ground, *(piece.wood for piece in shapes)))),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=(*ground, *shapes),
        steps=shapes_steps(around, sides, skipped, keys, site),
        warnings=tuple(shapes_warnings(around, skipped, keys, site)),
        across_grain=_across(sides, keys, site),
        stock=(
            *(one.stock(keys.tile_thickness) for one in sides),
            *shape_stock(around.inlay, shapes, thick),
        ),
        stages=shapes_stages(around, sides, ground, shapes, keys),
        blanks=(
            *(one.blank(ground, keys.tile_thickness) for one in sides),
            *shape_blanks(around.inlay, shapes, thick),
        ),
    )


def _too_thick(thick: float, keys: ShapesKeys, site: RingSite) -> Finding:
    return finding(
        "too-thick",
        f"{site.where}.shape_thickness",
        "shapes {thick} thick do not go into a ring {tile} thick; {tile} or less would do",
        thick=Length(thick),
        tile=Length(keys.tile_thickness),
    )


def _across(
    sides: tuple[Sides, ...], keys: ShapesKeys, site: RingSite
) -> tuple[tuple[str, float], ...]:
    """How much of the ground's rim moves with the weather (mm), its grain along the chords."""
    moved = sum(
        2.0 * one.arc.half_rad * len(one.places) * across_share(one.arc.half_rad) for one in sides
    )
    return ((keys.ground, moved * site.outer_radius),)


PATTERN = Pattern(
    name="shapes",
    summary="dots, diamonds, leaves or your own outline, let into a ring of another wood",
    keys=ShapesKeys,
    plan=plan_shapes,  # type: ignore[arg-type]
    example={
        "width": 9,
        "ground": "walnut",
        "wood": "abalone",
        "shape": "leaf",
        "length": 6.5,
        "breadth": 3.5,
        "count": 30,
        "cutter": 0.8,
    },
)
