"""PDF files read back with pdfium."""

from __future__ import annotations

import io
import re
import time
from dataclasses import replace

import pytest
from PIL import Image

from rosette.errors import InputError
from rosette.lettering import text_width
from rosette.output.document import (
    Caution,
    Document,
    Figure,
    Heading,
    Paragraph,
    SheetPages,
    Table,
    TextPages,
    Tick,
)
from rosette.output.pdf import pdf_bytes
from rosette.output.png import png_bytes
from rosette.sheets.drawing import Circle, Drawing, Text
from rosette.sheets.frame import PAPERS, TOP_GAP, TitleBlock, room
from tests.output.pdf_reading import Line, lines, opened, sizes, words
from tests.output.samples import ARCS, CIRCLES, POLYGONS, WORDS, sample

BLOCK = TitleBlock(name="Damson parlour no. 3", number="DP-3", creator="A. Maker")
NEAR = 0.01
"""mm: what a sheet may be off on paper."""

HOSTILE = '#panic("x") $x$ *b* _i_ `c` \\ @a <b> // {{c}} "q" #import "z"'


def document(*parts: TextPages | SheetPages, paper: str = "a4") -> Document:
    return Document(title="Damson parlour no. 3", paper=paper, parts=parts)


def sheet(paper: str = "a4") -> bytes:
    return pdf_bytes(document(SheetPages(drawing=sample()), paper=paper), BLOCK)


def text_pages(*blocks: object) -> bytes:
    pages = TextPages(title="How to", blocks=blocks)  # type: ignore[arg-type]
    return pdf_bytes(document(pages), BLOCK)


def origin(paper: str) -> complex:
    """Where the drawing's 0,0 is on the page: 80 mm below its upper edge, in the middle."""
    left, _, right, top = room(*PAPERS[paper])
    return complex((left + right) / 2.0, top - TOP_GAP - 80.0)


def off_circle(line: Line, centre: complex, radius: float) -> float:
    return max(abs(abs(point - centre) - radius) for point in line.points)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_circle_is_true_to_scale(paper: str) -> None:
    found, zero = lines(sheet(paper), 0), origin(paper)
    for centre, radius in CIRCLES.values():
        whole = [
            line
            for line in found
            if off_circle(line, zero + centre, radius) < NEAR
            and line.size == pytest.approx((2 * radius, 2 * radius), abs=NEAR)
        ]
        assert len(whole) == 1


def test_every_polygon_is_true_to_scale() -> None:
    found, zero = lines(sheet(), 0), origin("a4")
    for corners in POLYGONS.values():
        wanted = [zero + complex(*corner) for corner in corners]
        assert any(
            len(line.points) >= len(wanted)
            and all(abs(a - b) < NEAR for a, b in zip(line.points, wanted, strict=False))
            for line in found
        )


@pytest.mark.parametrize("name", ARCS)
def test_every_arc_is_true_to_scale(name: str) -> None:
    radius, start, end = ARCS[name]
    zero = origin("a4")
    (one,) = [
        line for line in lines(sheet(), 0) if line.curves and off_circle(line, zero, radius) < NEAR
    ]
    assert one.curves >= abs(end - start) / 45.0


def test_the_reader_would_notice_a_wrong_scale() -> None:
    """Half a percent, as a printer's "fit to page" makes of it, is far outside the tolerance."""
    zero = origin("a4")
    (outer,) = [one for one in lines(sheet(), 0) if off_circle(one, zero, 72.5) < NEAR]
    stretched = Line(tuple(zero + (p - zero) * 1.005 for p in outer.points), outer.curves)
    assert off_circle(stretched, zero, 72.5) > NEAR


@pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
def test_pages_have_the_size_of_their_paper(paper: str) -> None:
    data = pdf_bytes(
        document(TextPages(title="x", blocks=()), SheetPages(drawing=sample()), paper=paper), BLOCK
    )
    for size in sizes(data):
        assert sorted(size) == pytest.approx(sorted(PAPERS[paper]), abs=0.001)


def test_bars_are_as_long_as_they_say_on_every_page() -> None:
    """100 mm and 4 in = 101.6 mm along both axes (ISO 31-1: 1 in = 25.4 mm exactly)."""
    data = pdf_bytes(document(TextPages(title="x", blocks=()), SheetPages(drawing=sample())), BLOCK)
    assert len(opened(data)) == 2
    for page in range(2):
        long = [line.size for line in lines(data, page)]
        for length in (100.0, 101.6):
            assert sum(abs(w - length) < 0.002 and h < 2 for w, h in long) == 1
            assert sum(abs(h - length) < 0.002 and w < 2 for w, h in long) == 1


def test_every_page_says_who_what_and_which_of_how_many() -> None:
    data = pdf_bytes(
        document(TextPages(title="How to", blocks=()), SheetPages(drawing=sample())), BLOCK
    )
    # pdfium breaks turned words into lines; what the page says is the same
    first, second = (page.replace("\r\n", "") for page in words(data))
    for page in (first, second):
        for said in ("Print at 100 %.", "Measure these bars first.", "100 mm", "4 in"):
            assert page.count(said) == 2
        for field in ("Owner", "Number", "Date", "Sheet", "Title", "Creator", "Document type"):
            assert field in page
        assert "DP-3" in page
        assert "A. Maker" in page
        assert "Damson parlour no. 3" in page
        assert f"{1 if page is first else 2} / 2" in page
    assert "How to" in first
    assert "Sample & <sheet>" in second


def test_the_words_of_a_sheet_are_words() -> None:
    (page,) = words(sheet())
    for text in WORDS:
        assert text in page.replace("\r\n", "")


@pytest.mark.parametrize("bold", [False, True])
def test_words_on_a_sheet_are_as_long_as_sheets_reckon(bold: bool) -> None:
    """Pairs that kerning would pull together by 4 mm."""
    said = "AVAVATToWaYo 1,5°"
    drawing = replace(sample(), elements=(Text(text=said, at=(-70.0, 0.0), height=5.0, bold=bold),))
    page = opened(pdf_bytes(document(SheetPages(drawing=drawing)), BLOCK))[0]
    text = page.get_textpage()
    start = text.get_text_range().index(said)
    first, last = (text.get_charbox(i, loose=True) for i in (start, start + len(said) - 1))
    assert (last[2] - first[0]) * 25.4 / 72.0 == pytest.approx(
        text_width(said, 5.0, bold), abs=0.05
    )


def test_our_letters_alone_are_embedded() -> None:
    names = set(re.findall(rb"/FontName\s*/([A-Z]{6}\+[\w-]+)", sheet()))
    assert {name.split(b"+")[1] for name in names} == {b"RosetteSans-Regular", b"RosetteSans-Bold"}
    assert len(re.findall(rb"/FontFile2", sheet())) == 2


def test_all_blocks_appear_in_order() -> None:
    data = text_pages(
        Heading(text="Key numbers"),
        Paragraph(text="A paragraph."),
        Caution(text="Clamp it."),
        Tick(text="Measure."),
        Table(rows=(("What", "How much"), ("Mitre", "5.00°")), align="lr"),
        Figure(drawing=sample(), width=60.0),
        Heading(text="After", level=2),
    )
    page = words(data)[0]
    places = [
        page.index(said)
        for said in ("Key numbers", "A paragraph.", "CAUTION", "Clamp it.", "Measure.", "How much")
    ]
    assert places == sorted(places)
    assert "5.00°" in page
    assert "After" in page


def test_a_figure_is_as_wide_as_asked_and_no_larger_than_the_page() -> None:
    for asked, wanted in ((80.0, 80.0), (1000.0, 169.0)):
        circle = Circle(centre=(0.0, 0.0), radius=50.0, layer="cut")
        drawing = Drawing(
            name="c", title="c", purpose="", bounds=(-50, -50, 50, 50), elements=(circle,)
        )
        data = text_pages(Figure(drawing=drawing, width=asked))
        round_line = max(lines(data, 0), key=lambda line: line.curves)
        assert round_line.size[0] == pytest.approx(wanted, abs=0.01)


def test_words_are_never_read_as_markup() -> None:
    data = text_pages(
        Heading(text=HOSTILE),
        Paragraph(text=HOSTILE),
        Caution(text=HOSTILE),
        Tick(text=HOSTILE),
        Table(rows=((HOSTILE, "b"), ("c", HOSTILE))),
    )
    page = re.sub(r"\s+", "", words(data)[0])
    assert page.count(re.sub(r"\s+", "", HOSTILE)) == 6


def test_a_long_table_repeats_its_head() -> None:
    rows = (("Wedge", "Wood"), *((f"1-{i:02d}", "walnut") for i in range(80)))
    pages = words(text_pages(Table(rows=rows)))
    assert len(pages) > 1
    assert all("Wedge" in page for page in pages)


def test_long_checklists_flow_and_stay_inside_the_frame() -> None:
    data = text_pages(*(Tick(text=f"Step {i}. " + "Words and more words. " * 8) for i in range(40)))
    pages = words(data)
    assert len(pages) > 1
    assert all(f"Step {i}." in "".join(pages) for i in range(40))


def test_the_same_document_makes_the_same_bytes_at_any_time() -> None:
    first = sheet()
    time.sleep(1.1)
    assert sheet() == first


def test_metadata_name_the_document_and_no_date() -> None:
    meta = opened(sheet()).get_metadata_dict()
    assert meta["Title"] == "Damson parlour no. 3"
    assert meta["Author"] == "A. Maker"
    assert not meta["CreationDate"]


def test_sheets_have_bookmarks() -> None:
    file = opened(sheet())
    assert [mark.get_title() for mark in file.get_toc()] == ["Sample & <sheet>"]


def test_nothing_is_printed_nearer_than_7_mm_to_the_edge() -> None:
    big = replace(sample(), bounds=(-150.0, -150.0, 150.0, 150.0))
    data = pdf_bytes(
        document(TextPages(title="x", blocks=()), SheetPages(drawing=big), paper="letter"), BLOCK
    )
    for page in opened(data):
        width, height = (length * 25.4 / 72.0 for length in page.get_size())
        picture = page.render(scale=4).to_pil().convert("L")
        per_mm = picture.width / width
        ink = picture.point(lambda value: 255 if value < 200 else 0).getbbox()
        assert ink is not None
        assert ink[0] >= 7.0 * per_mm - 1
        assert ink[1] >= 7.0 * per_mm - 1
        assert ink[2] <= (width - 7.0) * per_mm + 1
        assert ink[3] <= (height - 7.0) * per_mm + 1


def test_an_unknown_paper_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(InputError, match=r"'a9' is not a paper .* a4, a3, letter"):
        pdf_bytes(document(paper="a9"), BLOCK)


def test_a_picture_has_the_pixels_asked_for_on_white() -> None:
    drawing = replace(sample(), bounds=(-80.0, -80.0, 80.0, 40.0))
    picture = Image.open(io.BytesIO(png_bytes(drawing, pixels_per_mm=5.0)))
    assert picture.size == (800, 600)
    assert picture.convert("RGB").getpixel((2, 2)) == (255, 255, 255)
    assert png_bytes(drawing, pixels_per_mm=5.0) == png_bytes(drawing, pixels_per_mm=5.0)


def test_a_picture_shows_tints_under_lines() -> None:
    picture = Image.open(io.BytesIO(png_bytes(sample(), pixels_per_mm=10.0))).convert("RGB")
    inside = picture.getpixel(((80 - 27) * 10, (80 - 30) * 10))
    edge = picture.getpixel(((80 + 40) * 10, (80 - 9) * 10))
    assert inside == (0xD9, 0xC3, 0xA5)
    assert max(edge) < 60


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_sheets_number_stands_clear_of_the_key_of_a_parted_sheet(paper: str) -> None:
    wide = replace(sample(), bounds=(-260.0, -80.0, 260.0, 80.0))
    data = pdf_bytes(document(SheetPages(drawing=wide), paper=paper), BLOCK)
    made = opened(data)
    assert len(made) > 1
    for page in made:
        text = page.get_textpage()
        said = text.get_text_range()
        assert f"/ {len(made)}" in said
        boxes = {
            words: [text.get_charbox(i) for i in range(found[0], found[0] + found[1])]
            for words in (f"/ {len(made)}", "Part", "Sheet")
            if (found := text.search(words, match_case=True).get_next())
        }
        sheet, number, part = (boxes[one][0][0] for one in ("Sheet", f"/ {len(made)}", "Part"))
        right = max(box[2] for box in boxes[f"/ {len(made)}"])
        assert sheet < number < right < part


def test_a_table_whose_heads_are_wide_keeps_its_numbers_on_one_line() -> None:
    head = ("ring", "wedges + spares", "saw off square", "wide end", "narrow end", "length")
    cells = ("1", "12 + 2", "15.00°", "1.507 (1 1/2)", "1.068 (1 1/16)", "0.820 (13/16)")
    data = pdf_bytes(
        document(
            TextPages(title="T", blocks=(Table(rows=(head, cells), align="ccrrrr"),)),
            paper="letter",
        ),
        BLOCK,
    )
    text = opened(data)[0].get_textpage()
    for cell in cells[3:]:
        found = text.search(cell, match_case=True).get_next()
        assert found is not None
        feet = [text.get_charbox(i)[1] for i in range(found[0], found[0] + found[1])]
        assert max(feet) - min(feet) < 6.0


def test_a_caution_stays_with_the_step_it_is_for() -> None:
    for lines_before in range(29, 32):
        blocks = (
            *(Paragraph(text=f"line {i} " * 12) for i in range(lines_before)),
            Caution(text="Mind " * 40 + "the pivot."),
            Tick(text="Cut the hole."),
        )
        pages = words(text_pages(*blocks))
        told = [" ".join(page.split()) for page in pages]
        together = [("the pivot." in page, "Cut the hole." in page) for page in told]
        assert all(caution == tick for caution, tick in together), lines_before


def test_a_title_block_says_what_is_not_at_true_scale() -> None:
    for kind in ("Drawing, scale 1:1", "Drawing, scale 3:1", "List"):
        (page,) = words(
            pdf_bytes(document(SheetPages(drawing=replace(sample(), document_type=kind))), BLOCK)
        )
        assert kind in page
