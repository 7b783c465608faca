"""What is inferred of one size from another holds for real layouts."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosette.offcuts.capacities import Capacities, fewest_of, inside
from rosette.offcuts.model import WedgeSize
from rosette.offcuts.options import CutOptions
from rosette.offcuts.region import usable_region
from rosette.offcuts.strip import strip_count, strip_layout
from rosette.offcuts.widest import roundest
from tests.offcuts.scraps import scrap
from tests.offcuts.sizes import SIZES

seeds = st.integers(min_value=0, max_value=400)
counts = st.integers(min_value=8, max_value=40)
radii = st.floats(min_value=35.0, max_value=60.0)
widths = st.floats(min_value=6.0, max_value=25.0)


def blank(count: int, radius: float, width: float) -> WedgeSize:
    half = math.pi / count
    near, far = radius * math.cos(half), radius + width
    return WedgeSize(
        inner_width=2 * near * math.tan(half),
        outer_width=2 * far * math.tan(half),
        height=far - near,
    )


def told(size: WedgeSize) -> np.ndarray:
    return np.array([size.inner_width, size.outer_width, size.height, size.taper])


@given(counts, radii, widths, st.integers(0, 12), st.floats(0.0, 5.0), st.floats(0.0, 6.0))
def test_narrower_rings_smaller_radii_and_higher_counts_give_wedges_that_lie_inside(
    count: int, radius: float, width: float, more: int, less: float, narrower: float
) -> None:
    large = blank(count, radius, width)
    small = blank(count + more, radius - less, max(3.0, width - narrower))
    assert inside(told(small), told(large))


@settings(max_examples=25, deadline=None)
@given(seeds, counts, radii, widths, st.integers(0, 12), st.floats(0.0, 8.0))
def test_an_offcut_holds_no_fewer_of_a_wedge_that_lies_inside(
    seed: int, count: int, radius: float, width: float, more: int, narrower: float
) -> None:
    large, small = (
        blank(count, radius, width),
        blank(count + more, radius, max(3.0, width - narrower)),
    )
    wood = scrap(seed)
    held = [strip_layout(wood, size, kerf=0.9).placed for size in (small, large)]
    assert held[0] >= held[1]


@settings(max_examples=20, deadline=None)
@given(seeds, st.lists(st.tuples(counts, widths), min_size=2, max_size=5))
def test_bounds_always_enclose_what_is_laid_out(seed: int, rings: list[tuple[int, float]]) -> None:
    wood = scrap(seed)
    capacities = Capacities([wood], kerf=0.9, options=CutOptions())
    sizes = [blank(count, 50.0, width) for count, width in rings]
    capacities.look(0, sizes[0])
    capacities.look(0, sizes[0])
    for size in sizes:
        least, most = capacities.known(size)
        assert least[0] <= strip_layout(wood, size, kerf=0.9).placed <= most[0]


@pytest.mark.parametrize("seed", range(6))
def test_counting_gives_what_laying_out_gives(seed: int) -> None:
    wood = scrap(seed)
    for size in SIZES:
        layout = strip_layout(wood, size, kerf=0.9)
        assert strip_count(usable_region(wood), size, kerf=0.9) == (layout.placed, layout.bound)
        least, most = strip_count(usable_region(wood), size, kerf=0.9, node_limit=0)
        assert least <= layout.placed <= most


def test_one_glance_settles_nothing_that_a_search_would_change() -> None:
    wood = scrap(1)
    capacities = Capacities([wood], kerf=0.9, options=CutOptions())
    while not capacities.settled(0, SIZES[0]):
        capacities.look(0, SIZES[0])
    least, most = capacities.known(SIZES[0])
    assert least[0] == most[0] == strip_layout(wood, SIZES[0], kerf=0.9).placed


@given(st.lists(st.integers(0, 30), max_size=8), st.integers(0, 80))
def test_the_fewest_offcuts_are_the_largest_ones(held: list[int], count: int) -> None:
    reach = [sum(sorted(held, reverse=True)[:k]) for k in range(len(held) + 1)]
    enough = [k for k, total in enumerate(reach) if total >= count]
    assert fewest_of(np.array(held, dtype=np.int64), count) == (enough[0] if enough else math.inf)


@given(st.integers(1, 400), st.integers(2, 300))
def test_halving_stays_inside_and_meets_at_round_numbers(low: int, gap: int) -> None:
    middle = roundest(low, low + gap)
    assert low < middle < low + gap
    power = middle & -middle
    assert all(one & -one <= power for one in range(low + 1, low + gap))
