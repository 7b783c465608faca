"""The widest ring of one kind, by how many offcuts it may touch and how many spares it leaves.

What fits is monotone in the ring's width, so every limit is bisected; the capacities are asked
only as long as their bounds leave the answer open.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from rosette.offcuts.capacities import Capacities, Counts, fewest_of
from rosette.offcuts.model import WedgeSize


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """The wedges of one wood in a ring, and which offcuts may give them (their numbers)."""

    wood: str
    count: int
    offcuts: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A ring as wide as it goes: width in steps, offcuts, spares; `proved` that no wider does."""

    width: int
    offcuts: int
    spares: int
    proved: bool


class Widest:
    """One kind of ring in one box.

    `size(width)` is the blank at a width in steps; `least` and `most` bound the widths looked
    at. `copies` says how many pieces of each offcut there are.
    """

    def __init__(
        self,
        capacities: Capacities,
        needs: Sequence[Need],
        copies: Sequence[int],
        size: Callable[[int], WedgeSize],
        *,
        least: int,
        most: int,
    ) -> None:
        self.capacities, self.needs, self.size = capacities, tuple(needs), size
        self.copies = np.array(copies, dtype=np.int64)
        self.least, self.most = least, most
        self._mine = [np.array(need.offcuts, dtype=np.int64) for need in self.needs]

    def fewest(self, width: int, spares: int, *, at_most: float = math.inf) -> tuple[float, float]:
        """How few offcuts hold a ring and its spares: a proved bound, and what was found.

        Looks no further once the bound exceeds `at_most`, or once that few were found.
        """
        size = self.size(width)
        while True:
            bound, found = self._fewest(size, spares)
            decided = bound == found or bound > at_most or found <= at_most < math.inf
            if decided or not self._learn(size, spares):
                return bound, found

    def _held(self, size: WedgeSize, which: int, at: int) -> Counts:
        """The least (0) or most (1) that each piece of a need's wood holds."""
        mine = self._mine[at]
        held: Counts = np.repeat(self.capacities.known(size)[which][mine], self.copies[mine])
        return held

    def _fewest(self, size: WedgeSize, spares: int) -> tuple[float, float]:
        bound, found = 0.0, 0.0
        for at, need in enumerate(self.needs):
            bound += fewest_of(self._held(size, 1, at), need.count + spares)
            found += fewest_of(self._held(size, 0, at), need.count + spares)
        return bound, found

    def _learn(self, size: WedgeSize, spares: int) -> bool:
        """Look at the offcut that could change most; whether there was one."""
        least, most = self.capacities.known(size)
        best, at_best = 0, -1
        for at, need in enumerate(self.needs):
            wanted = need.count + spares
            number = fewest_of(self._held(size, 1, at), wanted)
            if number == fewest_of(self._held(size, 0, at), wanted):
                continue
            mine = self._mine[at]
            # those that the bound counts on: when they are known, so is the number
            hopeful = mine[np.argsort(-most[mine], kind="stable")]
            reach = np.cumsum(self.copies[hopeful])
            counted = hopeful[: 1 + int(np.searchsorted(reach, min(number, reach[-1])))]
            for one in counted.tolist():
                gap = int(min(most[one], wanted) - min(least[one], wanted))
                if gap > best and not self.capacities.settled(one, size):
                    best, at_best = gap, one
        if at_best < 0:
            return False
        self.capacities.look(at_best, size)
        return True

    def number_at(self, width: int, spares: int) -> float:
        """The fewest offcuts for a ring of this width, as far as they can be found."""
        return self.fewest(width, spares)[1]

    def holds(self, width: int, at: int) -> int:
        """How many wedges all offcuts of one need hold together."""
        size = self.size(width)
        for one in self._mine[at].tolist():
            while not self.capacities.settled(one, size):
                self.capacities.look(one, size)
        return int(self._held(size, 0, at).sum())

    def width_with(self, offcuts: int, spares: int, *, low: int | None = None) -> Limit:
        """The widest ring of so many offcuts and spares; it must fit at `low`, or the least."""
        low, high = self.least if low is None else low, self.most + 1
        bound = math.inf
        while high - low > 1:
            middle = roundest(low, high)
            proved, found = self.fewest(middle, spares, at_most=offcuts)
            if found <= offcuts:
                low = middle
            else:
                high, bound = middle, proved
        return Limit(
            width=low, offcuts=offcuts, spares=spares, proved=high > self.most or bound > offcuts
        )

    def spares_with(self, limit: Limit, most: int) -> int:
        """How many spares there are at a limit, up to `most`."""
        spares = limit.spares
        while spares < most and (
            self.fewest(limit.width, spares + 1, at_most=limit.offcuts)[1] <= limit.offcuts
        ):
            spares += 1
        return spares

    def uses(self, width: int, spares: int) -> list[tuple[int, int, int]]:
        """Offcuts that hold a ring: their numbers, how many pieces of each, how many wedges.

        The fewest for each wood; of those that would do last, the smallest.
        """
        self.fewest(width, spares)
        size, taken = self.size(width), dict[int, tuple[int, int]]()
        least, _ = self.capacities.known(size)
        areas = self.capacities.areas
        for at, need in enumerate(self.needs):
            mine, left = self._mine[at], need.count + spares
            pieces = [int(i) for i in np.repeat(mine, self.copies[mine])]
            pieces.sort(key=lambda i: (-int(least[i]), areas[i]))
            while left > 0:
                enough = [i for i in pieces if least[i] >= left]
                one = min(enough, key=lambda i: areas[i]) if enough else pieces[0]
                pieces.remove(one)
                count, wedges = taken.get(one, (0, 0))
                taken[one] = (count + 1, wedges + min(left, int(least[one])))
                left -= int(least[one])
        return [(at, *one) for at, one in taken.items()]


def roundest(low: int, high: int) -> int:
    """The number strictly between two that the highest power of two divides.

    Searches that halve there meet at the same widths, so that one learns from another.

    >>> roundest(60, 251), roundest(60, 128), roundest(99, 101), roundest(124, 129)
    (128, 64, 100, 128)
    """
    step = 1 << max(0, (high - low - 1).bit_length())
    while (low // step + 1) * step >= high:
        step //= 2
    return (low // step + 1) * step
