"""Petalled rings: both woods' edges match, fill the ring, and a round bit can cut them."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, distance, points, unary_union

from rosette.errors import CannotMakeError, InputError
from rosette.geometry.outline import Outline, arc_between
from rosette.patterns.base import RingPlan
from rosette.patterns.petals_edge import scallop, wave
from rosette.plan import make_plan
from tests.patterns.measures import annulus, area, outside, overlap, shape
from tests.properties.designs import design

RING = {
    "pattern": "petals",
    "inner_radius": 50.0,
    "width": 12.0,
    "tile_thickness": 1.6,
    "inner_wood": "walnut",
    "outer_wood": "maple",
    "petals": 24,
    "depth": 4.0,
    "cutter": 1.6,
}


def petals(**keys: Any) -> RingPlan:
    return make_plan(design([{**RING, **keys}])).rings[0]


def refused(**keys: Any) -> str:
    with pytest.raises(CannotMakeError) as caught:
        petals(**keys)
    return str(caught.value)


FORMS = st.fixed_dictionaries(
    {
        "petals": st.integers(5, 60),
        "depth": st.floats(0.8, 8),
        "cutter": st.floats(0.6, 3.2),
        "shape": st.sampled_from(["scallop", "wave"]),
        "toward": st.sampled_from(["out", "in"]),
        "segments": st.sampled_from([None, 3, 5, 8]),
        "at_centreline": st.sampled_from(["petal", "valley"]),
    }
)


def planned(**keys: Any) -> RingPlan:
    """The ring, where it can be made: what can't is another test's."""
    try:
        return petals(**keys)
    except CannotMakeError:
        assume(False)
        raise


def inner_wood(ring: RingPlan) -> Polygon:
    """The inner wood as one shape, its joints closed."""
    parts = [shape(p).buffer(1e-4) for p in ring.pieces if p.wood == "walnut"]
    made = unary_union(parts)
    assert isinstance(made, Polygon)
    return made


@settings(max_examples=12, deadline=None)
@given(FORMS)
def test_both_woods_fill_the_ring(keys: dict[str, Any]) -> None:
    ring = planned(**keys)
    assert sum(map(area, ring.pieces)) == pytest.approx(annulus(ring), abs=1e-6)
    assert all(piece.outline.area() > 0.0 for piece in ring.pieces)
    assert overlap(ring) < 0.01
    assert outside(ring) < 1e-9


@settings(max_examples=4, deadline=None)
@given(FORMS, st.floats(0.02, 0.15))
def test_the_woods_stand_the_glue_apart_all_along(keys: dict[str, Any], glue: float) -> None:
    """Each point of the inner wood's edge is as far from the outer wood, by shapely."""
    ring = planned(**{**keys, "glue_line": glue, "segments": 3})
    inner, outer = ([p for p in ring.pieces if p.wood == wood] for wood in ("walnut", "maple"))
    other = unary_union([shape(p) for p in outer])
    edge = [
        (x, y)
        for p in inner
        for x, y in p.outline.points()
        if math.hypot(x, y) > ring.inner_radius + 0.01
    ]
    away = distance(points(edge), other)
    joints = 2 * len(inner)
    assert min(away) == pytest.approx(glue, abs=2e-3)
    # beside a joint of the outer wood an edge looks into the joint; elsewhere it is the glue
    far = sum(one > glue + 2e-3 for one in away)
    assert far <= joints * 4
    assert sum(map(area, ring.pieces)) < annulus(ring)


def _concave(outline: Outline) -> list[float]:
    """The radii of a counter-clockwise outline's inside arcs; 0 for an inside corner."""
    found = []
    edges = list(outline.edges())
    for i, (a, b) in enumerate(edges):
        if a.bulge < 0.0:
            found.append(arc_between(a, b).radius)
        into, out_of = _heading(*edges[i - 1], at_end=True), _heading(a, b, at_end=False)
        if math.sin(out_of - into) < -1e-6:
            found.append(0.0)
    return found


def _heading(a: Any, b: Any, *, at_end: bool) -> float:
    chord = math.atan2(b.y - a.y, b.x - a.x)
    half = 2.0 * math.atan(a.bulge)
    return chord + half if at_end else chord - half


@settings(max_examples=12, deadline=None)
@given(FORMS, st.sampled_from([0.0, 0.1]))
def test_no_inside_corner_is_sharper_than_the_bit(keys: dict[str, Any], glue: float) -> None:
    ring = planned(**{**keys, "glue_line": glue})
    least = min(radius for piece in ring.pieces for radius in _concave(piece.outline))
    assert least >= keys["cutter"] / 2 - 1e-9


@settings(max_examples=8, deadline=None)
@given(FORMS)
def test_tips_and_valleys_are_the_depth_apart_and_as_many_as_asked_for(
    keys: dict[str, Any],
) -> None:
    ring = planned(**keys)
    inner = inner_wood(ring)
    radii = [math.hypot(x, y) for x, y in inner.exterior.coords]
    assert max(radii) - min(radii) == pytest.approx(keys["depth"], abs=2e-3)
    middle = (max(radii) + min(radii)) / 2
    assert middle == pytest.approx(56.0, abs=2e-3)
    crossings = sum((a > middle) != (b > middle) for a, b in pairwise(radii))
    assert crossings == 2 * keys["petals"]
    up = inner.intersection(LineString([(0.0, 0.0), (0.0, 80.0)])).bounds[3]
    tip = keys["at_centreline"] == "petal"
    wanted = max(radii) if tip == (keys["toward"] == "out") else min(radii)
    assert up == pytest.approx(wanted, abs=2e-3)


def test_on_a_large_ring_petals_come_to_those_along_a_straight_edge() -> None:
    """Touching half circles on a straight line: radii r and R, their centres' row p/2 long, the
    depth d: (p/2)² + (r + R − d)² = (r + R)², Pythagoras.
    """
    for sign in (1, -1):
        middle, petals_round, depth, valley = 1e6, 100_000, 6.0, 2.0
        edge = scallop(petals_round, sign=sign, middle=middle, depth=depth, valley=valley)
        assert edge is not None
        half = math.pi * middle / petals_round
        both = edge.petal + valley
        assert half**2 + (both - depth) ** 2 == pytest.approx(both**2, rel=1e-3)
        flat = wave(petals_round, sign=sign, middle=middle, depth=depth)
        both = 2 * flat.petal
        assert half**2 + (both - depth) ** 2 == pytest.approx(both**2, rel=1e-3)
        assert flat.petal == flat.valley


@settings(max_examples=8, deadline=None)
@given(FORMS)
def test_each_side_holds_the_piece_that_is_cut_out_of_it(keys: dict[str, Any]) -> None:
    """The finished piece lies in its mitred side, allowance and routed stock left."""
    ring = planned(**keys)
    sides = {stage.title: stage for stage in ring.stages if stage.title.startswith("A side")}
    counts: dict[str, int] = {}
    for one in ring.stock:
        counts[one.wood] = counts.get(one.wood, 0) + one.count
        assert one.spares == max(2, math.ceil(one.count / 10))
    assert set(counts.values()) == {len(ring.pieces) // 2}
    assert sides
    for blank in ring.blanks:
        for place in blank.places:
            piece = next(p for p in ring.pieces if p.label == place.label)
            assert piece.wood == blank.wood
            upright = piece.outline.mapped(-math.radians(piece.axis or 0.0))
            # turned so that its grain lies along x: outward is up, or down where it lies below
            left, bottom, right, top = upright.bounds()
            assert right - left <= blank.height + 1e-9
            assert top - bottom <= blank.inner_width - 1.4
    labels = sorted(place.label for blank in ring.blanks for place in blank.places)
    assert labels == sorted(piece.label for piece in ring.pieces)


def test_a_wood_is_jointed_where_it_is_widest() -> None:
    """Petals point out: the inner wood's joints run to tips, the outer wood's to valleys."""
    ring = petals()
    for wood, radius in (("walnut", 58.0), ("maple", 54.0)):
        pieces = [p for p in ring.pieces if p.wood == wood]
        for piece, after in zip(pieces, [*pieces[1:], pieces[0]], strict=True):
            ends = {(round(v.x, 6), round(v.y, 6)) for v in piece.outline.vertices}
            next_ = {(round(v.x, 6), round(v.y, 6)) for v in after.outline.vertices}
            reach = {round(math.hypot(x, y), 4) for x, y in ends & next_}
            assert reach == {radius, 50.0 if wood == "walnut" else 62.0}


def test_refusals_name_what_works() -> None:
    told = refused(petals=60)
    depth, count = re.findall(r"a depth of ([0-9.]+) mm or ([0-9]+) petals", told)[0]
    petals(petals=60, depth=float(depth))
    petals(petals=int(count))
    told = refused(petals=120, cutter=6.35, shape="wave")
    depth, count = re.findall(r"a depth of ([0-9.]+) mm or ([0-9]+) petals", told)[0]
    petals(petals=int(count), cutter=6.35, shape="wave")
    told = refused(petals=5, depth=2.0, toward="in", cutter=0.8)
    assert "too shallow" in told
    told = refused(depth=12.0)
    deepest = float(re.findall(r"at most ([0-9.]+) mm", told)[0])
    petals(depth=deepest, petals=12)
    told = refused(edge_radius=70.0)
    low, high = map(float, re.findall(r"between ([0-9.]+) mm and ([0-9.]+) mm", told)[0])
    petals(edge_radius=high - 1.0, depth=1.0)
    petals(edge_radius=low + 1.0, depth=1.0)
    most = float(re.findall(r"at most ([0-9.]+) mm", refused(glue_line=0.7))[0])
    petals(glue_line=most)


def test_what_breaks_is_told() -> None:
    codes = {w.code for w in petals(depth=5.0, edge_radius=53.0, cutter=0.8, segments=5).warnings}
    assert codes == {"thin-edge", "long-points", "short-grain", "small-bit"}
    assert {w.code for w in petals(shape="wave").warnings} == set()


@pytest.mark.parametrize(
    ("keys", "place", "found"),
    [
        ({"petals": 2}, "ring[1].petals", "not between"),
        ({"cutter": 0}, "ring[1].cutter", "too small"),
        ({"shape": "wavy"}, "ring[1].shape", 'did you mean "wave"'),
        ({"toward": "up"}, "ring[1].toward", "out"),
        ({"inner_wood": ["a", "b"]}, "ring[1].inner_wood", "list"),
        ({"wood": "maple"}, "ring[1].wood", "not a known key"),
    ],
)
def test_bad_keys_are_told_with_their_place(keys: dict[str, Any], place: str, found: str) -> None:
    with pytest.raises(InputError) as caught:
        design([{**RING, **keys}])
    assert any(place in line and found in line for line in caught.value.lines())
