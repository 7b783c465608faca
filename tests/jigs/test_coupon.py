"""The fit coupon: plug and pin tried in it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from jigs.block_solid import checked_solid
from jigs.coupon import ALLOWANCES, Coupon, fixtures
from jigs.coupon_shape import parts
from jigs.placing import placed
from rosette.errors import Finding
from rosette.plan import Plan
from tests.jigs.fit_coupon import marks, misfits, rooms_amiss
from tests.jigs.plans import Case, sample
from tests.jigs.prove import proof_of
from tests.jigs.trays import plan


def _coupon(of: Plan) -> Coupon:
    (made,) = fixtures(of)
    assert isinstance(made, Coupon)
    return made


def _ways() -> dict[str, Plan]:
    return {of.fixtures.process: of for of in sample(8)}


@pytest.mark.parametrize("way", ["fdm", "cnc", "plywood"])
def test_plug_and_pin_stand_off_by_what_the_slots_say(way: str) -> None:
    of = _ways()[way]
    assert proof_of(Case(number=0, design="", plan=of), _coupon(of)).found == ()


def test_slots_grow_evenly_from_the_tightest_to_the_loosest() -> None:
    steps = [round(b - a, 9) for a, b in pairwise(ALLOWANCES)]
    assert steps == [0.05] * 8
    made = _coupon(_ways()["cnc"])
    assert [marks(made, number) for number in range(9)] == list(range(1, 10))


def test_a_plug_or_a_pin_of_another_size_is_caught() -> None:
    made = _coupon(_ways()["cnc"])
    assert rooms_amiss(made, made) == []
    for name, said in (("width", "plug"), ("pin", "pin")):
        wrong = replace(made, **{name: getattr(made, name) + 0.04})
        found = rooms_amiss(made, wrong)
        assert len(found) == 9
        assert all(one.startswith(f"the {said} stands off") for one in found)


def test_a_plug_that_does_not_go_in_is_caught_as_a_solid() -> None:
    of = _ways()["cnc"]
    made = _coupon(of)
    tight = replace(made, width=made.width + 0.2, process=replace(made.process, bit=0.0))
    found = misfits(of, made, [placed(made)[0], *placed(tight)[1:]])
    assert [one[:16] for one in found] == ["the plug reaches"]


def test_every_bit_that_is_let_through_leaves_a_sound_plate() -> None:
    for bit in (1.5, 3.175, 6.35, 12.7):
        wishes = replace(_ways()["cnc"].fixtures, bit_diameter=bit)
        of = replace(_ways()["cnc"], fixtures=wishes)
        made = _coupon(of)
        assert made.width >= 1.8 * bit
    wishes = replace(wishes, bit_diameter=13.0)
    (found,) = fixtures(replace(of, fixtures=wishes))
    assert isinstance(found, Finding)
    assert "12.70 mm or less" in found.text()


def test_letters_say_hundredths() -> None:
    of = plan(segments=24, text="true")
    made = _coupon(of)
    assert made.text
    plate = parts(made)[0]
    assert [marks(made, number) for number in range(9)] == [2] * 9
    checked_solid(plate, made.name)
