"""Frames, title blocks and parts of sheets."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from rosette.errors import InputError
from rosette.lettering import text_width
from rosette.sheets.drawing import Anchor, Circle, Drawing, Element, Stroke, Text, Window
from rosette.sheets.frame import ISO_SHEETS, PAPERS, TitleBlock, framed, pages, room
from rosette.sheets.tiles import OVERLAP, tiles
from rosette.sheets.titles import fitted
from tests.output.samples import sample

BLOCK = TitleBlock(name="Damson parlour no. 3", number="DP-3", sheet="2 / 9")
FULL = TitleBlock(
    name="Damson parlour no. 3", owner="Hollow Lane Guitars", creator="A. Maker",
    number="DP-3", date="2031-05-04", sheet="2 / 9",
)  # fmt: skip


def blank(width: float, height: float) -> Drawing:
    return Drawing(name="d", title="D", purpose="", bounds=(0.0, 0.0, width, height))


def words(drawing: Drawing) -> list[str]:
    return [element.text for element in drawing.elements if isinstance(element, Text)]


def window(page: Drawing) -> Window:
    (one,) = [element for element in page.elements if isinstance(element, Window)]
    return one


def test_papers_are_those_of_their_standards() -> None:
    """ISO 216 and ANSI/ASME Y14.1: A4 210 × 297, A3 297 × 420, Letter 8.5 × 11 in."""
    assert PAPERS["a4"] == (210, 297)
    assert PAPERS["a3"] == (297, 420)
    assert PAPERS["letter"] == pytest.approx((8.5 * 25.4, 11 * 25.4))
    assert PAPERS["legal"] == pytest.approx((8.5 * 25.4, 14 * 25.4))
    assert PAPERS["tabloid"] == pytest.approx((11 * 25.4, 17 * 25.4))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_one_page_holds_a_large_ring_with_its_notes(paper: str) -> None:
    (page,) = pages(blank(184.0, 232.0), paper, BLOCK)
    assert page.bounds == (0.0, 0.0, *PAPERS[paper])


def test_a_wide_drawing_lies_on_its_side() -> None:
    (page,) = pages(blank(260.0, 150.0), "a4", BLOCK)
    assert page.bounds == (0.0, 0.0, 297.0, 210.0)


def test_a_page_shows_the_whole_drawing_inside_its_frame() -> None:
    (page,) = pages(sample(), "a4", BLOCK)
    left, bottom, right, top = window(page).frame
    x0, y0, x1, y1 = room(210.0, 297.0)
    assert (right - left, top - bottom) == pytest.approx((160.0, 160.0), abs=1.5)
    assert min(right - left, top - bottom) >= 160.0
    assert x0 <= left <= right <= x1
    assert y0 <= bottom <= top <= y1


def test_all_fields_of_the_title_block_are_filled_in() -> None:
    """The mandatory data fields of ISO 7200, and the supplementary title."""
    said = words(pages(sample(), "a4", FULL)[0])
    for value in (
        "Sample & <sheet>", "Damson parlour no. 3", "Hollow Lane Guitars", "A. Maker", "DP-3",
        "2031-05-04", "2 / 9", "Drawing, scale 1:1",
    ):  # fmt: skip
        assert value in said


def test_what_is_not_known_gets_a_rule_to_write_on() -> None:
    filled, empty = (
        len([e for e in pages(sample(), "a4", block)[0].elements if isinstance(e, Stroke)])
        for block in (FULL, replace(FULL, owner="", creator="", date=""))
    )
    assert empty == filled + 3


def test_the_drawing_number_follows_the_job_number() -> None:
    said = words(pages(replace(sample(), number="05"), "a4", FULL)[0])
    assert "DP-3-05" in said


def test_bars_run_along_both_axes() -> None:
    (page,) = pages(sample(), "letter", BLOCK)
    bars = {
        e.name: e.outline.bounds()
        for e in page.elements
        if isinstance(e, Stroke) and e.name.startswith("bar-")
    }
    size = {name: (x1 - x0, y1 - y0) for name, (x0, y0, x1, y1) in bars.items()}
    assert size["bar-100-mm-x"][0] == pytest.approx(100.0)
    assert size["bar-100-mm-y"][1] == pytest.approx(100.0)
    assert size["bar-4-in-x"][0] == pytest.approx(4 * 25.4)
    assert size["bar-4-in-y"][1] == pytest.approx(4 * 25.4)


def test_a_framed_drawing_keeps_its_coordinates() -> None:
    sheet = framed(sample(), BLOCK)
    assert sheet.elements[-len(sample().elements) :] == sample().elements
    left, bottom, right, top = sheet.bounds
    assert (right - left, top - bottom) == (210.0, 297.0)
    assert left < -80.0
    assert right > 80.0


@given(st.floats(10, 1500), st.floats(10, 1500))
def test_a_framed_drawing_lies_inside_the_smallest_sheet(width: float, height: float) -> None:
    drawing = blank(width, height)
    left, bottom, right, top = framed(drawing, BLOCK).bounds
    size = right - left, top - bottom
    x0, y0, x1, y1 = room(*size)
    assert x0 + left <= 1e-6
    assert y0 + bottom <= 1e-6
    assert x1 + left >= width - 1e-6
    assert y1 + bottom >= height - 1e-6
    smaller = [s for s in ISO_SHEETS if s[0] * s[1] < size[0] * size[1] - 1e-6]
    for w, h in [one for s in smaller for one in (s, s[::-1])]:
        a, b, c, d = room(w, h)
        assert width > c - a or height > d - b


@settings(deadline=None, max_examples=40)
@given(st.floats(20, 1200), st.floats(20, 1200), st.floats(120, 400), st.floats(120, 400))
def test_parts_show_everything(width: float, height: float, across: float, high: float) -> None:
    parts = tiles((-10.0, -20.0, width - 10.0, height - 20.0), across, high)
    boxes = [shapely.box(*part.frame) for part in parts]
    whole = shapely.box(-10.0, -20.0, width - 10.0, height - 20.0)
    assert shapely.union_all(boxes).buffer(1e-6).contains(whole)
    for part in parts:
        x0, y0, x1, y1 = part.frame
        assert x1 - x0 <= across + 1e-6
        assert y1 - y0 <= high + 1e-6
    for one in parts:
        for other in parts:
            if (other.row, other.column) == (one.row, one.column + 1):
                assert one.frame[2] - other.frame[0] == pytest.approx(OVERLAP)
            if (other.row, other.column) == (one.row + 1, one.column):
                assert other.frame[3] - one.frame[1] == pytest.approx(OVERLAP)


@pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
def test_the_marks_of_neighbouring_parts_meet(paper: str) -> None:
    big = replace(sample(), bounds=(-250.0, -300.0, 250.0, 300.0))
    made = pages(big, paper, BLOCK)
    assert len(made) > 1
    places: dict[str, list[tuple[float, float]]] = {}
    for page in made:
        dx, dy = window(page).shift
        for e in page.elements:
            if isinstance(e, Circle) and e.name.startswith("join-"):
                places.setdefault(e.name, []).append((e.centre[0] - dx, e.centre[1] - dy))
    assert places
    for name, (first, second) in places.items():
        assert first == pytest.approx(second), name
    shown = [_in_drawing(window(page)) for page in made]
    assert shapely.union_all(shown).buffer(1e-6).contains(shapely.box(*big.bounds))


def _in_drawing(one: Window) -> shapely.Polygon:
    (dx, dy), (x0, y0, x1, y1) = one.shift, one.frame
    return shapely.box(x0 - dx, y0 - dy, x1 - dx, y1 - dy)


def test_parts_are_lettered_and_say_what_joins_them() -> None:
    made = pages(replace(sample(), bounds=(-150.0, -150.0, 150.0, 150.0)), "a4", BLOCK)
    assert [page.name for page in made] == [f"sample-{part}" for part in ("A1", "A2", "B1", "B2")]
    first, second = words(made[0]), words(made[1])
    assert "A1" in first
    assert "Lay A2 over this edge up to the dashed line, target on target" in first
    trim = "Cut along the dashed line and lay this edge over A1, target on target"
    assert trim in second


def test_words_beyond_a_join_are_left_to_the_part_that_keeps_them() -> None:
    """Two parts of 300 mm share 10 mm; the join is at 150."""
    places: dict[str, tuple[float, Anchor]] = {
        "left": (142.0, "right"),
        "pokes": (148.0, "right"),
        "both": (150.0, "middle"),
        "right": (158.0, "left"),
    }
    told = [
        Text(text=name, at=(x, 50.0), height=3.0, anchor=anchor)
        for name, (x, anchor) in places.items()
    ]
    made = pages(replace(blank(300.0, 100.0), elements=tuple(told)), "a4", BLOCK)
    shown = [{e.text for e in window(page).elements if isinstance(e, Text)} for page in made]
    assert shown == [{"left", "pokes", "both"}, {"both", "right"}]


def test_a_sheet_takes_the_way_round_that_needs_fewer_parts() -> None:
    assert len(pages(blank(500.0, 140.0), "a4", BLOCK)) == 2
    assert len(pages(blank(140.0, 460.0), "a4", BLOCK)) == 2


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(InputError, match="take one of a4, a3, letter"):
        pages(sample(), "a0000", BLOCK)


@given(st.text(st.characters(categories=["L", "N", "P", "Zs"]), min_size=1, max_size=200))
def test_a_title_of_any_length_stays_in_its_cell(title: str) -> None:
    lines, height = fitted(title, 60.0, 3.2, bold=True)
    assert 1 <= len(lines) <= 2
    assert height >= 1.8
    assert all(text_width(one, height, True) <= 60.0 + 1e-6 for one in lines)


def test_all_marks_lie_on_the_page_and_off_its_margin() -> None:
    for paper in PAPERS:
        big = replace(sample(), bounds=(-400.0, -400.0, 400.0, 400.0))
        for page in pages(big, paper, FULL):
            for x0, y0, x1, y1 in map(_extent, page.elements):
                assert x0 >= 7.0
                assert y0 >= 7.0
                assert x1 <= page.width - 7.0
                assert y1 <= page.height - 7.0


def _extent(element: Element) -> tuple[float, float, float, float]:
    if isinstance(element, Stroke):
        return element.outline.bounds()
    if isinstance(element, Circle):
        (x, y), r = element.centre, element.radius
        return x - r, y - r, x + r, y + r
    if isinstance(element, Window):
        return element.frame
    long = text_width(element.text, element.height, element.bold)
    start = {"left": 0.0, "middle": -long / 2, "right": -long}[element.anchor]
    x, y = element.at
    low, high = -0.3 * element.height, element.height
    if element.turn:
        return x - high, y + start, x - low, y + start + long
    return x + start, y + low, x + start + long, y + high
