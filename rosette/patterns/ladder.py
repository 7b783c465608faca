"""The ladder: rungs of one wood across the band, another wood between."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.patterns.base import Pattern, Piece, RingPlan, RingSite, Stage
from rosette.patterns.laminate import Closed, Lay, closed
from rosette.patterns.laminate_form import (
    facets_of,
    form_warnings,
    is_bent,
    refuse_no_inner,
    refuse_too_many,
    untrimmed_width,
)
from rosette.patterns.laminate_last import bent_stage
from rosette.patterns.laminate_making import Making, making
from rosette.patterns.laminate_plan import ring_of
from rosette.patterns.laminate_ring import numbered_pieces
from rosette.patterns.laminate_stages import shown_rows, strip_shapes
from rosette.patterns.rope import FEWEST_REPEATS, straight_last
from rosette.patterns.rope_keys import StackKeys
from rosette.patterns.rope_pieces import bent_plies, straight_plies

STEEPEST = 12.0
"""The largest mitre in degrees: rungs at a joint are cut to a wedge, and more would show."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ladder:
    """A ladder worked out: its lay, its repeats round the ring, its making and its pieces."""

    made: Closed
    repeats: int
    work: Making
    pieces: tuple[Piece, ...]


def plan_ladder(keys: StackKeys, site: RingSite) -> RingPlan:
    """Work out a ladder; its thickest ply is thicknessed so that the repeat closes.

    Raises:
        CannotMakeError: where it can't be bent, closed or cut as asked, with what would work.
    """
    wanted = Lay(plies=keys.plies, glue=keys.glue_line, angle=90.0)
    if is_bent(keys, [(site.inner_radius, site.outer_radius)], site):
        return _bent(keys, site, wanted)
    return _straight(keys, site, wanted)


def _bent(keys: StackKeys, site: RingSite, wanted: Lay) -> RingPlan:
    inner, outer = site.inner_radius, site.outer_radius
    width = outer - inner
    made = closed(
        wanted,
        length=math.pi * (inner + outer),
        adjust="thickest",
        where=site.where,
        least=FEWEST_REPEATS,
    )
    refuse_too_many(made.repeats * len(keys.plies), site, "plies")
    work = making(
        made.lay,
        keys,
        site,
        block_height=keys.block_height,
        repeats=made.repeats,
        width=width + 2.0 * keys.trim,
    )
    shapes = bent_plies(
        made.lay,
        inner_radius=inner,
        outer_radius=outer,
        repeats=made.repeats,
        sign=1.0,
        anchor=inner,
    )
    shown = strip_shapes(work, rows=shown_rows(work), width=width)
    last = bent_stage(
        (inner, outer),
        strips=work.strips - 1,
        width=width,
        repeats=made.repeats,
        shapes=tuple(shown),
    )
    pieces = numbered_pieces(list(shapes), site)
    ladder = _Ladder(made=made, repeats=made.repeats, work=work, pieces=pieces)
    return _ring(keys, site, ladder, (last,), bent=True)


def _straight(keys: StackKeys, site: RingSite, wanted: Lay) -> RingPlan:
    refuse_no_inner(site)
    width = site.outer_radius - site.inner_radius
    facets = facets_of(
        keys,
        site,
        largest_sagitta=width / 4.0,
        largest_mitre=STEEPEST,
        repeat=wanted.pitch,
    )
    made = closed(
        wanted,
        length=facets.length,
        adjust="thickest",
        where=site.where,
        times=facets.count,
    )
    total = made.repeats * facets.count
    refuse_too_many(total * len(keys.plies), site, "plies")
    work = making(
        made.lay,
        keys,
        site,
        block_height=keys.block_height,
        repeats=total,
        width=untrimmed_width(facets, site),
        facets=facets,
    )
    shapes = straight_plies(made.lay, facets, facets.outline(), sign=1.0, level=facets.middle)
    pieces = numbered_pieces(list(shapes), site)
    ladder = _Ladder(made=made, repeats=total, work=work, pieces=pieces)
    last = straight_last(facets, site, work, pieces, 1.0)
    return _ring(keys, site, ladder, last, bent=False)


def _ring(
    keys: StackKeys, site: RingSite, ladder: _Ladder, last: tuple[Stage, ...], *, bent: bool
) -> RingPlan:
    return ring_of(
        "ladder",
        keys,
        site,
        closings=[(ladder.made, ladder.repeats)],
        works=[ladder.work],
        signs=[1.0],
        pieces=ladder.pieces,
        last=last,
        bent=bent,
        warnings=form_warnings(keys, [(site.inner_radius, site.outer_radius)], site, bent=bent),
    )


PATTERN = Pattern(
    name="ladder",
    summary="rungs of one wood across the band, another wood between",
    keys=StackKeys,
    plan=plan_ladder,  # type: ignore[arg-type]
    example={
        "plies": [
            {"wood": "holly", "thickness": "0.8 mm"},
            {"wood": "rosewood", "thickness": "2.4 mm"},
        ],
        "width": 8,
    },
)
