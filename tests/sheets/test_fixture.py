"""The drawings of fixtures: what is cut, what is hidden, what every size says, and how they look.

Areas are held against shapely and the volume formula, sizes against the lines that show them.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

import jigs
from jigs.base import Check, Place
from jigs.terrace import Block, Step
from rosette.geometry.outline import circle
from rosette.plan.model import Plan
from rosette.sheets.drawing import Drawing, Stroke, Text
from rosette.sheets.fixture import drawing, drawings
from rosette.sheets.fixture_cut import cut_of, seen_beyond
from rosette.sheets.fixture_measures import numbered, on_its_own
from rosette.sheets.fixture_plan import assembly_plan, part_plan
from rosette.sheets.fixture_stood import stood, walk
from rosette.sheets.frame import TitleBlock, pages
from tests.jigs.plans import case_of
from tests.sheets.looking import outside, overlaps, struck, texts
from tests.sheets.press import PRESS, alone, box, lid, plate

LEAST_CAPITAL = 2.5
PLANS = (0, 5)


@cache
def _plan(number: int) -> Plan:
    return case_of(number).plan


@cache
def _sheets(number: int, units: Any) -> tuple[tuple[jigs.base.Fixture, Drawing], ...]:
    plan = replace(_plan(number), units=units)
    made = [one for kind in jigs.KINDS for one in jigs.fixtures(plan, [kind])[:1]]
    return tuple((one, sheet) for one in (PRESS, *made) for sheet in drawings(one, plan))


EVERY = [(number, units) for number, units in zip(PLANS, ("mm", "in"), strict=True)]


# What is cut.


@pytest.mark.parametrize("block", [plate(), lid()], ids=["plate", "lid"])
@pytest.mark.parametrize("place", [Place(), Place(x=4, z=2, turn=30, over=True)], ids=str)
def test_slices_add_up_to_the_volume(block: Block, place: Place) -> None:
    """Cut every tenth of a millimetre: the slices' areas, by shapely, hold the block's volume."""
    (part,) = stood(alone(block, place=place).parts())
    total, step = 0.0, 0.2
    for i in range(-1000, 1000):
        y = (i + 0.5) * step
        cut = cut_of(part, ((0.0, y), (1.0, y)))
        for shape in cut.shapes if cut else ():
            total += Polygon(shape).area * step
    assert total == pytest.approx(block.volume(), rel=1e-3)


def test_a_cut_has_the_heights_of_the_block() -> None:
    (part,) = stood(alone(plate()).parts())
    cut = cut_of(part, ((-80.0, 0.0), (80.0, 0.0)))
    assert cut is not None
    met = [
        (round(one.start - 80, 6), round(one.end - 80, 6), one.low, one.high) for one in cut.slabs
    ]
    assert met == [
        (-80, -40, 0, 10), (-40, -8, 0, 4), (-8, -3.3, 0, 7), (3.3, 8, 0, 7), (8, 40, 0, 4),
        (40, 80, 0, 10),
    ]  # fmt: skip
    first, second = sorted(cut.shapes)
    assert (80 - 80, 0.4) in first  # the edge broken at 45°
    assert (0.4, 0.0) in first
    assert (160.0, 0.4) in second


def test_beyond_a_bore_its_rims_are_seen_but_not_behind_another_part() -> None:
    pin = replace(alone(Block(outline=box(-2, -2, 2, 2), top=9.0)).parts()[0])
    (whole,) = stood(alone(plate()).parts())
    line = ((-80.0, 0.0), (80.0, 0.0))
    cuts = [cut_of(whole, line)]
    cuts += [cut_of(one, line) for one in stood([pin])]
    rims = [
        (round(a - 80, 6), round(b - 80, 6), z) for a, b, z in seen_beyond([c for c in cuts if c])
    ]
    assert (-40, 40, 10) in rims
    assert [one for one in rims if one[2] == 7] == [(-3.3, -2, 7), (2, 3.3, 7)]


# What is hidden.


def test_what_the_underside_holds_is_dashed_until_it_is_turned_up() -> None:
    for over in (False, True):
        (part,) = stood(alone(lid(), place=Place(over=over)).parts())
        strokes = [one for one in part_plan(part, 1.0) if isinstance(one, Stroke)]
        dashed = {one.outline.bounds() for one in strokes if one.layer == "hidden"}
        pocket = (-70.0, -5.0, -45.0, 5.0)
        assert dashed == (set() if over else {pocket})
        assert len(strokes) == 1 + 1 + 4 + 1


def test_put_together_only_what_is_on_top_is_drawn() -> None:
    """The plate shows in the lid's window, and at the lid's corner that is cut off."""
    parts = stood(PRESS.parts())
    elements = assembly_plan(parts[:2])
    chains = [one.outline for one in elements if isinstance(one, Stroke) and not one.outline.closed]
    drawn = {(p, q) for chain in chains for p, q in pairwise(chain.points())}
    corner = [s for s in drawn if all(x >= 50 and y >= 20 for x, y in s)]
    assert sum(math.dist(*s) for s in corner) == pytest.approx(30 + 30, abs=0.2)
    assert any(
        isinstance(one, Stroke) and one.outline.bounds() == (-8, -8, 8, 8) for one in elements
    )
    recess = [s for s in drawn if all(abs(y) == 20 and abs(x) <= 40 for x, y in s)]
    assert recess == []


# What the sizes say.


@pytest.mark.parametrize(("number", "units"), EVERY)
def test_every_check_stands_on_a_drawing_and_in_the_table(number: int, units: str) -> None:
    fixtures = {fixture.name: fixture for fixture, _ in _sheets(number, units)}
    assert len(fixtures) > 3
    for name, fixture in fixtures.items():
        words = [one.text for made, sheet in _sheets(number, units) if made.name == name
                 for one in texts(sheet)]  # fmt: skip
        for place, check in enumerate(fixture.checks(), start=1):
            shown = [one for one in words if one.startswith(f"{place})")]
            assert len(shown) == 1, (name, check)
            assert check.what.split()[0] in " ".join(words)


@pytest.mark.parametrize("number", PLANS)
def test_every_check_is_as_long_as_the_way_between_its_ends(number: int) -> None:
    for fixture in {one.name: one for one, _ in _sheets(*EVERY[PLANS.index(number)])}.values():
        for check in fixture.checks():
            far = math.dist(*check.ends) if check.ends else None
            tall = abs(check.heights[0] - check.heights[1]) if check.heights else None
            assert (far is None) != (tall is None), check
            assert check.size == pytest.approx(far if tall is None else tall, abs=1e-3), check
            assert check.heights is None or check.at is not None


@pytest.mark.parametrize("number", PLANS)
def test_every_check_is_taken_from_edge_to_edge_or_from_face_to_face(number: int) -> None:
    """In the coordinates of its part: its ends lie on outlines, its heights are those of faces."""
    for fixture in {one.name: one for one, _ in _sheets(*EVERY[PLANS.index(number)])}.values():
        everywhere = stood(fixture.parts())
        for one in numbered(fixture):
            places = [each for each in everywhere if each.part.name == one.check.part]
            check, alone_ = on_its_own(one, places), places[0].alone()
            edges = unary_union([LineString([*ring, ring[0]]) for ring in alone_.rings])
            for end in check.ends or ():
                assert edges.distance(Point(end)) < 0.05, (fixture.name, one)
            faces = {0.0, alone_.block.top, *(s.top for s in walk(alone_.block.steps)),
                     *(s.top for s in walk(alone_.block.under))}  # fmt: skip
            for height in check.heights or ():
                assert min(abs(height - face) for face in faces) < 1e-6, (fixture.name, one)


def test_a_dimension_line_is_as_long_as_its_size() -> None:
    """True to the scale that the sheet names."""
    for fixture, sheet in _sheets(*EVERY[0]):
        scale = (
            float(sheet.document_type.rpartition(":")[2] or 1) if ":" in sheet.document_type else 0
        )
        if not scale:
            continue
        lengths = [
            math.dist(*one.outline.points())
            for one in sheet.elements
            if isinstance(one, Stroke) and one.layer == "dimension" and not one.outline.closed
        ]
        checks = dict(enumerate(fixture.checks(), start=1))
        for text in texts(sheet):
            head = text.text.partition(") ")[0]
            check = checks.get(int(head)) if text.layer == "dimension" and head.isdigit() else None
            if check is not None and check.ends:
                assert min(abs(one - check.size / scale) for one in lengths) < 2e-3, check


def test_inches_carry_fractions_and_tolerances() -> None:
    words = {one.text for _, sheet in _sheets(5, "in") for one in texts(sheet)}
    assert "2) 3.937 (3 15/16) +0.000 −0.008" in words
    assert "1) 6.299 (6 19/64) ±0.004" in words


def test_the_tables_name_process_clearance_and_hardware() -> None:
    plan = _plan(0)
    words = " ".join(one.text for one in texts(drawing(PRESS, plan)))
    assert f"({plan.fixtures.process})" in words
    assert f"{plan.fixtures.clearance:.2f} mm" in words
    for said in ("ISO 4762", "ISO 4032", "socket head screw M4 x 25", "160.0 × 100.0 × 10.0"):
        assert said in words


# How it looks.


@pytest.mark.parametrize(("number", "units"), EVERY)
def test_nothing_overlaps_is_cut_off_or_too_small_and_each_sheet_is_one_page(
    number: int, units: str
) -> None:
    block = TitleBlock(name="Test")
    names = [sheet.name for _, sheet in _sheets(number, units)]
    assert len(names) == len(set(names))
    for _, sheet in _sheets(number, units):
        assert overlaps(sheet) == [], sheet.name
        assert outside(sheet) == [], sheet.name
        assert min(one.height for one in texts(sheet)) >= LEAST_CAPITAL, sheet.name
        dimensions = [one for one in texts(sheet) if one.layer == "dimension"]
        assert list(struck(sheet, dimensions)) == [], sheet.name
        assert [len(pages(sheet, paper, block)) for paper in ("a4", "letter")] == [1, 1], sheet.name


def test_more_sizes_than_a_sheet_holds_go_on_to_others() -> None:
    checks = tuple(
        Check(part="plate", what=f"hole {i}", size=10 + i, ends=((-5 - i, i / 2), (5, i / 2)))
        for i in range(70)
    )
    sheets = drawings(alone(plate(), checks=checks), _plan(0))
    words = [one.text for sheet in sheets for one in texts(sheet)]
    assert all(words.count(f"hole {i}") == 1 for i in range(70))
    assert all(overlaps(sheet) == [] for sheet in sheets)
    assert all(len(pages(sheet, "letter", TitleBlock())) == 1 for sheet in sheets)


def test_a_large_part_is_drawn_smaller_and_says_so() -> None:
    large = alone(Block(outline=circle(200), top=6.0, steps=(Step(outline=circle(9), top=0.0),)))
    (sheet,) = drawings(large, _plan(0))
    assert sheet.document_type == "Drawing, scale 1:5"
    (small,) = drawings(alone(plate()), _plan(0))
    assert small.document_type == "Drawing, scale 1:1"
    assert any(isinstance(one, Text) and "Scale 1:5" in one.text for one in sheet.elements)
