"""Every form a shape can be given in, against closed formulas and shapely."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Polygon

from rosette.offcuts.knots import around, knot_of
from rosette.offcuts.shorthand import curved
from tests.offcuts_box.boxes import PLAIN, box, one

FLAT = 0.02
"""mm: how far straight lines may stand off a curve."""


def test_the_outline_of_the_format_reads() -> None:
    found = one(
        "outline = [[0, 0], [310, 0], [300, 44], [5, 60]]\ngrain = 12.5\n"
        "defects = [[[40, 10], [52, 10], [52, 21], [40, 21]]]\ncount = 3\nnote = 'x'"
    )
    assert found.outline == ((0, 0), (310, 0), (300, 44), (5, 60))
    assert (found.grain, found.count, found.thickness, found.note) == (12.5, 3, 2.4, "x")
    assert found.defects == (((40, 10), (52, 10), (52, 21), (40, 21)),)
    assert found.pieces().outline == found.outline


def test_a_closed_outline_and_repeated_points_do_no_harm() -> None:
    found = one("outline = [[0, 0], [0, 0], [30, 0], [30, 20], [30, 20], [0, 0]]")
    assert found.outline == ((0, 0), (30, 0), (30, 20))


def test_lengths_carry_their_units_anywhere() -> None:
    found = one(
        'outline = [[0, 0], ["3 3/4 in", 0], ["95.25 mm", "2 in"], [0, 2]]\n'
        'defects = [{ at = ["1 in", 1], across = "0.5 in" }]',
        units="in",
    )
    # 3 3/4 in is 95.25 mm, by the inch of 25.4 mm
    assert found.outline == ((0, 0), (95.25, 0), (95.25, 50.8), (0, 50.8))
    centre, radius = knot_of(found.defects[0]) or ((0, 0), 0)
    assert (*centre, radius) == pytest.approx((25.4, 25.4, 6.35))


def test_a_rectangle() -> None:
    assert Polygon(one("rectangle = [310, '4.4 cm']").outline).bounds == (0, 0, 310, 44)


@pytest.mark.parametrize(
    ("sits", "low", "high"), [("bottom", 0, 44), ("top", 16, 60), ("middle", 8, 52), (-5, -5, 39)]
)
def test_a_taper_is_a_trapezoid_wherever_its_end_sits(
    sits: object, low: float, high: float
) -> None:
    said = f'"{sits}"' if isinstance(sits, str) else str(sits)
    found = one(f"taper = {{ length = 310, ends = [60, 44], sits = {said} }}")
    shape = Polygon(found.outline)
    # area of a trapezoid: length times the mean of its parallel sides
    assert shape.area == pytest.approx(310 * (60 + 44) / 2)
    right = sorted(y for x, y in found.outline if x == 310)
    assert right == pytest.approx([low, high])


def test_a_taper_may_run_out_to_a_point() -> None:
    found = one("taper = { length = 90, ends = [0, 30] }")
    assert len(found.outline) == 3
    assert Polygon(found.outline).area == pytest.approx(90 * 30 / 2)


@pytest.mark.parametrize("sign", [1, -1])
def test_a_bow_is_the_circular_segment_of_the_handbook(sign: int) -> None:
    # chord 21, rise 6: radius 12.1875, arc 25.308373, area 89.254148 (CRC-style handbook table)
    found = one(f"curved = {{ length = 21, ends = 30, rise = {6 * sign} }}")
    bow = sign * (Polygon(found.outline).area - 21 * 30)
    assert 89.254148 - 25.308373 * FLAT <= bow <= 89.254148
    centre = 30 + sign * (6 - 12.1875)
    for x, y in found.outline:
        if 0 < x < 21:
            assert math.hypot(x - 10.5, y - centre) == pytest.approx(12.1875)


def test_a_bow_on_ends_that_differ_goes_through_its_middle() -> None:
    ring = curved(length=180, left=46, right=40, rise=-14)
    middle = Polygon(ring).intersection(
        Polygon([(89.99, -9), (90.01, -9), (90.01, 99), (89.99, 99)])
    )
    assert middle.bounds[3] == pytest.approx(43 - 14, abs=FLAT)
    assert {(180, 40), (0, 46)} <= set(ring)


def test_without_a_rise_a_bow_is_a_rectangle() -> None:
    assert Polygon(one("curved = { length = 50, ends = 20, rise = 0 }").outline).area == 1000


def test_a_knot_covers_its_circle_and_hardly_more() -> None:
    for radius in (0.3, 6.0, 40.0):
        shape = Polygon(around((3.0, -2.0), radius))
        assert shape.exterior.distance(shape.centroid) >= radius - 1e-9
        assert shape.hausdorff_distance(shape.centroid) <= radius + FLAT + 1e-9


def test_holes_beside_defects() -> None:
    found = one("rectangle = [60, 40]\nholes = [{ at = [20, 20], across = 8 }]")
    assert len(found.holes) == 1
    assert not found.defects


def test_a_box_may_be_empty() -> None:
    assert box("").offcuts == ()


def test_the_fingerprint_is_that_of_the_wood() -> None:
    same = [one("rectangle = [40, 30]"), one("outline = [[0,0],[40,0],[40,30],[0,30]]\ncount = 4")]
    assert same[0].sha256 == same[1].sha256
    other = [one("rectangle = [40, 30.01]"), one("rectangle = [40, 30]\ngrain = 1")]
    other += box(PLAIN.replace("2.4", "2.5") + "rectangle = [40, 30]").offcuts
    assert len({one_.sha256 for one_ in (*same, *other)}) == 4
