"""A ring of arcs: shell or wood, sawn out of small flat blanks and set end to end."""

from __future__ import annotations

from rosette.patterns.arcs_keys import ArcsKeys
from rosette.patterns.arcs_layout import arc_pieces, layout_of
from rosette.patterns.arcs_stock import across, blanks_of, cut_blanks
from rosette.patterns.arcs_words import arcs_stages, arcs_steps, arcs_warnings
from rosette.patterns.base import Pattern, RingPlan, RingSite


def plan_arcs(keys: ArcsKeys, site: RingSite) -> RingPlan:
    """Work out a ring of arcs.

    Raises:
        CannotMakeError: where the blanks hold no such arc, with what would.
    """
    layout = layout_of(keys, site)
    pieces = arc_pieces(layout, keys, site)
    blanks = blanks_of(layout, keys, site)
    return RingPlan(
        index=site.index,
        pattern="arcs",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=tuple(dict.fromkeys(piece.wood for piece in pieces)),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=pieces,
        steps=arcs_steps(layout, blanks, keys, site),
        warnings=tuple(arcs_warnings(layout, keys, site)),
        across_grain=across(layout, site),
        stock=tuple(one.stock(keys.tile_thickness) for one in blanks),
        stages=arcs_stages(layout, blanks, keys, site),
        blanks=tuple(cut_blanks(blanks, pieces, keys.tile_thickness)),
    )


PATTERN = Pattern(
    name="arcs",
    summary="arcs of shell or wood, sawn out of small flat blanks and set end to end",
    keys=ArcsKeys,
    plan=plan_arcs,  # type: ignore[arg-type]
    example={"width": 3, "wood": "abalone", "blank_length": 40, "blank_width": 20},
)
