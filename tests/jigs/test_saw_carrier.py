"""Sawing carriers: what their blade takes off the strip is the plan's wedge; hands stay away."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from jigs.base import Fixture
from jigs.block_solid import checked_solid
from jigs.placing import placed
from jigs.saw_carrier import SawCarrier, fixtures
from jigs.saw_carrier_screws import bar_fit
from rosette.errors import Finding
from rosette.plan import Plan
from tests.jigs.fit_saw_carrier import plane_misfits, solid_misfits
from tests.jigs.plans import sample
from tests.jigs.trays import SPACER, plan


@cache
def _carrier(**asked: object) -> SawCarrier:
    (made,) = fixtures(plan(**asked))
    assert isinstance(made, SawCarrier)
    return made


def _of(**asked: object) -> Plan:
    return plan(**{"segments": 12, **asked})


def test_carriers_of_every_sort_saw_the_plans_wedges() -> None:
    made = [(of, one) for of in sample(7) for one in fixtures(of) if isinstance(one, Fixture)]
    assert len(made) > 6
    assert len({of.fixtures.process for of, _ in made}) == 3
    for of, one in made:
        assert isinstance(one, SawCarrier)
        assert (one.name, plane_misfits(of, one)) == (one.name, [])


def test_the_same_as_solids() -> None:
    asked: dict[str, object] = {"segments": 12, "spacer": SPACER}
    made = _carrier(**asked)
    assert solid_misfits(plan(**asked), made, placed(made)) == []


def test_letters_leave_the_parts_sound() -> None:
    of = replace(_of(), fixtures=replace(_of().fixtures, text=True))
    (made,) = fixtures(of)
    assert isinstance(made, SawCarrier)
    assert made.volume() < _carrier(segments=12).volume()
    for part in made.parts():
        if part.name in ("tie", "guard"):
            assert checked_solid(part, made.name).isValid()


def _bad(**changed: Any) -> SawCarrier:
    made = _carrier(segments=12)
    frame = {name: value for name, value in changed.items() if hasattr(made.frame, name)}
    fit = {name: value for name, value in changed.items() if name in ("width_", "ledge", "track")}
    others = {k: v for k, v in changed.items() if k not in frame and k not in fit}
    bar = replace(made.bar, **{name.removesuffix("_"): value for name, value in fit.items()})
    return replace(made, frame=replace(made.frame, **frame), bar=bar, **others)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"mitre": 15.05}, "edge of the wedge is"),
        ({"mitre": 14.95}, "edge of the wedge is"),
        ({"end": 39.0}, "wide edge of the wedge"),
        ({"height": 15.0}, "in the strip's way"),
        ({"stand_off": 8.0}, "may trap it"),
        ({"left": 80.0}, "rail is"),
        ({"y_guard": -60.0}, "covers"),
        ({"width_": 18.75}, "stands off by"),
        ({"track": 7.9}, "nut does not go"),
        ({"thickness": 4.5}, "holder"),
        ({"tall": 20.0}, "above the blade"),
    ],
    ids=lambda one: "" if isinstance(one, str) else "-".join(map(str, one)),
)
def test_a_carrier_that_is_wrong_is_caught(changed: dict[str, Any], said: str) -> None:
    found = plane_misfits(_of(), _bad(**changed))
    assert any(said in one for one in found), found


def test_a_handbooks_ring_of_twelve_is_cut_at_fifteen_degrees() -> None:
    """12 wedges, mitre 15°: a common table in segmented work."""
    assert _carrier(segments=12).frame.mitre == pytest.approx(15.0)
    assert [part.name for part in _carrier(segments=12).parts()][-1] == "set-block"


def test_no_screw_reaches_the_saws_table() -> None:
    for of in sample(20):
        for made in fixtures(of):
            if not isinstance(made, SawCarrier):
                continue
            for height, least in ((made.facing_height, 0.0), (made.tall, 0.0), (32.0, 5.3)):
                length, sunk = made.screw(height, least=least)
                assert made.base + height - sunk - length == pytest.approx(0.5)
                assert least <= sunk < height - 4.0
            bar = made.bar
            top = bar.sink - bar.height + bar.length
            assert bar.ledge + 2.0 < top < made.base


@pytest.mark.parametrize(
    ("asked", "wishes", "where"),
    [
        ({"segments": 3}, {}, "ring[1].segments"),
        ({}, {"bar_width": 8.0}, "fixtures.bar_width"),
        ({}, {"bar_depth": 5.0}, "fixtures.bar_width"),
    ],
)
def test_where_there_is_none_it_says_why(
    asked: dict[str, object], wishes: dict[str, Any], where: str
) -> None:
    of = _of(**asked)
    (found,) = fixtures(replace(of, fixtures=replace(of.fixtures, **wishes)))
    assert isinstance(found, Finding)
    assert (found.code, found.where) == ("no-saw-carrier", where)


def test_a_small_slot_takes_a_thinner_screw() -> None:
    from jigs.process import process_for

    wishes = _of().fixtures
    threads = [
        fit.thread
        for width, depth in ((19.05, 9.5), (15.9, 6.35), (11.0, 8.0))
        if (fit := bar_fit(replace(wishes, bar_width=width, bar_depth=depth), process_for(wishes)))
    ]
    assert threads == [5, 3, 4]
