"""Which offcuts to take: as few as can be, and of those the ones least missed.

What each offcut holds is known; woods and thickness classes are kept apart. Taking the largest
capacities first touches the fewest offcuts. Among the choices of that many offcuts a dynamic
programme over subsets finds the one with the least excess or with the most useful wood left
untouched; both exact.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

Prefer = Literal["excess", "remainder"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """What one offcut holds: `capacity` wedges.

    `kind` says what may stand in for what: the same wood and thickness class. `worth` is what is
    lost when the offcut is touched at all (its area in mm², say).
    """

    id: str
    kind: Hashable
    capacity: int
    worth: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """How many wedges of one kind are needed."""

    kind: Hashable
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """How many wedges to take from one offcut; `whole` when that is all it holds."""

    id: str
    count: int
    whole: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The offcuts for one demand, in the order in which to cut them, and what is missing.

    `excess` is what the offcuts touched hold beyond the need: it stays in one piece of wood,
    the last one.
    """

    kind: Hashable
    shares: tuple[Share, ...]
    missing: int
    excess: int


def choose(
    supplies: Sequence[Supply], demands: Iterable[Demand], *, prefer: Prefer = "excess"
) -> tuple[Choice, ...]:
    """The fewest offcuts for every demand, one answer a demand in the same order.

    `prefer` decides among equal numbers of offcuts: "excess" the fewest wedges left over, then
    the least worth touched; "remainder" the other way round. What is still equal goes by the
    order of `supplies`. Two demands of one kind would fight over the same wood: ValueError.
    """
    wanted = list(demands)
    if len({one.kind for one in wanted}) < len(wanted):
        raise ValueError("each kind of wood is demanded once; add up what is needed of it")
    return tuple(
        _choose([one for one in supplies if one.kind == demand.kind], demand, prefer)
        for demand in wanted
    )


def fewest(capacities: Iterable[int], count: int) -> int | None:
    """How many offcuts are needed at the least; None where all of them are too few.

    >>> fewest([4, 9, 2, 7], 12), fewest([4, 9], 14), fewest([4], 0)
    (2, None, 0)
    """
    left = count
    for number, capacity in enumerate([0, *sorted(capacities, reverse=True)]):
        left -= capacity
        if left <= 0:
            return number
    return None


def _choose(supplies: list[Supply], demand: Demand, prefer: Prefer) -> Choice:
    usable = [one for one in supplies if one.capacity > 0]
    number = fewest((one.capacity for one in usable), demand.count)
    taken = usable if number is None else _subset(usable, demand.count, number, prefer)
    # Whole offcuts first: what is left over then stays together in the largest.
    taken = sorted(taken, key=lambda one: one.capacity)
    left, shares = demand.count, []
    for one in taken:
        count = min(left, one.capacity)
        left -= count
        shares.append(Share(id=one.id, count=count, whole=count == one.capacity))
    held = sum(one.capacity for one in taken)
    return Choice(
        kind=demand.kind,
        shares=tuple(shares),
        missing=left,
        excess=max(0, held - demand.count),
    )


def _subset(supplies: list[Supply], count: int, number: int, prefer: Prefer) -> list[Supply]:
    """`number` offcuts that hold `count` together, the least missed ones.

    least[j, s] is the least worth of j offcuts that hold s together; `took` remembers which
    offcuts improved it, so that the subset can be read back. No j - 1 offcuts hold `count`, so
    sums stay below `count` plus one capacity.
    """
    if number == 0:
        return []
    most = count + max(one.capacity for one in supplies)
    least = np.full((number + 1, most), np.inf)
    least[0, 0] = 0.0
    took = np.zeros((len(supplies), number + 1, most), dtype=bool)
    for i, one in enumerate(supplies):
        offered = np.full_like(least, np.inf)
        offered[1:, one.capacity :] = least[:-1, : most - one.capacity] + one.worth
        took[i] = offered < least
        least = np.where(took[i], offered, least)
    enough = least[number, count:]
    excess = np.arange(len(enough))
    keys = (enough, excess) if prefer == "excess" else (excess, enough)
    at = int(np.lexsort(np.where(np.isfinite(enough), keys, np.inf))[0])
    return _read_back(supplies, took, number, count + at)


def _read_back(supplies: list[Supply], took: np.ndarray, number: int, total: int) -> list[Supply]:
    taken = []
    for i in range(len(supplies) - 1, -1, -1):
        if took[i, number, total]:
            taken.append(supplies[i])
            number, total = number - 1, total - supplies[i].capacity
    return taken[::-1]
