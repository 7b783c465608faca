"""Plan and box → cutting plan: which offcut gives which wedges, and how."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from rosette.design.model import Design
from rosette.offcuts.box import Box
from rosette.offcuts.choosing import Given, chosen, fewest_for, groups
from rosette.offcuts.cutplan import CuttingPlan, CutWedge, Tally
from rosette.offcuts.cutwarnings import by_hand, warnings
from rosette.offcuts.demand import Want, leaning, wants
from rosette.offcuts.layouts import FoundOut
from rosette.offcuts.options import CutOptions
from rosette.offcuts.order import arrangement_for, followed
from rosette.offcuts.pieces import pieces_cut
from rosette.offcuts.supply import Progress, Stock, Supply, supply
from rosette.plan.make import make_plan
from rosette.plan.model import Plan


def cut(
    plan: Plan,
    stock: Sequence[Stock],
    options: CutOptions | None = None,
    *,
    progress: Progress = lambda _done, _of, _doing: None,
    found_out: FoundOut | None = None,
    fewest: bool = True,
    box_file: str = "",
    box_sha256: str = "",
    design_sha256: str = "",
) -> CuttingPlan:
    """Cut the wedges of a plan out of a box of offcuts.

    Too little wood is no error here: the plan says what is missing (`CuttingPlan.missing`).
    Ctrl-C while offcuts are looked at gives the best plan of those looked at until then,
    marked as interrupted. Same input, same plan. `found_out` from an earlier cut of the same box
    spares looking at its wood again. Without `fewest` two rings share an offcut only where there
    is too little wood otherwise, and not to touch fewer: for who only asks whether it comes out.
    """
    options = options or CutOptions()
    asked = wants(plan, spares=options.spares, skip_hidden=options.skip_hidden)
    found, given = _found(
        plan, stock, asked, options, progress=progress,
        found_out=FoundOut() if found_out is None else found_out, share_for_fewest=fewest,
    )  # fmt: skip
    arrangement = arrangement_for(
        keep_neighbours=options.keep_neighbours, mirrored=options.mirrored, faces=options.faces
    )
    pieces = pieces_cut(given, asked, plan.kerf, options, arrangement)
    wedges = [wedge for piece in pieces for wedge in piece.wedges]
    cutting = CuttingPlan(
        name=plan.name,
        method=options.method,
        kerf=plan.kerf,
        arrangement=arrangement,
        objectives=options.objectives,
        faces=options.faces,
        pieces=pieces,
        tallies=tuple(
            replace(
                _tally(want, wedges, fewest_for([number], asked, found, given)),
                arrangement=followed(arrangement, want, options.faces),
            )
            for number, want in enumerate(asked)
        ),
        fewest_offcuts=sum(fewest_for(kinds, asked, found, given) for kinds in groups(asked)),
        grain_tolerance=options.grain_tolerance,
        least_in_hand=options.least_in_hand,
        interrupted=found.stopped,
        box_file=box_file,
        box_sha256=box_sha256,
        design_sha256=design_sha256,
        laser_line=options.line,
        laser_once=options.laser_once,
    )
    told = (*warnings(cutting, stock, asked), *by_hand(leaning(plan)))
    return replace(cutting, warnings=told)


def stock_of(box: Box) -> tuple[Stock, ...]:
    """The pieces of wood in a box."""
    return tuple(Stock(wood=one.pieces(), count=one.count, note=one.note) for one in box.offcuts)


def cut_box(
    design: Design,
    box: Box,
    options: CutOptions | None = None,
    *,
    progress: Progress = lambda _done, _of, _doing: None,
) -> CuttingPlan:
    """Cut the wedges of a design out of a box: see `cut`.

    Raises:
        CannotMakeError: the design itself can't be made.
    """
    return cut(
        make_plan(design),
        stock_of(box),
        options,
        progress=progress,
        box_file=box.source,
        box_sha256=box.sha256,
        design_sha256=design.sha256,
    )


def _found(
    plan: Plan,
    stock: Sequence[Stock],
    asked: Sequence[Want],
    options: CutOptions,
    *,
    progress: Progress,
    found_out: FoundOut,
    share_for_fewest: bool,
) -> tuple[Supply, list[Given]]:
    """What the offcuts hold, and what is taken from each.

    Cutting free takes long to improve: it is done only where more wedges could help.
    """
    quick = options.method == "free" and not options.everything
    found = supply(
        stock, asked, kerf=plan.kerf, options=options, progress=progress,
        found_out=found_out, effort=0 if quick else None,
    )  # fmt: skip
    choose = partial(chosen, found_out=found_out, share_for_fewest=share_for_fewest)
    given = choose(found, asked, plan.kerf, options)
    if not quick or found.stopped or _settled(found, given, asked):
        return found, given
    better = supply(
        stock, asked, kerf=plan.kerf, options=options, progress=progress, found_out=found_out
    )
    if better.stopped:
        return replace(found, stopped=True), given
    return better, choose(better, asked, plan.kerf, options)


def _settled(found: Supply, given: Sequence[Given], asked: Sequence[Want]) -> bool:
    """All wedges are there, from as few offcuts as can be."""
    takes = [one.take for one in given if one.take is not None]
    placed = sum(sum(take.counts) for take in takes)
    least = sum(fewest_for(kinds, asked, found, given) for kinds in groups(asked))
    return placed == sum(want.count for want in asked) and len(takes) == least


def _tally(want: Want, wedges: Sequence[CutWedge], least: int) -> Tally:
    kind = (want.ring, want.wood, want.name)
    mine = [one for one in wedges if (one.ring, one.wood, one.name) == kind]
    placed = sum(not one.spare for one in mine)
    return Tally(
        ring=want.ring,
        wood=want.wood,
        size=want.size,
        mitre=want.mitre,
        thickness=want.thickness,
        needed=want.needed,
        placed=placed,
        spares=want.spares,
        spares_placed=len(mine) - placed,
        fewest=least,
        name=want.name,
    )
