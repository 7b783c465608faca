"""Words of the cutting sheets: none over each other, none struck by a line, none off the sheet."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from rosette.sheets.cutting import cutting_sheets
from rosette.sheets.drawing import Drawing
from rosette.sheets.labels import label_drawings
from rosette.sheets.laser import laser_drawings
from rosette.sheets.marks import SMALLEST
from rosette.sheets.origins import origins
from tests.sheets.looking import outside, overlaps, struck, texts
from tests.sheets_cutting.cutplans import MAKERS, case

KEPT = ("cut", "engrave")


@cache
def sheets(name: str) -> tuple[Drawing, ...]:
    plan, cutting = case(name)
    return cutting_sheets(cutting, plan)


@cache
def labels(name: str) -> tuple[Drawing, ...]:
    plan, cutting = case(name)
    return label_drawings(plan, origins(cutting))


@pytest.mark.parametrize("name", MAKERS)
def test_words_keep_clear_of_words_and_lines_and_on_the_sheet(name: str) -> None:
    for sheet in sheets(name):
        assert overlaps(sheet) == [], sheet.name
        assert list(struck(sheet)) == [], sheet.name
        assert outside(sheet) == [], sheet.name


@pytest.mark.parametrize("name", MAKERS)
def test_labels_with_origins_keep_their_words_apart_and_on_the_sheet(name: str) -> None:
    for sheet in labels(name):
        assert overlaps(sheet) == []
        assert outside(sheet) == []


@pytest.mark.parametrize("name", MAKERS)
def test_words_can_be_read(name: str) -> None:
    for sheet in (*sheets(name), *labels(name)):
        assert min(one.height for one in texts(sheet)) >= SMALLEST


@pytest.mark.parametrize("name", MAKERS)
def test_words_of_a_file_for_a_laser_keep_clear_of_its_cuts(name: str) -> None:
    _, cutting = case(name)
    for sheet in laser_drawings(cutting):
        if not texts(sheet):  # blanks thinner than any letter
            continue
        assert overlaps(sheet) == []
        assert outside(sheet) == []
        seen = replace(
            sheet, elements=tuple(e for e in sheet.elements if getattr(e, "layer", "") in KEPT)
        )
        assert list(struck(seen)) == []


def test_the_names_of_files_are_plain_and_no_two_alike() -> None:
    for name in MAKERS:
        _, cutting = case(name)
        made = (*sheets(name), *labels(name), *laser_drawings(cutting))
        names = [one.name for one in made]
        assert len({one.lower() for one in names}) == len(names)
        assert all(one.replace("-", "").isascii() for one in names)
        assert all(one.replace("-", "").isalnum() for one in names)
