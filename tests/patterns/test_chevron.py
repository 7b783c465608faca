"""The chevron: it fills its ring, its stripes meet at every joint, its stock adds up."""

from __future__ import annotations

import math
from collections import defaultdict
from itertools import pairwise
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box

from rosette.errors import CannotMakeError, InputError
from rosette.geometry.clip import kept_beside
from rosette.geometry.outline import Outline, Vertex
from rosette.patterns.base import RingPlan
from rosette.plan import make_plan
from tests.patterns.filling import assert_fills
from tests.properties.designs import design

KERF, GRIP, SANDING = 0.9, 6.0, 0.3
PLIES = [{"wood": "walnut", "thickness": 1.6}, {"wood": "maple", "thickness": 0.8}]


def chevron(**keys: Any) -> dict[str, Any]:
    usual: dict[str, Any] = {
        "pattern": "chevron",
        "inner_radius": 52.0,
        "width": 18.0,
        "segments": 24,
        "angle": 35,
        "plies": None if "wood" in keys else PLIES,
        "tile_thickness": 2.2,
    }
    return {**usual, **keys}


def made(**keys: Any) -> RingPlan:
    text = design([{k: v for k, v in chevron(**keys).items() if k != "plies"} | _plies(keys)])
    return make_plan(text).rings[0]


def _plies(keys: dict[str, Any]) -> dict[str, Any]:
    found = chevron(**keys)["plies"]
    return {"plies": found} if found else {}


def refused(**keys: Any) -> str:
    with pytest.raises(CannotMakeError) as caught:
        made(**keys)
    return str(caught.value)


@settings(max_examples=8, deadline=None)
@given(
    st.integers(5, 20),
    st.floats(8, 55),
    st.sampled_from([1.0, -1.0]),
    st.sampled_from([0.0, 0.5]),
    st.floats(46, 75),
    st.floats(4, 22),
)
def test_the_stripes_fill_the_ring(
    half: int, angle: float, way: float, spacer: float, inner: float, width: float
) -> None:
    ring = made(
        segments=2 * half,
        angle=way * angle,
        inner_radius=inner,
        width=width,
        spacer={"wood": "ebony", "thickness": spacer} if spacer else None,
    )
    assert_fills(ring)


@pytest.mark.parametrize("stands", ["joint", "wedge"])
@pytest.mark.parametrize("angle", [35, -50])
def test_stripes_meet_at_every_joint(stands: str, angle: float) -> None:
    """On each joint's line every edge of a stripe comes from both sides at one radius."""
    ring = made(angle=angle, at_centreline=stands, segments=16)
    edges: dict[int, list[tuple[float, str, int]]] = defaultdict(list)
    start = 90.0 if stands == "joint" else 90.0 + 180.0 / 16
    for piece in ring.pieces:
        for vertex in piece.outline.vertices:
            place = (start - math.degrees(math.atan2(vertex.y, vertex.x))) * 16 / 360
            if abs(place - round(place)) < 1e-7:
                radius = math.hypot(vertex.x, vertex.y)
                edges[round(place) % 16].append((radius, piece.wood, piece.position))
    assert len(edges) == 16
    for joint, found in edges.items():
        sides = sorted({position for _, _, position in found})
        assert len(sides) == 2, joint
        one, other = (
            sorted((round(r, 7), wood) for r, wood, at in found if at == side) for side in sides
        )
        assert one == other
        assert len(one) > 8


def test_one_face_shows_the_wedge_and_the_other_its_mirror_image() -> None:
    ring = made(segments=12)
    first = [p for p in ring.pieces if p.position == 1]
    second = {p.label.split(".")[1]: p for p in ring.pieces if p.position == 2}
    for piece in first:
        # the joint between them points 30° clockwise from 12 o'clock: mirror about it
        twin = second[piece.label.split(".")[1]]
        assert twin.wood == piece.wood
        mirrored = [
            (math.hypot(x, y), 2 * math.radians(60) - math.atan2(y, x))
            for x, y, _ in piece.outline.vertices
        ]
        points = [(r * math.cos(a), r * math.sin(a)) for r, a in mirrored]
        same = Polygon(points).symmetric_difference(
            Polygon([(v.x, v.y) for v in twin.outline.vertices])
        )
        assert same.area < 1e-9


@settings(max_examples=8, deadline=None)
@given(st.integers(5, 24), st.floats(5, 60), st.floats(12, 60), st.floats(0.4, 3.0))
def test_the_laminate_gives_every_wedge(half: int, angle: float, high: float, thick: float) -> None:
    """Billets laid by shapes: each holds its blank, none reaches past the plies or another."""
    plies = [{"wood": "walnut", "thickness": thick}, {"wood": "maple", "thickness": 0.8}]
    ring = made(segments=2 * half, angle=angle, block_height=high, plies=plies)
    length, height = ring.stock[0].length, ring.stock[0].width
    across = sum(one.count * one.thickness for one in ring.stock)
    wanted = 2 * half + max(2, math.ceil(2 * half / 10))
    leaves = math.floor((height - GRIP) / (2.2 + SANDING + KERF) + 1e-9)
    assert height <= high + 1e-9
    sheet = box(0, 0, length, across)
    shapes: dict[int, list[Polygon]] = defaultdict(list)
    billets_stage = ring.stages[1]
    plies_each = sum(one.count for one in ring.stock)
    for number, shape in enumerate(billets_stage.shapes):
        shapes[number // plies_each].append(Polygon(shape.outline.points()))
    billets = [shapely.union_all(one).buffer(0) for one in shapes.values()]
    assert leaves * len(billets) >= wanted
    blank_area = sum(abs(s.outline.area()) for s in ring.stages[2].shapes)
    for number, billet in enumerate(billets):
        assert billet.difference(sheet.buffer(1e-6)).area < 1e-6
        assert billet.area > blank_area
        if number:
            assert math.isclose(billets[number - 1].distance(billet), KERF, abs_tol=1e-6)
    # what is over beside the billets: a cut before, between and after, the slant, the grip
    lean = math.radians(angle)
    cuts = (len(billets) + 1) * KERF / math.cos(lean) * across
    rest = across**2 * math.tan(lean) + GRIP * across
    assert math.isclose(sheet.area, sum(b.area for b in billets) + cuts + rest, rel_tol=1e-9)


def test_the_board_holds_its_strips() -> None:
    ring = made(wood="zebrano")
    (board,) = ring.stock
    strips = [Polygon(s.outline.points()) for s in ring.stages[0].shapes]
    sheet = box(0, 0, board.length, board.width)
    assert all(strip.difference(sheet.buffer(1e-6)).area < 1e-6 for strip in strips)
    gaps = [a.distance(b) for a, b in pairwise(strips)]
    assert gaps == pytest.approx([KERF] * len(gaps))
    left, _ = ring.blanks
    # a rectangle as wide as a strip and as long as six wedges head to tail fits into each
    mean = (left.inner_width + left.outer_width) / 2
    long = 6 * mean + 7 * KERF / math.cos(math.radians(7.5))
    long += (left.outer_width - left.inner_width) / 2
    assert math.isclose(
        board.width,
        long * math.cos(math.radians(35)) + left.height * math.sin(math.radians(35)),
    )
    assert len(strips) * 6 >= 24 + 3


def test_offcuts_are_asked_for_wedges_that_lean_both_ways_or_for_plies() -> None:
    right, left = made(wood="zebrano").blanks
    assert (right.grain, left.grain) == (-35, 35)
    assert [place.position for place in right.places] == list(range(1, 24, 2))
    assert [place.position for place in left.places] == list(range(2, 25, 2))
    ring = made()
    assert [(b.wood, len(b.places), b.thickness) for b in ring.blanks] == [
        (one.wood, one.count, one.thickness) for one in ring.stock
    ]


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"segments": 23}, "22 or 24 would do"),
        ({"angle": 0}, 'pattern = "radial"'),
        ({"angle": 70, "segments": 12}, "at most 60.0° would do"),
        ({"block_height": 5}, "at least 9.40 mm would do"),
        ({"segments": 400, "spacer": {"wood": "ebony", "thickness": 1.5}}, "at most"),
    ],
)
def test_what_cannot_be_made_is_refused_with_what_can(keys: dict[str, Any], said: str) -> None:
    assert said in refused(**keys)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"wood": "zebrano", "plies": PLIES}, "wood"),
        ({"angle": 80}, "ring[1].angle: 80 is not between -70 and 70"),
        ({"plies": [PLIES[0]]}, "plies"),
        ({"plies": [PLIES[0], {"wood": "maple"}]}, "ring[1].plies[2].thickness"),
    ],
)
def test_bad_keys_are_told_with_their_place(keys: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError) as caught:
        made(**keys)
    assert said in str(caught.value)


def test_warnings_that_belong_to_it() -> None:
    codes = {one.code for one in made(wood="zebrano", angle=50).warnings}
    assert codes >= {"stripes-by-chance", "short-grain"}
    assert not {one.code for one in made().warnings} & {"stripes-by-chance", "short-grain"}


def test_a_count_can_be_chosen() -> None:
    ring = made(segments=None, segment_width=15.0)
    wedges = len({piece.position for piece in ring.pieces})
    assert wedges % 2 == 0
    assert "chosen" in ring.steps[0].text()


@settings(max_examples=60, deadline=None)
@given(st.floats(0, 7), st.floats(-3, 3), st.floats(0.05, 2.5))
def test_clipping_keeps_what_lies_between_the_lines(
    direction: float, least: float, wide: float
) -> None:
    """A half disc against the same by shapely, whose circle has 4 096 corners."""
    half = Outline((Vertex(2.0, 0.0, 1.0), Vertex(-2.0, 0.0)))
    found = kept_beside(half, direction=direction, least=least, most=least + wide)
    disc = Point(0, 0).buffer(2.0, quad_segs=1024).intersection(box(-3, 0, 3, 3))
    along = (math.cos(direction), math.sin(direction))
    out = (-along[1], along[0])
    band = Polygon(
        [
            (9 * s * along[0] + off * out[0], 9 * s * along[1] + off * out[1])
            for s, off in ((-1, least), (1, least), (1, least + wide), (-1, least + wide))
        ]
    )
    area = 0.0 if found is None else found.area()
    assert math.isclose(area, disc.intersection(band).area, abs_tol=2e-5)
