"""Rectangles, for which the most is known: ⌊(L+k)/(h+k)⌋ bands along the grain, and in each
⌊(W−w_out)/(w_mean + k/cos α)⌋ + 1 wedges, none where W < w_out (derived; exact)."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rosette.offcuts.bands import best_bands
from rosette.offcuts.model import Offcut, WedgeSize
from rosette.offcuts.region import usable_region
from rosette.offcuts.strip import counter, strip_layout
from tests.offcuts.checker import faults

HAIR = 1e-9


def formula(length: float, width: float, size: WedgeSize, kerf: float) -> int:
    mean = (size.inner_width + size.outer_width) / 2
    slope = math.atan2((size.outer_width - size.inner_width) / 2, size.height)
    if width < size.outer_width - HAIR:
        return 0
    bands = math.floor((length + kerf) / (size.height + kerf) + HAIR)
    along = math.floor((width - size.outer_width) / (mean + kerf / math.cos(slope)) + HAIR)
    return bands * (along + 1)


def rectangle(length: float, width: float, grain: float) -> Offcut:
    """A rectangle with `length` along the grain, which runs at `grain` degrees."""
    angle = math.radians(grain - 90.0)
    corners = np.array([(0, 0), (width, 0), (width, length), (0, length)])
    turned = corners @ np.array(
        [[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]]
    )
    return Offcut(id="R", outline=tuple(map(tuple, turned.tolist())), grain=grain)


def drawn(seed: int) -> tuple[float, float, WedgeSize, float, float]:
    """Half of the lengths and half of the widths fit exactly."""
    rng = np.random.default_rng(seed)
    inner = rng.uniform(2, 20)
    size = WedgeSize(
        inner_width=inner, outer_width=inner + rng.uniform(0, 9), height=rng.uniform(5, 30)
    )
    kerf = rng.choice([0.0, 0.4, rng.uniform(0, 3.2)])
    length, width = rng.uniform(4, 320), rng.uniform(2, 120)
    if rng.random() < 0.5:
        bands = rng.integers(1, 9)
        length = bands * size.height + (bands - 1) * kerf
    if rng.random() < 0.5:
        step = size.mean_width + kerf / math.cos(math.radians(size.mitre))
        width = size.outer_width + rng.integers(0, 12) * step
    grain = rng.choice([0.0, 90.0, 180.0, 270.0, rng.uniform(0, 360)])
    return float(length), float(width), size, float(kerf), float(grain)


@pytest.mark.parametrize("hundred", range(4))
def test_as_many_as_the_formula_says_and_proved(hundred: int) -> None:
    for seed in range(hundred * 100, hundred * 100 + 100):
        length, width, size, kerf, grain = drawn(seed)
        layout = strip_layout(rectangle(length, width, grain), size, kerf=kerf)
        wanted = formula(length, width, size, kerf)
        assert (layout.placed, layout.bound, layout.proved) == (wanted, wanted, True), seed


@pytest.mark.parametrize("seed", range(0, 400, 25))
def test_their_layouts_can_be_sawn(seed: int) -> None:
    length, width, size, kerf, grain = drawn(seed)
    offcut = rectangle(length, width, grain)
    assert faults(offcut, size, strip_layout(offcut, size, kerf=kerf), kerf=kerf) == []


def test_a_hair_too_low_or_too_narrow_holds_none() -> None:
    size = WedgeSize(inner_width=8.0, outer_width=12.0, height=20.0)
    for lack, wanted in ((0.0, 1), (1e-10, 1), (1e-6, 0), (1e-3, 0)):
        assert strip_layout(rectangle(20.0 - lack, 12.0, 90.0), size, kerf=1).placed == wanted
        assert strip_layout(rectangle(20.0, 12.0 - lack, 90.0), size, kerf=1).placed == wanted


def test_the_search_stops_early_when_more_is_known_elsewhere() -> None:
    size = WedgeSize(inner_width=8.0, outer_width=12.0, height=20.0)
    region = usable_region(rectangle(100.0, 50.0, 90.0))
    most = counter(region.edges, size, kerf=1.0, ways=(0, 1))
    found = best_bands(
        most, lowest=0.0, highest=80.0, pitch=21.0, special=np.empty(0), step=2.5, beat=1000
    )
    assert found.bound < 1000
    assert found.nodes == 65
