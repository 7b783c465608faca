"""Half trays, proved by gluing, closing, pressing and truing halves in them."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from jigs.block_solid import checked_solid
from jigs.half_tray import FAT, HalfTray, fixtures
from jigs.half_tray_press import strip_thickness
from jigs.placing import placed
from rosette.errors import Finding
from rosette.plan import Plan
from tests.jigs.fit_half_tray import plane_misfits, solid_misfits
from tests.jigs.plans import Case, sample
from tests.jigs.prove import proof_of
from tests.jigs.trays import SPACER, plan


def _trays(of: Plan) -> list[HalfTray]:
    return [one for one in fixtures(of) if isinstance(one, HalfTray)]


@cache
def _usual(**asked: object) -> HalfTray:
    (made,) = _trays(plan(**asked))
    return made


def test_halves_of_every_sort_are_glued_and_trued() -> None:
    made = [(one, of) for of in sample(9) for one in _trays(of)]
    assert len(made) > 6
    assert {one.process.name for one, _ in made} == {"fdm", "cnc", "plywood"}
    assert {bool(one.wall.pad) for one, _ in made} == {True, False}
    assert [(one.name, found) for one, of in made if (found := plane_misfits(of, one))] == []


@pytest.mark.parametrize("centreline", ["joint", "wedge"])
@pytest.mark.parametrize("spacer", ["", SPACER], ids=["no spacer", "spacers"])
def test_the_rail_stands_half_a_joint_from_the_centre(centreline: str, spacer: str) -> None:
    """With spacers of 0.5 mm and a glue line of 0 that is 0.25 mm, whatever is at 12 o'clock."""
    asked = {"segments": 10, "centreline": centreline, "spacer": spacer}
    made, of = _usual(**asked), plan(**asked)
    assert of.rings[0].wedges is not None
    assert made.rail == of.rings[0].wedges.joint / 2.0
    bed = made.parts()[0].block.outline.bounds()
    assert bed[1] == made.rail
    assert plane_misfits(of, made) == []


@pytest.mark.parametrize(
    "asked",
    [
        {"segments": 6, "spacer": SPACER, "centreline": "wedge"},
        {"segments": 24, "inner": 12, "width": 8, "soundhole": 20, "thickness": 0.9},
    ],
    ids=["six", "small and thin"],
)
def test_the_same_as_solids(asked: dict[str, object]) -> None:
    case = Case(number=0, design="", plan=plan(**asked))
    assert proof_of(case, _usual(**asked)).found == ()


def test_letters_leave_the_solid_sound() -> None:
    (lettered,) = _trays(plan(segments=12, text="true"))
    assert lettered.volume() < _usual(segments=12).volume() - 5.0
    assert checked_solid(lettered.parts()[0], lettered.name).isValid()


def _bad(**changed: Any) -> HalfTray:
    made = _usual(segments=12)
    for inner in ("wall", "pads", "floor"):
        held = getattr(made, inner)
        own = {name: changed.pop(name) for name in list(changed) if hasattr(held, name)}
        made = replace(made, **{inner: replace(held, **own)})
    return replace(made, **changed)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"distance": 71.48}, "reaches into wall or post"),
        ({"distance": 71.52}, "off the wall"),
        ({"pad": 9.4, "distance": 71.4}, "reaches into wall or post"),
        ({"post": 48.0}, "too far off the post"),
        ({"joint": 0.2}, "two true halves leave 0.2"),
        ({"joint": 0.2}, "a fat half reaches"),
        ({"fat": 0.5}, "is said"),
        ({"front": 0.2}, "off the board"),
        ({"groove": 0.4}, "reaches under a joint"),
        ({"tile_thickness": 2.3}, "the cap does not rest on the wedges"),
        ({"end": 72.0}, "pad of its own"),
        ({"front": 0.2, "side": (49.0, 76.0)}, "the bar meets the bed"),
        ({"side": (60.0, 66.0)}, "end face"),
        ({"screws": ((79.8, 9.0), (-79.8, 9.0))}, "fewer than three"),
    ],
    ids=lambda one: one if isinstance(one, str) else "-".join(one),
)
def test_a_half_tray_that_is_wrong_is_caught(changed: dict[str, Any], said: str) -> None:
    found = plane_misfits(plan(segments=12), _bad(**changed))
    assert any(said in one for one in found), found[:5]


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"distance": 71.4}, "reach into the bed"),
        ({"tile_thickness": 2.1}, "reach into the cap"),
        ({"tile_thickness": 2.3}, "does not touch the cap"),
        ({"floor_top": 8.1}, "does not touch"),
    ],
    ids=["tight", "low cap", "high cap", "high floor"],
)
def test_and_as_solids(changed: dict[str, Any], said: str) -> None:
    of, bad = plan(segments=12), _bad(**changed)
    good = _usual(segments=12)
    bodies = placed(bad)
    # the wedges stand where the right half tray has them
    assert any(said in one for one in solid_misfits(of, good, bodies))


def test_a_fat_half_gives_what_truing_takes_off() -> None:
    """Ro 72 and half a degree: 0.314 mm, docs/formulas.md; here at the corner of the blank."""
    made = _usual(segments=36)
    corner = made.side[1]
    assert made.fat == pytest.approx(corner * math.sin(math.radians(FAT / 2.0)))
    assert made.fat == pytest.approx(0.314 * corner / 72.0, abs=1e-3)
    assert f"{made.fat:.2f} mm past the rail" in made.why.text()


def test_odd_counts_have_no_halves() -> None:
    (found,) = fixtures(plan(segments=17))
    assert isinstance(found, Finding)
    assert found.code == "no-half-tray"
    assert "16 or 18 close from two halves" in found.text()
    (found,) = fixtures(plan(segments=3))
    assert isinstance(found, Finding)
    assert "3 wedges make no two equal halves" in found.text()
    assert "; 4 close from two halves" in found.text()


def test_wedges_with_nothing_to_stand_on_are_told() -> None:
    (found,) = fixtures(plan(inner=20, width=8, segments=180))
    assert isinstance(found, Finding)
    assert "nothing to stand on" in found.text()


def test_screws_are_long_enough_for_a_wing_nut() -> None:
    for of in sample(25):
        for made in _trays(of):
            screw = made.hardware()[0]
            assert screw.count == len(made.screws) >= 3
            length = float(screw.what.split(" x ")[1])
            # the head's seat lies 3.4 mm up; a wing nut M4 and a washer are 6 mm and a little
            cap_top = made.wedges_top + 1.0 + made.cap
            assert 3.4 + length > cap_top + 7.0
            assert 3.4 + length < cap_top + 20.0


def test_a_strip_bends_as_the_handbook_says() -> None:
    """Roark: a beam 10 x 10 mm, 200 mm between supports, 300 N at its middle, E 200000:
    300·200³/(48·200000·833.33) = 0.3 mm."""
    assert strip_thickness(30.0, 200.0, stiffness=200000.0, bow=0.3) == pytest.approx(10.0)
