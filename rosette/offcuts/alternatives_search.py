"""Looks for designs near one that a box lacks wood for: by counting, before anything is cut."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

from rosette.design.model import Design
from rosette.geometry.hidden import Visibility
from rosette.offcuts.alternatives_changes import (
    Alternative,
    Change,
    alternative,
    changed,
    counted,
    left_out,
    narrowed,
    shortest,
    wood_line,
)
from rosette.offcuts.cutplan import CuttingPlan
from rosette.offcuts.demand import wood_key
from rosette.offcuts.feasible import FREE_EFFORT, Feasible, SpentError
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
MOST_COUNTS = 12
"""How many counts on either side are tried."""
MOST_SHARES = 6
SHARE = 0.08
"""How often, and by which share each time, the counts of several rings are changed together."""
TOLERANCE = 5.0
"""degrees off the grain that are tried where none were allowed."""

Found = Iterator[Alternative]


@dataclass(slots=True, kw_only=True)
class Search:
    """One design that lacks wood, and one box.

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
    ) -> Search:
        """The search for what a cutting plan lacks."""
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

    def steps(self) -> list[tuple[str, Callable[[], Found]]]:
        """What to look for, in an order in which the likely and the quick come first."""
        return [
            ("fewer spares", self.fewer_spares),
            ("hidden wedges left out", self.hidden_left_out),
            ("wedges head to tail", self.head_to_tail),
            ("another wood", self.other_woods),
            ("a ring left out", self.one_left_out),
            ("a narrower ring", self.narrower),
            ("narrower rings together", self.narrower_together),
            ("narrower rings, hidden wedges left out", self.narrower_without_hidden),
            ("other counts", self.other_counts),
            ("other counts together", self.counts_together),
            ("two changes", self.two_changes),
            ("wedges off the grain", self.off_the_grain),
            ("cutting free", self.cut_free),
        ]

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

    def head_to_tail(self) -> Found:
        """Head to tail, which wastes less wood."""
        if self.options.keep_neighbours:
            how = say("sawn head to tail, which wastes less wood: without --keep-neighbours")
            yield from self.otherwise("without --keep-neighbours", how, keep_neighbours=False)

    def off_the_grain(self) -> Found:
        """Wedges a little off the grain."""
        if not self.options.grain_tolerance:
            how = say("with wedges up to {degrees}° off the grain", degrees=f"{TOLERANCE:g}")
            yield from self.otherwise(
                f"--grain-tolerance {TOLERANCE:g}", how, grain_tolerance=TOLERANCE
            )

    def cut_free(self) -> Found:
        """Cut along the outlines."""
        if self.options.method == "strip":
            how = say("cut along the outlines (fret saw, laser, CNC)")
            yield from self.otherwise("--method free", how, method="free", effort=FREE_EFFORT)

    def fewer_spares(self) -> Found:
        """Fewer spares, where only they are missing."""
        tallies = self.cutting.tallies
        if self.cutting.missing or not any(one.spares_missing for one in tallies):
            return
        for spares in range(max(one.spares for one in tallies) - 1, -1, -1):
            if self.works((), replace(self.options, spares=spares)):
                how = say("with {spares} spares of each kind", spares=spares)
                yield from self.otherwise(f"--spares {spares}", how, spares=spares)
                return

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

    def hidden_left_out(self) -> Found:
        """Only the wedges that show."""
        if self.hidden:
            yield from self.otherwise("--skip-hidden", self._without_hidden(), skip_hidden=True)

    def narrower_without_hidden(self) -> Found:
        """Only the wedges that show, and rings narrower as well."""
        if not self.hidden or self.works((), replace(self.options, skip_hidden=True)):
            return
        options = replace(self.options, skip_hidden=True)
        for rings in self._sets(least=1):
            for changes in self._narrowest(rings, (), options):
                yield alternative(
                    self.design,
                    options,
                    changes=changes,
                    flags="--skip-hidden",
                    how=self._without_hidden(),
                )

    def narrower(self) -> Found:
        """One ring narrower: the widest that works."""
        for ring in self.concerned:
            for changes in self._narrowest((ring,), (), self.options):
                yield alternative(self.design, self.options, changes=changes)

    def narrower_together(self) -> Found:
        """Several rings narrower by the same share."""
        for rings in self._sets(least=2):
            for changes in self._narrowest(rings, (), self.options):
                yield alternative(self.design, self.options, changes=changes)

    def other_counts(self) -> Found:
        """Fewer, wider wedges in one ring, and more, narrower ones: the nearest each way."""
        for ring in self.concerned:
            now, step = self._count(ring)
            for sign in (-1, 1):
                for number in range(1, MOST_COUNTS + 1):
                    count = now + sign * number * step
                    if count < 3:
                        break
                    found = list(self.made(counted(self.design.rings[ring - 1], count, now)))
                    yield from found
                    if found:
                        break

    def counts_together(self) -> Found:
        """Other counts in several rings, by about the same share."""
        for rings in self._sets(least=2):
            for sign in (-1, 1):
                for number in range(1, MOST_SHARES + 1):
                    found = list(self.made(*self._counts(rings, 1.0 + sign * number * SHARE)))
                    yield from found
                    if found:
                        break

    def other_woods(self) -> Found:
        """Another wood of the box under the fingerboard; else for all wedges that lack wood."""
        for ring in self.concerned:
            for wood in self._others():
                for hidden_only in (True, False):
                    change = self._wood(ring, wood, hidden_only=hidden_only)
                    found = list(self.made(change)) if change else []
                    yield from found
                    if found:
                        break

    def two_changes(self) -> Found:
        """One ring in another wood or left out, and where that is not enough, rings narrower."""
        for ring in self.concerned:
            rest = tuple(one for one in self.concerned if one != ring)
            for wood in self._others():
                change = self._wood(ring, wood, hidden_only=False)
                if change is not None:
                    yield from self._made_narrower((change,), ((ring,), rest))
            if rest:
                yield from self._made_narrower(left_out(self.design, ring), (rest,))

    def _made_narrower(self, changes: tuple[Change, ...], sets: Sequence[tuple[int, ...]]) -> Found:
        if self.works(changes):
            return
        for rings in sets:
            for found in self._narrowest(rings, changes, self.options) if rings else ():
                yield alternative(self.design, self.options, changes=found)

    def one_left_out(self) -> Found:
        """One ring less."""
        if len(self.plan.wedge_rings) > 1:
            for ring in self.concerned:
                yield from self.made(*left_out(self.design, ring))

    def _without_hidden(self) -> Saying:
        return say(
            "without the {hidden} hidden wedges: fill their place with any wood as thick",
            hidden=self.hidden,
        )

    def _sets(self, *, least: int) -> Iterator[tuple[int, ...]]:
        """The rings concerned: one by one where `least` is 1, in pairs, all of them."""
        most = len(self.concerned)
        for number in dict.fromkeys((most, *range(least, min(most, 3)))):
            if number >= least:
                yield from combinations(self.concerned, number)

    def _narrowest(
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

    def _ring(self, ring: int) -> RingPlan:
        return next(one for one in self.plan.rings if one.index == ring)

    def _count(self, ring: int) -> tuple[int, int]:
        """How many wedges a ring has now, and the step to counts that its woods go round in."""
        wedges = self._ring(ring).wedges
        assert wedges is not None  # only rings of wedges lack wood
        keys: Any = self.design.rings[ring - 1].keys
        woods, now = len(keys.wood), wedges.segments
        return now, woods if woods % 2 == 0 or now % 2 else 2 * woods

    def _counts(self, rings: Sequence[int], share: float) -> tuple[Change, ...]:
        changes = []
        for ring in rings:
            now, step = self._count(ring)
            by = max(1, round(abs(share - 1.0) * now / step)) * step
            count = now + by if share > 1.0 else now - by
            changes.append(counted(self.design.rings[ring - 1], max(3, count), now))
        return tuple(changes)

    def _others(self) -> list[str]:
        """The woods of the box of which nothing is lacking."""
        woods = {wood_key(one.wood.wood): one.wood.wood for one in self.stock}
        return [wood for key, wood in woods.items() if key not in self.lacking]

    def _wood(self, ring: int, wood: str, *, hidden_only: bool) -> Change | None:
        """Another wood for the wedges whose own is lacking; None where that changes nothing."""
        pieces = self._ring(ring).pieces
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
