"""Whether a box allows a design, by counting as far as that tells: nothing is drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from rosette.design.model import Design
from rosette.errors import CannotMakeError
from rosette.offcuts.allocate import Take, dealer
from rosette.offcuts.capacities import Capacities
from rosette.offcuts.choosing import MOST_SHARED, enough, groups
from rosette.offcuts.demand import Want, wants
from rosette.offcuts.layouts import FoundOut
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Stock, supply
from rosette.plan.make import make_plan

FREE_EFFORT = 400
"""Steps that trying to cut free may take on an offcut: more would keep the maker waiting."""


FREE_LOOKS = 20
"""A look at how many wedges can be cut free takes as long as this many looks with strips."""
A_PIECE = 2
"""Wedges that are gained, at the most, where two rings share a piece: more is not hoped for."""


class SpentError(Exception):
    """The looks at offcuts that a search may take are used up."""


@dataclass(slots=True, kw_only=True)
class Feasible:
    """Answers for one box; what is found out for one design is kept for the next.

    `limit`: looks at an offcut that may have been `spent` before it raises `SpentError`.
    """

    stock: Sequence[Stock]
    found_out: FoundOut
    limit: int = 0
    known: dict[tuple[object, ...], Capacities] = field(default_factory=dict)
    looked: int = 0

    def works(self, design: Design, options: CutOptions, *, share: bool = True) -> bool:
        """Whether the box allows it, by counts where they tell.

        First every offcut is thought of as for one kind of wedge; where that almost does, two
        rings that share an offcut are tried as the cutting itself tries them, if `share`.

        Raises:
            SpentError: the limit is reached.
        """
        try:
            plan = make_plan(design)
        except CannotMakeError:
            return False
        asked = wants(plan, spares=options.spares, skip_hidden=options.skip_hidden)
        if not all(self.enough(want, plan.kerf, options) for want in asked):
            return False
        several = [kinds for kinds in groups(asked) if len(kinds) > 1]
        missing = [
            self.missing([asked[kind] for kind in kinds], plan.kerf, options) for kinds in several
        ]
        if not share or not any(missing):
            return not any(missing)
        if not all(
            self.roomy([asked[kind] for kind in kinds], plan.kerf, options) for kinds in several
        ):
            return False
        near = all(some <= MOST_SHARED * A_PIECE for some in missing)
        return near and options.method == "strip" and self.shared(plan.kerf, asked, options)

    def roomy(self, asked: Sequence[Want], kerf: float, options: CutOptions) -> bool:
        """Whether the wood has the area of all kinds together, each wedge with half its kerfs."""
        held = self.capacities(kerf, options)
        able = np.max([self.able(want) for want in asked], axis=0)
        each = [want.size.area + want.size.perimeter * kerf / 2.0 for want in asked]
        taken = sum(one * want.count for one, want in zip(each, asked, strict=True))
        return taken <= float(held.grown @ able)

    def shared(self, kerf: float, asked: Sequence[Want], options: CutOptions) -> bool:
        """Whether it comes out of the box with two rings in one offcut."""
        self.spend(0)
        found = supply(
            self.stock, asked, kerf=kerf, options=options, found_out=self.found_out,
            progress=lambda _done, _of, _doing: None,
        )  # fmt: skip
        if found.stopped:
            raise KeyboardInterrupt
        return enough(found, asked, kerf, options, self.found_out)

    def spend(self, looks: int) -> None:
        """Count looks at an offcut."""
        if self.spent + looks > self.limit:
            raise SpentError
        self.looked += looks

    @property
    def spent(self) -> int:
        """Looks at an offcut until now."""
        return self.looked + self.found_out.made

    def enough(self, want: Want, kerf: float, options: CutOptions) -> bool:
        """Whether the box holds all of one kind, the others left aside."""
        held, able = self.capacities(kerf, options), self.able(want)
        while True:
            least, most = held.known(want.size)
            if int(least @ able) >= want.count:
                return True
            open_to = [
                at for at in np.flatnonzero(able).tolist() if not held.settled(at, want.size)
            ]
            if int(most @ able) < want.count or not open_to:
                return False
            at = max(open_to, key=lambda at: (most[at] - least[at]) * able[at])
            self.spend(FREE_LOOKS if options.method == "free" else 1)
            held.look(at, want.size)

    def missing(self, asked: Sequence[Want], kerf: float, options: CutOptions) -> int:
        """What several kinds of one wood lack together where each piece gives one of them."""
        held = self.capacities(kerf, options)
        holds = []
        for want in asked:
            able = self.able(want)
            for at in np.flatnonzero(able).tolist():
                while not held.settled(at, want.size):
                    self.spend(FREE_LOOKS if options.method == "free" else 1)
                    held.look(at, want.size)
            holds.append(np.where(able > 0, held.known(want.size)[0], 0))
        needs = [want.count for want in asked]
        menus = [
            [
                Take(counts=_only(kind, count, len(asked)), portions=(), runs=0, loss=0)
                for kind, need in enumerate(needs)
                for count in range(1, min(int(holds[kind][at]), need) + 1)
            ]
            for at, one in enumerate(self.stock)
            for _ in range(one.count)
        ]
        dealing = dealer(needs, menus, options.objectives, first=needs)
        deal = dealing.best(range(len(needs))) or dealing.best(())
        assert deal is not None  # nothing has to be whole in the second
        return sum(needs) - sum(deal.counts)

    def able(self, want: Want) -> NDArray[np.int64]:
        """How many pieces of each entry of the box serve a kind of wedge."""
        return np.array(
            [
                one.count * (want.suits(one.wood.wood) and want.thick_enough(one.wood.thickness))
                for one in self.stock
            ],
            dtype=np.int64,
        )

    def capacities(self, kerf: float, options: CutOptions) -> Capacities:
        """What is known of the box for one way of cutting it."""
        if options.method == "free":
            options = replace(options, effort=FREE_EFFORT)
        key = (options.method, options.grain_tolerance, options.ways)
        if key not in self.known:
            woods = [one.wood for one in self.stock]
            self.known[key] = Capacities(woods, kerf=kerf, options=options)
        return self.known[key]


def _only(kind: int, count: int, kinds: int) -> tuple[int, ...]:
    return tuple(count if one == kind else 0 for one in range(kinds))
