"""Outlines out of SVG files, against closed formulas and shapely's own transforms."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from shapely import affinity
from shapely.geometry import Polygon

from rosette.geometry.tracing import TracingError
from rosette.offcuts.tracing import read_tracing
from rosette.offcuts.tracing_svg import read_svg
from tests.offcuts_box.boxes import one, wrong

PAGE = 'width="310mm" height="60mm" viewBox="0 0 310 60"'
FLAT = 0.02


def svg(body: str, page: str = PAGE) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {page}>{body}</svg>'.encode()


def shape(body: str, page: str = PAGE) -> Polygon:
    read = read_svg(svg(body, page))
    return Polygon(read.outline, read.holes)


def near(found: Polygon, area: float, length: float) -> None:
    """An area within what flattening may take along that length of curve."""
    assert abs(found.area - area) <= FLAT * length + 1e-6


@pytest.mark.parametrize(
    ("body", "area", "curve"),
    [
        ('<path d="M10 10h80v40h-80z"/>', 3200, 0),
        ('<path d="m 10,10 80,0 0,40 -80,0 z"/>', 3200, 0),
        ('<path d="M10 10L90 10 90 50 10 50Z"/>', 3200, 0),
        ('<path d="M10 10H90V50H10V10"/>', 3200, 0),
        ('<rect x="10" y="10" width="80" height="40"/>', 3200, 0),
        # the corners of a rounded rectangle lack (4 - π)·rx·ry
        ('<rect width="80" height="40" rx="9"/>', 3200 - (4 - math.pi) * 81, 57),
        ('<rect width="80" height="40" rx="9" ry="6"/>', 3200 - (4 - math.pi) * 54, 57),
        ('<circle cx="50" cy="30" r="25"/>', math.pi * 625, 158),
        ('<ellipse cx="50" cy="30" rx="40" ry="10"/>', math.pi * 400, 172),
        ('<path d="M25 30a25 25 0 1 0 50 0a25 25 0 1 0-50 0z"/>', math.pi * 625, 158),
        # half an ellipse by flags without blanks; the radii are stretched to reach (SVG 1.1 F.6.6)
        ('<path d="M10 30a1 .5 0 0180 0z"/>', math.pi * 40 * 20 / 2, 130),
        # a cubic with handles straight up encloses 3/5 of its handles' box
        ('<path d="M0 0C0 50 100 50 100 0z"/>', 100 * 50 * 0.6, 150),
        ('<path d="M0 0c0 50 100 50 100 0z"/>', 100 * 50 * 0.6, 150),
        # a parabola encloses 2/3 of its chord times its rise, which is half its handle's
        ('<path d="M0 0Q50 60 100 0z"/>', 100 * 30 * 2 / 3, 120),
        # smooth ones go on as mirrored: two such arches, one up and one down, level out
        ('<path d="M0 20Q25 50 50 20T100 20V0H0z"/>', 2000, 130),
        ('<path d="M0 20C10 40 40 40 50 20S90 0 100 20V0H0z"/>', 2000, 130),
        ('<polygon points="10,10 90,10 90,50 10,50"/>', 3200, 0),
        ('<polyline points="10,10 90,10 90,50 10,50 10,10"/>', 3200, 0),
        ('<path d="M0 0H80V40H0ZM10 10h10v10h-10z"/>', 3100, 0),
        ('<path d="M0 0H80V40H0Z"/><circle cx="20" cy="20" r="5"/>', 3200 - 25 * math.pi, 32),
        # drawn twice counts once
        ('<path d="M0 0H80V40H0Z"/><rect width="80" height="40"/>', 3200, 0),
    ],
)  # fmt: skip
def test_shapes(body: str, area: float, curve: float) -> None:
    near(shape(body), area, curve)


def test_lines_are_joined_end_to_end_whichever_way_they_run() -> None:
    body = """<line x1="0" y1="0" x2="80" y2="0"/><line x1="80" y1="40.03" x2="80" y2="0"/>
    <path d="M0 0V40"/><path d="M80 40A40 40 0 0 1 0 40"/>"""
    # a rectangle of 80 × 40 and half a circle on it, which reaches down the page
    near(shape(body), 3200 + math.pi * 1600 / 2, 130 + 80)


@pytest.mark.parametrize(
    ("page", "per"),
    [
        ('width="310mm" height="60mm" viewBox="0 0 310 60"', 1.0),
        ('width="31cm" viewBox="0 0 310 60"', 1.0),
        ('height="6cm" viewBox="0 0 310 60"', 1.0),
        ('width="3.1in" height="0.6in" viewBox="0 0 310 60"', 0.254),
        ('width="310" height="60"', 25.4 / 96),
        ('width="310px" height="60px" viewBox="0 0 310 60"', 25.4 / 96),
        ('width="72pt" height="72pt" viewBox="0 0 96 96"', 25.4 / 96),
        ('width="100%" height="100%" viewBox="0 0 310 60"', 1.0),
        ('viewBox="0 0 310 60"', 1.0),
        ("", 1.0),
        # a page that is wider than its viewBox asks: nothing is stretched
        ('width="620mm" height="60mm" viewBox="0 0 310 60"', 1.0),
    ],
)
def test_a_file_is_scaled_by_its_own_units(page: str, per: float) -> None:
    left, low, right, high = shape('<rect x="10" y="10" width="80" height="40"/>', page).bounds
    assert (right - left, high - low) == pytest.approx((80 * per, 40 * per))


def test_the_pages_lower_left_corner_is_the_origin() -> None:
    assert shape('<rect x="10" y="10" width="80" height="40"/>').bounds == (10, 10, 90, 50)
    moved = 'width="310mm" height="60mm" viewBox="-5 -7 310 60"'
    assert shape('<rect x="10" y="10" width="80" height="40"/>', moved).bounds == (15, 3, 95, 43)


def test_y_runs_up_as_it_looks_on_the_screen() -> None:
    found = read_svg(svg('<path d="M0 60H100L0 0Z"/>'))
    assert set(found.outline) == {(0, 0), (100, 0), (0, 60)}


def test_without_a_page_the_outlines_own_corner_is_the_origin() -> None:
    assert shape('<rect x="10" y="10" width="80" height="40"/>', "").bounds == (0, 0, 80, 40)


TRANSFORMS = [
    ("translate(12 -5)", (1, 0, 0, 1, 12, -5)),
    ("translate(12)", (1, 0, 0, 1, 12, 0)),
    ("scale(2 0.5)", (2, 0, 0, 0.5, 0, 0)),
    ("scale(3)", (3, 0, 0, 3, 0, 0)),
    ("rotate(30)", None),
    ("skewX(20)", (1, math.tan(math.radians(20)), 0, 1, 0, 0)),
    ("skewY(20)", (1, 0, math.tan(math.radians(20)), 1, 0, 0)),
    ("matrix(1 2 3 4 5 6)", (1, 3, 2, 4, 5, 6)),
]


@pytest.mark.parametrize(("said", "affine"), TRANSFORMS)
def test_transforms_are_those_of_shapely(said: str, affine: tuple[float, ...] | None) -> None:
    body = '<path {} d="M5 5L40 9 30 50 8 44Z"/>'
    corners = Polygon([(5, 5), (40, 9), (30, 50), (8, 44)])
    wanted = (
        affinity.rotate(corners, 30, origin=(0, 0))
        if affine is None
        else affinity.affine_transform(corners, affine)
    )
    page = affinity.scale(wanted, 1, -1, origin=(0, 0))
    left, low, *_ = page.bounds
    wanted = affinity.translate(page, -left, -low)
    for found in (
        shape(body.format(f'transform="{said}"'), ""),
        shape(f'<g transform="{said}">' + body.format("") + "</g>", ""),
    ):
        assert found.symmetric_difference(wanted).area == pytest.approx(0, abs=1e-6)


def test_transforms_go_on_from_the_outside_in() -> None:
    body = '<g transform="translate(100 0)"><g transform="scale(2)">{}</g></g>'
    inner = '<rect transform="rotate(90 5 5)" width="10" height="20"/>'
    both = '<rect transform="translate(100,0) scale(2) rotate(90, 5, 5)" width="10" height="20"/>'
    assert shape(body.format(inner)).equals(shape(both))


def test_a_curve_is_flattened_after_it_is_scaled() -> None:
    found = read_svg(svg('<circle transform="scale(100)" cx="1" cy=".5" r=".4"/>'))
    for x, y in found.outline:
        assert math.hypot(x - 100, y - 10) == pytest.approx(40)
    assert math.pi * 1600 - Polygon(found.outline).area <= FLAT * 2 * math.pi * 40


def test_hidden_things_and_definitions_do_not_count() -> None:
    edge = '<rect width="80" height="40"/>'
    rest = """<defs><circle r="3"/></defs><clipPath><rect width="9" height="9"/></clipPath>
    <g display="none"><path d="M0 0L9 9"/></g><path style="fill:none; display:none" d="M0 0L9 9"/>
    <symbol><path d="M1 1h3v3z"/></symbol><text>S2</text>"""
    assert shape(edge + rest).area == 3200


@pytest.mark.parametrize("name", ['id="cut"', 'id="layer1" i:label="cut"'])
def test_where_a_layer_is_called_cut_only_that_is_read(name: str) -> None:
    space = 'xmlns:i="http://www.inkscape.org/namespaces/inkscape"'
    body = f'<g {name} {space}><rect width="80" height="40"/></g><path id="grain" d="M0 9L30 9"/>'
    assert shape(body).area == 3200


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ("", "no closed line"),
        ('<path d="M10 10z"/>', "no closed line"),
        ('<path d="M10 10H50V30"/>', "open: it ends at x 10.00 mm, y 50.00 mm, 44.72 mm from"),
        ('<path d="M0 0H50V30z"/><path d="M60 0H90V30z"/>', "several separate outlines"),
        ('<path d="M0 0H50V30z"/><path d="M40 0H90V30z"/>', "lines that cross"),
        ('<rect width="90" height="50"/><rect x="5" y="5" width="50" height="40"/>'
         '<rect x="9" y="9" width="20" height="20"/>', "a piece of wood inside a hole"),
        ('<rect width="90" height="50"/><rect x="5" y="5" width="50" height="40"/>'
         '<rect x="9" y="9" width="60" height="20"/>', "lines that cross"),
        ('<rect width="90" height="50"/><rect x="1" y="1" width="88" height="48"/>', "both sides"),
        ('<path d="M0 0L50 30V0L0 30z"/>', "crosses or touches itself at x 25.00 mm, y 45.00 mm"),
        ('<path d="M0 0L50 0"/><path d="M0 0L50 0"/><path d="M0 0L9 9"/>', "is one drawn twice?"),
        ('<use href="#x"/>', "only clones"),
        ('<svg><rect width="9" height="9"/></svg>', "an svg inside its svg"),
        ('<path d="M0 0 L q"/>', 'can\'t be read, at character 8 of its d: "q"'),
        ('<path d="L 3 3"/>', "can't be read, at character 1"),
        ('<path d="M0 0A1 1 0 2 0 3 3z"/>', "can't be read"),
        ('<rect width="5em" height="3"/>', "whose width is no plain number"),
        ('<g transform="turn(3)"/>', 'transform that can\'t be read: "turn(3)"'),
        ('<g transform="rotate(1 2)"/>', "transform that can't be read"),
        ('<path d="M0 0H20000V5z"/>', "farther away than 10 m"),
        ("<rect", "line 1"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_drawing(body: str, told: str) -> None:
    with pytest.raises(TracingError) as error:
        read_svg(svg(body))
    assert told in str(error.value)


@pytest.mark.parametrize(
    ("page", "told"),
    [
        ('width="wide" height="3mm"', "a width that can't be read"),
        ('width="3 furlongs"', "a width that can't be read"),
        ('width="0mm" height="3mm"', "a width of nothing"),
        ('viewBox="0 0 0 10"', "viewBox"),
        ('viewBox="0 0 10"', "viewBox"),
    ],
)
def test_what_is_wrong_with_a_page(page: str, told: str) -> None:
    with pytest.raises(TracingError, match=told):
        read_svg(svg('<rect width="9" height="9"/>', page))


def test_a_drawing_that_is_no_svg() -> None:
    with pytest.raises(TracingError, match="is no SVG file"):
        read_svg(b"<html><body/></html>")


def test_our_own_drawings_read_back(tmp_path: Path) -> None:
    from rosette.geometry.outline import Outline, Vertex
    from rosette.output.svg import svg_bytes
    from rosette.sheets.drawing import Drawing, Stroke

    outline = Outline((Vertex(-20, -10), Vertex(60, -10, 0.4), Vertex(55, 30), Vertex(-20, 30)))
    drawing = Drawing(
        name="a", title="a", purpose="", bounds=(-20, -10, 80, 30),
        elements=(Stroke(outline=outline, layer="cut"),
                  Stroke(outline=Outline((Vertex(0, 0), Vertex(9, 0)), False), layer="grain")),
    )  # fmt: skip
    read = read_svg(svg_bytes(drawing))
    assert Polygon(read.outline).area == pytest.approx(outline.area(), abs=FLAT * 60)
    assert min(read.outline) == pytest.approx((0, 0))


def test_an_offcut_by_its_tracing(tmp_path: Path) -> None:
    (tmp_path / "traced").mkdir()
    body = '<rect width="80" height="40"/><circle cx="20" cy="20" r="5"/>'
    (tmp_path / "traced" / "S2.svg").write_bytes(svg(body))
    found = one("file = 'traced/S2.svg'\nholes = [{ at = [60, 30], across = 4 }]", folder=tmp_path)
    assert (found.form, found.file, len(found.holes)) == ("file", "traced/S2.svg", 2)


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("../S2.svg", "not a file in the folder"),
        ("/etc/passwd", "not a file in the folder"),
        ("a//S2.svg", "not a file in the folder"),
        ("C:S2.svg", "not a file in the folder"),
        ("a\\\\S2.svg", "not a file in the folder"),
        ("S3.svg", "is not there"),
        ("sub.svg", "is a folder"),
        ("S2.png", "neither an SVG nor a DXF"),
        ("S2", "neither an SVG nor a DXF"),
        ("pipe.svg", "not an ordinary file"),
        ("zero.svg", "not an ordinary file"),
        ("loop.svg", "can't be read"),
        ("large.svg", "larger than 4 MB"),
        ("S2.svg", "no closed line"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_path(name: str, told: str, tmp_path: Path) -> None:
    import os

    (tmp_path / "sub.svg").mkdir()
    os.mkfifo(tmp_path / "pipe.svg")
    (tmp_path / "zero.svg").symlink_to("/dev/zero")
    (tmp_path / "loop.svg").symlink_to("loop.svg")
    (tmp_path / "large.svg").write_bytes(b" " * (4 * 2**20 + 1))
    (tmp_path / "S2.svg").write_bytes(svg(""))
    (line,) = wrong(
        f'[[offcut]]\nid = "S2"\nwood = "w"\nthickness = 2\nfile = "{name}"', folder=tmp_path
    )
    assert "offcut[1].file (S2)" in line
    assert told in line


def test_a_link_to_a_tracing_is_followed(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "S2.svg").write_bytes(svg('<rect width="80" height="40"/>'))
    (tmp_path / "box").mkdir()
    (tmp_path / "box" / "S2.svg").symlink_to("../photos/S2.svg")
    assert len(read_tracing(tmp_path / "box", "S2.svg").outline) == 4
