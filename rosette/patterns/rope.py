"""The rope: a band of plies that cross it at an angle, all the way round."""

from __future__ import annotations

import math

from rosette.patterns.base import Pattern, Piece, RingPlan, RingSite, Stage
from rosette.patterns.laminate import Lay, closed
from rosette.patterns.laminate_form import (
    facets_of,
    form_warnings,
    is_bent,
    refuse_no_inner,
    refuse_too_many,
    untrimmed_width,
)
from rosette.patterns.laminate_last import (
    bent_stage,
    facet_stage,
    first_piece,
    mitred_shapes,
    mitred_stage,
)
from rosette.patterns.laminate_making import Making, making
from rosette.patterns.laminate_plan import ring_of
from rosette.patterns.laminate_ring import Facets, numbered_pieces
from rosette.patterns.laminate_stages import shown_rows, strip_shapes
from rosette.patterns.rope_keys import THICK, SlantKeys
from rosette.patterns.rope_pieces import bent_plies, straight_plies

FEWEST_REPEATS = 3
"""Repeats round a ring, at the least."""


def plan_rope(keys: SlantKeys, site: RingSite) -> RingPlan:
    """Work out a rope.

    Raises:
        CannotMakeError: where it can't be bent, closed or cut as asked, with what would work.
    """
    wanted = Lay(plies=keys.plies, glue=keys.glue_line, angle=keys.angle)
    bent = is_bent(keys, [(site.inner_radius, site.outer_radius)], site)
    return (_bent if bent else _straight)(keys, site, wanted)


def _bent(keys: SlantKeys, site: RingSite, wanted: Lay) -> RingPlan:
    inner, outer = site.inner_radius, site.outer_radius
    radius, width = (inner + outer) / 2.0, outer - inner
    made = closed(
        wanted,
        length=math.tau * radius,
        adjust=keys.adjust,
        where=site.where,
        least=FEWEST_REPEATS,
    )
    lay, repeats = made.lay, made.repeats
    refuse_too_many(repeats * len(lay.plies), site, "plies")
    shapes = bent_plies(
        lay, inner_radius=inner, outer_radius=outer, repeats=repeats, sign=keys.sign, anchor=radius
    )
    work = making(
        lay,
        keys,
        site,
        block_height=keys.block_height,
        repeats=repeats,
        width=width + 2.0 * keys.trim,
    )
    shown = strip_shapes(work, rows=shown_rows(work), width=width, sign=keys.sign)
    return ring_of(
        "rope",
        keys,
        site,
        closings=[(made, repeats)],
        works=[work],
        signs=[keys.sign],
        pieces=numbered_pieces(list(shapes), site),
        last=(
            bent_stage(
                (inner, outer),
                strips=work.strips - 1,
                width=width,
                repeats=repeats,
                shapes=tuple(shown),
            ),
        ),
        bent=True,
        warnings=form_warnings(
            keys, [(inner, outer)], site, bent=True, reach=width / 2.0 * lay.cotangent
        ),
    )


def _straight(keys: SlantKeys, site: RingSite, wanted: Lay) -> RingPlan:
    band = (site.inner_radius, site.outer_radius)
    refuse_no_inner(site)
    facets = facets_of(
        keys,
        site,
        largest_sagitta=(band[1] - band[0]) / 4.0,
        largest_mitre=keys.angle / 2.5,
        repeat=wanted.pitch,
    )
    made = closed(
        wanted, length=facets.length, adjust=keys.adjust, where=site.where, times=facets.count
    )
    lay, total = made.lay, made.repeats * facets.count
    refuse_too_many(total * len(lay.plies), site, "plies")
    shapes = straight_plies(lay, facets, facets.outline(), sign=keys.sign, level=facets.middle)
    pieces = numbered_pieces(list(shapes), site)
    work = making(
        lay,
        keys,
        site,
        block_height=keys.block_height,
        repeats=total,
        width=untrimmed_width(facets, site),
        facets=facets,
    )
    return ring_of(
        "rope",
        keys,
        site,
        closings=[(made, total)],
        works=[work],
        signs=[keys.sign],
        pieces=pieces,
        last=straight_last(facets, site, work, pieces, keys.sign),
        bent=False,
        warnings=form_warnings(keys, [band], site, bent=False),
    )


def straight_last(
    facets: Facets, site: RingSite, work: Making, pieces: tuple[Piece, ...], sign: float
) -> tuple[Stage, ...]:
    """The last stages of a ring of straight pieces."""
    shown = strip_shapes(work, rows=shown_rows(work), width=work.strip_width, sign=sign)
    middle = work.strip_width - (site.outer_radius + site.outer_allowance - facets.middle)
    off = middle if sign > 0 else work.strip_width - middle
    return (
        mitred_stage(
            facets,
            site,
            pieces=work.pieces,
            taken=f"{work.taken} repeats",
            shapes=mitred_shapes(
                shown,
                facets,
                middle=middle,
                start=off * work.lay.cotangent,
                step=work.lay.pitch,
                taken=work.taken,
            ),
        ),
        facet_stage(facets, first_piece(pieces, facets)),
    )


PATTERN = Pattern(
    name="rope",
    summary="a band of plies that cross it at an angle, like the strands of a rope",
    keys=SlantKeys,
    plan=plan_rope,  # type: ignore[arg-type]
    example={"plies": THICK, "angle": 45, "width": 8},
)
