"""Bands closed up: as many wedges, fewer stray cuts, never closer than the saw allows."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from rosette.offcuts.settle import settled

PITCH = 10.0


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.floats(0.0, 12.0), min_size=1, max_size=6),
    st.lists(st.tuples(st.floats(0, 90), st.floats(0, 20), st.integers(1, 9)), max_size=8),
)
def test_no_band_loses_a_wedge_or_comes_too_close(
    gaps: list[float], steps: list[tuple[float, float, int]]
) -> None:
    """What a band holds is any step function of where it starts."""
    starts = list(np.cumsum([gaps[0], *(PITCH + gap for gap in gaps[1:])]))

    def most(low: np.ndarray, high: np.ndarray) -> np.ndarray:
        assert (low == high).all()
        return np.array([sum(n for a, w, n in steps if a <= y <= a + w) for y in low], dtype=int)

    closed = settled(starts, most, pitch=PITCH)
    before, after = (
        most(np.array(starts), np.array(starts)),
        most(np.array(closed), np.array(closed)),
    )
    assert (after >= before).all()
    assert all(b - a >= PITCH - 1e-9 for a, b in pairwise(closed))

    def stand_off(at: list[float]) -> int:
        return sum(b - a > PITCH + 1e-9 for a, b in pairwise(at))

    assert stand_off(list(closed)) <= stand_off(starts)


def test_a_band_comes_down_and_where_it_can_t_those_below_go_up() -> None:
    def anywhere(low: np.ndarray, high: np.ndarray) -> np.ndarray:
        return np.ones(len(low), dtype=int)

    def only_above_21(low: np.ndarray, high: np.ndarray) -> np.ndarray:
        return np.where((low < 12) | (low >= 21), 1, 0)

    assert settled((0.0, 10.0, 20.07), anywhere, pitch=PITCH) == (0.0, 10.0, 20.0)
    assert settled((0.0, 10.0, 21.0), only_above_21, pitch=PITCH) == (1.0, 11.0, 21.0)
