"""The radial ring's derived check values, worked out apart from this program (to 5 decimals).

Derived from the definitions in docs/formulas.md: n 24, radii 54 and 70 mm, 2 mm allowance both
ways, no joint.
"""

from __future__ import annotations

import pytest

from rosette.geometry import closing, wedge
from rosette.geometry.hidden import HiddenStrip

N, INNER, OUTER = 24, 54.0 - 2.0, 70.0 + 2.0


def test_blank() -> None:
    distance = wedge.inner_distance(INNER, segments=N)
    assert wedge.width_at(OUTER, segments=N) == pytest.approx(18.95796, abs=5e-6)
    assert wedge.width_at(distance, segments=N) == pytest.approx(13.57472, abs=5e-6)
    assert OUTER - distance == pytest.approx(20.44487, abs=5e-6)


@pytest.mark.parametrize(("kerf", "length"), [(0.4, 402.3632), (1.0, 416.2823), (2.4, 448.7601)])
def test_strip_head_to_tail(kerf: float, length: float) -> None:
    distance = wedge.inner_distance(INNER, segments=N)
    got = wedge.strip_length(
        N,
        inner_width=wedge.width_at(distance, segments=N),
        outer_width=wedge.width_at(OUTER, segments=N),
        kerf=kerf,
        mitre=wedge.mitre_angle(N),
    )
    assert got == pytest.approx(length, abs=5.1e-5)


@pytest.mark.parametrize(("radius", "angle"), [(54.0, 63.9), (70.0, 48.2)])
def test_hidden_by_a_board_57_15_wide(radius: float, angle: float) -> None:
    strip = HiddenStrip(width=57.15, reach=0.0)
    assert 2 * strip.half_angle(radius) == pytest.approx(angle, abs=0.05)


def test_errors_add_up() -> None:
    """n 24, every face 0.1° off: 4.8°, 5.9 mm at r 70; within 0.1 mm needs 0.0017° (derived)."""
    assert closing.ring_error(0.1, 24) == pytest.approx(4.8)
    assert closing.gap_at(70, 4.8) == pytest.approx(5.9, abs=0.05)
    assert closing.face_error_for(0.1, 70, 24) == pytest.approx(0.0017, abs=5e-5)


@pytest.mark.parametrize(("excess", "off"), [(0.5, 0.314), (1.0, 0.628)])
def test_truing_fat_halves(excess: float, off: float) -> None:
    """Ro 72: 0.5° → 0.314 mm, 1° → 0.628 mm comes off each half (derived)."""
    assert closing.sanded_off(72, excess) == pytest.approx(off, abs=5e-4)
