"""A ring of bands of plies, put together: its stages, steps, stock and warnings."""

from __future__ import annotations

from rosette.errors import Finding
from rosette.patterns.base import Piece, RingPlan, RingSite, Stage, Stock
from rosette.patterns.laminate import Closed, adjusted_warnings, closing_words
from rosette.patterns.laminate_last import across, finishing
from rosette.patterns.laminate_making import Making, ply_stock, stock_blanks
from rosette.patterns.laminate_stages import bar_stage, slab_stage, slice_stage, stack_stage
from rosette.patterns.rope_keys import StackKeys


def ring_of(
    pattern: str,
    keys: StackKeys,
    site: RingSite,
    *,
    closings: list[tuple[Closed, int]],
    works: list[Making],
    pieces: tuple[Piece, ...],
    last: tuple[Stage, ...],
    bent: bool,
    warnings: list[Finding],
    signs: list[float],
    more_stock: tuple[Stock, ...] = (),
) -> RingPlan:
    """A ring of one or more bands of plies, put together."""
    names = [""] if len(works) == 1 else [" of the inner band", " of the outer band"]
    stages: list[Stage] = []
    for work, name, sign in zip(works, names, signs, strict=True):
        stages += [
            stack_stage(work, name),
            slab_stage(work, name),
            bar_stage(work, sign, name),
            slice_stage(work.slicing, keys.tile_thickness, name),
        ]
    stages += last
    closing = [closing_words(made, total=total) for made, total in closings]
    stock = tuple(
        one
        for work, name in zip(works, names, strict=True)
        for one in ply_stock(work, f"ply{name}")
    )
    thick: dict[str, float] = {}
    for work in works:
        for ply in work.lay.plies:
            thick[ply.wood] = thick.get(ply.wood, 0.0) + ply.thickness
    share = sum(work.lay.sine**2 for work in works) / len(works)
    return RingPlan(
        index=site.index,
        pattern=pattern,
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=tuple(dict.fromkeys([*thick, *(piece.wood for piece in pieces)])),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=pieces,
        steps=(
            *closing,
            *(stage.saying for stage in stages),
            *finishing(site, backing=keys.backing, bent=bent),
        ),
        warnings=(
            *(one for made, _ in closings for one in adjusted_warnings(made, site)),
            *warnings,
        ),
        across_grain=across(thick, site.outer_radius, share),
        stock=(*stock, *more_stock),
        stages=tuple(stages),
        blanks=stock_blanks(stock, site),
    )
