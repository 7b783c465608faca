"""Two woods in one ring that meet in a petalled line, cut with a bit of a given size."""

from __future__ import annotations

from rosette.patterns.arcs_form import across_share
from rosette.patterns.base import CutBlank, Pattern, Piece, RingPlan, RingSite
from rosette.patterns.petals_form import edge_of
from rosette.patterns.petals_keys import PetalsKeys
from rosette.patterns.petals_pieces import halves_of, pieces_of, sides_of
from rosette.patterns.petals_words import petals_stages, petals_steps, petals_warnings
from rosette.patterns.sides import Sides
from rosette.wood.shell import is_shell


def plan_petals(keys: PetalsKeys, site: RingSite) -> RingPlan:
    """Work out a petalled ring.

    Raises:
        CannotMakeError: where the line leaves its ring or can't be cut, with what would work.
    """
    edge = edge_of(keys, site)
    halves = halves_of(edge, keys, site)
    pieces = pieces_of(halves, edge, keys, site)
    sides = sides_of(halves, edge, keys, site)
    return RingPlan(
        index=site.index,
        pattern="petals",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=tuple(dict.fromkeys((keys.inner_wood, keys.outer_wood))),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=pieces,
        steps=petals_steps(sides, edge, keys, site),
        warnings=tuple(petals_warnings(sides, edge, keys, site)),
        across_grain=_across(sides, keys, site),
        stock=tuple(one.stock(keys.tile_thickness) for one in sides),
        stages=petals_stages(sides, pieces, edge, keys),
        blanks=tuple(_blank(one, pieces, keys) for one in sides),
    )


def _blank(one: Sides, pieces: tuple[Piece, ...], keys: PetalsKeys) -> CutBlank:
    count = len(pieces) // 2
    band = pieces[:count] if one.called == "inner" else pieces[count:]
    return one.blank(band, keys.tile_thickness)


def _across(
    sides: tuple[Sides, ...], keys: PetalsKeys, site: RingSite
) -> tuple[tuple[str, float], ...]:
    """How much of the rim moves with the weather (mm): the outer wood's, its grain on the chord."""
    if is_shell(keys.outer_wood):
        return ()
    halves = [(one.arc.half_rad, len(one.places)) for one in sides if one.called == "outer"]
    moved = sum(2.0 * half * count * across_share(half) for half, count in halves)
    return ((keys.outer_wood, moved * site.outer_radius),)


PATTERN = Pattern(
    name="petals",
    summary="two woods that meet in a line of petals or waves, cut with a bit of a given size",
    keys=PetalsKeys,
    plan=plan_petals,  # type: ignore[arg-type]
    example={
        "width": 9,
        "inner_wood": "walnut",
        "outer_wood": "maple",
        "petals": 24,
        "depth": 4,
        "cutter": 1.6,
    },
)
