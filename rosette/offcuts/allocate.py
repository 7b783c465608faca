"""How many wedges of which kind come out of which piece of wood.

Every piece has a menu: ways to take some wedges from it, each with what it costs. A dynamic
programme over the numbers still needed finds the cheapest choice of one way a piece, exactly,
whatever the order of the objectives: their costs add up over the pieces.

Where there is too little wood, whole rings come before wedges: a ring that lacks a wedge can't be
made, however few others lack. Of the deals with the most whole rings the one with the most
wedges is taken.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Protocol

import numpy as np

from rosette.offcuts.cutplan import Objective
from rosette.offcuts.model import Layout, Offcut
from rosette.offcuts.selection import Part

MOST_STATES = 20_000_000
"""States times ways up to which all kinds are weighed together."""
MOST_WHOLE = 10
"""Rings of which it is tried which can be whole together."""
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


class Dealer(Protocol):
    """Deals the pieces of one wood out to several kinds of wedge."""

    def best(self, whole: Collection[int]) -> Deal | None:
        """The best deal in which the kinds of `whole` get all they need; None where none does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Deal:
    """One way a piece, or None for a piece left alone; `counts` of each kind in all."""

    takes: tuple[Take | None, ...]
    counts: tuple[int, ...]


def dealer(
    needs: Sequence[int],
    menus: Sequence[Sequence[Take]],
    objectives: Sequence[Objective],
    *,
    first: Sequence[int],
) -> Dealer:
    """Deals up to `needs` of each kind, of which those up to `first` come before the rest.

    Exact where the numbers allow (`weighable`); else kind by kind, each exact by itself.
    """
    if weighable(needs, menus):
        return _weighed(needs, menus, objectives, first)
    return _InTurn(needs=needs, menus=menus, objectives=objectives, first=first)


def allocate(
    needs: Sequence[int],
    menus: Sequence[Sequence[Take]],
    objectives: Sequence[Objective],
    *,
    first: Sequence[int],
) -> tuple[Take | None, ...]:
    """One way a piece, or None for a piece left alone; as many kinds whole as can be.

    A kind is whole with its `first` wedges. Then come the most wedges up to `first`, then the
    most up to `needs`, then the objectives.
    """
    (deal,) = deal_out(
        [dealer(needs, menus, objectives, first=first)], [range(len(needs))], [list(first)]
    )
    return deal.takes


def deal_out(
    dealers: Sequence[Dealer], rings: Sequence[Sequence[int]], first: Sequence[Sequence[int]]
) -> list[Deal]:
    """The deals of all woods together: the most whole rings, and of those the most wedges.

    Wedges that a ring needs come before spares; among equals the first ring gets the most.
    `rings` says for each dealer and kind which ring wants it, `first` how many the ring needs. A
    ring is whole with all its kinds, whatever their wood.
    """

    def dealt(whole: Collection[int]) -> list[Deal] | None:
        found = []
        for one, mine in zip(dealers, rings, strict=True):
            deal = one.best([kind for kind, ring in enumerate(mine) if ring in whole])
            if deal is None:
                return None
            found.append(deal)
        return found

    def worth(deals: Sequence[Deal]) -> tuple[object, ...]:
        counts = [deal.counts for deal in deals]
        wanted = sum(sum(map(min, a, b)) for a, b in zip(counts, first, strict=True))
        by_ring = sorted(
            (ring, -count)
            for mine, got in zip(rings, counts, strict=True)
            for ring, count in zip(mine, got, strict=True)
        )
        return wanted, sum(map(sum, counts)), [-count for _, count in by_ring]

    every = sorted({ring for mine in rings for ring in mine})
    if (all_whole := dealt(every)) is not None:
        return all_whole
    able = [ring for ring in every if dealt([ring]) is not None]
    for number in range(min(len(able), MOST_WHOLE), -1, -1):
        found = [
            deals
            for whole in combinations(able[:MOST_WHOLE], number)
            if (deals := dealt(whole)) is not None
        ]
        if found:
            return max(found, key=worth)
    raise AssertionError("a deal that need not make any ring whole always exists")


def weighable(needs: Sequence[int], menus: Sequence[Sequence[Take]]) -> bool:
    """Whether all kinds can be weighed together, so that the choice is exact."""
    states = math.prod(need + 1 for need in needs)
    return states * max(len(menus), sum(len(menu) for menu in menus)) <= MOST_STATES


@dataclass(frozen=True, slots=True, kw_only=True)
class _InTurn:
    """Kind by kind, those that are to be whole first, each from the pieces left."""

    needs: Sequence[int]
    menus: Sequence[Sequence[Take]]
    objectives: Sequence[Objective]
    first: Sequence[int]

    def best(self, whole: Collection[int]) -> Deal | None:
        """The first order that makes them whole: the largest kinds first, or the smallest."""
        rest = [kind for kind in range(len(self.needs)) if kind not in whole]
        for sign in (-1, 1):
            order = sorted(whole, key=lambda kind: sign * self.needs[kind])
            order += sorted(rest, key=lambda kind: -self.needs[kind])
            spares = [(kind, self.needs[kind] - self.first[kind]) for kind in order]
            for turns in (
                [(kind, self.needs[kind]) for kind in order],
                [*((kind, self.first[kind]) for kind in order), *spares],
            ):
                deal = self._dealt(turns)
                if all(deal.counts[kind] >= self.first[kind] for kind in whole):
                    return deal
        return None

    def _dealt(self, turns: Sequence[tuple[int, int]]) -> Deal:
        chosen: list[Take | None] = [None] * len(self.menus)
        for kind, number in turns:
            alone = [
                []
                if chosen[at]
                else [take for take in menu if take.counts[kind] == sum(take.counts)]
                for at, menu in enumerate(self.menus)
            ]
            only = [number if i == kind else 0 for i in range(len(self.needs))]
            found = _weighed(only, alone, self.objectives, only).best(())
            assert found is not None  # nothing has to be whole
            for at, take in enumerate(found.takes):
                chosen[at] = chosen[at] or take
        counts = tuple(
            sum(take.counts[kind] for take in chosen if take) for kind in range(len(self.needs))
        )
        return Deal(takes=tuple(chosen), counts=counts)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Weighed:
    """All numbers of each kind that can be had (`reached`, one a row), and the cheapest way."""

    reached: np.ndarray
    first: Sequence[int]
    menus: Sequence[Sequence[Take]]
    took: Sequence[np.ndarray]

    def best(self, whole: Collection[int]) -> Deal | None:
        """What comes first, then most in all, then most of the first kind."""
        kinds = list(whole)
        need = np.array(self.first)
        enough = (self.reached[:, kinds] >= need[kinds]).all(axis=1)
        reached = self.reached[enough]
        if not len(reached):
            return None
        wanted = np.minimum(reached, need).sum(axis=1)
        best = np.lexsort((*reached.T[::-1], reached.sum(axis=1), wanted))[-1]
        goal = tuple(int(i) for i in reached[best])
        return Deal(takes=tuple(_read_back(goal, self.menus, self.took)), counts=goal)


def _weighed(
    needs: Sequence[int],
    menus: Sequence[Sequence[Take]],
    objectives: Sequence[Objective],
    first: Sequence[int],
) -> _Weighed:
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
    return _Weighed(reached=np.argwhere(least < _NEVER), first=first, menus=menus, took=took)


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
