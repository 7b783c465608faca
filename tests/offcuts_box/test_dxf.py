"""Outlines out of DXF files that ezdxf wrote, against closed formulas and ezdxf's own points."""

from __future__ import annotations

import io
import math
from collections.abc import Callable
from typing import Any

import ezdxf
import pytest
from ezdxf.math import BSpline
from shapely.geometry import Polygon

from rosette.geometry.tracing import TracingError
from rosette.offcuts.tracing_dxf import read_dxf

FLAT = 0.02
Draw = Callable[[Any], object]


def dxf(draw: Draw, *, units: int = 4, version: str = "R2010") -> bytes:
    document = ezdxf.new(version, units=units)
    draw(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def shape(draw: Draw, *, units: int = 4, version: str = "R2010") -> Polygon:
    read = read_dxf(dxf(draw, units=units, version=version))
    return Polygon(read.outline, read.holes)


def both(*draws: Draw) -> Draw:
    def draw(space: Any) -> None:
        for one in draws:
            one(space)

    return draw


CORNERS = [(3, 4), (83, 4), (83, 44), (3, 44)]
RECT: Draw = lambda m: m.add_lwpolyline(CORNERS, close=True)  # noqa: E731
# a bulge of 1 is half a circle, of tan(22.5°) a quarter, as the DXF reference defines it
ROUND = [(0, 0, 1), (100, 0, 1)]
QUARTER = math.tan(math.pi / 8)


@pytest.mark.parametrize(
    ("draw", "area", "curve"),
    [
        (RECT, 3200, 0),
        (lambda m: m.add_lwpolyline(ROUND, format="xyb", close=True), math.pi * 2500, 315),
        (lambda m: m.add_lwpolyline([(0, 0, -1), (100, 0, -1)], format="xyb", close=True),
         math.pi * 2500, 315),
        (lambda m: m.add_lwpolyline([(0, 0), (50, 0, QUARTER), (0, 50)], format="xyb", close=True),
         math.pi * 2500 / 4, 79),
        (lambda m: m.add_lwpolyline([(0, 0), (50, 0, -QUARTER), (0, 50)], format="xyb", close=True),
         2500 - math.pi * 2500 / 4, 79),
        (lambda m: m.add_lwpolyline([(0, 0, 1), (100, 0, 1)], format="xyb", close=True,
                                    dxfattribs={"extrusion": (0, 0, -1)}), math.pi * 2500, 315),
        (lambda m: m.add_polyline2d(ROUND, format="xyb", close=True), math.pi * 2500, 315),
        (lambda m: m.add_polyline2d([*CORNERS, CORNERS[0]]), 3200, 0),
        (lambda m: m.add_circle((50, 40), 25), math.pi * 625, 158),
        (lambda m: m.add_ellipse((0, 0), (40, 0), 0.25), math.pi * 400, 172),
        (lambda m: m.add_ellipse((0, 0), (0, 40), 0.25), math.pi * 400, 172),
        (both(RECT, lambda m: m.add_circle((20, 20), 5)), 3200 - math.pi * 25, 32),
        (both(RECT, RECT), 3200, 0),
    ],
)  # fmt: skip
def test_shapes(draw: Draw, area: float, curve: float) -> None:
    assert abs(shape(draw).area - area) <= FLAT * curve + 1e-6


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_versions(version: str) -> None:
    found = shape(
        both(
            lambda m: m.add_line((0, 0), (100, 0)),
            lambda m: m.add_line((100, 40.03), (100, 0)),
            lambda m: m.add_arc((50, 40), 50, 0, 180),
            lambda m: m.add_line((0, 40), (0, 0.02)),
        ),
        version=version,
    )
    assert abs(found.area - (4000 + math.pi * 1250)) <= FLAT * 200


@pytest.mark.parametrize(("units", "per"), [(0, 1), (1, 25.4), (4, 1), (5, 10), (6, 1000)])
def test_a_file_is_scaled_by_its_own_units(units: int, per: float) -> None:
    draw: Draw = lambda m: m.add_circle((2 / per, 1 / per), 20 / per)  # noqa: E731
    found = read_dxf(dxf(draw, units=units))
    for x, y in found.outline:
        assert math.hypot(x - 2, y - 1) == pytest.approx(20)
    assert math.pi * 400 - Polygon(found.outline).area <= FLAT * 2 * math.pi * 20


def test_coordinates_are_those_of_the_file() -> None:
    assert shape(RECT).bounds == (3, 4, 83, 44)


def test_a_spline_is_that_of_ezdxf() -> None:
    points = [(0, 0), (60, -10), (90, 40), (40, 60), (-10, 30), (0, 0)]
    curve = BSpline([(x, y, 0) for x, y in points], order=4)
    dense = Polygon([(p.x, p.y) for p in curve.approximate(4000)])

    def draw(space: Any) -> None:
        space.add_spline().control_points = points
        spline = space[-1]
        spline.dxf.degree = 3
        spline.knots = curve.knots()

    found = shape(draw)
    assert found.hausdorff_distance(dense) <= FLAT + 0.01
    assert found.area == pytest.approx(dense.area, abs=FLAT * dense.length)


def test_a_spline_through_points() -> None:
    found = shape(lambda m: m.add_spline([(0, 0), (60, -10), (90, 40), (40, 60), (0, 0)]))
    for x, y in [(60, -10), (90, 40), (40, 60)]:
        assert found.exterior.distance(Polygon([(x, y)] * 3).exterior.centroid) <= FLAT + 0.01


def test_only_the_layer_cut_where_there_is_one() -> None:
    def draw(space: Any) -> None:
        space.add_lwpolyline(CORNERS, close=True, dxfattribs={"layer": "CUT"})
        space.add_line((0, 0), (5, 9), dxfattribs={"layer": "note"})
        space.add_text("S2")

    assert shape(draw).area == 3200


def test_what_is_switched_off_does_not_count() -> None:
    def draw(space: Any) -> None:
        RECT(space)
        for name, act in (("a", "off"), ("b", "freeze")):
            getattr(space.doc.layers.add(name), act)()
            space.add_line((0, 0), (5, 9), dxfattribs={"layer": name})
        space.add_line((0, 0), (5, 9), dxfattribs={"invisible": 1})

    assert shape(draw).area == 3200


def _block(space: Any) -> None:
    space.doc.blocks.new("B").add_circle((0, 0), 9)
    space.add_blockref("B", (0, 0))


@pytest.mark.parametrize(
    ("draw", "told"),
    [
        (lambda m: None, "no closed line"),
        (lambda m: m.add_text("S2"), "no closed line"),
        (_block, "only blocks"),
        (lambda m: m.add_lwpolyline(CORNERS), "is open: it ends at x 3.00 mm, y"),
        (both(RECT, lambda m: m.add_circle((200, 0), 9)), "several separate outlines"),
        (both(RECT, lambda m: m.add_circle((83, 20), 9)), "lines that cross"),
        (lambda m: m.add_circle((0, 0), 0), "nothing or larger than 10 m"),
        (lambda m: m.add_circle((0, 0), 1e9), "nothing or larger than 10 m"),
        (lambda m: m.add_circle((1e308, 0), 9), "farther away than 10 m"),
        (lambda m: m.add_lwpolyline([(0, 0, 1e300), (9, 0, 1)], format="xyb", close=True), "in it"),
        (lambda m: m.add_lwpolyline([(0, 0), (9, math.nan), (5, 5)], close=True), "nowhere at all"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_drawing(draw: Draw, told: str) -> None:
    with pytest.raises(TracingError, match=told):
        read_dxf(dxf(draw))


def test_units_that_no_shop_works_in() -> None:
    with pytest.raises(TracingError, match="INSUNITS"):
        read_dxf(dxf(RECT, units=3))
