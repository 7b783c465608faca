"""The tray's sizes, without the CAD kernel: shapely says what lies inside what."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

import jigs
from jigs.terrace import Block, Step
from jigs.tray import BASE, RELIEF, Tray, has_flats, turn_in_flats
from jigs.tray_floor import LEAST_LAND
from rosette.errors import CannotMakeError
from rosette.lettering import font_path
from tests.jigs.trays import CASES, SPACER, plan, ring, tray

ROOT = Path(__file__).resolve().parents[2]
cases = pytest.mark.parametrize("asked", CASES.values(), ids=CASES.keys())


def _polygon(step: Step | Block) -> Polygon:
    return Polygon(step.outline.points(0.001))


def _misplaced(step: Step | Block) -> list[str]:
    """Steps that cross the outline that holds them or one another, at any depth."""
    outer, inner = _polygon(step), [_polygon(one) for one in step.steps]
    found = [f"a step leaves its outline by {one.difference(outer).area}" for one in inner
             if not outer.buffer(-0.02).contains(one)]  # fmt: skip
    found += ["two steps meet" for a, b in combinations(inner, 2) if a.distance(b) < 0.02]
    found += [problem for one in step.steps for problem in _misplaced(one)]
    return found


@cases
def test_nothing_in_a_tray_crosses_anything_else(asked: dict[str, Any]) -> None:
    assert _misplaced(tray(**asked, text="true").block()) == []


def test_a_word_across_the_centre_hole_would_be_seen() -> None:
    made = tray(text="true").block()
    recess = made.steps[0]
    post = recess.steps[0]
    hole, *rest = post.steps
    moved = Step(outline=rest[-1].outline, top=rest[-1].top)
    shifted = Step(outline=hole.outline, top=0.0, steps=())
    x, y = moved.outline.points()[0]
    clash = Step(outline=shifted.outline.mapped(shift=(x, y)), top=0.0)  # type: ignore[union-attr]
    worse = Step(outline=post.outline, top=post.top, steps=(*post.steps, clash))
    assert _misplaced(worse) != []


@cases
def test_volume_is_that_of_the_flat_shapes_at_their_heights(asked: dict[str, Any]) -> None:
    """shapely's areas of flattened outlines, times their heights (its flattening errs by 1e-4)."""
    made = tray(**asked, text="true")

    def volume(step: Step | Block, below: float) -> float:
        return _polygon(step).area * (step.top - below) + sum(
            volume(one, step.top) for one in step.steps
        )

    outline = _polygon(made.block())
    lost = 0.4 * (outline.area - (outline.area + outline.buffer(-0.4, join_style=2).area) / 2)
    assert made.volume() == pytest.approx(volume(made.block(), 0.0) - lost, rel=2e-4)


@pytest.mark.parametrize("segments", [6, 12, 36])
def test_volume_of_flats_by_the_formulas_of_regular_polygons(segments: int) -> None:
    """Worked out by hand from a handbook's area of a regular polygon, n·a²·tan(180°/n)."""
    made = tray(segments=segments)
    t = math.tan(math.pi / segments)
    r_post = min(1.6, made.post * t / 2)
    wall = segments * (made.wall**2 * t + 1.6**2 * (math.pi / 2 + math.pi / segments))
    post = segments * (made.post**2 * t - r_post**2 * (math.pi / 2 - math.pi / segments))
    floor = made.floor
    half_groove = floor.groove / 2 / math.cos(math.pi / segments)
    land = (floor.end - floor.start) * ((floor.end + floor.start) * t - 2 * half_groove)
    a = made.outer
    plate = segments * t * (a**2 * made.top - (a * 0.4**2 - 0.4**3 / 3))
    holes = math.pi / 4 * (made.hole**2 * made.top + 4 * floor.hole**2 * made.floor_top)
    marks = 0.6 * (1.8 * 2.0 / 2 + 1.8 * 0.6 + 2 * 3.5 * 0.6 + math.pi)
    expected = (
        plate
        - (wall - post) * (made.top - BASE)
        + segments * land * RELIEF
        - holes
        - marks
    )  # fmt: skip
    assert made.volume() == pytest.approx(expected, rel=1e-12)


@cases
def test_relief_lies_under_every_joint_and_both_rims(asked: dict[str, Any]) -> None:
    made, wedges = tray(**asked), ring(**asked).wedges
    assert wedges is not None
    standing = made.block().steps[0].steps[1:]
    lands = unary_union([_polygon(one) for one in standing if one.top == made.floor_top])
    assert not lands.is_empty
    blank = wedges.blank
    reach = math.hypot(blank.outer_distance, blank.outer_width)
    for piece in ring(**asked).pieces:
        assert piece.axis is not None
        joint = math.radians(piece.axis + wedges.mitre_angle)
        line = LineString([(0, 0), (reach * math.cos(joint), reach * math.sin(joint))])
        # 0.29 mm beyond the joint on either side
        assert line.buffer(wedges.joint / 2 + 0.29, cap_style=2).disjoint(lands)
    rims = Point(0, 0).buffer(blank.inner_distance, 256)
    assert lands.disjoint(rims)
    assert made.floor.end < blank.outer_distance


@cases
def test_every_wedge_stands_on_a_land_as_wide_as_can_be_printed(asked: dict[str, Any]) -> None:
    made, wedges = tray(**asked), ring(**asked).wedges
    assert wedges is not None
    floor = made.floor
    narrow = 2 * floor.start * math.tan(math.pi / made.segments)
    narrow -= floor.groove / math.cos(math.pi / made.segments)
    assert narrow >= LEAST_LAND - 1e-9
    assert floor.end - floor.start >= wedges.blank.height / 2


@cases
def test_finger_holes_mirror_each_other_about_the_centreline(asked: dict[str, Any]) -> None:
    made = tray(**asked)
    pitch = 360 / made.segments
    angles = {round((made.turn - pitch * (one - 1)) % 360, 6) for one in made.floor.holes}
    assert {round((180 - angle) % 360, 6) for angle in angles} == angles
    if not made.floor.spans and made.floor.holes:
        half = made.floor.hole_distance * math.sin(math.pi / made.segments)
        assert half - made.floor.hole / 2 >= made.floor.groove / 2 + 0.79


@st.composite
def _asked(draw: st.DrawFn) -> dict[str, Any]:
    spacer = draw(st.sampled_from([0.0, 0.2, 0.5, 1.0, 3.0]))
    return {
        "segments": draw(st.integers(3, 200)),
        "inner": draw(st.floats(6.0, 70.0)),
        "width": draw(st.floats(0.6, 30.0)),
        "allowance": draw(st.sampled_from([0.0, 0.5, 1.5, 3.0])),
        "clearance": draw(st.sampled_from([0.0, 0.05, 0.2, 0.5, 1.0])),
        "thickness": draw(st.sampled_from([0.4, 2.2, 3.0])),
        "centreline": draw(st.sampled_from(["joint", "wedge"])),
        "soundhole": 8,
        "text": "true",
        "name": draw(st.sampled_from(NAMES)),
        "spacer": f'spacer = {{ wood = "maple", thickness = {spacer} }}' if spacer else "",
    }


NAMES = (
    "Damson parlour no. 3",
    "Ïjîjïj",
    "ĥíĺ jj Ÿ",
    "Ằẫ Ễ",
    "A",
    "MW" * 20,
    "e\u0301te\u0301",
    "\u0301",
    "...",
)


@settings(max_examples=40, deadline=None)
@given(_asked())
def test_any_tray_holds_its_blanks_at_the_clearance_and_crosses_nothing(
    asked: dict[str, Any],
) -> None:
    try:
        of = ring(**asked)
    except CannotMakeError:
        assume(False)
    assume(jigs.fixtures(plan(**asked)))
    made = tray(**asked)
    assert _misplaced(made.block()) == []
    recess = made.block().steps[0]
    wall, post = _polygon(recess), _polygon(recess.steps[0])
    assert of.wedges is not None
    for piece in of.pieces[:: max(1, made.segments // 12)]:
        assert piece.axis is not None
        turned = of.wedges.blank.outline().mapped(math.radians(piece.axis))
        blank = Polygon(turned.points())
        assert wall.buffer(0.002).contains(blank)
        assert blank.buffer(-0.002).disjoint(post)
        assert blank.distance(wall.boundary) == pytest.approx(made.clearance, abs=0.002)
        assert blank.distance(post) == pytest.approx(made.clearance, abs=0.002)


@pytest.mark.parametrize("centreline", ["joint", "wedge"])
@pytest.mark.parametrize("segments", [5, 12])
def test_seam_is_where_the_plan_has_it(segments: int, centreline: str) -> None:
    made = tray(segments=segments, centreline=centreline)
    wedges = ring(segments=segments, centreline=centreline).wedges
    assert wedges is not None
    assert abs(made.seam - 90) == pytest.approx(wedges.seam.angle)
    joint_at_twelve = math.isclose((made.turn + 180 / segments - 90) % (360 / segments), 0.0)
    assert joint_at_twelve is (centreline == "joint")


def test_ring_turns_in_flats_until_its_corners_meet_them() -> None:
    """Turned by the angle given, a blank's corner lies on its flat; a hair further, beyond it."""
    for half in (6.25, 19.0, 120.0):
        turn = turn_in_flats(71.5, half, 0.2)
        corner, at = math.hypot(71.5, half), math.atan2(half, 71.5)
        assert corner * math.cos(at - turn) == pytest.approx(71.7)
    assert turn_in_flats(71.5, 3.0, 0.2) == math.pi


def test_flats_for_few_wedges_and_a_circle_for_many() -> None:
    def flats(segments: int, clearance: float = 0.2) -> bool:
        wedges = ring(segments=segments).wedges
        assert wedges is not None
        return has_flats(wedges, clearance)

    answers = [flats(count) for count in range(3, 181)]
    assert answers[0]
    assert not answers[-1]
    assert answers == sorted(answers, reverse=True)
    # a looser tray needs longer flats to guide as well; no clearance does not make silly ones
    assert [flats(36), flats(36, 0.5)] == [True, False]
    assert not flats(180, 0.0)


@pytest.mark.parametrize(
    ("asked", "code", "words"),
    [
        ({"clearance": 1.5}, "no-tray", "1.00 mm or less"),
        ({"inner": 4, "soundhole": 6, "width": 8, "segments": 6}, "no-tray", "larger inner radius"),
        ({"inner": 20, "width": 8, "segments": 180}, "no-tray", r"at most \d+ wedges"),
        ({"width": 0.6, "allowance": 0}, "no-tray", "trim allowance"),
        ({"thickness": 0.6}, "tray-shallow", "0.40 mm high"),
        ({"backing": 1.0}, "tray-backing", "backing of 1.00 mm"),
        ({"width": 1.5}, "tray-no-finger-holes", "release film"),
        ({"segments": 8, "inner": 6, "width": 8, "soundhole": 10}, "tray-no-bolt", "clamps"),
        ({"name": "Smørrebrød", "text": "true"}, "tray-text", "ø"),
        ({"name": "Dam\u0335son", "text": "true"}, "tray-text", "can't be"),
        ({"name": "A" * 80, "text": "true"}, "tray-text", "write it on by hand"),
        ({"inner": 20, "width": 8, "text": "true"}, "tray-text", "no room"),
    ],
)
def test_what_can_not_be_made_is_said_with_what_would_work(
    asked: dict[str, Any], code: str, words: str
) -> None:
    said = [one for one in jigs.findings(plan(**asked)) if one.code == code]
    assert said
    assert re.search(words, said[0].text())
    assert bool(jigs.fixtures(plan(**asked))) is (code != "no-tray")


def test_largest_count_named_can_be_made_and_one_more_can_not() -> None:
    asked: dict[str, Any] = {"inner": 20, "width": 8}
    (said,) = jigs.findings(plan(**asked, segments=180))
    most = int(re.search(r"at most (\d+)", said.text())[1])  # type: ignore[index]
    assert jigs.fixtures(plan(**asked, segments=most))
    assert not jigs.fixtures(plan(**asked, segments=most + 1))


def test_words_stand_in_inches_where_the_design_does() -> None:
    text = [line.text for line in tray(text="true").text]
    assert text == ["Damson parlour no. 3", "ring 1, 36 wedges", "R 52 to 70 mm"]
    assert tray(text="false").text == ()


def test_both_weights_know_the_same_letters() -> None:
    from fontTools.ttLib import TTFont

    regular, bold = (set(TTFont(font_path(bold)).getBestCmap()) for bold in (False, True))
    assert regular == bold


def test_a_spacer_widens_every_groove_by_its_thickness() -> None:
    plain, spaced = tray(segments=24), tray(segments=24, spacer=SPACER)
    assert spaced.floor.groove == pytest.approx(plain.floor.groove + 0.5)


def test_sizes_are_worked_out_without_the_kernel() -> None:
    run = subprocess.run(
        [sys.executable, "-c", LOADS_NOTHING], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert run.stdout.split() == ["ring-1-tray", "False", "False", "False"]


LOADS_NOTHING = """
import sys
from tests.jigs.trays import plan
import jigs
print(*(one.name for one in jigs.fixtures(plan(text="true"))))
print("cadquery" in sys.modules, "OCP" in sys.modules, "numpy" in sys.modules)
"""


def test_every_registered_fixture_is_frozen_and_named() -> None:
    made = jigs.fixtures(plan())
    assert [one.name for one in made] == ["ring-1-tray"]
    assert all(isinstance(one, Tray) and one.purpose.endswith(".") for one in made)
    with pytest.raises(AttributeError):
        made[0].name = "other"  # type: ignore[misc]
