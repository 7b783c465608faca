"""Words on rings, maps, labels and pictures: apart, whole, on the sheet, large enough to read.

The least height is that of the smallest lettering of ISO 3098, 1.8 mm.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import shapely

from rosette.lettering import missing_glyphs
from rosette.sheets.drawing import Drawing, Text
from tests.sheets.looking import ink, struck, texts
from tests.sheets.ring_plans import MAKERS, drawings_of, picture_of

SHEETS = ("ring", "assembly", "labels")
SMALLEST = 1.8


def sheets(plan_name: str) -> Iterator[Drawing]:
    for name in SHEETS:
        yield from drawings_of(plan_name, name)


def overlaps(words: list[Text]) -> list[tuple[str, str]]:
    """As `looking.overlaps`, for sheets of very many words."""
    inks = [ink(one) for one in words]
    pairs = zip(*shapely.STRtree(inks).query(inks, predicate="intersects"), strict=True)
    return [(words[i].text, words[j].text) for i, j in pairs if i < j]


@pytest.mark.parametrize("plan_name", MAKERS)
def test_every_word_can_be_read(plan_name: str) -> None:
    for drawing in sheets(plan_name):
        assert overlaps(texts(drawing)) == [], drawing.name
        assert list(struck(drawing)) == [], drawing.name
        assert off_the_sheet(drawing) == [], drawing.name
        assert too_small(drawing) == [], drawing.name


@pytest.mark.parametrize("plan_name", MAKERS)
def test_every_word_of_the_picture_can_be_read(plan_name: str) -> None:
    drawing = picture_of(plan_name)
    assert overlaps(texts(drawing)) == []
    assert off_the_sheet(drawing) == []
    assert too_small(drawing) == []


def off_the_sheet(drawing: Drawing) -> list[str]:
    sheet = shapely.box(*drawing.bounds)
    return [one.text for one in texts(drawing) if not sheet.covers(ink(one))]


def too_small(drawing: Drawing) -> list[str]:
    return [one.text for one in texts(drawing) if one.height < SMALLEST - 1e-9]


@pytest.mark.parametrize("plan_name", MAKERS)
def test_no_word_has_a_letter_that_the_font_lacks(plan_name: str) -> None:
    for drawing in (*sheets(plan_name), picture_of(plan_name)):
        assert missing_glyphs("".join(one.text for one in texts(drawing))) == ""


def test_words_that_overlap_are_found() -> None:
    one = Text(text="wide words", at=(0.0, 0.0))
    assert overlaps([one, Text(text="more", at=(5.0, 1.0))]) == [("wide words", "more")]
    assert overlaps([one, Text(text="more", at=(5.0, 4.0))]) == []
