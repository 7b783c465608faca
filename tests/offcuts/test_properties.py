"""What is true of every scrap, whatever the wedge and the kerf."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from rosette.offcuts.free import free_layout
from rosette.offcuts.model import Layout, Offcut, Ring, WedgeSize
from rosette.offcuts.strip import strip_layout
from tests.offcuts.checker import faults
from tests.offcuts.scraps import scrap
from tests.offcuts.sizes import KERFS, SIZES, kerfs, seeds, sizes

quick = settings(max_examples=12, deadline=None, derandomize=True)
few = settings(max_examples=5, deadline=None, derandomize=True)
turns = st.floats(min_value=0, max_value=360)


def sound(offcut: Offcut, size: WedgeSize, kerf: float, layout: Layout, **asked: float) -> bool:
    return faults(offcut, size, layout, kerf=kerf, **asked) == []


@quick
@given(seed=seeds, size=sizes, kerf=kerfs)
def test_every_strip_layout_can_be_sawn_and_is_proved(
    seed: int, size: WedgeSize, kerf: float
) -> None:
    offcut = scrap(seed)
    layout = strip_layout(offcut, size, kerf=kerf)
    assert sound(offcut, size, kerf, layout)
    assert layout.proved


@quick
@given(seed=seeds, size=sizes, kerf=kerfs)
def test_one_way_up_is_sound_and_never_more(seed: int, size: WedgeSize, kerf: float) -> None:
    offcut = scrap(seed)
    one = strip_layout(offcut, size, kerf=kerf, ways="one")
    assert faults(offcut, size, one, kerf=kerf, one_way=True) == []
    assert one.proved
    assert one.placed <= strip_layout(offcut, size, kerf=kerf).placed


@quick
@given(seed=seeds, size=sizes, kerf=kerfs, spare=st.floats(min_value=0.01, max_value=12))
def test_more_wood_never_gives_fewer(seed: int, size: WedgeSize, kerf: float, spare: float) -> None:
    offcut = replace(scrap(seed), holes=())
    wood = Polygon(offcut.outline).buffer(spare, join_style="mitre")
    more = replace(offcut, outline=tuple(wood.exterior.coords[:-1]))
    clean = replace(offcut, defects=())
    placed = strip_layout(offcut, size, kerf=kerf).placed
    assert strip_layout(more, size, kerf=kerf).placed >= placed
    assert strip_layout(clean, size, kerf=kerf).placed >= placed


def mapped(offcut: Offcut, turn: float, mirror: bool, shift: tuple[float, float]) -> Offcut:
    """The same scrap lying elsewhere, turned, or turned over."""
    cos, sin, sign = math.cos(math.radians(turn)), math.sin(math.radians(turn)), 1 - 2 * mirror

    def there(ring: Ring) -> Ring:
        return tuple(
            (cos * sign * x - sin * y + shift[0], sin * sign * x + cos * y + shift[1])
            for x, y in ring
        )

    grain = (180.0 - offcut.grain if mirror else offcut.grain) + turn
    return replace(
        offcut,
        outline=there(offcut.outline),
        holes=tuple(map(there, offcut.holes)),
        defects=tuple(map(there, offcut.defects)),
        grain=grain,
    )


@quick
@given(seed=seeds, size=sizes, kerf=kerfs, turn=turns, mirror=st.booleans(), shift=st.tuples(
    st.floats(min_value=-2000, max_value=2000), st.floats(min_value=-2000, max_value=2000)
))  # fmt: skip
def test_how_a_scrap_lies_changes_nothing(
    seed: int, size: WedgeSize, kerf: float, turn: float, mirror: bool, shift: tuple[float, float]
) -> None:
    offcut = scrap(seed)
    elsewhere = mapped(offcut, turn, mirror, shift)
    here, there = (strip_layout(one, size, kerf=kerf) for one in (offcut, elsewhere))
    assert (there.placed, there.bound) == (here.placed, here.bound)
    assert sound(elsewhere, size, kerf, there)


@quick
@given(seed=seeds, size=sizes)
def test_the_grain_the_other_way_round_changes_nothing(seed: int, size: WedgeSize) -> None:
    offcut = scrap(seed)
    other = replace(offcut, grain=offcut.grain + 180.0)
    here, there = (strip_layout(one, size, kerf=0.9).placed for one in (offcut, other))
    assert here == there


@quick
@given(seed=seeds, size=sizes, kerf=kerfs, less=st.floats(min_value=0, max_value=1))
def test_a_thinner_kerf_never_gives_fewer(
    seed: int, size: WedgeSize, kerf: float, less: float
) -> None:
    offcut = scrap(seed)
    placed = [strip_layout(offcut, size, kerf=k).placed for k in (0.0, kerf * less, kerf)]
    assert placed == sorted(placed, reverse=True)


@quick
@given(seed=seeds, size=sizes, kerf=kerfs, by=st.floats(min_value=0.5, max_value=1.0))
def test_smaller_wedges_of_one_taper_are_never_fewer(
    seed: int, size: WedgeSize, kerf: float, by: float
) -> None:
    offcut, lower = scrap(seed), size.height * by
    cut = (size.outer_width - size.inner_width) * (1 - by)
    smaller = WedgeSize(
        inner_width=size.inner_width, outer_width=size.outer_width - cut, height=lower
    )
    placed = strip_layout(offcut, size, kerf=kerf).placed
    assert strip_layout(offcut, smaller, kerf=kerf).placed >= placed


@few
@given(seed=seeds, size=sizes, kerf=kerfs, tolerance=st.floats(min_value=0.1, max_value=6))
def test_tilting_never_loses_a_wedge_and_stays_within_the_tolerance(
    seed: int, size: WedgeSize, kerf: float, tolerance: float
) -> None:
    offcut = scrap(seed)
    tilted = strip_layout(offcut, size, kerf=kerf, grain_tolerance=tolerance)
    assert tilted.placed >= strip_layout(offcut, size, kerf=kerf).placed
    assert abs(tilted.tilt) <= tolerance
    assert sound(offcut, size, kerf, tilted, grain_tolerance=tolerance)


def test_tilting_gains_where_the_scrap_was_sawn_askew() -> None:
    size, askew = SIZES[0], math.radians(2.0)
    corners = [(0.0, 0.0), (63.0, 0.0), (63.0, 63.4), (0.0, 63.4)]
    turned = tuple(
        (math.cos(askew) * x - math.sin(askew) * y, math.sin(askew) * x + math.cos(askew) * y)
        for x, y in corners
    )
    offcut = Offcut(id="askew", outline=turned, grain=90.0)
    straight = strip_layout(offcut, size, kerf=1.0)
    tilted = strip_layout(offcut, size, kerf=1.0, grain_tolerance=2.0)
    assert tilted.placed > straight.placed
    assert tilted.tilt == pytest.approx(2.0)
    assert straight.tilt == 0.0


@few
@given(seed=seeds, size=sizes, kerf=kerfs, tolerance=st.sampled_from((0.0, 0.0, 3.0)))
def test_free_is_sound_never_worse_than_strip_and_never_above_its_bound(
    seed: int, size: WedgeSize, kerf: float, tolerance: float
) -> None:
    offcut = scrap(seed)
    free = free_layout(offcut, size, kerf=kerf, grain_tolerance=tolerance, effort=1500)
    strip = strip_layout(offcut, size, kerf=kerf, grain_tolerance=tolerance)
    assert sound(offcut, size, kerf, free, grain_tolerance=tolerance)
    assert strip.placed <= free.placed <= free.bound
    assert free.cuts == ()


def test_free_gains_on_strips_over_a_box_of_scraps() -> None:
    pairs = [
        (strip_layout(one, SIZES[1], kerf=0.2).placed, free_layout(one, SIZES[1], kerf=0.2).placed)
        for one in map(scrap, range(100, 102))
    ]
    assert sum(free for _, free in pairs) > sum(strip for strip, _ in pairs)


def test_the_same_wood_always_gives_the_same_layout() -> None:
    offcut = scrap(3)
    assert strip_layout(offcut, SIZES[0], kerf=1.0) == strip_layout(offcut, SIZES[0], kerf=1.0)
    free = [free_layout(offcut, SIZES[0], kerf=1.0, effort=600) for _ in range(2)]
    assert free[0] == free[1]


def test_a_search_cut_short_says_so_and_its_bound_still_holds() -> None:
    unproved = 0
    for seed in range(16):
        offcut, kerf = scrap(seed), KERFS[seed % 4]
        short = strip_layout(offcut, SIZES[0], kerf=kerf, node_limit=1)
        best = strip_layout(offcut, SIZES[0], kerf=kerf)
        assert short.placed <= best.placed <= short.bound
        assert short.proved == (short.placed == short.bound)
        assert sound(offcut, SIZES[0], kerf, short)
        unproved += not short.proved
    assert unproved > 1
