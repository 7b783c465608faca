"""Dimensions as ISO 129-1 has them: arrows on the lines, words above, read from right or below."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Point, Polygon

from rosette.sheets.dimension import (
    ARROW,
    Span,
    aligned,
    between,
    horizontal,
    length_text,
    tiers,
    upright,
    vertical,
)
from rosette.sheets.drawing import Drawing, Element, Stroke, Text
from rosette.sheets.leaders import angular, diameter, leader, radius
from tests.sheets.looking import overlaps, struck


def drawing(*elements: Element) -> Drawing:
    return Drawing(name="x", title="", purpose="", bounds=(-500, -500, 500, 500), elements=elements)


def arrows(elements: tuple[Element, ...]) -> list[tuple[tuple[float, float], float]]:
    """Tip and direction in degrees of each filled arrowhead, by its shape."""
    found = []
    for one in elements:
        if isinstance(one, Stroke) and one.fill:
            tip, left, right = ((v.x, v.y) for v in one.outline.vertices)
            back = ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2)
            found.append((tip, math.degrees(math.atan2(tip[1] - back[1], tip[0] - back[0]))))
    return found


def words(elements: tuple[Element, ...]) -> Text:
    (text,) = (one for one in elements if isinstance(one, Text))
    return text


@pytest.mark.parametrize("angle", range(0, 360, 15))
def test_a_long_dimension_points_at_both_ends_and_reads_from_below_or_the_right(angle: int) -> None:
    turn = math.radians(angle)
    b = (40.0 * math.cos(turn), 40.0 * math.sin(turn))
    made = between((0.0, 0.0), b, "40.00")
    for (tip, way), end, outward in zip(
        sorted(arrows(made), key=lambda one: math.hypot(*one[0])),
        ((0.0, 0.0), b),
        (angle + 180.0, angle),
        strict=True,
    ):
        assert tip == pytest.approx(end, abs=1e-9)
        assert math.remainder(way - outward, 360.0) == pytest.approx(0.0, abs=1e-6)
    text = words(made)
    assert math.remainder(text.turn - angle, 180.0) == pytest.approx(0.0, abs=1e-6)
    assert -75.01 < math.remainder(text.turn, 360.0) < 105.01
    assert list(struck(drawing(*made))) == []


def test_a_short_dimension_turns_its_arrows_inwards_and_moves_its_words() -> None:
    made = between((0.0, 0.0), (2.0, 0.0), "2.00")
    assert sorted((tip[0], round(way)) for tip, way in arrows(made)) == [(0.0, 0), (2.0, 180)]
    assert words(made).at[0] > 2.0 + 2 * ARROW
    assert list(struck(drawing(*made))) == []


@pytest.mark.parametrize("offset", [8.0, -8.0])
def test_extension_lines_stand_off_the_work_and_pass_the_dimension_line(offset: float) -> None:
    made = aligned((0.0, 0.0), (30.0, 0.0), offset, "30.00")
    lines = [one for one in made if isinstance(one, Stroke) and not one.outline.closed]
    upright_lines = [one for one in lines if one.outline.vertices[0].x == one.outline.vertices[1].x]
    assert len(upright_lines) == 2
    for one in upright_lines:
        near, far = sorted(abs(v.y) for v in one.outline.vertices)
        assert 0.0 < near < 1.5
        assert far > abs(offset)


def test_horizontal_and_vertical_measure_along_their_axis_alone() -> None:
    level = horizontal((0.0, 0.0), (30.0, 5.0), 12.0, "30.00")
    assert sorted(tip for tip, _ in arrows(level)) == [(0.0, 12.0), (30.0, 12.0)]
    standing = vertical((0.0, 0.0), (5.0, 30.0), -9.0, "30.00")
    assert sorted(tip for tip, _ in arrows(standing)) == [(-9.0, 0.0), (-9.0, 30.0)]
    assert words(standing).turn == pytest.approx(90.0)


def test_a_height_told_level_has_its_words_beside_it() -> None:
    made = upright((0.0, 0.0), (0.0, -20.0), 8.0, "depth 2.00")
    assert sorted(tip for tip, _ in arrows(made)) == [(8.0, -20.0), (8.0, 0.0)]
    assert words(made).turn == 0.0
    assert list(struck(drawing(*made))) == []


@pytest.mark.parametrize("count", [2, 3, 5])
@pytest.mark.parametrize("axis", ["x", "y"])
def test_tiers_keep_dimensions_apart(count: int, axis: str) -> None:
    spans = []
    for i in range(count):
        a, b = (0.0, 0.0), (12.0 * (i + 1), 0.0)
        c, d = (20.0 * i, 0.0), (20.0 * i + 1.5, 0.0)
        for p, q in ((a, b), (c, d)):
            ends = (p, q) if axis == "x" else (p[::-1], q[::-1])
            spans.append(Span(a=ends[0], b=ends[1], text=f"{abs(q[0] - p[0]):.2f}"))
    made = tiers(spans, axis="x" if axis == "x" else "y", level=6.0, side=1)
    assert sum(isinstance(one, Text) for one in made) == 2 * count
    assert overlaps(drawing(*made)) == []


@pytest.mark.parametrize("sweep", [3.0, 20.0, 60.0, 120.0])
def test_an_angle_is_an_arc_with_arrows_on_it(sweep: float) -> None:
    made = angular((1.0, 2.0), 30.0, 90.0 - sweep / 2, 90.0 + sweep / 2, f"{sweep:g}°")
    for (tip, _), turn in zip(sorted(arrows(made)), (90 + sweep / 2, 90 - sweep / 2), strict=True):
        along = (
            1.0 + 30.0 * math.cos(math.radians(turn)),
            2.0 + 30.0 * math.sin(math.radians(turn)),
        )
        assert tip == pytest.approx(along, abs=1e-9)
    (bow,) = (one for one in made if isinstance(one, Stroke) and one.outline.vertices[0].bulge)
    for x, y in bow.outline.points():
        assert math.dist((x, y), (1.0, 2.0)) == pytest.approx(30.0, abs=1e-6)
    assert list(struck(drawing(*made))) == []


def test_radius_and_diameter_point_at_the_circle() -> None:
    (tip, way), *_ = arrows(radius((0.0, 0.0), 50.0, 200.0, "R 50.00"))
    assert math.hypot(*tip) == pytest.approx(50.0)
    assert math.remainder(way - 200.0, 360.0) == pytest.approx(0.0, abs=1e-6)
    tips = [tip for tip, _ in arrows(diameter((0.0, 0.0), 100.0, 30.0, "Ø 100.00"))]
    assert len(tips) == 2
    assert all(math.hypot(*tip) == pytest.approx(50.0) for tip in tips)
    assert math.dist(*tips) == pytest.approx(100.0)


def test_a_leader_points_at_what_it_names() -> None:
    made = leader((0.0, 0.0), (10.0, 10.0), "R 70.00", "arc 11.72")
    ((tip, way),) = arrows(made)
    assert (tip, way) == ((0.0, 0.0), pytest.approx(-135.0))
    assert overlaps(drawing(*made)) == []
    assert list(struck(drawing(*made))) == []


def test_arrowheads_are_slender_and_filled() -> None:
    (head, *_) = (one for one in between((0.0, 0.0), (40.0, 0.0), "x") if isinstance(one, Stroke))
    shape = Polygon([(v.x, v.y) for v in head.outline.vertices])
    assert head.fill == "#000000"
    assert shape.area == pytest.approx(ARROW**2 * math.sin(math.radians(19.0)) / 2.0, rel=1e-6)
    assert shape.distance(Point(0.0, 0.0)) == pytest.approx(0.0, abs=1e-9)


def test_inches_carry_the_nearest_sixty_fourth() -> None:
    # 17/64 in is 6.746875 mm
    assert length_text(6.746875, "in") == "0.266 (17/64)"
