"""The choice among rings of one kind: wider, fewer offcuts, more spares; none beats another.

A ring beats another where it touches no more offcuts and leaves no fewer spares, is better in
one of the two, and is less than `worth` narrower; or where it is the same in both and wider.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rosette.offcuts.widest import Limit, Widest


def beats(one: Limit, other: Limit, worth: int) -> bool:
    """Whether nobody who has `one` would want `other`; widths and `worth` in steps.

    >>> plain = Limit(width=150, offcuts=2, spares=0, proved=True)
    >>> spared = Limit(width=148, offcuts=2, spares=4, proved=True)
    >>> beats(spared, plain, 5), beats(spared, plain, 1), beats(plain, spared, 5)
    (True, False, False)
    """
    if one.offcuts > other.offcuts or one.spares < other.spares:
        return False
    if (one.offcuts, one.spares) == (other.offcuts, other.spares):
        return one.width > other.width
    return one.width + worth > other.width


def choice(ring: Widest, spares: Sequence[int], worth: int) -> list[Limit]:
    """The rings of one kind that none other beats, for the levels of spares asked for.

    Most spares first, then fewest offcuts: whatever could beat a ring comes before it.
    """
    kept: list[Limit] = []
    for level in sorted(set(spares), reverse=True):
        for limit in _worthwhile(ring, level, worth, kept):
            kept.append(limit)
    return kept


def _worthwhile(ring: Widest, level: int, worth: int, kept: list[Limit]) -> Iterator[Limit]:
    """The rings with so many spares that nothing kept beats, fewest offcuts first."""
    width = ring.least
    while width <= ring.most:
        number = ring.number_at(width, level)
        if math.isinf(number):
            return
        # fewer offcuts than this don't reach the width; what so many must reach to be kept
        barred = [one.width + worth for one in kept if one.offcuts <= number]
        if max(barred, default=ring.least) > width:
            width = max(barred)
            continue
        limit = ring.width_with(int(number), level, low=width)
        yield limit
        width = limit.width + worth


def candidates(ring: Widest, spares: Sequence[int]) -> list[Limit]:
    """The widest ring for every number of offcuts and level of spares, beaten or not."""
    found = []
    for level in sorted(set(spares), reverse=True):
        number = ring.number_at(ring.least, level)
        while not math.isinf(number):
            limit = ring.width_with(int(number), level)
            found.append(limit)
            if limit.width >= ring.most:
                break
            following = ring.number_at(limit.width + 1, level)
            # a search by trial may not find at a width what it found at a larger one
            number = max(following, number + 1)
    return found
