"""Moisture and movement against the Wood Handbook (USDA FPL-GTR-282)."""

from __future__ import annotations

import math

import pytest

from rosette.wood.moisture import (
    coefficient_from_shrinkage,
    dimension_change,
    equilibrium_moisture,
)
from rosette.wood.species import TABLE_13_5, UNSOURCED, species

# Eq. 4-5 evaluated apart from this program: °C, % relative humidity → % moisture.
EQ_4_5 = [
    (21.1, 50, 9.2426), (20, 45, 8.4852), (22, 35, 6.9248),
    (25, 60, 10.8321), (10, 80, 16.3822), (30, 20, 4.3462),
]  # fmt: skip

# Table 4-2, the 70 °F row, relative humidity 5 to 95 % by 5.
TABLE_4_2_70F = [
    1.3, 2.5, 3.5, 4.5, 5.4, 6.2, 6.9, 7.7, 8.5, 9.2,
    10.1, 11.0, 12.0, 13.1, 14.4, 16.0, 18.0, 20.5, 23.9,
]  # fmt: skip


@pytest.mark.parametrize(("temperature", "humidity", "moisture"), EQ_4_5)
def test_equation_4_5(temperature: float, humidity: float, moisture: float) -> None:
    got = equilibrium_moisture(temperature=temperature, humidity=humidity)
    assert got == pytest.approx(moisture, abs=5e-5)


@pytest.mark.parametrize(
    ("humidity", "moisture"), list(zip(range(5, 100, 5), TABLE_4_2_70F, strict=True))
)
def test_table_4_2_at_70_f(humidity: float, moisture: float) -> None:
    got = equilibrium_moisture(temperature=(70 - 32) * 5 / 9, humidity=humidity)
    assert got == pytest.approx(moisture, abs=0.1)


def test_worked_example_of_chapter_13() -> None:
    """232 mm white fir from 8 to 11 %, C_T 0.00245 → 1.705 mm (from memory, arithmetic checked)."""
    assert dimension_change(232, 0.00245, 3) == pytest.approx(1.705, abs=5e-4)


# Woods that stand both in Table 13-5 (C_R, C_T) and in Table 4-3 (S_R, S_T).
BOTH_TABLES = [
    ("black walnut", 5.5, 7.8),
    ("black cherry", 3.7, 7.1),
    ("sugar maple", 4.8, 9.9),
]


@pytest.mark.parametrize(("wood", "radial", "tangential"), BOTH_TABLES)
def test_shrinkage_gives_the_coefficients_of_table_13_5(
    wood: str, radial: float, tangential: float
) -> None:
    known = species(wood)
    assert known is not None
    assert known.source == TABLE_13_5
    assert coefficient_from_shrinkage(radial) == pytest.approx(known.radial, abs=1.5e-5)
    assert coefficient_from_shrinkage(tangential) == pytest.approx(known.tangential, abs=1.5e-5)


def test_where_the_handbook_disagrees_with_itself_the_source_is_told() -> None:
    """True mahogany: Table 13-5 has .00172 .00238, Table 4-4's shrinkage gives other figures."""
    mahogany = species("true mahogany")
    assert mahogany is not None
    assert (mahogany.radial, mahogany.tangential) == (0.00172, 0.00238)
    assert mahogany.source == TABLE_13_5
    assert abs(coefficient_from_shrinkage(3.0) - mahogany.radial) > 5e-4


def test_figures_from_memory_say_so() -> None:
    koa = species("koa")
    assert koa is not None
    assert koa.source == UNSOURCED
    assert "from memory" in koa.source


def test_quartersawn_sugar_maple_ring_at_r_70() -> None:
    """3 % of moisture → 2.177 mm round the ring (derived)."""
    maple = species("maple")
    assert maple is not None
    round_it = 2 * math.pi * 70
    assert dimension_change(round_it, maple.across("quartersawn"), 3) == pytest.approx(
        2.177, abs=5e-4
    )
