"""Every blank and every cut, read back from the files by other programs, within 0.01 mm.

Read by the published rules of SVG, by ezdxf, and by pdfium.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator

import ezdxf
import pytest
from shapely.geometry import LineString, Polygon

from rosette.offcuts.cutplan import CutPiece
from rosette.offcuts.model import Point
from rosette.output.document import Document, SheetPages
from rosette.output.dxf import dxf_bytes
from rosette.output.pdf import pdf_bytes
from rosette.output.svg import svg_bytes
from rosette.sheets.drawing import Drawing
from rosette.sheets.frame import TitleBlock, framed, pages
from rosette.sheets.offcut import cutting_drawings, piece_names
from tests.output import pdf_reading, svg_reading
from tests.sheets.looking import texts
from tests.sheets_cutting.cutplans import MAKERS, case

NEAR = 0.01
BLOCK = TitleBlock(name="Test", owner="", creator="", number="")
SOME = ["rectangles, both faces", "bent scraps, tilted", "free, few and sharp", "in inches"]


def full_size(name: str) -> list[tuple[CutPiece, Drawing]]:
    plan, cutting = case(name)
    names = piece_names(cutting)
    made = {one.name: one for one in cutting_drawings(cutting, plan)}
    return [(one, made[f"offcut-{names[one.id, one.piece]}"]) for one in cutting.touched]


def same_ring(found: list[Point], wanted: list[Point]) -> bool:
    """Whether two rings have the same corners in the same order, wherever they begin."""
    if len(found) != len(wanted):
        return False
    ways = [found[i:] + found[:i] for i in range(len(found))]
    return any(
        all(math.dist(a, b) <= NEAR for a, b in zip(w, wanted, strict=True))
        for way in ways
        for w in (way, way[::-1])
    )


def svg_rings(sheet: Drawing) -> dict[str, list[Point]]:
    return {
        shape.name: [(p.real, p.imag) for p in shape.points[0][:-1]]
        for shape in svg_reading.shapes(svg_bytes(sheet))
        if shape.name and shape.points and (shape.layer is not None)
    }


def dxf_rings(sheet: Drawing) -> dict[str, list[Point]]:
    file = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode()))  # type: ignore[attr-defined]
    assert not file.audit().errors
    return {
        entity.get_xdata("ROSETTE")[0].value: [(x, y) for x, y, *_ in entity.get_points("xy")]
        for entity in file.modelspace().query("LWPOLYLINE")
        if entity.closed and entity.has_xdata("ROSETTE")
    }


@pytest.mark.parametrize("name", MAKERS)
def test_blanks_stand_where_the_plan_has_them_in_svg_and_dxf(name: str) -> None:
    for piece, sheet in full_size(name):
        svg, dxf = svg_rings(framed(sheet, BLOCK)), dxf_rings(framed(sheet, BLOCK))
        for wedge in piece.wedges:
            for rings in (svg, dxf):
                assert same_ring(rings[f"blank-{wedge.label}"], list(wedge.vertices))
        for rings in (svg, dxf):
            assert same_ring(rings["outline"], list(piece.wood.outline))
            assert sum(one.startswith("blank-") for one in rings) == len(piece.wedges)


@pytest.mark.parametrize("name", MAKERS)
def test_every_cut_is_drawn_as_wide_as_its_kerf_about_its_middle(name: str) -> None:
    _, cutting = case(name)
    for piece, sheet in full_size(name):
        rings = svg_rings(sheet)
        for cut in piece.cuts:
            a, b, c, d = rings[f"cut-{cut.step}"]
            ends = [((p[0] + q[0]) / 2.0, (p[1] + q[1]) / 2.0) for p, q in ((a, d), (b, c))]
            if cut.kind == "slant":
                ends = [((p[0] + q[0]) / 2.0, (p[1] + q[1]) / 2.0) for p, q in ((a, b), (d, c))]
            assert ends[0] == pytest.approx(cut.start, abs=NEAR)
            assert ends[1] == pytest.approx(cut.end, abs=NEAR)
            length = LineString([cut.start, cut.end]).length
            assert Polygon([a, b, c, d]).area == pytest.approx(cutting.kerf * length, rel=1e-3)


@pytest.mark.parametrize("name", MAKERS)
def test_no_kerf_takes_anything_of_a_blank(name: str) -> None:
    _, cutting = case(name)
    for piece, sheet in full_size(name):
        if not piece.cuts:
            continue
        rings = svg_rings(sheet)
        blanks = [Polygon(wedge.vertices) for wedge in piece.wedges]
        for cut in piece.cuts:
            kerf = Polygon(rings[f"cut-{cut.step}"]).buffer(-0.001)
            assert all(kerf.disjoint(blank) for blank in blanks), (cut.step, cutting.kerf)


@pytest.mark.parametrize("name", SOME)
def test_blanks_are_printed_at_true_size_and_where_they_lie(name: str) -> None:
    for piece, sheet in full_size(name):
        if len(pages(sheet, "a3", BLOCK)) > 1:
            continue
        document = Document(title="Test", paper="a3", parts=(SheetPages(drawing=sheet),))
        rings = [_ring(one.points) for one in pdf_reading.lines(pdf_bytes(document, BLOCK), 0)]
        outline = list(piece.wood.outline)
        shift = next(shift for ring in rings for shift in _shifts(ring, outline))
        for wedge in piece.wedges:
            moved = [(x + shift.real, y + shift.imag) for x, y in wedge.vertices]
            assert any(same_ring(ring, moved) for ring in rings), wedge.label


def _ring(points: tuple[complex, ...]) -> list[Point]:
    """A path's corners, its first not repeated."""
    kept = list(points[:-1] if abs(points[0] - points[-1]) < NEAR else points)
    return [(p.real, p.imag) for p in kept]


def _shifts(found: list[Point], wanted: list[Point]) -> Iterator[complex]:
    """How far a ring stands from where it should, wherever it begins and whichever way it runs."""
    if len(found) != len(wanted):
        return
    for i in range(len(found)):
        turned = found[i:] + found[:i]
        for way in (turned, turned[::-1]):
            off = [complex(a - x, b - y) for (a, b), (x, y) in zip(way, wanted, strict=True)]
            if max(abs(one - off[0]) for one in off) <= NEAR:
                yield off[0]


@pytest.mark.parametrize("name", MAKERS)
def test_every_cut_has_its_number_where_it_is_made(name: str) -> None:
    """Crosscuts round the offcut; slants over the bands, each on its own kerf or led to it."""
    plan, cutting = case(name)
    names = piece_names(cutting)
    made = cutting_drawings(cutting, plan)
    for piece in cutting.touched:
        stem = f"offcut-{names[piece.id, piece.piece]}"
        mine = [one for one in made if one.name == stem or one.name.startswith(f"{stem}-cuts")]
        numbers = [text.text for sheet in mine for text in texts(sheet) if text.text.isdigit()]
        for cut in piece.cuts:
            # once in the table and once or more in a picture
            assert numbers.count(str(cut.step)) >= 2, cut.step
