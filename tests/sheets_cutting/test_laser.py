"""Files for a laser or CNC, checked with shapely: at size, clear of neighbours, one line a cut."""

from __future__ import annotations

import io
import math

import ezdxf
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiLineString, Polygon

from rosette.geometry.outline import Outline
from rosette.offcuts.cutplan import CutPiece, CuttingPlan
from rosette.output.dxf import dxf_bytes
from rosette.sheets.drawing import Drawing, Stroke, Text
from rosette.sheets.kerf_offset import offset
from rosette.sheets.laser import cut_ways, laser_drawings, merged
from tests.sheets_cutting.cutplans import MAKERS, case

EXACT = 1e-6
APART = 1e-4
"""mm: layouts hold their gaps to the grid of their overlays."""


def ways(piece: CutPiece, cutting: CuttingPlan) -> dict[str, Outline]:
    return cut_ways(piece.wedges, by=cutting.kerf / 2.0)


def polygon_of(way: Outline) -> Polygon:
    return Polygon(way.points(error=1e-4))


@given(
    inner=st.floats(0.5, 40.0),
    wider=st.floats(0.0, 30.0),
    height=st.floats(2.0, 60.0),
    kerf=st.floats(0.05, 3.2),
    turn=st.floats(0.0, 360.0),
)
@settings(max_examples=100)
def test_a_blank_grows_by_half_a_kerf_as_shapely_grows_it(
    inner: float, wider: float, height: float, kerf: float, turn: float
) -> None:
    a, b = inner / 2.0, (inner + wider) / 2.0
    flat = Polygon([(-a, 0.0), (a, 0.0), (b, height), (-b, height)])
    blank = shapely.affinity.rotate(flat, turn, origin=(0.0, 0.0))
    corners = list(blank.exterior.coords[:-1])
    wanted = blank.buffer(kerf / 2.0, join_style="mitre", mitre_limit=100.0)
    for ring in (corners, corners[::-1]):
        found = polygon_of(offset(ring, kerf / 2.0))
        assert found.symmetric_difference(wanted).area == pytest.approx(0.0, abs=EXACT)
        assert found.exterior.is_ccw


@pytest.mark.parametrize("name", MAKERS)
def test_the_beam_leaves_each_blank_at_size_and_its_neighbours_whole(name: str) -> None:
    """Half a kerf about the way just touches the blank, and nothing of any other."""
    _, cutting = case(name)
    half = cutting.kerf / 2.0
    for piece in cutting.touched:
        blanks = {wedge.label: Polygon(wedge.vertices) for wedge in piece.wedges}
        tree = shapely.STRtree(list(blanks.values()))
        labels = list(blanks)
        for label, way in ways(piece, cutting).items():
            line = polygon_of(way).exterior
            assert line.distance(blanks[label]) == pytest.approx(half, abs=APART)
            assert polygon_of(way).contains(blanks[label])
            for i in tree.query(line.buffer(half), predicate="intersects"):
                other = labels[i]
                assert line.distance(blanks[other]) >= half - APART, (label, other)


@pytest.mark.parametrize("name", MAKERS)
def test_corners_are_mitred_but_where_a_neighbour_stands_in_the_way(name: str) -> None:
    _, cutting = case(name)
    half = cutting.kerf / 2.0
    for piece in cutting.touched:
        rings = {wedge.label: Polygon(wedge.vertices) for wedge in piece.wedges}
        for label, way in ways(piece, cutting).items():
            mitred = rings[label].buffer(half, join_style="mitre", mitre_limit=100.0)
            round_ = rings[label].buffer(half, quad_segs=64)
            if all(vertex.bulge == 0.0 for vertex in way.vertices):
                assert polygon_of(way).symmetric_difference(mitred).area < EXACT
            else:
                near = [
                    one for key, one in rings.items()
                    if key != label and mitred.exterior.distance(one) < half - APART / 10.0
                ]  # fmt: skip
                assert near, f"{label} is rounded and nothing is near"
                assert mitred.buffer(EXACT).contains(polygon_of(way))
                assert polygon_of(way).buffer(1e-3).contains(round_)


def test_some_layout_has_a_corner_that_must_be_rounded() -> None:
    """So that the test above has something to look at."""
    square = [(0.0, 0.0), (10.0, 0.0), (14.0, 10.0), (-4.0, 10.0)]
    tip = (14.0 + 0.5, 10.0 + 0.5)
    near = [(tip[0], tip[1]), (tip[0] + 5.0, tip[1]), (tip[0] + 5.0, tip[1] + 5.0)]
    way = offset(square, 0.5, neighbours=[near])
    assert sum(vertex.bulge > 0.0 for vertex in way.vertices) == 1
    assert polygon_of(way).exterior.distance(Polygon(square)) == pytest.approx(0.5, abs=1e-4)


def layer(sheet: Drawing, name: str) -> list[Stroke | Text]:
    return [one for one in sheet.elements if isinstance(one, (Stroke, Text)) and one.layer == name]


@pytest.mark.parametrize("compensated", [True, False])
@pytest.mark.parametrize("name", ["rectangles, both faces", "free", "a hundred and eighty"])
def test_a_dxf_has_one_closed_line_a_blank_and_nothing_else_to_cut(
    name: str, compensated: bool
) -> None:
    _, cutting = case(name)
    sheets = laser_drawings(cutting, compensated=compensated)
    for piece, sheet in zip(cutting.touched, sheets, strict=True):
        file = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode()))  # type: ignore[attr-defined]
        assert file.units == ezdxf.units.MM
        cut = file.modelspace().query('*[layer=="cut"]')
        assert len(cut) == len(piece.wedges)
        by = cutting.kerf / 2.0 if compensated else 0.0
        for entity, wedge in zip(cut, piece.wedges, strict=True):
            assert entity.dxftype() == "LWPOLYLINE"
            assert entity.closed
            if not any(bulge for *_, bulge in entity.get_points("xyb")):
                wanted = Polygon(wedge.vertices).buffer(by, join_style="mitre", mitre_limit=100.0)
                found = Polygon(entity.get_points("xy"))
                assert found.symmetric_difference(wanted).area < EXACT
        words = [text.dxf.text for text in file.modelspace().query('TEXT[layer=="engrave"]')]
        assert len(words) == len(piece.wedges)
        numbers = [wedge.label.partition("-")[2] for wedge in piece.wedges]
        assert all(n in w for n, w in zip(numbers, words, strict=True))
        outline = next(one for one in layer(sheet, "note") if getattr(one, "name", "") == "outline")
        assert isinstance(outline, Stroke)
        assert Polygon(outline.outline.points()).equals(Polygon(piece.wood.outline))


def _as_line(outline: Outline) -> LineString:
    points = outline.points(error=1e-4)
    return LineString([*points, points[0]] if outline.closed else points)


@pytest.mark.parametrize("name", MAKERS)
def test_shared_edges_are_cut_once(name: str) -> None:
    """The same wood is cut as by the closed lines, and no two lines lie on each other."""
    _, cutting = case(name)
    pairs = zip(laser_drawings(cutting), laser_drawings(cutting, once=True), strict=True)
    for closed, once in pairs:
        rings = [polygon_of(one.outline).exterior for one in layer(closed, "cut")]  # type: ignore[union-attr]
        lines = [_as_line(one.outline) for one in layer(once, "cut")]  # type: ignore[union-attr]
        wanted, found = MultiLineString(rings), MultiLineString(lines)
        assert wanted.buffer(0.001).covers(found)
        assert found.buffer(0.001).covers(wanted)
        tree = shapely.STRtree(lines)
        for i, one in enumerate(lines):
            for j in tree.query(one, predicate="intersects"):
                if j != i:
                    shared = one.buffer(1e-5, cap_style="flat").intersection(lines[j]).length
                    assert shared < 0.01


def test_a_strip_is_parted_by_single_cuts() -> None:
    """N blanks head to tail share N - 1 lines: their closed ways would cut those twice."""
    _, cutting = case("one long strip")
    (piece,) = cutting.touched
    (once,) = laser_drawings(cutting, once=True)
    count = len(piece.wedges)
    across = [
        one for one in layer(once, "cut")
        if isinstance(one, Stroke) and math.dist(*one.outline.points()[:2]) < 40.0
    ]  # fmt: skip
    assert len(across) == count + 1


def test_blanks_that_share_no_line_stay_closed() -> None:
    """On the blanks' own edges, a kerf apart, nothing falls together."""
    _, cutting = case("one long strip")
    drawn = laser_drawings(cutting, compensated=False)
    assert [one.elements for one in laser_drawings(cutting, compensated=False, once=True)] == [
        one.elements for one in drawn
    ]
    assert all(one.outline.closed for one in layer(drawn[0], "cut"))  # type: ignore[union-attr]


def test_lines_in_one_line_but_apart_stay_apart() -> None:
    lines = [((0.0, 0.0), (1.0, 0.0)), ((2.0, 0.0), (3.0, 0.0)), ((3.0, 0.0), (2.5, 0.0))]
    assert merged(lines) == [((0.0, 0.0), (1.0, 0.0)), ((2.0, 0.0), (3.0, 0.0))]
