"""What a box does allow where it lacks wood for a design: the nearest designs, each cut.

The nearest come first. How far a design is from what was asked for is how much of its rings looks
different: for each ring the share of its width taken off, of its wedges more or fewer, of its
wedges in another wood (those that the fingerboard hides do not count); 1 for a ring left out. The
same design cut otherwise looks no different, and comes before all others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosette.design.model import Design
from rosette.offcuts.alternatives_changes import Alternative
from rosette.offcuts.alternatives_search import Search
from rosette.offcuts.cutplan import CuttingPlan
from rosette.offcuts.cutting import cut
from rosette.offcuts.feasible import Feasible, SpentError
from rosette.offcuts.layouts import FoundOut
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Progress, Stock
from rosette.plan.make import make_plan

__all__ = ["Alternative", "Alternatives", "alternatives"]

MOST_OFFERED = 8
"""Alternatives; more is a list that nobody reads."""
MOST_ALIKE = 2
"""Alternatives of one sort, such as one ring narrower."""
EFFORT = 500
"""Looks at an offcut that the search may take. They are counted and not timed, so that the same
question has the same answer on every machine."""
STEP = 3
"""No step of the search takes more than this part of the looks that are left: a third."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternatives:
    """What works instead, the nearest first; `cut_short` where the search ended early."""

    offered: tuple[Alternative, ...] = ()
    cut_short: bool = False


def alternatives(
    design: Design,
    stock: Sequence[Stock],
    options: CutOptions,
    cutting: CuttingPlan,
    *,
    progress: Progress = lambda _done, _of, _doing: None,
    effort: int = EFFORT,
) -> Alternatives:
    """The nearest things that the box allows, each planned and cut before it is offered."""
    found_out = FoundOut()
    feasible = Feasible(stock=stock, found_out=found_out)
    search = Search.of(design, stock, options, cutting, feasible)
    steps = search.steps()
    candidates: list[Alternative] = []
    cut_short = False
    for done, (doing, step) in enumerate(steps):
        progress(done, len(steps) + 1, f"Trying {doing}")
        # No step takes all: what comes after it may be nearer.
        feasible.limit = feasible.spent + max(0, effort - feasible.spent) // STEP
        try:
            for one in step():
                candidates.append(one)
        except SpentError:
            cut_short = True
    progress(len(steps), len(steps) + 1, "Cutting what seems to work")
    offered = tuple(_cut(candidates, stock, found_out))
    return Alternatives(offered=offered, cut_short=cut_short)


def _cut(
    candidates: Sequence[Alternative], stock: Sequence[Stock], found_out: FoundOut
) -> Iterator[Alternative]:
    """The nearest that come out of the box when they are cut, none with a change too many."""
    kept: list[Alternative] = []
    for one in sorted(candidates, key=lambda one: (round(one.distance, 6), len(one.parts))):
        alike = sum(other.sort == one.sort for other in kept)
        if alike == MOST_ALIKE or any(other.within(one) for other in kept):
            continue
        plan = make_plan(one.design)
        if cut(plan, stock, one.options, found_out=found_out, fewest=False).complete:
            kept.append(one)
            yield one
        if len(kept) == MOST_OFFERED:
            return
