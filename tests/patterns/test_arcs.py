"""Rings of arcs: they fill the ring, come out of their blanks, and stand mirrored."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from rosette.errors import CannotMakeError, InputError
from rosette.patterns.arcs_form import across_share, longest_half, rough_arc
from rosette.patterns.base import RingPlan
from rosette.plan import make_plan
from tests.patterns.measures import annulus, area, outside, overlap, shape
from tests.properties.designs import design


def arcs(tables: dict[str, Any] | None = None, **keys: Any) -> RingPlan:
    ring = {
        "pattern": "arcs",
        "inner_radius": 50.0,
        "width": 3.0,
        "tile_thickness": 1.3,
        "wood": "abalone",
        **keys,
    }
    if "segments" not in ring:
        ring = {"blank_length": 40.0, "blank_width": 20.0, **ring}
    return make_plan(design([ring], **(tables or {}))).rings[0]


def refused(**keys: Any) -> str:
    with pytest.raises(CannotMakeError) as caught:
        arcs(**keys)
    return str(caught.value)


def test_a_segment_of_chord_21_and_rise_6() -> None:
    """A handbook's table of circular segments (CRC): radius 12.1875, angle 118.97953°."""
    width = 0.5
    for joint in (0.0, 0.1):
        # the rise is measured from the inner corners, a band's width times the cosine further in
        half = math.radians(118.97953) / 2
        outer, inner = 12.1875, 12.1875 - width
        corner = half - math.asin(joint / 2 / outer)
        chord = 2 * outer * math.sin(corner)
        rise = outer - inner * math.cos(half - math.asin(joint / 2 / inner))
        found = longest_half(inner, outer, length=chord, width=rise, joint=joint)
        assert math.degrees(2 * found) == pytest.approx(118.97953, abs=1e-5)
        if joint == 0.0:
            assert chord == pytest.approx(21, abs=1e-5)
            assert rise == pytest.approx(6 + width * math.cos(half), abs=1e-5)


RINGS = st.fixed_dictionaries(
    {
        "inner_radius": st.floats(46, 80),
        "width": st.floats(1.5, 15),
        "segments": st.integers(3, 40),
        "glue_line": st.floats(0, 0.3),
        "at_centreline": st.sampled_from(["joint", "arc"]),
    }
)


def _joints(ring: RingPlan, joint: float) -> float:
    """The area of as many strips as there are pieces, by integration inside two discs."""
    half = joint / 2

    def within(radius: float) -> float:
        return half * math.sqrt(radius**2 - half**2) + radius**2 * math.asin(half / radius)

    return len(ring.pieces) * (within(ring.outer_radius) - within(ring.inner_radius))


@settings(max_examples=25, deadline=None)
@given(RINGS, st.booleans())
def test_arcs_and_joints_fill_the_ring(keys: dict[str, Any], filled: bool) -> None:
    if filled:
        keys = {**keys, "filler": "maple"}
        keys["segments"] = 2 * keys["segments"] + (keys["at_centreline"] == "arc")
    ring = arcs(**keys)
    filling = sum(map(area, ring.pieces)) + _joints(ring, keys["glue_line"])
    assert filling == pytest.approx(annulus(ring), abs=1e-6)
    assert overlap(ring) < 0.01
    assert outside(ring) < 1e-9


@settings(max_examples=25, deadline=None)
@given(RINGS, st.booleans())
def test_joints_stand_mirrored_about_the_centreline(keys: dict[str, Any], filled: bool) -> None:
    if filled:
        keys = {**keys, "filler": "maple"}
        keys["segments"] = 2 * keys["segments"] + (keys["at_centreline"] == "arc")
    ring = arcs(**keys)
    corners = {
        (round(v.x, 6), round(v.y, 6)) for piece in ring.pieces for v in piece.outline.vertices
    }
    assert all(
        any(
            math.isclose(-x, a, abs_tol=2e-6) and math.isclose(y, b, abs_tol=2e-6)
            for a, b in corners
        )
        for x, y in corners
    )


BLANKS = st.fixed_dictionaries(
    {
        "blank_length": st.floats(12, 70),
        "blank_width": st.floats(12, 45),
        "saw_kerf": st.floats(0, 1.2),
        "trim": st.floats(0, 0.6),
        "glue_line": st.floats(0, 0.2),
        "inner_radius": st.floats(46, 75),
        "width": st.floats(1.5, 8),
    }
)


@settings(max_examples=25, deadline=None)
@given(BLANKS)
def test_the_arcs_lie_in_their_blank_a_kerf_apart(keys: dict[str, Any]) -> None:
    """Laid out as the stage shows them, and no further one above or beside."""
    ring = arcs(**keys)
    (blank,) = ring.stock
    sheet, *laid = ring.stages[0].shapes
    rough = [shape(one) for one in laid]
    assert all(box(*sheet.outline.bounds()).buffer(0.005).covers(one) for one in rough)
    for i, one in enumerate(rough):
        for other in rough[i + 1 :]:
            assert one.distance(other) >= keys["saw_kerf"] - 0.005
    # nested rows can't be pushed closer, so one more would leave the blank
    lowest = rough[-1]
    for back in range(1, len(rough)):
        near = rough[-1 - back]
        if abs(near.centroid.x - lowest.centroid.x) < 1e-6:
            assert near.distance(lowest) <= keys["saw_kerf"] + 0.005
            pitch = near.centroid.y - lowest.centroid.y
            assert lowest.bounds[1] - pitch < 0.0
            break
    assert blank.length == pytest.approx(keys["blank_length"])
    assert blank.width == pytest.approx(keys["blank_width"])
    assert blank.count == math.ceil(len(ring.pieces) / len(laid))
    spare = max(2, math.ceil(len(ring.pieces) / 10))
    assert (blank.count + blank.spares) * len(laid) >= len(ring.pieces) + spare
    assert (blank.count + blank.spares - 1) * len(laid) < len(ring.pieces) + spare


@settings(max_examples=15, deadline=None)
@given(BLANKS)
def test_a_finished_arc_lies_in_the_rough_one_trim_inside_every_edge(keys: dict[str, Any]) -> None:
    ring = arcs(**keys)
    finished = shape(ring.stages[1].shapes[0])
    arc = rough_arc(
        ring.inner_radius,
        ring.outer_radius,
        math.pi / len(ring.pieces),
        joint=keys["glue_line"],
        trim=keys["trim"],
    )
    rough = arc.outline().points(1e-4)
    room = Polygon(rough)
    assert room.buffer(0.002).covers(finished)
    assert room.boundary.distance(finished) == pytest.approx(keys["trim"], abs=0.003)


@settings(max_examples=20, deadline=None)
@given(BLANKS)
def test_the_fewest_arcs_are_chosen_that_the_blanks_yield(keys: dict[str, Any]) -> None:
    """One arc fewer would be longer or higher than the blank, measured on its outline."""
    count = len(arcs(**keys).pieces)
    fits = []
    for n in (count, count - 1):
        arc = rough_arc(
            keys["inner_radius"],
            keys["inner_radius"] + keys["width"],
            math.pi / n,
            joint=keys["glue_line"],
            trim=keys["trim"],
        )
        left, bottom, right, top = arc.outline().bounds()
        fits.append(
            right - left <= keys["blank_length"] + 1e-6
            and top - bottom <= keys["blank_width"] + 1e-6
        )
    assert fits[0]
    assert not fits[1] or count == 3


def test_offcuts_can_give_each_arc_as_a_rectangle_with_its_grain_along_it() -> None:
    ring = arcs(wood=["walnut", "koa"], segments=12, width=8.0)
    assert [(one.wood, len(one.places)) for one in ring.blanks] == [("walnut", 6), ("koa", 6)]
    for one in ring.blanks:
        assert one.inner_width == one.outer_width
        assert one.grain == 0.0
        left, bottom, right, top = shape(ring.stages[0].shapes[1]).bounds
        assert one.height == pytest.approx(right - left, abs=0.01)
        assert one.inner_width == pytest.approx(top - bottom, abs=0.01)
    labels = sorted(place.label for one in ring.blanks for place in one.places)
    assert labels == sorted(piece.label for piece in ring.pieces)


def test_a_filler_takes_what_the_fingerboard_hides_and_its_joints_do_not_show() -> None:
    """57 mm over r 53: asin(28.5/53) = 32.5° to each side, less a millimetre's tuck; the board's
    end at 40 mm: acos(40/50) = 36.9°.
    """
    ring = arcs(filler="maple")
    fillers = [piece for piece in ring.pieces if piece.wood == "maple"]
    shells = [piece for piece in ring.pieces if piece.wood == "abalone"]
    assert all(
        abs(v.x) <= 28.5 - 1.0 + 1e-9 and v.y >= 40.0
        for one in fillers
        for v in one.outline.vertices
    )
    assert len(shells) < len(arcs().pieces)
    assert len({round(area(one), 6) for one in shells}) == 1
    corners = [abs(v.x) for one in fillers for v in one.outline.vertices]
    assert max(corners) == pytest.approx(27.5, abs=1e-6)


def test_a_filler_without_a_fingerboard_is_told_and_left_out() -> None:
    far = {"instrument": {"fingerboard_width": 57.0, "fingerboard_reach": 90.0}}
    ring = arcs(far, filler="maple")
    assert ring.woods == ("abalone",)
    assert "filler-unused" in [w.code for w in ring.warnings]


def test_how_much_of_an_arc_moves_is_the_mean_of_a_squared_sine() -> None:
    for half in (0.05, 0.3, 1.2):
        steps = 2000
        middles = [half * (2 * (i + 0.5) / steps - 1) for i in range(steps)]
        mean = sum(math.sin(x) ** 2 for x in middles) / steps
        assert across_share(half) == pytest.approx(mean, rel=1e-5)
    assert arcs().across_grain == ()
    ((wood, length),) = arcs(wood="walnut", segments=12).across_grain
    assert wood == "walnut"
    assert length < 0.03 * 2 * math.pi * 53


def test_shell_calls_for_care() -> None:
    assert {"shell-dust", "shell-levelled"} <= {w.code for w in arcs().warnings}
    assert "thick-shell" in {w.code for w in arcs(tile_thickness=2.0).warnings}
    told = next(w.text() for w in arcs(tile_thickness=0.8).warnings if w.code == "shell-levelled")
    assert "light goes through" in told
    assert not {w.code for w in arcs(wood="maple").warnings} & {"shell-dust", "shell-levelled"}
    assert "wet" in " ".join(step.text() for step in arcs().steps)


def test_refusals_name_what_works() -> None:
    told = refused(segments=6, blank_length=40.0, blank_width=20.0)
    least = int(told.split("; ")[1].split(" arcs")[0])
    arcs(segments=least, blank_length=40.0, blank_width=20.0)
    refused(segments=least - 1, blank_length=40.0, blank_width=20.0)
    told = refused(blank_length=5.0, blank_width=2.0)
    length, width = (float(x) for x in re.findall(r"([0-9.]+) mm", told.split("blanks of ")[1]))
    arcs(blank_length=length, blank_width=width)
    assert "9 or 11" in refused(segments=10, filler="maple", at_centreline="arc")
    assert "glue_line" in refused(segments=180, glue_line=2.0)


def test_a_sequence_of_woods_comes_out_even_where_the_tool_chooses() -> None:
    ring = arcs(wood=["walnut", "koa", "maple"])
    assert len(ring.pieces) % 3 == 0
    codes = [w.code for w in arcs(wood=["walnut", "koa", "maple"], segments=10).warnings]
    assert "broken-sequence" in codes


def test_grain_that_runs_out_is_told_with_a_count_that_keeps_it_in() -> None:
    told = next(
        w.text() for w in arcs(wood="walnut", segments=6).warnings if w.code == "short-grain"
    )
    better = int(told.split("filed; ")[1].split(" arcs")[0])
    assert "short-grain" not in [w.code for w in arcs(wood="walnut", segments=better).warnings]


@pytest.mark.parametrize(
    ("keys", "place", "found"),
    [
        ({"segments": 2}, "ring[1].segments", "not between"),
        ({"blank_length": 40}, "ring[1].blank_width", "goes together"),
        ({}, "ring[1].segments", "missing"),
        ({"segments": 12, "wood": []}, "ring[1].wood", "empty"),
        ({"segments": 12, "at_centreline": "wedge"}, "ring[1].at_centreline", "joint"),
        ({"segments": 12, "saw_kerf": "x"}, "ring[1].saw_kerf", "length"),
    ],
)
def test_bad_keys_are_told_with_their_place(keys: dict[str, Any], place: str, found: str) -> None:
    ring = {"pattern": "arcs", "inner_radius": 50, "width": 3, "tile_thickness": 1.3, "wood": "x"}
    with pytest.raises(InputError) as caught:
        design([{**ring, **keys}])
    assert any(place in line and found in line for line in caught.value.lines())
