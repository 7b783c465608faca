"""SVG files read back by SVG 1.1's own rules."""

from __future__ import annotations

import itertools
import math
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from rosette.geometry.outline import Outline, Vertex, circle, polygon
from rosette.lettering import font_size
from rosette.output.svg import path_data, svg_bytes
from rosette.sheets.drawing import LAYERS, Circle, Drawing, Stroke, Text
from tests.output.samples import ARCS, CIRCLES, POLYGONS, WORDS, sample
from tests.output.svg_reading import SVG, flattened, layers, root_of, shapes

NEAR = 1e-4
"""mm: what a file may be off."""


def by_name(data: bytes) -> dict:
    return {shape.name: shape for shape in shapes(data) if shape.name}


def test_the_size_is_in_millimetres_and_so_are_the_units() -> None:
    root = root_of(svg_bytes(replace(sample(), bounds=(-80.0, -70.0, 90.5, 60.0))))
    assert (root.attrib["width"], root.attrib["height"]) == ("170.5mm", "130mm")
    assert root.attrib["viewBox"] == "-80 -60 170.5 130"
    assert root.attrib["version"] == "1.1"


def test_layers_are_groups_that_an_editor_shows_as_layers() -> None:
    assert layers(svg_bytes(sample())) == list(LAYERS)


def test_circles_are_circles_where_they_belong() -> None:
    found = by_name(svg_bytes(sample()))
    for name, (centre, radius) in CIRCLES.items():
        assert found[name].layer == "cut"
        assert abs(found[name].centre - centre) < NEAR
        assert found[name].radius == pytest.approx(radius, abs=NEAR)


def test_polygons_keep_their_corners() -> None:
    found = by_name(svg_bytes(sample()))
    for name, corners in POLYGONS.items():
        (points,) = found[name].points
        assert len(points) == len(corners) + 1
        for point, (x, y) in zip(points, corners, strict=False):
            assert abs(point - complex(x, y)) < NEAR


@pytest.mark.parametrize(("name", "wanted"), ARCS.items())
def test_arcs_keep_radius_ends_and_direction(name: str, wanted: tuple[float, ...]) -> None:
    radius, start, end = wanted
    (points,) = by_name(svg_bytes(sample()))[name].points
    assert all(abs(abs(point) - radius) < NEAR for point in points)
    swept = sum(
        math.degrees(math.atan2((b / a).imag, (b / a).real)) for a, b in itertools.pairwise(points)
    )
    assert swept == pytest.approx(end - start, abs=1e-3)
    first = complex(math.cos(math.radians(start)), math.sin(math.radians(start)))
    assert abs(points[0] - radius * first) < NEAR


def test_one_edge_of_almost_a_whole_turn_stays_on_its_circle() -> None:
    (points,) = by_name(svg_bytes(sample()))["almost-round"].points
    assert all(abs(abs(point) - 30.0) < NEAR for point in points)
    assert min(point.real for point in points) == pytest.approx(-30.0, abs=0.01)


@given(
    st.tuples(*[st.floats(-300, 300)] * 4),
    st.floats(-200.0, 200.0).filter(lambda bulge: abs(bulge) > 1e-3),
)
def test_any_arc_comes_back(ends: tuple[float, ...], bulge: float) -> None:
    """The radius by the definition of a bulge: chord·(1 + bulge²)/(4·|bulge|) (DXF reference)."""
    a, b = complex(*ends[:2]), complex(*ends[2:])
    if abs(a - b) < 0.01:
        return
    outline = Outline((Vertex(a.real, a.imag, bulge), Vertex(b.real, b.imag)), closed=False)
    (points,) = flattened(path_data([outline]))
    radius = abs(b - a) * (1 + bulge**2) / (4 * abs(bulge))
    middle = (a + b) / 2
    square = (b - a) / abs(b - a) * 1j
    centre = middle + square * (abs(b - a) / 2) * (1 - bulge**2) / (2 * bulge)
    for point in points:
        assert abs(abs(point.conjugate() - centre) - radius) < 1e-4 + 1e-7 * radius


def test_a_fill_never_hides_a_line() -> None:
    """All tints stand before the first layer; no element of a layer has a fill but ink."""
    root = root_of(svg_bytes(sample()))
    groups = root.findall(f"{SVG}g")
    tints, rest = groups[0], groups[1:]
    assert "id" not in tints.attrib
    assert {shape.get("fill") for shape in tints} == {"#d9c3a5", "#8a6040"}
    fills = {e.get("fill") for g in rest for e in g.iter() if e.tag != f"{SVG}text"}
    assert fills <= {None, "none", "#000000"}


def test_a_hole_is_a_hole() -> None:
    washer = next(shape for shape in shapes(svg_bytes(sample())) if len(shape.points) == 2)
    area = [shapely.Polygon([(p.real, p.imag) for p in part]).area for part in washer.points]
    assert area[0] - area[1] == pytest.approx(math.pi * (81 - 16), rel=1e-3)
    root = root_of(svg_bytes(sample()))
    filled = [e for e in root.iter(f"{SVG}path") if e.get("fill") == "#8a6040"]
    assert [e.get("fill-rule") for e in filled] == ["evenodd"]


def test_words_come_back_with_place_size_and_anchor() -> None:
    texts = list(root_of(svg_bytes(sample())).iter(f"{SVG}text"))
    assert [text.text for text in texts] == [*WORDS, "inside"]
    assert [text.get("text-anchor") for text in texts[:3]] == ["start", "middle", "end"]
    assert float(texts[0].attrib["font-size"]) == pytest.approx(font_size(2.5), abs=1e-5)
    assert texts[1].get("transform") == "rotate(-15,-20,6)"
    assert texts[1].get("font-weight") == "bold"


def test_a_window_shows_only_what_lies_in_its_frame() -> None:
    root = root_of(svg_bytes(sample()))
    (rect,) = root.iter(f"{SVG}rect")
    assert {key: float(rect.attrib[key]) for key in ("x", "y", "width", "height")} == {
        "x": -60.0,
        "y": 40.0,
        "width": 10.0,
        "height": 20.0,
    }
    assert by_name(svg_bytes(sample()))["seen"].centre == -50 - 50j


@given(st.text(), st.text(), st.text())
def test_any_words_make_a_well_formed_file(title: str, words: str, name: str) -> None:
    drawing = Drawing(
        name="any",
        title=title,
        purpose=words,
        bounds=(0.0, 0.0, 10.0, 10.0),
        elements=(
            Text(text=words, at=(1.0, 1.0)),
            Circle(centre=(5.0, 5.0), radius=1.0, layer="cut", name=name),
            Circle(centre=(5.0, 5.0), radius=2.0, layer="cut", name=name),
        ),
    )
    root = root_of(svg_bytes(drawing))
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len(set(ids)) == len(ids)
    (text,) = root.iter(f"{SVG}text")
    kept = "".join(text.text or "").replace(" ", "")
    assert set(kept) <= set(words)


def test_the_same_drawing_makes_the_same_bytes() -> None:
    assert svg_bytes(sample()) == svg_bytes(sample())


def test_arcs_of_a_whole_circle_outline_close() -> None:
    drawing = replace(sample(), elements=(Stroke(outline=circle(70.0), layer="cut", name="round"),))
    (points,) = by_name(svg_bytes(drawing))["round"].points
    assert abs(points[0] - points[-1]) < NEAR
    assert all(abs(abs(point) - 70.0) < NEAR for point in points)


def test_a_file_names_itself() -> None:
    root = root_of(svg_bytes(sample()))
    assert root.findtext(f"{SVG}title") == "Sample & <sheet>"
    assert (root.findtext(f"{SVG}desc") or "").startswith("Shows one of everything.")
    assert isinstance(root, ET.Element)


def test_a_polygon_has_no_corner_twice() -> None:
    assert path_data([polygon([(0, 0), (1, 0), (0, 1)])]) == "M0,0L1,0L0,-1Z"
