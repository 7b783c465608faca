"""Bands fill their annulus, nothing lies over anything else, and the repeat closes."""

from __future__ import annotations

import math
from typing import Any

import pytest
from shapely import STRtree, union_all
from shapely.geometry import LineString, Point

from rosette.patterns.base import RingPlan
from tests.patterns.bands import (
    FINE,
    THREE,
    annulus,
    exact_area,
    generated,
    overlap,
    polygons,
    ring,
    runs_along,
)

PATTERNS = ("rope", "herringbone", "ladder", "checker")
COUNT = 4
CASES = [(name, one) for name in PATTERNS for one in generated(name, COUNT)]


@pytest.mark.parametrize(("pattern", "given"), CASES)
def test_a_band_fills_its_annulus(pattern: str, given: dict[str, Any]) -> None:
    plan = ring(pattern, **given)
    assert sum(map(exact_area, plan.pieces)) == pytest.approx(annulus(plan), rel=1e-6)
    assert all(exact_area(one) > 0 for one in plan.pieces)
    shapes = polygons(plan.pieces)
    assert all(shape.is_valid for shape in shapes)
    # arcs of two neighbours are flattened at different places: a hair of each circle
    assert overlap(shapes) < 6.0 * math.pi * plan.outer_radius * FINE
    assert [one.position for one in plan.pieces] == list(range(1, len(plan.pieces) + 1))


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("form", ["bent", "straight"])
def test_with_its_glue_a_band_fills_its_annulus(pattern: str, form: str) -> None:
    width = 1.8 if form == "bent" else 7.0
    plan = ring(pattern, width=width, form=form, glue_line=0.06)
    shapes = polygons(plan.pieces)
    assert overlap(shapes) < 6.0 * math.pi * plan.outer_radius * FINE
    covered = union_all([shape.buffer(0.15) for shape in shapes])
    whole = Point(0, 0).buffer(plan.outer_radius, 256) - Point(0, 0).buffer(plan.inner_radius, 256)
    assert (whole - covered).area < 1e-3
    assert sum(map(exact_area, plan.pieces)) < 0.99 * annulus(plan)


def test_glue_takes_its_share_of_a_bent_rope() -> None:
    plan = ring("rope", width=1.8, glue_line=0.05)
    # two plies of 0.6 and a glue line beside each: 0.1 of every 1.3
    share = sum(map(exact_area, plan.pieces)) / annulus(plan)
    assert share == pytest.approx(1.2 / 1.3, rel=1e-9)


@pytest.mark.parametrize("adjust", ["angle", "plies"])
@pytest.mark.parametrize("twist", ["clockwise", "counter-clockwise"])
def test_the_plies_of_a_bent_rope_go_round_in_turn(adjust: str, twist: str) -> None:
    plan = ring("rope", width=1.8, plies=THREE, adjust=adjust, twist=twist)
    radius = (plan.inner_radius + plan.outer_radius) / 2.0
    _goes_round(plan, radius, THREE)
    angle = _angle(plan)
    assert angle == pytest.approx(45.0, abs=1.0 if adjust == "angle" else 0.05)
    if adjust == "angle":
        # a ply t thick, cut at an angle, is t/sin of it long along the band
        along = [exact_area(one) / 1.8 for one in plan.pieces[:3]]
        thick = [ply["thickness"] for ply in THREE]
        expected = [t / math.sin(math.radians(angle)) for t in thick]  # type: ignore[operator]
        assert along == pytest.approx(expected, rel=5e-4)
    lean = _lean(plan)
    assert (lean > 0) == (twist == "clockwise")


def _goes_round(plan: RingPlan, radius: float, plies: list[dict[str, Any]]) -> None:
    """Round a circle, beginning just past the seam, every ply follows the one before."""
    turns = [math.radians(90.0 - i * 360.0 / 2000) for i in range(2001)]
    path = LineString([(radius * math.cos(t), radius * math.sin(t)) for t in turns])
    woods = [wood for wood, length in runs_along(plan, path) if length > 1e-3]
    order = [ply["wood"] for ply in plies]
    assert len(woods) % len(order) == 0
    assert woods == order * (len(woods) // len(order))


def _lean(plan: RingPlan) -> float:
    """Degrees by which a ply leans clockwise off the radius, at the middle radius."""
    one = plan.pieces[len(plan.pieces) // 3]
    assert one.axis is not None
    x, y = polygons((one,))[0].centroid.coords[0]
    return (math.degrees(math.atan2(y, x)) - one.axis + 180.0) % 360.0 - 180.0


def _angle(plan: RingPlan) -> float:
    return 90.0 - abs(_lean(plan))


@pytest.mark.parametrize(
    ("pattern", "given"),
    [
        ("rope", {"plies": THREE, "segments": 20}),
        ("rope", {"plies": THREE, "segments": 21, "adjust": "plies"}),
        ("ladder", {"plies": THREE}),
    ],
)
def test_plies_go_on_in_turn_across_every_mitre(pattern: str, given: dict[str, Any]) -> None:
    plan = ring(pattern, form="straight", **given)
    count = given.get("segments") or _facets(plan)
    half = math.pi / count
    # the middle line of the pieces, a polygon: half as far inside the middle radius at its
    # middle as outside it at its corners
    middle = (plan.inner_radius + plan.outer_radius) / 2.0
    corner = middle * (1.0 + math.cos(half)) / 2.0 / math.cos(half)
    turns = [math.pi / 2.0 - 2.0 * half * i for i in range(count + 1)]
    path = LineString([(corner * math.cos(t), corner * math.sin(t)) for t in turns])
    runs = runs_along(plan, path)
    order = [ply["wood"] for ply in THREE]
    assert [wood for wood, _ in runs] == order * (len(runs) // 3)
    for i in range(3):
        lengths = [length for _, length in runs[i::3]]
        assert max(lengths) - min(lengths) < 1e-3


def _facets(plan: RingPlan) -> int:
    (told,) = (
        step.text()
        for step in plan.steps
        if step.text().startswith("Cut ") and "pieces and" in step.text()
    )
    return int(told.split()[1])


@pytest.mark.parametrize("adjust", ["angle", "plies"])
def test_the_points_of_a_bent_herringbone_meet(adjust: str) -> None:
    plan = ring("herringbone", width=3.6, plies=THREE, adjust=adjust)
    middle = (plan.inner_radius + plan.outer_radius) / 2.0
    inside, outside = (
        {
            round(math.degrees(math.atan2(y, x)), 5)
            for one in plan.pieces
            for x, y in one.outline.points()
            if abs(math.hypot(x, y) - middle) < 1e-9 and (side < 0) == _inside(one, middle)
        }
        for side in (-1, 1)
    )
    assert len(inside & outside) >= len(plan.pieces) // 2


def _inside(one: Any, middle: float) -> bool:
    return min(math.hypot(x, y) for x, y in one.outline.points()) < middle - 1e-6


@pytest.mark.parametrize(
    ("rows", "given"),
    [
        (2, {"form": "bent", "width": 2.0}),
        (3, {"form": "bent", "width": 3.0, "bend_limit": 4.0}),
        (4, {"form": "straight", "width": 10.0}),
        (3, {"form": "straight", "width": 9.0, "segments": 31}),
    ],
)
def test_squares_of_a_checker_meet_others_at_every_side(rows: int, given: dict[str, Any]) -> None:
    plan = ring("checker", rows=rows, **given)
    shapes = polygons(plan.pieces)
    pairs = STRtree(shapes).query([one.buffer(1e-3) for one in shapes], predicate="intersects").T
    alike = [
        (i, j)
        for i, j in pairs
        if i < j
        and plan.pieces[i].wood == plan.pieces[j].wood
        and shapes[i].buffer(1e-3).intersection(shapes[j]).area > 2e-4 * plan.width / rows
    ]
    if given["form"] == "bent":
        assert alike == []
        return
    # at a mitre the outer squares are wider, the inner narrower than half of one: there alone
    # does a square reach past its neighbour to its like
    for i, j in alike:
        meeting = shapes[i].buffer(1e-3).intersection(shapes[j]).centroid
        assert _off_mitre(meeting, _facets(plan)) < 0.01


def _off_mitre(point: Point, count: int) -> float:
    """How far a point is from the nearest mitre (mm)."""
    step = 360.0 / count
    off = (90.0 - math.degrees(math.atan2(point.y, point.x)) + step / 2.0) % step - step / 2.0
    return math.hypot(point.x, point.y) * math.radians(abs(off))
