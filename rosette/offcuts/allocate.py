"""How many wedges of which kind come out of which piece of wood.

Every piece has a menu: ways to take some wedges from it, each with what it costs. A dynamic
programme over the numbers still needed finds the cheapest choice of one way a piece, exactly,
whatever the order of the objectives: their costs add up over the pieces.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from rosette.offcuts.cutplan import Objective
from rosette.offcuts.model import Layout, Offcut
from rosette.offcuts.selection import Part

MOST_STATES = 20_000_000
"""States times ways up to which all kinds are weighed together."""
_NEVER = 2**60


@dataclass(frozen=True, slots=True, kw_only=True)
class Portion:
    """A part of a layout of `wood` for one kind of wedge (the number of its want)."""

    want: int
    wood: Offcut
    layout: Layout
    part: Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Take:
    """One way to take wedges from a piece: `counts` of each kind, in the order of cutting.

    `loss`: mm² of usable wood that no longer stay in one piece.
    """

    counts: tuple[int, ...]
    portions: tuple[Portion, ...]
    runs: int
    loss: int


def allocate(
    needs: Sequence[int],
    menus: Sequence[Sequence[Take]],
    objectives: Sequence[Objective],
    *,
    first: Sequence[int],
) -> list[Take | None]:
    """One way a piece, or None for a piece left alone; as many wedges as can be, up to `needs`.

    Where not all can be had, those up to `first` of each kind come before the rest. Exact where
    the numbers allow (`weighable`); else kind by kind, each exact by itself.
    """
    if weighable(needs, menus):
        return _together(needs, menus, objectives, first)
    chosen: list[Take | None] = [None] * len(menus)
    for kind in sorted(range(len(needs)), key=lambda i: -needs[i]):
        alone = [
            [] if chosen[at] else [take for take in menu if take.counts[kind] == sum(take.counts)]
            for at, menu in enumerate(menus)
        ]
        only = [need if i == kind else 0 for i, need in enumerate(needs)]
        for at, take in enumerate(_together(only, alone, objectives, first)):
            chosen[at] = chosen[at] or take
    return chosen


def weighable(needs: Sequence[int], menus: Sequence[Sequence[Take]]) -> bool:
    """Whether all kinds can be weighed together, so that the choice is exact."""
    states = math.prod(need + 1 for need in needs)
    return states * max(len(menus), sum(len(menu) for menu in menus)) <= MOST_STATES


def _together(
    needs: Sequence[int],
    menus: Sequence[Sequence[Take]],
    objectives: Sequence[Objective],
    first: Sequence[int],
) -> list[Take | None]:
    """least[s] is the least cost with which the pieces so far give exactly s of each kind."""
    price = _price(needs, menus, objectives)
    shape = tuple(need + 1 for need in needs)
    least = np.full(shape, _NEVER, dtype=np.int64)
    least[(0,) * len(shape)] = 0
    took: list[np.ndarray] = []
    for menu in menus:
        best, choice = least.copy(), np.full(shape, -1, dtype=np.int16)
        for number, take in enumerate(menu):
            if any(count > need for count, need in zip(take.counts, needs, strict=True)):
                continue
            to = tuple(slice(count, None) for count in take.counts)
            of = tuple(
                slice(None, size - count) for count, size in zip(take.counts, shape, strict=True)
            )
            offered = least[of] + price(take)
            better = offered < best[to]
            best[to][better] = offered[better]
            choice[to][better] = number
        least = best
        took.append(choice)
    return _read_back(_goal(least, first), menus, took)


def _goal(least: np.ndarray, first: Sequence[int]) -> tuple[int, ...]:
    """The numbers to aim at: what comes first, then most in all, then most of the first kind."""
    reached = np.argwhere(least < _NEVER)
    wanted = np.minimum(reached, np.array(first)).sum(axis=1)
    best = np.lexsort((*reached.T[::-1], reached.sum(axis=1), wanted))[-1]
    return tuple(int(i) for i in reached[best])


def _price(
    needs: Sequence[int], menus: Sequence[Sequence[Take]], objectives: Sequence[Objective]
) -> Callable[[Take], int]:
    """Each way's cost as one number, so that a better first objective outweighs all the others."""
    loss = sum(max((take.loss for take in menu), default=0) for menu in menus)
    most = {"offcuts": len(menus) + 1, "runs": sum(needs) + 1, "remainder": loss + 1}
    # In coarser steps than mm² where a box is so full that the sum would not go into 64 bits.
    step = 1
    while most["offcuts"] * most["runs"] * (loss // step + 1 + len(menus)) >= _NEVER:
        step *= 10
    most["remainder"] = loss // step + 1 + len(menus)
    weights, weight = dict[Objective, int](), 1
    for objective in reversed(objectives):
        weights[objective] = weight
        weight *= most[objective]

    def price(take: Take) -> int:
        cost = {"offcuts": 1, "runs": take.runs, "remainder": -(-take.loss // step)}
        return sum(weights[objective] * cost[objective] for objective in objectives)

    return price


def _read_back(
    goal: tuple[int, ...], menus: Sequence[Sequence[Take]], took: Sequence[np.ndarray]
) -> list[Take | None]:
    chosen: list[Take | None] = [None] * len(menus)
    for at in range(len(menus) - 1, -1, -1):
        number = int(took[at][goal])
        if number >= 0:
            take = menus[at][number]
            chosen[at] = take
            goal = tuple(s - c for s, c in zip(goal, take.counts, strict=True))
    return chosen
