"""Movement of a whole ring with the weather, by hand from the handbook's tables."""

from __future__ import annotations

import math

import pytest

from rosette.plan import make_plan
from tests.properties.designs import design, line, radial

CLIMATE = {
    "build": {"temperature": 20, "humidity": 45.0},
    "dry": {"temperature": 22, "humidity": 35.0},
    "humid": {"temperature": 25, "humidity": 60.0},
}
# Wood Handbook Eq. 4-5 at those three climates, and Table 13-5's C_R of walnut and sugar maple.
BUILD, DRY, HUMID = 8.4852, 6.9248, 10.8321
WALNUT, MAPLE = 0.00190, 0.00165


def test_two_woods_in_turn() -> None:
    plan = make_plan(design([radial(wood=["walnut", "maple"])], climate=CLIMATE))
    dry, humid = plan.movement
    mean = (WALNUT + MAPLE) / 2
    round_it = 2 * math.pi * 70
    assert dry.circumference_change == pytest.approx(round_it * mean * (DRY - BUILD), abs=1e-3)
    assert humid.circumference_change == pytest.approx(round_it * mean * (HUMID - BUILD), abs=1e-3)
    assert humid.per_joint == pytest.approx(humid.circumference_change / 36)
    assert (dry.case, humid.case) == ("dry", "humid")


def test_flatsawn_moves_by_the_tangential_figure() -> None:
    ring = radial(wood="walnut", sawn="flatsawn")
    (_, humid) = make_plan(design([ring], climate=CLIMATE)).movement
    assert humid.circumference_change == pytest.approx(
        2 * math.pi * 70 * 0.00274 * (HUMID - BUILD), abs=1e-3
    )


def test_a_line_does_not_move_and_an_unknown_wood_is_named() -> None:
    plan = make_plan(design([radial(wood="wallnut"), line(wood="nothing known")], climate=CLIMATE))
    assert plan.movement == ()
    (warning,) = [one for one in plan.warnings if one.code == "unknown-wood"]
    assert warning.where == "ring[1].wood"
    assert "did you mean walnut?" in warning.text()


def test_outside_the_range_of_the_figures_is_warned() -> None:
    """Eq. 13-2 holds from 6 to 14 % moisture; 30 °C and 20 % give 4.3 %."""
    climate = {**CLIMATE, "dry": {"temperature": 30, "humidity": 20.0}}
    plan = make_plan(design([radial()], climate=climate))
    assert {one.where for one in plan.warnings if one.code == "outside-range"} == {"climate.dry"}
