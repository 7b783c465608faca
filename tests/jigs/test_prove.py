"""A plan of some kinds through the whole proof, and that the proof does see what is wrong.

A hundred plans a kind: `python -m tests.jigs.prove`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

import jigs
from jigs.base import Fixture, Part
from jigs.terrace import Step
from jigs.tray import Tray
from rosette.geometry.outline import circle
from tests.jigs.plans import Case, case_of, cases, sample
from tests.jigs.prove import fit_of, main, proof_of

EACH = 1
"""Plans that every kind is proved on here; solids take seconds."""


def _some(kind: str) -> Iterator[tuple[Case, Fixture]]:
    """The first fixture of a few plans, other ones for every kind."""
    start = 7 * list(jigs.KINDS).index(kind)
    found = 0
    for case in cases(50, start):
        made = jigs.fixtures(case.plan, [kind])
        if made:
            found += 1
            yield case, made[0]
        if found == EACH:
            return
    raise AssertionError(f"only {found} of fifty plans have a {kind}")


@pytest.mark.parametrize("kind", ["coupon", "gauges", "tray"])
def test_a_kind_holds_its_mates(kind: str) -> None:
    """Three kinds stand for all in the frame; each kind's own tests lay its mates in it."""
    for case, fixture in _some(kind):
        proof = proof_of(case, fixture)
        assert (str(case), proof.found) == (str(case), ())
        assert proof.bodies == sum(len(part.places) for part in fixture.parts())


@pytest.mark.parametrize("kind", jigs.KINDS)
def test_every_kind_can_be_proved(kind: str) -> None:
    assert callable(fit_of(kind))


def _tray() -> tuple[Case, Tray]:
    case = case_of(1)
    (made,) = jigs.fixtures(case.plan, ["tray"])
    assert isinstance(made, Tray)
    return case, made


def test_a_fixture_that_does_not_fit_is_told() -> None:
    case, made = _tray()
    proof = proof_of(case, replace(made, wall=made.wall - 0.05))
    assert any("outer end" in one for one in proof.found)


def test_a_part_that_can_not_be_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    case, made = _tray()
    (part,) = made.parts()
    far = Step(outline=circle(3.0, (500.0, 0.0)), top=1.0)
    block = replace(part.block, steps=(*part.block.steps, far))
    monkeypatch.setattr(Tray, "parts", lambda _: (replace(part, block=block),))
    assert any("leaves the part's outline" in one for one in proof_of(case, made).found)


def test_parts_that_can_not_be_told_apart_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    case, made = _tray()
    (part,) = made.parts()
    twin: Part = replace(part, name="other", places=())
    monkeypatch.setattr(Tray, "parts", lambda _: (part, twin))
    assert proof_of(case, made).found == (
        "two parts have the same title",
        "other stands nowhere",
    )


def test_a_sum_is_printed_and_wrong_ones_end_with_1(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["tray", "--plans", "1", "--first", "1"]) == 0
    assert capsys.readouterr().out.splitlines()[-1].split()[:4] == ["tray", "1", "1", "1"]

    def wrong(*_: Any) -> list[str]:
        return ["it rattles"]

    monkeypatch.setattr("tests.jigs.fit_tray.misfits", wrong)
    assert main(["tray", "--plans", "1", "--first", "1"]) == 1
    assert "    it rattles\n" in capsys.readouterr().out


def test_plans_are_the_same_each_time_and_of_every_sort() -> None:
    made = [case.plan for case in cases(100)]
    assert [one.design for one in cases(3)] == [one.design for one in cases(3)]
    case_of.cache_clear()
    assert [case.plan for case in cases(3)] == made[:3]
    assert {3, 4, 5, 6, 12, 24, 36, 90, 120} <= {
        ring.wedges.segments for one in made for ring in one.wedge_rings if ring.wedges
    }
    ways = Counter((one.fixtures.process, _centre(one)) for one in made)
    assert len(ways) == 6
    assert min(ways.values()) >= 10
    assert {one.units for one in made} == {"mm", "in"}
    assert {len(one.wedge_rings) for one in made} == {1, 2}
    assert {len(one.channels) for one in made} == {1, 2, 3}
    assert {one.fixtures.process for one in sample(6)} == {"fdm", "cnc", "plywood"}


def _centre(plan: Any) -> str:
    return str(plan.wedge_rings[0].wedges.at_centreline)
