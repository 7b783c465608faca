"""Which offcuts: against every subset, on small boxes."""

from __future__ import annotations

import itertools
import random

import pytest

from rosette.offcuts.choose import Choice, Demand, Prefer, Supply, choose


def box(rng: random.Random) -> list[Supply]:
    return [
        Supply(id=str(i), kind="walnut", capacity=rng.randint(0, 9), worth=rng.randint(1, 9))
        for i in range(rng.randint(0, 8))
    ]


def key(some: list[Supply], count: int, prefer: Prefer) -> tuple[float, ...]:
    excess = sum(one.capacity for one in some) - count
    worth = sum(one.worth for one in some)
    return (len(some), excess, worth) if prefer == "excess" else (len(some), worth, excess)


def best_of_all(supplies: list[Supply], count: int, prefer: Prefer) -> tuple[float, ...] | None:
    subsets = itertools.chain.from_iterable(
        itertools.combinations(supplies, n) for n in range(len(supplies) + 1)
    )
    keys = [key(list(s), count, prefer) for s in subsets if sum(o.capacity for o in s) >= count]
    return min(keys, default=None)


@pytest.mark.parametrize("prefer", ["excess", "remainder"])
@pytest.mark.parametrize("seed", range(150))
def test_no_subset_is_better(seed: int, prefer: Prefer) -> None:
    rng = random.Random(seed)
    supplies, count = box(rng), rng.randint(0, 32)
    (choice,) = choose(supplies, [Demand(kind="walnut", count=count)], prefer=prefer)
    wanted = best_of_all(supplies, count, prefer)
    held = {one.id: one.capacity for one in supplies}
    assert all(0 < share.count <= held[share.id] for share in choice.shares)
    assert all(share.whole == (share.count == held[share.id]) for share in choice.shares)
    assert sum(share.count for share in choice.shares) + choice.missing == count
    if wanted is None:
        assert choice.missing == count - sum(held.values())
        return
    taken = {share.id for share in choice.shares}
    assert choice.missing == 0
    assert key([one for one in supplies if one.id in taken], count, prefer) == wanted
    assert choice.excess == sum(held[one] for one in taken) - count
    assert all(share.whole for share in choice.shares[:-1])


def test_woods_and_thicknesses_are_kept_apart() -> None:
    supplies = [
        Supply(id="a", kind=("walnut", 2.4), capacity=9),
        Supply(id="b", kind=("walnut", 3.0), capacity=30),
        Supply(id="c", kind=("maple", 2.4), capacity=30),
    ]
    walnut, maple, pear = choose(
        supplies,
        [
            Demand(kind=("walnut", 2.4), count=12),
            Demand(kind=("maple", 2.4), count=12),
            Demand(kind=("pear", 2.4), count=1),
        ],
    )
    assert ([one.id for one in walnut.shares], walnut.missing) == (["a"], 3)
    assert ([one.id for one in maple.shares], maple.missing) == (["c"], 0)
    assert pear == Choice(kind=("pear", 2.4), shares=(), missing=1, excess=0)


def test_the_same_wood_demanded_twice_is_refused() -> None:
    with pytest.raises(ValueError, match="demanded once"):
        choose([], [Demand(kind="w", count=1), Demand(kind="w", count=2)])
