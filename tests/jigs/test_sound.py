"""Steps that can't be a solid are told by place and size; and so is what else the kernel does."""

from __future__ import annotations

import re
from typing import Any

import pytest
from shapely.geometry import Polygon

from jigs import block_solid as kernel_side
from jigs.base import FixtureError, Part
from jigs.block_solid import block_solid, checked_solid, problem_of
from jigs.crossing import Loop, meeting, own_crossing
from jigs.faults import first_fault
from jigs.sound import problems
from jigs.terrace import Block, Step
from rosette.geometry.outline import circle, polygon
from tests.jigs.several import STAND, box
from tests.jigs.trays import tray


def _step(outline: Any, top: float, *steps: Step) -> Step:
    return Step(outline=outline, top=top, steps=steps)


def _block(*steps: Step, under: tuple[Step, ...] = (), chamfer: float = 0.0) -> Block:
    return Block(outline=box(10, 10), top=3.0, steps=steps, under=under, chamfer=chamfer)


WRONG: dict[str, tuple[Block, str]] = {
    "across an edge": (
        _block(_step(box(2, 2, 5), 1.0)),
        r"step at height 1.00 mm \(2.00 mm by 2.00 mm, its middle at x 5.00 mm, y 0.00 mm\) leaves"
        r" the part's outline, at x 5.00 mm, y -?1.00 mm",
    ),
    "outside": (_block(_step(box(4, 4, 20), 1.0)), "leaves the part's outline, at x 18.00 mm"),
    "touching the edge": (_block(_step(circle(1, (4, 0)), 0.0)), r"2.00 mm across.*leaves"),
    "across each other": (
        _block(_step(box(2, 2), 1.0), _step(box(2, 2, 1), 2.0)),
        "meets the step at height 2.00 mm",
    ),
    "in each other": (
        _block(_step(box(4, 4), 1.0), _step(box(2, 2), 1.0)),
        "meets the step at height 1.00 mm",
    ),
    "out of a pocket": (
        _block(_step(box(4, 4), 1.0, _step(circle(1.5, (1, 0)), 2.0))),
        "leaves the step at height 1.00 mm",
    ),
    "nothing": (_block(_step(polygon([(0, 0), (0, 0), (0, 0)]), 0.0)), "goes round nothing"),
    "a bow tie": (
        _block(_step(polygon([(0, 0), (1, 1), (1, 0), (0, 2)]), 0.0)),
        "crosses itself, at x 0.67 mm, y 0.67 mm",
    ),
    "in the broken edge": (
        _block(_step(circle(1, (3.9, 0)), 0.0), chamfer=0.2),
        "reaches into the broken bottom edge",
    ),
    "a pocket through a pocket": (
        _block(_step(circle(2), 1.0), under=(_step(circle(1), 2.0),)),
        "is not above the underside in the step at height 2.00 mm",
    ),
    "a hole past a pocket's floor": (
        _block(_step(circle(1), 0.0), under=(_step(circle(2), 2.0),)),
        "not above",
    ),
    "a hole half out of a pocket": (
        _block(_step(circle(1, (1.5, 0)), 2.0), under=(_step(circle(2), 2.0),)),
        "not above",
    ),
    "deeper than the block": (_block(_step(circle(1), -1.0)), "not above"),
}
SOUND = {
    "a hole into a pocket": _block(_step(circle(1), 2.0), under=(_step(circle(2), 2.0),)),
    "a hole through a foot": _block(_step(circle(1), -1.0), under=(_step(circle(2), -1.0),)),
    "an island over a pocket": _block(
        _step(circle(4), 1.0, _step(circle(2), 3.0)), under=(_step(circle(1), 2.0),)
    ),
    "clear of the broken edge": _block(_step(circle(1, (3.7, 0)), 0.0), chamfer=0.2),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_is_in_the_way_is_named(name: str) -> None:
    block, words = WRONG[name]
    found = problems(block)
    assert found
    assert re.search(words, found[0].text("mm"))


@pytest.mark.parametrize("name", SOUND)
def test_what_the_kernel_makes_is_sound(name: str) -> None:
    assert problems(SOUND[name]) == ()
    assert problem_of(block_solid(SOUND[name]), SOUND[name].volume()) == ""


def test_the_kernel_refuses_what_is_not_sound() -> None:
    part = Part(name="plate", title="", block=WRONG["across an edge"][0])
    with pytest.raises(FixtureError, match="ring-1-x, plate: the step at") as caught:
        checked_solid(part, "ring-1-x")
    assert caught.value.exit_code == 1
    first, last = caught.value.findings
    assert first.code == "fixture-solid"
    assert "x 0.197 in (13/64)" in first.text("in")
    assert "give it more room" in last.text()


def test_what_the_kernel_throws_is_told_with_part_and_size(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(_: Block) -> Any:
        raise RuntimeError("BRep_API: command not done\nmore")

    monkeypatch.setattr(kernel_side, "block_solid", fails)
    part = Part(name="plate", title="", block=_block())
    with pytest.raises(FixtureError) as caught:
        checked_solid(part, "ring-1-x")
    (said,) = caught.value.findings
    assert said.text() == (
        "ring-1-x, plate: the part of 10.00 mm by 10.00 mm, 3.00 mm high, could not be made: the"
        " CAD kernel failed (BRep_API: command not done); nothing was written; change one of its"
        " sizes a little, by 0.1 mm, or leave this fixture out of kinds under [fixtures]"
    )


def test_the_face_that_is_not_sound_is_found() -> None:
    assert first_fault(block_solid(_block())) == ""
    crossing = block_solid(WRONG["across each other"][0])
    assert re.match(r"(a face|an edge) about \(.*\) mm is not sound", first_fault(crossing))


def test_meetings_are_those_that_shapely_finds() -> None:
    """Circles and squares at many distances, a hair apart and a hair across."""
    for x in (0.0, 0.9, 0.999, 1.001, 2.0, 2.9, 2.999, 3.001, 4.0):
        for a, b in ((circle(1), circle(2, (x, 0))), (box(2, 2), circle(2, (x, 0.1)))):
            one, other = Loop.of(a), Loop.of(b)
            rings = Polygon(one.points).exterior, Polygon(other.points).exterior
            assert (meeting(one, other) is not None) is (rings[0].distance(rings[1]) < 1e-4)


def test_only_outlines_that_cross_themselves_do() -> None:
    star = [(0, 3), (2, -2), (-3, 1), (3, 1), (-2, -2)]
    assert not Polygon(star).is_simple or not Polygon(star).is_valid
    assert own_crossing(Loop.of(polygon(star))) is not None
    assert own_crossing(Loop.of(circle(40))) is None


def test_letters_are_sound_too() -> None:
    assert problems(tray(segments=6, text="true").block()) == ()
    assert [problems(part.block) for part in STAND.parts()] == [(), (), ()]
