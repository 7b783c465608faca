"""Shooting blocks, proved by laying wedges in them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from jigs.process import process_for
from jigs.shooting_block import ShootingBlock, fixtures
from jigs.shooting_block_findings import most_wedges
from rosette.errors import Finding
from rosette.plan import Plan
from tests.jigs.fit_shooting_block import plane_misfits
from tests.jigs.plans import Case, sample
from tests.jigs.prove import proof_of
from tests.jigs.trays import SPACER, plan


def _blocks(of: Plan) -> list[ShootingBlock]:
    return [one for one in fixtures(of) if isinstance(one, ShootingBlock)]


@cache
def _usual(**asked: object) -> ShootingBlock:
    (made,) = _blocks(plan(**asked))
    return made


def test_wedges_of_every_sort_are_held_and_trued_to_the_working_edge() -> None:
    made = [(one, of) for of in sample(14) for one in _blocks(of)]
    assert len(made) > 10
    assert {one.process.name for one, _ in made} == {"fdm", "cnc", "plywood"}
    assert [(one.name, found) for one, of in made if (found := plane_misfits(of, one))] == []


def _proved(of: Plan, made: ShootingBlock) -> tuple[str, ...]:
    return proof_of(Case(number=0, design="", plan=of), made).found


@pytest.mark.parametrize("asked", [{"segments": 24}, {"segments": 6, "spacer": SPACER}])
def test_the_same_as_solids(asked: dict[str, object]) -> None:
    assert _proved(plan(**asked), _usual(**asked)) == ()


def test_solids_of_the_other_ways_of_making() -> None:
    others = [(of, one) for of in sample(14) for one in _blocks(of) if one.process.bit]
    ways = {made.process.name: (of, made) for of, made in others}
    assert {name: _proved(*one) for name, one in ways.items()} == {"cnc": (), "plywood": ()}


def test_letters_leave_the_solid_sound() -> None:
    of = plan(segments=24, text="true")
    (lettered,), plain = _blocks(of), _usual(segments=24)
    assert lettered.volume() < plain.volume() - 5.0
    assert _proved(of, lettered) == ()


def _wrong(name: str, value: float) -> list[str]:
    made, of = _usual(segments=36), plan(segments=36)
    assert plane_misfits(of, made) == []
    if hasattr(made.station, name):
        station = replace(made.station, **{name: getattr(made.station, name) + value})
        return plane_misfits(of, replace(made, station=station))
    return plane_misfits(of, replace(made, **{name: getattr(made, name) + value}))


@pytest.mark.parametrize(
    ("name", "off", "said"),
    [
        ("mitre_rad", 0.001, "wedge's side is at"),
        ("far", 0.1, "wedge's side is at"),
        ("fat", 0.05, "wedge's side is at"),
        ("fence_start", 16.0, "of its side on the fence"),
        ("fence_end", 6.0, "meets the step"),
        ("stop_low", 17.0, "next to nothing against the stop"),
        ("stop_low", -3.0, "stop reaches to"),
        ("thickness", 0.5, "a bar does not lie on the wedge"),
        ("bar", 1.5, "the screw ends"),
    ],
)
def test_a_block_that_is_wrong_is_caught(name: str, off: float, said: str) -> None:
    assert any(said in one for one in _wrong(name, off))


def test_a_wedge_of_another_width_is_not_trued_to_size() -> None:
    made, of = _usual(segments=36), plan(segments=36)
    assert any("wedge's side is at" in one for one in plane_misfits(of, made, wider=0.03))


def test_wedges_too_small_to_hold_are_told_with_a_count_that_works() -> None:
    asked = {"segments": 120, "inner": 44, "width": 12}
    of = plan(**asked)
    (found,) = fixtures(of)
    assert isinstance(found, Finding)
    assert found.code == "no-shooting-block"
    ring = of.rings[0]
    assert ring.wedges is not None
    most = most_wedges(ring, ring.wedges, process_for(of.fixtures))
    assert f"at most {most} wedges" in found.text()
    assert isinstance(fixtures(plan(**{**asked, "segments": most}))[0], ShootingBlock)
    assert isinstance(fixtures(plan(**{**asked, "segments": most + 1}))[0], Finding)


def test_what_it_takes_more_of_the_strip_is_said() -> None:
    """24 wedges, 0.4 mm on each side at 7.5°: 24 · 0.8 / cos 7.5° = 19.37 mm (derived)."""
    (found,) = _usual(segments=24).warnings
    assert found.code == "shooting-block-fat"
    assert "fat by 0.40 mm on each side" in found.text()
    assert "0.81 mm wider" in found.text()
    assert "19 mm more of strip" in found.text()


def test_three_wedges_are_more_than_a_block_can_hold() -> None:
    (found,) = fixtures(plan(segments=3))
    assert isinstance(found, Finding)
    assert "fence at 120°" in found.text()


def test_what_no_block_can_be_made_for_is_told() -> None:
    usual = plan(segments=24)
    (ring,) = usual.rings
    for asked, said in (
        ({"rings": (replace(ring, tile_thickness=25.0),)}, "no clamp reaches"),
        ({"rings": (replace(ring, tile_thickness=0.5),)}, "the least that a fence holds"),
        ({"fixtures": replace(usual.fixtures, process="cnc", bit_diameter=9.0)}, "8 mm or less"),
        ({"fixtures": replace(usual.fixtures, clearance=0.8)}, "its stop would rattle"),
    ):
        (found,) = fixtures(replace(usual, **asked))
        assert isinstance(found, Finding)
        assert found.code == "no-shooting-block"
        assert said in found.text()
