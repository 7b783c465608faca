"""Whether a box allows a design, by counting alone: nothing is chosen, nothing is drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from rosette.design.model import Design
from rosette.errors import CannotMakeError
from rosette.offcuts.allocate import Take, allocate
from rosette.offcuts.capacities import Capacities
from rosette.offcuts.choosing import groups
from rosette.offcuts.demand import Want, wants
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Stock
from rosette.plan.make import make_plan

FREE_EFFORT = 400
"""Steps that trying to cut free may take on an offcut: more would keep the maker waiting."""


@dataclass(slots=True, kw_only=True)
class Feasible:
    """Answers for one box; what is found out for one design is kept for the next."""

    stock: Sequence[Stock]
    known: dict[tuple[object, ...], Capacities] = field(default_factory=dict)

    def works(self, design: Design, options: CutOptions) -> bool:
        """Whether the box allows it, by counts alone, every offcut for one kind of wedge."""
        try:
            plan = make_plan(design)
        except CannotMakeError:
            return False
        asked = wants(plan, spares=options.spares, skip_hidden=options.skip_hidden)
        if not all(self.enough(want, plan.kerf, options) for want in asked):
            return False
        return all(
            len(kinds) == 1 or self.share_out([asked[kind] for kind in kinds], plan.kerf, options)
            for kinds in groups(asked)
        )

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
            held.look(max(open_to, key=lambda at: (most[at] - least[at]) * able[at]), want.size)

    def share_out(self, asked: Sequence[Want], kerf: float, options: CutOptions) -> bool:
        """Whether several kinds of one wood come out of it, each piece giving one of them."""
        held = self.capacities(kerf, options)
        holds = []
        for want in asked:
            able = self.able(want)
            for at in np.flatnonzero(able).tolist():
                while not held.settled(at, want.size):
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
        given = allocate(needs, menus, options.objectives, first=needs)
        return sum(sum(take.counts) for take in given if take is not None) == sum(needs)

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
