"""Gauges hold what they check: the wedges, placed in them, touch and do not overlap."""

from __future__ import annotations

import math

import pytest
from shapely import affinity
from shapely.geometry import Point, Polygon

from rosette.geometry.outline import arc_between
from rosette.patterns.base import Wedges
from rosette.sheets.drawing import Drawing, Stroke, Text
from rosette.sheets.gauge_shapes import half_set, mitre_plate, radius_template, wedge_notch
from rosette.sheets.gauges import drawings
from tests.sheets.hard_plans import RINGS, plan
from tests.sheets.looking import ink

ROUND = [name for name in RINGS if name != "lines alone"]


def shape(stroke: Stroke) -> Polygon:
    return Polygon(stroke.outline.points(1e-4))


def cut_out(sheets: tuple[Drawing, ...]) -> list[tuple[Drawing, Stroke]]:
    return [
        (sheet, one)
        for sheet in sheets
        for one in sheet.elements
        if isinstance(one, Stroke) and one.layer == "cut"
    ]


def blanks(wedges: Wedges) -> list[Polygon]:
    """The blanks of a half set round 12 o'clock, from the promised formulas."""
    blank = wedges.blank
    flat = Polygon(
        [
            (blank.inner_distance, -blank.inner_width / 2),
            (blank.outer_distance, -blank.outer_width / 2),
            (blank.outer_distance, blank.outer_width / 2),
            (blank.inner_distance, blank.inner_width / 2),
        ]
    )
    count = wedges.segments // 2
    first = 90.0 - (count - 1) * 180.0 / wedges.segments
    return [
        affinity.rotate(flat, first + i * 360.0 / wedges.segments, origin=(0.0, 0.0))
        for i in range(count)
    ]


@pytest.mark.parametrize("name", ROUND)
def test_half_a_ring_stands_on_the_half_set_gauge(name: str) -> None:
    for ring in plan(name).wedge_rings:
        assert ring.wedges is not None
        gauge = Polygon(half_set(ring.wedges).points(1e-4))
        assert gauge.is_valid
        placed = blanks(ring.wedges)
        assert sum(one.intersection(gauge).area for one in placed) < 1e-6
        # the end faces bear along their whole length, or as far as a page has room
        corner = math.hypot(ring.wedges.blank.outer_distance, ring.wedges.blank.outer_width / 2.0)
        face = ring.wedges.blank.height / math.cos(math.radians(ring.wedges.mitre_angle))
        reach = max(88.0, ring.wedges.blank.outer_distance + 4.0)
        bearing = face - max(0.0, corner - reach)
        ends = placed if len(placed) == 1 else [placed[0], placed[-1]]
        touching = sum(
            end.buffer(1e-6).intersection(gauge.buffer(1e-6)).area / 2e-6 for end in ends
        )
        assert touching == pytest.approx(2.0 * bearing, rel=0.01)
        # the boss stays clear of the wedges between
        assert all(one.distance(gauge) == pytest.approx(0.5, abs=1e-3) for one in placed[1:-1])


@pytest.mark.parametrize("name", [n for n in ROUND if n not in ("3 wedges", "5 wedges")])
def test_an_even_half_set_makes_one_straight_edge(name: str) -> None:
    for ring in plan(name).wedge_rings:
        assert ring.wedges is not None
        right, foot, other, left, *_ = half_set(ring.wedges).vertices
        assert max(v.y for v in (right, foot, other, left)) == pytest.approx(
            ring.wedges.joint / 2.0, abs=1e-9
        )
        assert right.y == pytest.approx(left.y, abs=1e-9)


@pytest.mark.parametrize("name", ROUND)
def test_a_blank_fills_the_wedge_gauge(name: str) -> None:
    for ring in plan(name).wedge_rings:
        wedges = ring.wedges
        assert wedges is not None
        blank = wedges.blank
        gauge = Polygon([v[:2] for v in wedge_notch(wedges).vertices])
        assert gauge.is_valid
        flat = Polygon(
            [
                (-blank.inner_width / 2, blank.inner_distance),
                (blank.inner_width / 2, blank.inner_distance),
                (blank.outer_width / 2, blank.outer_distance),
                (-blank.outer_width / 2, blank.outer_distance),
            ]
        )
        assert flat.intersection(gauge).area < 1e-6
        for off in (-0.3, 0.3):
            spread = affinity.scale(flat, (blank.outer_width + 0.1) / blank.outer_width, 1.0)
            turned = affinity.rotate(spread, off)
            assert turned.intersection(gauge).area > 0.0


@pytest.mark.parametrize(("count", "degrees"), [(6, 30.0), (12, 15.0), (18, 10.0), (24, 7.5)])
def test_the_mitre_gauge_holds_the_tables_angle(count: int, degrees: float) -> None:
    # mitre settings of the common table in segmented work
    a, b, c, d = (v[:2] for v in mitre_plate(180.0 / count).vertices)
    lean = math.degrees(math.atan2(b[0] - c[0], c[1] - b[1]))
    assert lean == pytest.approx(degrees, abs=1e-9)
    assert (a[0], a[1], d[0], b[1]) == (0.0, 0.0, 0.0, 0.0)


@pytest.mark.parametrize("size", [45.0, 52.0, 70.0, 110.0])
def test_both_edges_of_a_radius_template_have_its_radius(size: float) -> None:
    # a circular segment's radius from its chord and rise, (c²/4 + h²)/2h: chord 21, rise 6 give
    # 12.1875 (CRC-style handbook table)
    assert (21**2 / 4 + 6**2) / 12 == 12.1875
    arcs = [(a, b) for a, b in radius_template(size).edges() if a.bulge]
    assert len(arcs) == 2
    for a, b in arcs:
        chord = math.dist(a[:2], b[:2])
        middle = arc_between(a, b)
        turn = middle.start_rad + middle.sweep_rad / 2.0
        top = (middle.x + middle.radius * math.cos(turn), middle.y + middle.radius * math.sin(turn))
        rise = math.dist(top, ((a.x + b.x) / 2, (a.y + b.y) / 2))
        assert (chord**2 / 4 + rise**2) / (2 * rise) == pytest.approx(size, abs=1e-9)
        assert chord >= 60.0
    assert arcs[0][0].bulge == -arcs[1][0].bulge


@pytest.mark.parametrize("name", RINGS)
def test_every_gauge_is_one_closed_outline_lettered_within(name: str) -> None:
    sheets = drawings(plan(name))
    cut = cut_out(sheets)
    for _, one in cut:
        assert one.outline.closed
        assert one.name.startswith("gauge-")
        assert shape(one).is_valid
    names = [one.name for _, one in cut]
    assert len(names) == len(set(names))
    for sheet in sheets:
        plates = [shape(one) for on, one in cut if on is sheet]
        engraved = [e for e in sheet.elements if isinstance(e, Text) and e.layer == "engrave"]
        for text in engraved:
            assert sum(plate.buffer(-0.5).contains(ink(text)) for plate in plates) == 1, text.text
        for plate in plates:
            assert any(plate.contains(Point(text.at)) for text in engraved)


def test_a_ring_has_a_gauge_for_each_thing_to_check() -> None:
    names = {one.name for _, one in cut_out(drawings(plan("36 wedges with spacers")))}
    assert names == {
        "gauge-half-set-1",
        "gauge-wedge-angle-1",
        "gauge-mitre-1",
        "gauge-inner-radius-1",
        "gauge-outer-radius-1",
        "gauge-channel-1",
    }


def test_go_and_no_go_stand_either_side_of_the_channel() -> None:
    made = plan("36 wedges with spacers")
    (gauge,) = (one for _, one in cut_out(drawings(made)) if one.name == "gauge-channel-1")
    box = shape(gauge)
    left, bottom, right, top = box.bounds
    channel = made.channels[0]
    ring_width = sum(ring.outer_radius - ring.inner_radius for ring in made.rings)
    ends = []
    for x in (left + 0.01, right - 0.01):
        slice_ = box.intersection(
            Polygon([(x, bottom), (x + 1e-6, bottom), (x + 1e-6, top), (x, top)])
        )
        ends.append(slice_.bounds[3] - slice_.bounds[1])
    go, no_go = ends
    assert go == pytest.approx(ring_width, abs=1e-6)
    assert go < channel.width < no_go
