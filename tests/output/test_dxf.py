"""DXF files read back with ezdxf."""

from __future__ import annotations

import io
import math
import time
from dataclasses import replace

import ezdxf
import pytest
from ezdxf.enums import TextEntityAlignment
from ezdxf.tools.text import caret_decode
from hypothesis import given, settings
from hypothesis import strategies as st

from rosette.geometry.outline import line
from rosette.output.dxf import COLOURS, dxf_bytes
from rosette.sheets.drawing import LAYERS, Drawing, Stroke, Text
from tests.output.samples import ARCS, CIRCLES, POLYGONS, WORDS, sample


def read(drawing: Drawing) -> ezdxf.document.Drawing:
    return ezdxf.read(io.StringIO(dxf_bytes(drawing).decode("utf-8")))


def named(drawing: Drawing) -> dict:
    return {
        entity.get_xdata("ROSETTE")[0].value: entity
        for entity in read(drawing).modelspace()
        if entity.has_xdata("ROSETTE")
    }


def test_it_is_r2010_in_millimetres_and_sound() -> None:
    file = read(sample())
    assert file.dxfversion == "AC1024"
    assert file.header["$INSUNITS"] == 4
    assert file.header["$MEASUREMENT"] == 1
    audit = file.audit()
    assert not audit.has_errors
    assert not audit.has_fixes


def test_layers_have_their_names_colours_and_weights() -> None:
    file = read(sample())
    for layer in LAYERS:
        assert file.layers.get(layer).color == COLOURS[layer]
        assert file.layers.get(layer).dxf.lineweight > 0
    assert {entity.dxf.layer for entity in file.modelspace()} == set(LAYERS)
    assert len(set(COLOURS.values())) == len(LAYERS)


def test_circles_are_circles() -> None:
    found = named(sample())
    for name, (centre, radius) in CIRCLES.items():
        assert found[name].dxftype() == "CIRCLE"
        assert found[name].dxf.radius == pytest.approx(radius, abs=1e-9)
        assert math.dist(found[name].dxf.center.vec2, (centre.real, centre.imag)) < 1e-9


def test_every_outline_to_cut_is_one_closed_polyline() -> None:
    cut = read(sample()).modelspace().query('*[layer=="cut"]')
    assert {entity.dxftype() for entity in cut} == {"CIRCLE", "LWPOLYLINE"}
    polylines = cut.query("LWPOLYLINE")
    assert len(polylines) == len(POLYGONS) + 2
    assert all(polyline.closed for polyline in polylines)
    found = named(sample())
    for name, corners in POLYGONS.items():
        points = found[name].get_points("xy")
        assert len(points) == len(corners)
        assert all(math.dist(a, b) < 1e-9 for a, b in zip(points, corners, strict=True))


@pytest.mark.parametrize(("name", "wanted"), ARCS.items())
def test_arcs_are_bulges_of_the_right_way_round(name: str, wanted: tuple[float, ...]) -> None:
    radius, start, end = wanted
    arcs = list(named(sample())[name].virtual_entities())
    swept = 0.0
    for part in arcs:
        assert part.dxftype() == "ARC"
        assert part.dxf.radius == pytest.approx(radius, abs=1e-9)
        assert part.dxf.center.magnitude < 1e-9
        swept += (part.dxf.end_angle - part.dxf.start_angle) % 360.0
    assert swept == pytest.approx(abs(end - start), abs=1e-6)
    assert all((bulge > 0) == (end > start) for _, _, bulge in _bulges(name)[:-1])


def _bulges(name: str) -> list[tuple[float, float, float]]:
    return named(sample())[name].get_points("xyb")


def test_words_keep_height_anchor_and_turn() -> None:
    texts = {text.dxf.text: text for text in read(sample()).modelspace().query("TEXT")}
    assert set(WORDS) <= set(texts)
    second = texts[WORDS[1]]
    assert second.dxf.height == 2.5
    assert second.dxf.rotation == 15.0
    align, at, _ = second.get_placement()
    assert align == TextEntityAlignment.CENTER
    assert math.dist(at.vec2, (-20.0, -6.0)) < 1e-9


def test_dashes_are_a_line_type_of_that_length() -> None:
    file = read(sample())
    (entity,) = file.modelspace().query('LINE[layer=="centreline"]')
    pattern = file.linetypes.get(entity.dxf.linetype)
    assert [tag.value for tag in pattern.pattern_tags.tags if tag.code == 49] == [6, -1.5, 1, -1.5]


def test_only_kinds_that_every_program_draws_right() -> None:
    kinds = {entity.dxftype() for entity in read(sample()).modelspace()}
    assert kinds <= {"LINE", "CIRCLE", "LWPOLYLINE", "TEXT"}


def test_a_window_is_cut_off_at_its_frame() -> None:
    part = named(sample())["seen"]
    xs = [x for x, _ in part.get_points("xy")]
    assert not part.closed
    assert max(xs) == pytest.approx(-50.0, abs=1e-9)
    assert min(xs) == pytest.approx(-58.0, abs=0.01)


def test_the_same_drawing_makes_the_same_bytes_at_any_time() -> None:
    first = dxf_bytes(sample())
    time.sleep(1.1)
    assert dxf_bytes(sample()) == first


@settings(max_examples=40, deadline=None)
@given(st.text(st.characters(exclude_categories=["Cs"]), min_size=1))
def test_any_words_make_a_sound_file(words: str) -> None:
    drawing = replace(sample(), title=words, elements=(Text(text=words, at=(0.0, 0.0)),))
    file = read(drawing)
    assert not file.audit().has_errors
    assert len(file.modelspace()) <= 1


def test_words_are_not_taken_for_codes() -> None:
    """In a DXF %%d is a degree sign, %%% a percent sign and ^J a line feed (DXF reference)."""
    drawing = replace(sample(), elements=(Text(text="5 %%d ^J", at=(0.0, 0.0)),))
    (text,) = read(drawing).modelspace()
    assert caret_decode(text.dxf.text.replace("%%%", "%")) == "5 %%d ^J"


def test_different_dashes_are_different_line_types() -> None:
    patterns = [(3.0, 1.0), (2.0, 1.0), (3.0, 1.0), (6.0, 1.0), (9.0, 1.0), (5.0,)]
    drawing = replace(
        sample(),
        elements=tuple(
            Stroke(outline=line((0.0, i), (9.0, i)), layer="note", dashes=dashes)
            for i, dashes in enumerate(map(tuple, patterns))
        ),
    )
    file = read(drawing)
    names = [entity.dxf.linetype for entity in file.modelspace()]
    assert names[0] == names[2]
    assert len(set(names)) == 5
    for name, dashes in zip(names, patterns, strict=True):
        tags = file.linetypes.get(name).pattern_tags.tags
        assert [abs(t.value) for t in tags if t.code == 49] == list(dashes * (2 // len(dashes)))


def test_words_leave_room_for_the_wider_letters_of_a_cad_program() -> None:
    # LibreCAD 2.2 draws its own letters 17 % wider than ours: measured on the gauges' sheet.
    for entity in read(sample()).modelspace().query("TEXT"):
        assert entity.dxf.width * 1.17 <= 1.0
