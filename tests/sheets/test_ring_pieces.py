"""The full-size sheet of a ring whose pieces are no equal wedges."""

from __future__ import annotations

import math

import pytest

from rosette.plan import make_plan
from rosette.sheets.drawing import Drawing, Stroke, Text
from rosette.sheets.ring import drawings
from tests.properties.designs import design, line, radial


def sheet(**keys: object) -> Drawing:
    ring, *_ = drawings(make_plan(design([radial(**keys)])))
    assert ring.name == "ring-1"
    return ring


def test_every_piece_is_there_at_full_size_and_every_number_beside_its_piece() -> None:
    drawn = sheet(segments=24, widths=[2, 1], wood=["walnut", "maple"])
    cuts = [e for e in drawn.elements if isinstance(e, Stroke) and e.layer == "cut"]
    area = sum(abs(cut.outline.area()) for cut in cuts)
    assert area == pytest.approx(math.pi * (70.0**2 - 52.0**2))
    numbers = {
        int(e.text): e
        for e in drawn.elements
        if isinstance(e, Text) and e.bold and e.text.isdecimal()
    }
    assert {*range(1, 25)} <= set(numbers)
    # clockwise from 12 o'clock: the middles of 1 and 2 lie 10° and 25° from it
    for number, off in ((1, 10.0), (2, 25.0), (24, -5.0)):
        x, y = numbers[number].at[0], numbers[number].at[1] + numbers[number].height / 2
        assert math.degrees(math.atan2(x, y)) == pytest.approx(off, abs=0.5)


def test_many_places_are_numbered_as_far_as_there_is_room() -> None:
    drawn = sheet(segments=240, widths=[2, 1])
    numbers = [e for e in drawn.elements if isinstance(e, Text) and e.bold and e.text.isdecimal()]
    assert 10 < len(numbers) < 240
    places = [e.at for e in numbers]
    assert min(math.dist(a, b) for i, a in enumerate(places) for b in places[:i]) > 3.0


def test_a_line_has_no_such_sheet() -> None:
    plan = make_plan(design([line(inner_radius=52.0)]))
    assert [one.name for one in drawings(plan)] == ["rosette"]
