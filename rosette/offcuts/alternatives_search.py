"""Looks for designs near one that a box lacks wood for: by counting, before anything is cut."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product

from rosette.offcuts.alternatives_bench import Bench, Found
from rosette.offcuts.alternatives_changes import (
    alternative,
    counted,
    left_out,
)
from rosette.offcuts.feasible import FREE_EFFORT
from rosette.words import Saying, say

MOST_MIXED = 16
"""How many ways to give several rings other woods are tried."""
MOST_COUNTS = 12
"""How many counts on either side are tried."""
MOST_SHARES = 6
SHARE = 0.08
"""How often, and by which share each time, the counts of several rings are changed together."""
TOLERANCE = 5.0
"""degrees off the grain that are tried where none were allowed."""


@dataclass(slots=True, kw_only=True)
class Search(Bench):
    """The steps of the search, each a kind of change."""

    def steps(self) -> list[tuple[str, Callable[[], Found]]]:
        """What to look for, in an order in which the likely and the quick come first."""
        return [
            ("fewer spares", self.fewer_spares),
            ("hidden wedges left out", self.hidden_left_out),
            ("wedges head to tail", self.head_to_tail),
            ("another wood", self.other_woods),
            ("other woods together", self.other_woods_together),
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

    def hidden_left_out(self) -> Found:
        """Only the wedges that show."""
        if self.hidden:
            yield from self.otherwise("--skip-hidden", self._without_hidden(), skip_hidden=True)

    def narrower_without_hidden(self) -> Found:
        """Only the wedges that show, and rings narrower as well."""
        if not self.hidden or self.works((), replace(self.options, skip_hidden=True)):
            return
        options = replace(self.options, skip_hidden=True)
        for rings in self.sets(least=1):
            for changes in self.narrowest(rings, (), options):
                yield alternative(
                    self.design,
                    options,
                    changes=changes,
                    flags="--skip-hidden",
                    how=self._without_hidden(),
                )

    def narrower(self) -> Found:
        """One ring narrower: the widest that works."""
        for ring in self.varied:
            for changes in self.narrowest((ring,), (), self.options):
                yield alternative(self.design, self.options, changes=changes)

    def narrower_together(self) -> Found:
        """Several rings narrower by the same share."""
        for rings in self.sets(least=2):
            for changes in self.narrowest(rings, (), self.options):
                yield alternative(self.design, self.options, changes=changes)

    def other_counts(self) -> Found:
        """Fewer, wider wedges in one ring, and more, narrower ones: the nearest each way."""
        for ring in self.varied:
            now, step = self.count(ring)
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
        for rings in self.sets(least=2):
            for sign in (-1, 1):
                for number in range(1, MOST_SHARES + 1):
                    found = list(self.made(*self.counts(rings, 1.0 + sign * number * SHARE)))
                    yield from found
                    if found:
                        break

    def other_woods(self) -> Found:
        """Another wood of the box under the fingerboard; else for all wedges that lack wood."""
        for ring in self.varied:
            for wood in self.others():
                for hidden_only in (True, False):
                    change = self.wood(ring, wood, hidden_only=hidden_only)
                    found = list(self.made(change)) if change else []
                    yield from found
                    if found:
                        break

    def other_woods_together(self) -> Found:
        """Another wood in every ring that can be varied, where that is not too much to try."""
        if len(self.varied) < 2:
            return
        others, number = self.others(), len(self.varied)
        alike = [(wood,) * number for wood in others]
        mixed = product(others, repeat=number) if len(others) ** number <= MOST_MIXED else alike
        for woods in dict.fromkeys((*alike, *mixed)):
            changes = self.woods(woods)
            if changes:
                yield from self.made(*changes)

    def two_changes(self) -> Found:
        """One ring in another wood or left out, and where that is not enough, rings narrower."""
        for ring in self.varied:
            rest = tuple(one for one in self.varied if one != ring)
            for wood in self.others():
                change = self.wood(ring, wood, hidden_only=False)
                if change is not None:
                    yield from self.made_narrower((change,), ((ring,), rest))
            if rest:
                yield from self.made_narrower(left_out(self.design, ring), (rest,))
        for wood in self.others() if len(self.varied) > 1 else ():
            changes = self.woods((wood,) * len(self.varied))
            if changes:
                yield from self.made_narrower(changes, (self.varied,))

    def one_left_out(self) -> Found:
        """One ring less."""
        cut = {one.index for one in self.plan.rings if one.wedges is not None or one.blanks}
        for ring in self.concerned:
            if cut - {ring}:
                yield from self.made(*left_out(self.design, ring))

    def _without_hidden(self) -> Saying:
        return say(
            "without the {hidden} hidden wedges: fill their place with any wood as thick",
            hidden=self.hidden,
        )
