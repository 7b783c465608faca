"""A design that a box lacks wood for: what can be changed, and whether that works, by counting."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any, Self

from rosette.design.model import Design
from rosette.geometry.hidden import Visibility
from rosette.offcuts.alternatives_changes import (
    Alternative,
    Change,
    alternative,
    changed,
    counted,
    narrowed,
    shortest,
    wood_line,
)
from rosette.offcuts.cutplan import CuttingPlan
from rosette.offcuts.demand import wood_key
from rosette.offcuts.feasible import Feasible, SpentError
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Stock
from rosette.patterns.base import RingPlan
from rosette.plan.make import make_plan
from rosette.plan.model import Plan
from rosette.units import MM_PER_INCH
from rosette.words import Saying, say

STEPS = {"mm": 0.1, "in": MM_PER_INCH / 100.0}
"""mm: how finely a narrower ring is looked for."""
NARROWEST = 0.25
"""Of the width that was asked for: a ring narrower than this is another ring."""
HALVINGS, SHARED_HALVINGS = 20, 3
"""How often the widths between which the widest must lie are halved, with rings that share too."""
Found = Iterator[Alternative]


@dataclass(slots=True, kw_only=True)
class Bench:
    """One design that lacks wood, one box, and what can be tried on them.

    `concerned`: the rings that want a wood of which there is too little, whole or not; `lacking`
    the keys of those woods.
    """

    design: Design
    stock: Sequence[Stock]
    options: CutOptions
    cutting: CuttingPlan
    feasible: Feasible
    plan: Plan
    lacking: frozenset[str]
    concerned: tuple[int, ...]

    @classmethod
    def of(
        cls,
        design: Design,
        stock: Sequence[Stock],
        options: CutOptions,
        cutting: CuttingPlan,
        feasible: Feasible,
    ) -> Self:
        """What a cutting plan lacks, ready to be searched for."""
        tallies = cutting.tallies
        lacking = {wood_key(one.wood) for one in tallies if one.missing or one.spares_missing}
        concerned = {one.ring for one in tallies if wood_key(one.wood) in lacking}
        return cls(
            design=design,
            stock=stock,
            options=options,
            cutting=cutting,
            feasible=feasible,
            plan=make_plan(design),
            lacking=frozenset(lacking),
            concerned=tuple(sorted(concerned)),
        )

    def works(
        self, changes: Sequence[Change], options: CutOptions | None = None, *, share: bool = True
    ) -> bool:
        """Whether the box allows the design with these changes, by counting."""
        design = changed(self.design, changes) if changes else self.design
        return self.feasible.works(design, options or self.options, share=share)

    def made(self, *changes: Change) -> Found:
        """The alternative with these changes, where it works."""
        if self.works(changes):
            yield alternative(self.design, self.options, changes=changes)

    def otherwise(self, flags: str, how: Saying, **options: Any) -> Found:
        """The same design with other options, where it works."""
        asked = replace(self.options, **options)
        if self.works((), asked):
            yield alternative(self.design, asked, flags=flags, how=how)

    @property
    def varied(self) -> tuple[int, ...]:
        """Those of the rings concerned whose width, count and woods can be varied one by one."""
        return tuple(
            ring.index
            for ring in self.plan.wedge_rings
            if ring.index in self.concerned and ring.pattern == "radial" and not ring.blanks
        )

    @property
    def hidden(self) -> int:
        """Wedges that the fingerboard hides wholly, and that were not left out anyway."""
        if self.options.skip_hidden:
            return 0
        return sum(
            piece.visibility is Visibility.HIDDEN
            for ring in self.plan.wedge_rings
            for piece in ring.pieces
        )

    def made_narrower(self, changes: tuple[Change, ...], sets: Sequence[tuple[int, ...]]) -> Found:
        """What these changes lack to work made up by narrower rings, one set of them at a time."""
        if self.works(changes):
            return
        for rings in sets:
            for found in self.narrowest(rings, changes, self.options) if rings else ():
                yield alternative(self.design, self.options, changes=found)

    def sets(self, *, least: int) -> Iterator[tuple[int, ...]]:
        """The rings that can be varied: one by one where `least` is 1, in pairs, all of them."""
        most = len(self.varied)
        for number in dict.fromkeys((most, *range(least, min(most, 3)))):
            if number >= least:
                yield from combinations(self.varied, number)

    def narrowest(
        self, rings: Sequence[int], also: tuple[Change, ...], options: CutOptions
    ) -> Iterator[tuple[Change, ...]]:
        """The widest rings that work, all narrower by one share and with the other changes.

        By bisection: what fits a ring fits a narrower one too. Where rings have to share an offcut
        for it, which takes long to tell, nearly the widest.
        """
        placed = [self.design.rings[ring - 1] for ring in rings]
        step = STEPS[self.design.units]
        widths = [one.outer_radius - one.inner_radius for one in placed]
        finest = max(int(width / step) for width in widths)

        def of(share: int) -> tuple[Change, ...]:
            steps = [int(width * share / finest / step - 1e-9) for width in widths]
            if not all(steps):
                return ()
            return (
                *also,
                *(
                    narrowed(one, many * step, self.design.units)
                    for one, many in zip(placed, steps, strict=True)
                ),
            )

        low, high = int(NARROWEST * finest), finest
        if low < 1 or not of(low) or not self.works(of(low), options):
            return
        try:
            for share, halvings in ((False, HALVINGS), (True, SHARED_HALVINGS)):
                top = high
                for _ in range(halvings):
                    if low == top:
                        break
                    middle = (low + top + 1) // 2
                    if self.works(of(middle), options, share=share):
                        low = middle
                    else:
                        top = middle - 1
        except SpentError:
            yield of(low)
            raise
        yield of(low)

    def ring_plan(self, ring: int) -> RingPlan:
        """A ring worked out, as it was asked for."""
        return next(one for one in self.plan.rings if one.index == ring)

    def count(self, ring: int) -> tuple[int, int]:
        """How many wedges a ring has now, and the step to counts that its woods go round in."""
        wedges = self.ring_plan(ring).wedges
        assert wedges is not None  # only rings of wedges lack wood
        keys: Any = self.design.rings[ring - 1].keys
        woods, now = len(keys.wood), wedges.segments
        return now, woods if woods % 2 == 0 or now % 2 else 2 * woods

    def counts(self, rings: Sequence[int], share: float) -> tuple[Change, ...]:
        """Other counts in several rings, each about `share` of what it was."""
        changes = []
        for ring in rings:
            now, step = self.count(ring)
            by = max(1, round(abs(share - 1.0) * now / step)) * step
            count = now + by if share > 1.0 else now - by
            changes.append(counted(self.design.rings[ring - 1], max(3, count), now))
        return tuple(changes)

    def others(self) -> list[str]:
        """The woods of the box of which nothing is lacking."""
        woods = {wood_key(one.wood.wood): one.wood.wood for one in self.stock}
        return [wood for key, wood in woods.items() if key not in self.lacking]

    def woods(self, woods: Sequence[str]) -> tuple[Change, ...]:
        """Another wood for each ring that can be varied; none where one is left unchanged."""
        changes = [
            self.wood(ring, wood, hidden_only=False)
            for ring, wood in zip(self.varied, woods, strict=True)
        ]
        return tuple(one for one in changes if one is not None) if all(changes) else ()

    def wood(self, ring: int, wood: str, *, hidden_only: bool) -> Change | None:
        """Another wood for the wedges whose own is lacking; None where that changes nothing."""
        pieces = self.ring_plan(ring).pieces
        swapped = [
            wood_key(piece.wood) in self.lacking
            and not (hidden_only and piece.visibility is not Visibility.HIDDEN)
            for piece in pieces
        ]
        if not any(swapped):
            return None
        woods = shortest(
            tuple(wood if swap else one.wood for one, swap in zip(pieces, swapped, strict=True))
        )
        before = dict.fromkeys(one.wood for one, swap in zip(pieces, swapped, strict=True) if swap)
        seen = sum(
            swap and one.visibility is not Visibility.HIDDEN
            for one, swap in zip(pieces, swapped, strict=True)
        )
        words: dict[str, str | int] = {
            "wood": wood,
            "before": " and ".join(before),
            "some": sum(swapped),
            "all": len(pieces),
        }
        if hidden_only:
            what = "with {wood}, not {before}, under the fingerboard: {some} of its {all} wedges"
        elif all(swapped):
            what = "of {wood}, not {before}"
        else:
            what = "with {wood}, not {before}, for {some} of its {all} wedges"
        return Change(
            ring=ring,
            kind="wood",
            what=say(what, **words),
            keys=(("wood", woods),),
            lines=(wood_line(woods),),
            seen=seen / len(pieces),
        )
