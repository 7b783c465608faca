"""No words of a sheet run into each other, are struck through, too small or cut off."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from rosette.geometry.outline import line
from rosette.plan.model import Plan
from rosette.sheets import channel, gauges, saw, wedge
from rosette.sheets.drawing import Drawing, Stroke, Text
from rosette.sheets.frame import PAPERS, room
from tests.sheets.hard_plans import RINGS, bare, plan
from tests.sheets.looking import outside, overlaps, struck, texts

SMALLEST = 1.8
"""Capitals lower than this (mm) can't be read at a bench."""


def sheets(of: Plan) -> Iterator[Drawing]:
    for module in (wedge, saw, gauges, channel):
        yield from module.drawings(of)


TOO_LARGE = ("3 wedges", "a large ring")
"""Their blanks or channels are wider than a page; their sheets are parted."""
CASES = [(name, units) for name in RINGS for units in ("mm", "in")]


@pytest.mark.parametrize(("name", "units"), CASES)
def test_every_word_can_be_read(name: str, units: str) -> None:
    for drawing in sheets(plan(name, units)):
        assert overlaps(drawing) == [], drawing.name
        assert list(struck(drawing)) == [], drawing.name
        assert outside(drawing) == [], drawing.name
        assert min(one.height for one in texts(drawing)) >= SMALLEST, drawing.name


@pytest.mark.parametrize("name", RINGS)
def test_so_it_is_without_a_fingerboard_or_allowances(name: str) -> None:
    for drawing in sheets(bare(name)):
        assert overlaps(drawing) == [], drawing.name
        assert list(struck(drawing)) == [], drawing.name
        assert outside(drawing) == [], drawing.name


def test_the_looking_can_fail() -> None:
    a = Text(text="18.00", at=(0.0, 0.0))
    b = Text(text="12.00", at=(5.0, 1.0))
    drawing = Drawing(name="x", title="", purpose="", bounds=(0.0, 0.0, 9.0, 9.0), elements=(a, b))
    assert overlaps(drawing) == ["'18.00' and '12.00'"]
    assert outside(drawing) == ["18.00", "12.00"]
    crossed = drawing.with_elements(Stroke(outline=line((0.0, 1.0), (3.0, 1.0)), layer="note"))
    assert list(struck(crossed)) == ["18.00"]


@pytest.mark.parametrize("name", [name for name in RINGS if name not in TOO_LARGE])
def test_usual_rings_stand_on_one_page_a_sheet(name: str) -> None:
    for paper in ("a4", "letter"):
        left, bottom, right, top = room(*PAPERS[paper])
        for units in ("mm", "in"):
            for drawing in sheets(plan(name, units)):
                assert drawing.width <= right - left, (drawing.name, paper, units)
                assert drawing.height <= top - bottom, (drawing.name, paper, units)


def test_names_of_sheets_are_their_own() -> None:
    for name in RINGS:
        found = [drawing.name for drawing in sheets(plan(name))]
        assert len(found) == len(set(found))
