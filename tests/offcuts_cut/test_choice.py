"""The choice of offcuts against trying every choice there is."""

from __future__ import annotations

import itertools
import operator
import random
from collections.abc import Sequence

import pytest

from rosette.offcuts.allocate import Take, allocate, deal_out, dealer, weighable
from rosette.offcuts.cutplan import Objective
from rosette.offcuts.options import OBJECTIVES
from rosette.offcuts.strip import strip_layout
from tests.offcuts_cut.cases import SMALL, board, cutting, plan
from tests.properties.designs import radial

ORDERS = list(itertools.permutations(OBJECTIVES))


def menus(rng: random.Random, kinds: int) -> list[list[Take]]:
    """Up to four pieces with a few ways each; losses and runs at random."""
    found = []
    for _ in range(rng.randint(1, 4)):
        menu = []
        for _ in range(rng.randint(0, 5)):
            counts = tuple(rng.choice((0, 0, 1, 2, 3, 4)) for _ in range(kinds))
            if any(counts):
                menu.append(
                    Take(
                        counts=counts, portions=(), runs=rng.randint(1, 4), loss=rng.randint(0, 900)
                    )
                )
        found.append(menu)
    return found


def cost(choice: Sequence[Take | None], order: Sequence[Objective]) -> tuple[int, ...]:
    taken = [take for take in choice if take is not None]
    weights = {
        "offcuts": len(taken),
        "runs": sum(take.runs for take in taken),
        "remainder": sum(take.loss for take in taken),
    }
    return tuple(weights[one] for one in order)


def total(choice: Sequence[Take | None], kinds: int) -> tuple[int, ...]:
    return tuple(sum(take.counts[i] for take in choice if take) for i in range(kinds))


@pytest.mark.parametrize("seed", range(60))
def test_no_other_choice_is_better(seed: int) -> None:
    rng = random.Random(seed)
    kinds = rng.choice((1, 1, 2, 3))
    offered = menus(rng, kinds)
    needs = [rng.randint(1, 6) for _ in range(kinds)]
    first = [rng.randint(0, need) for need in needs]
    order = rng.choice(ORDERS)
    got = allocate(needs, offered, order, first=first)

    def worth(choice: Sequence[Take | None]) -> tuple[int, int, int]:
        sums = total(choice, kinds)
        whole = sum(map(operator.ge, sums, first))
        return (whole, sum(map(min, sums, first)), sum(sums))

    every = [
        choice
        for choice in itertools.product(*([None, *menu] for menu in offered))
        if all(s <= need for s, need in zip(total(choice, kinds), needs, strict=True))
    ]
    most = max(map(worth, every))
    assert weighable(needs, offered)
    assert worth(got) == most
    same = [one for one in every if total(one, kinds) == total(got, kinds)]
    assert cost(got, order) == min(cost(one, order) for one in same)


@pytest.mark.parametrize("seed", range(12))
def test_no_fewer_offcuts_would_do(seed: int) -> None:
    """Against every subset of the box, each offcut holding what the solver alone says of it."""
    rng = random.Random(seed)
    of = plan()
    stock = [
        board(f"B{i}", rng.uniform(20, 130), rng.uniform(24, 70)) for i in range(rng.randint(2, 7))
    ]
    found = cutting(of, *stock)
    size = found.tallies[0].size
    holds = [strip_layout(one.wood, size, kerf=of.kerf).placed for one in stock]
    enough = [
        len(some)
        for k in range(len(stock) + 1)
        for some in itertools.combinations(holds, k)
        if sum(some) >= 12
    ]
    if enough:
        assert found.complete
        assert len(found.touched) == min(enough) == found.fewest_offcuts
    else:
        assert found.placed == sum(holds)


def test_what_is_weighed_first_decides() -> None:
    """A long strip gives all wedges in many short runs, three wide ones in a run each."""
    of = plan()
    tall = board("tall", 260, 36)
    wide = [board(f"wide{i}", 17, 140) for i in range(3)]
    by_offcuts = cutting(of, tall, *wide)
    by_runs = cutting(of, tall, *wide, objectives=("runs", "offcuts", "remainder"))
    assert [p.id for p in by_offcuts.touched] == ["tall"]
    assert {p.id for p in by_runs.touched} == {"wide0", "wide1", "wide2"}
    assert len({one.run for one in by_runs.wedges}) < len({one.run for one in by_offcuts.wedges})


def test_the_remainder_stays_in_one_piece_at_one_end() -> None:
    found = cutting(plan(), board("A", 400, 50))
    (piece,) = found.touched
    largest = piece.remainders[0]
    bands = len({one.band for one in piece.wedges})
    height = found.tallies[0].size.height
    assert largest.useful
    assert largest.across == pytest.approx(50.0)
    # All but the bands and their kerfs, at the most one crosscut at either end.
    assert largest.along >= 400 - bands * (height + found.kerf) - found.kerf - 1e-6


@pytest.mark.parametrize("seed", range(40))
def test_no_deal_of_several_woods_makes_more_rings_whole(seed: int) -> None:
    """Rings that want several woods each, against every choice from every wood's menus."""
    rng = random.Random(seed)
    rings = [sorted(rng.sample((1, 2, 3), rng.randint(1, 3))) for _ in range(2)]
    first = [[rng.randint(1, 5) for _ in mine] for mine in rings]
    needs = [[need + rng.randint(0, 1) for need in some] for some in first]
    offered = [menus(rng, len(mine))[:3] for mine in rings]
    deals = deal_out(
        [
            dealer(need, some, OBJECTIVES, first=least)
            for need, some, least in zip(needs, offered, first, strict=True)
        ],
        rings,
        first,
    )
    every = [
        {total(choice, len(mine)) for choice in itertools.product(*([None, *m] for m in some))}
        for mine, some in zip(rings, offered, strict=True)
    ]
    possible = [
        {one for one in sums if all(map(operator.le, one, need))}
        for sums, need in zip(every, needs, strict=True)
    ]

    def worth(counts: Sequence[tuple[int, ...]]) -> tuple[int, int, int]:
        lacking = {
            ring
            for mine, got, least in zip(rings, counts, first, strict=True)
            for ring, count, need in zip(mine, got, least, strict=True)
            if count < need
        }
        wanted = sum(sum(map(min, a, b)) for a, b in zip(counts, first, strict=True))
        return (-len(lacking), wanted, sum(map(sum, counts)))

    got = [deal.counts for deal in deals]
    assert [total(one.takes, len(mine)) for one, mine in zip(deals, rings, strict=True)] == got
    assert worth(got) == max(map(worth, itertools.product(*possible)))


@pytest.mark.parametrize("seed", range(20))
def test_a_deal_in_turn_makes_whole_what_it_says(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where there are too many numbers to weigh together: sound, and one ring where one can be."""
    monkeypatch.setattr("rosette.offcuts.allocate.MOST_STATES", 0)
    rng = random.Random(seed)
    kinds = rng.choice((2, 3))
    offered = [
        [take for take in menu if sum(map(bool, take.counts)) == 1] for menu in menus(rng, kinds)
    ]
    first = [rng.randint(1, 4) for _ in range(kinds)]
    needs = [need + rng.randint(0, 1) for need in first]
    got = total(allocate(needs, offered, OBJECTIVES, first=first), kinds)
    assert all(map(operator.le, got, needs))
    able = [
        any(
            first[kind] <= sum(some) <= needs[kind]
            for some in itertools.product(
                *([0, *(one.counts[kind] for one in menu)] for menu in offered)
            )
        )
        for kind in range(kinds)
    ]
    assert any(map(operator.ge, got, first)) or not any(able)


@pytest.mark.parametrize("seed", range(10))
def test_as_many_rings_are_whole_as_trying_everything_finds(seed: int) -> None:
    """Two or three rings of one wood on a few boards: every board to every ring, in turn."""
    rng = random.Random(seed)
    outer = {**SMALL, "width": 7.0, "inner_radius": None, "space": 1.0}
    rings = [radial(**{**SMALL, "segments": rng.choice((10, 12, 14))})]
    rings += [
        radial(**{**outer, "segments": rng.choice((12, 14, 18))}) for _ in range(rng.randint(1, 2))
    ]
    of = plan(*rings)
    stock = [
        board(f"B{i}", rng.uniform(40, 140), rng.uniform(24, 60)) for i in range(rng.randint(2, 5))
    ]
    found = cutting(of, *stock)
    holds = [
        [strip_layout(one.wood, tally.size, kerf=of.kerf).placed for one in stock]
        for tally in found.tallies
    ]
    needed = [tally.needed for tally in found.tallies]
    possible = max(
        sum(
            sum(holds[ring][at] for at, given in enumerate(dealt) if given == ring) >= needed[ring]
            for ring in range(len(needed))
        )
        for dealt in itertools.product(range(len(needed)), repeat=len(stock))
    )
    # Two rings that share a board can only add to that.
    assert sum(not tally.missing for tally in found.tallies) >= possible
