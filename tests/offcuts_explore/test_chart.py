"""The chart of the choice: every row on it, in its place, no words over others."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely.geometry import Polygon

from rosette.offcuts.explore import explore
from rosette.offcuts.explored import Exploration
from rosette.sheets.block import text_corners
from rosette.sheets.drawing import Circle, Drawing, Text
from rosette.sheets.explore import choice_chart, choice_pages
from tests.offcuts_explore.asks import asked, box_of, scraps, stock

BOX = box_of(*scraps(0, 3, 4, 11), *scraps(2, 14, wood="maple"))


@pytest.fixture(scope="module", params=["one wood", "woods in turn"])
def found(request: pytest.FixtureRequest) -> Exploration:
    wood = ("walnut",) if request.param == "one wood" else ("walnut,maple", "walnut")
    ask = asked(BOX, wood=wood, segments="12,24,36", width="6-20", spares="0,2,usual")
    return explore(stock(BOX), ask, box_file="box.toml")


def texts(drawing: Drawing) -> list[Text]:
    return [one for one in drawing.elements if isinstance(one, Text)]


def test_every_row_has_its_mark(found: Exploration) -> None:
    marks = {
        one.name: one
        for one in choice_chart(found).elements
        if isinstance(one, Circle) and one.name
    }
    assert set(marks) == {f"row-{row.number}" for row in found.choice}


def test_wider_rings_stand_higher(found: Exploration) -> None:
    marks = {one.name: one for one in choice_chart(found).elements if isinstance(one, Circle)}
    for one, other in combinations(found.choice, 2):
        if one.kind.woods == other.kind.woods and one.width > other.width:
            assert marks[f"row-{one.number}"].centre[1] > marks[f"row-{other.number}"].centre[1]


@pytest.mark.parametrize("units", ["mm", "in"])
def test_no_words_lie_over_others_and_all_lie_on_the_drawing(
    found: Exploration, units: str
) -> None:
    for drawing in (choice_chart(found, units), *choice_pages(found, units)):  # type: ignore[arg-type]
        left, bottom, right, top = drawing.bounds
        boxes = [(one, Polygon(text_corners(one))) for one in texts(drawing)]
        for (a, one), (b, other) in combinations(boxes, 2):
            assert one.intersection(other).area < 0.05, (a.text, b.text)
        for text, one in boxes:
            x0, y0, x1, y1 = one.bounds
            assert left <= x0 < x1 <= right, text.text
            assert bottom <= y0 < y1 <= top, text.text


def test_marks_do_not_meet(found: Exploration) -> None:
    marks = [one for one in choice_chart(found).elements if isinstance(one, Circle) and one.name]
    for one, other in combinations(marks, 2):
        (a, b), (c, d) = one.centre, other.centre
        assert ((a - c) ** 2 + (b - d) ** 2) ** 0.5 > one.radius + other.radius


def test_pages_hold_all_marks_and_fit_their_paper(found: Exploration) -> None:
    pages = choice_pages(found)
    names = [
        one.name for page in pages for one in page.elements if isinstance(one, Circle) and one.name
    ]
    assert sorted(names) == sorted(f"row-{row.number}" for row in found.choice)
    assert all(page.height <= 235.0 and page.width <= 185.0 for page in pages)


def test_what_is_best_is_shown_and_named(found: Exploration) -> None:
    told = {one.text for one in texts(choice_chart(found))}
    for row in found.choice:
        assert (f"Row {row.number}" in told) == bool(row.best)
