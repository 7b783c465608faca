"""Cauls, proved by setting them on the wedges in their tray; their thickness by other means."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from jigs.block_solid import checked_solid
from jigs.caul import Caul, fixtures
from jigs.caul_press import (
    BOW,
    PRESSURE,
    STIFFNESS,
    force_for,
    slope_at_support,
    thickness_against_bow,
)
from jigs.placing import placed
from rosette.errors import Finding
from rosette.plan import Plan
from tests.jigs.fit_caul import plane_misfits, solid_misfits
from tests.jigs.plans import Case, sample
from tests.jigs.prove import proof_of
from tests.jigs.trays import SPACER, plan


def _cauls(of: Plan) -> list[Caul]:
    return [one for one in fixtures(of) if isinstance(one, Caul)]


@cache
def _usual(**asked: object) -> Caul:
    (made,) = _cauls(plan(**asked))
    return made


def _proved(of: Plan, made: Caul) -> tuple[str, ...]:
    return proof_of(Case(number=0, design="", plan=of), made).found


def test_cauls_of_every_sort_press_every_wedge_and_nothing_else() -> None:
    made = [(one, of) for of in sample(12) for one in _cauls(of)]
    assert len(made) > 10
    assert {one.process.name for one, _ in made} == {"fdm", "cnc", "plywood"}
    assert [(one.name, found) for one, of in made if (found := plane_misfits(of, one))] == []


@pytest.mark.parametrize(
    "asked",
    [
        {"segments": 6, "spacer": SPACER},
        {"segments": 8, "inner": 6, "width": 8, "soundhole": 10, "thickness": 0.9},
    ],
    ids=["six", "tiny and thin"],
)
def test_the_same_as_solids(asked: dict[str, object]) -> None:
    assert _proved(plan(**asked), _usual(**asked)) == ()


def test_letters_leave_the_solid_sound() -> None:
    of = plan(segments=12, text="true")
    (lettered,) = _cauls(of)
    assert lettered.volume() < _usual(segments=12).volume() - 5.0
    (part,) = lettered.parts()
    assert checked_solid(part, lettered.name).isValid()


def _bad(**changed: Any) -> Caul:
    made = _usual(segments=12)
    pads = {name: value for name, value in changed.items() if hasattr(made.pads, name)}
    others = {name: value for name, value in changed.items() if name not in pads}
    return replace(made, pads=replace(made.pads, **pads), **others)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"groove": 0.5}, "reaches to its joint"),
        ({"start": 54.0}, "from the wedge's ends"),
        ({"end": 72.0}, "over wall or post"),
        ({"end": 70.0}, "from the wedge's ends"),
        ({"hole": 6.0}, "the bolt stands off"),
        ({"bolt": 5}, "the caul is for M5"),
        ({"sights": ((5.0, 75.0), (0.0, -75.0))}, "mark on the tray's rim"),
        ({"radius": 78.0}, "no finger"),
        ({"axes": tuple(30.0 * i + 10.0 for i in range(12))}, "no pad of its own"),
        ({"axes": tuple(30.0 * i + 15.0 for i in range(11))}, "11 pads for 12 wedges"),
    ],
    ids=lambda one: "" if isinstance(one, str) else "-".join(map(str, one))[:12],
)
def test_a_caul_that_is_wrong_is_caught(changed: dict[str, Any], said: str) -> None:
    assert any(said in one for one in plane_misfits(plan(segments=12), _bad(**changed)))


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"rest": 7.15}, "reaches into the wedges"),
        ({"rest": 7.25}, "off a wedge"),
        ({"spare": 1.6}, "let the caul down on the tray"),
        ({"groove": 0.5}, "no relief over the joints"),
    ],
    ids=["low", "high", "thin", "no relief"],
)
def test_and_as_a_solid(changed: dict[str, Any], said: str) -> None:
    bad = _bad(**changed)
    assert any(said in one for one in solid_misfits(plan(segments=12), bad, placed(bad)))


def test_the_slope_of_a_plate_is_that_of_its_differential_equation() -> None:
    """φ'' + φ'/r - φ/r² = -P/(2πrD), φ the slope: the equation of a plate bent into a dish.

    Solved on a grid with φ = 0 at the middle and no radial moment at the support, φ' + νφ/r = 0.
    """
    force, radius, thickness, stiffness, poisson = 900.0, 62.0, 12.0, 2000.0, 0.35
    rigidity = stiffness * thickness**3 / (12 * (1 - poisson**2))
    r = np.linspace(0.0, radius, 501)
    h, last = r[1], len(r) - 1
    matrix, right = np.zeros((len(r), len(r))), np.zeros(len(r))
    matrix[0, 0] = 1.0
    for i in range(1, last):
        matrix[i, i - 1 : i + 2] = (
            1 / h**2 - 1 / (2 * h * r[i]),
            -2 / h**2 - 1 / r[i] ** 2,
            1 / h**2 + 1 / (2 * h * r[i]),
        )
        right[i] = -force / (2 * np.pi * r[i] * rigidity)
    matrix[last, last - 2 :] = (0.5 / h, -2 / h, 1.5 / h + poisson / radius)
    slope = np.linalg.solve(matrix, right)[last]
    found = slope_at_support(force, radius, thickness, stiffness=stiffness, poisson=poisson)
    assert found == pytest.approx(slope, rel=1e-3)


def test_cauls_are_thick_enough_and_bolts_strong_enough() -> None:
    for of in sample(25):
        for made in _cauls(of):
            ring = next(one for one in of.wedge_rings if made.name == f"ring-{one.index}-caul")
            assert ring.wedges is not None
            blank = ring.wedges.blank
            mean = (blank.inner_distance + blank.outer_distance) / 2
            stiffness = STIFFNESS[made.process.name]
            slope = slope_at_support(made.force, mean, made.thickness, stiffness=stiffness)
            assert slope * blank.height <= BOW + 1e-9
            assert made.force == force_for(ring.wedges, made.bolt)
            whole = PRESSURE * ring.wedges.segments * blank.outline().area()
            assert abs(whole) >= made.force - 1e-6


def test_a_plate_twice_as_thick_is_eight_times_as_stiff() -> None:
    one = slope_at_support(500, 60, 8, stiffness=2000)
    assert slope_at_support(500, 60, 16, stiffness=2000) == pytest.approx(one / 8)
    assert thickness_against_bow(500, 60, one, process="fdm") == pytest.approx(8.0)


def test_the_bolt_is_long_enough() -> None:
    for of in sample(25):
        for made in _cauls(of):
            if made.bolt:
                bolt = made.hardware()[0].what
                length = float(bolt.split(" x ")[1])
                # an 18 mm board, tray and wedges, the caul, two washers, the nut
                upper = made.rest + made.backing + made.thickness + 1.0
                assert length > 18.0 + upper + 0.8 + made.bolt * 0.8, bolt


def test_no_tray_no_caul() -> None:
    (found,) = fixtures(plan(clearance=1.5))
    assert isinstance(found, Finding)
    assert found.code == "no-caul"
    assert "glue-up tray" in found.text()


def test_a_post_without_a_hole_leaves_the_bolt_out_and_says_so() -> None:
    of = plan(segments=6, inner=5, width=8, soundhole=8)
    (made,) = _cauls(of)
    assert (made.bolt, made.hole, made.hardware()) == (0, 0.0, ())
    assert [one.code for one in made.warnings] == ["caul-no-bolt"]
    assert plane_misfits(of, made) == []
