"""Plan and box → cutting plan: which offcut gives which wedges, and how."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rosette.offcuts.choosing import chosen, fewest_for, groups
from rosette.offcuts.cutplan import CuttingPlan, CutWedge, Tally
from rosette.offcuts.cutwarnings import warnings
from rosette.offcuts.demand import Want, wants
from rosette.offcuts.options import CutOptions
from rosette.offcuts.order import arrangement_for
from rosette.offcuts.pieces import pieces_cut
from rosette.offcuts.supply import Progress, Stock, supply
from rosette.plan.model import Plan


def cut(
    plan: Plan,
    stock: Sequence[Stock],
    options: CutOptions | None = None,
    *,
    progress: Progress = lambda _done, _of, _doing: None,
    box_file: str = "",
    box_sha256: str = "",
    design_sha256: str = "",
) -> CuttingPlan:
    """Cut the wedges of a plan out of a box of offcuts.

    Too little wood is no error here: the plan says what is missing (`CuttingPlan.missing`).
    Ctrl-C while offcuts are looked at gives the best plan of those looked at until then,
    marked as interrupted. Same input, same plan.
    """
    options = options or CutOptions()
    asked = wants(plan, spares=options.spares, skip_hidden=options.skip_hidden)
    found = supply(stock, asked, kerf=plan.kerf, options=options, progress=progress)
    given = chosen(found, asked, plan.kerf, options)
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
            _tally(want, wedges, fewest_for([number], asked, found, given))
            for number, want in enumerate(asked)
        ),
        fewest_offcuts=sum(fewest_for(kinds, asked, found, given) for kinds in groups(asked)),
        grain_tolerance=options.grain_tolerance,
        least_in_hand=options.least_in_hand,
        interrupted=found.stopped,
        box_file=box_file,
        box_sha256=box_sha256,
        design_sha256=design_sha256,
    )
    return replace(cutting, warnings=tuple(warnings(cutting, stock, asked)))


def _tally(want: Want, wedges: Sequence[CutWedge], least: int) -> Tally:
    mine = [one for one in wedges if (one.ring, one.wood) == (want.ring, want.wood)]
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
    )
