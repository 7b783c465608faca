"""Inlaid shapes: they fill their pockets, go round evenly, and a round bit can cut both."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box, unary_union

from rosette.design import read_design_text
from rosette.errors import CannotMakeError, InputError
from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import Outline, circle, polygon
from rosette.geometry.rolling import rounded_by, widened
from rosette.geometry.tracing import TracingError
from rosette.patterns.base import Piece, RingPlan
from rosette.plan import make_plan
from tests.patterns.measures import annulus, area, outside, overlap, shape
from tests.properties.designs import design, design_text

RING = {
    "pattern": "shapes",
    "inner_radius": 50.0,
    "width": 10.0,
    "tile_thickness": 1.6,
    "ground": "walnut",
    "wood": ["maple"],
    "shape": "leaf",
    "length": 7.0,
    "breadth": 3.6,
    "count": 24,
    "cutter": 0.8,
}
HEART = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10">'
    '<path d="M5 3 C5 1 2 1 2 3.5 C2 5.5 4 6.5 5 8.5 C6 6.5 8 5.5 8 3.5 C8 1 5 1 5 3 Z"/></svg>'
)


def shapes(**keys: Any) -> RingPlan:
    ring = {name: value for name, value in {**RING, **keys}.items() if value is not None}
    return make_plan(design([ring])).rings[0]


def refused(**keys: Any) -> str:
    with pytest.raises(CannotMakeError) as caught:
        shapes(**keys)
    return str(caught.value)


def drawn(folder: Path, svg: str, **keys: Any) -> RingPlan:
    """A ring with a shape out of a file."""
    (folder / "own.svg").write_text(svg, encoding="utf-8")
    ring = {**RING, "file": "own.svg", "shape": None, "length": None, "breadth": None, **keys}
    text = design_text([ring]).encode()
    return make_plan(read_design_text(text, "design.toml", folder)).rings[0]


def parts(ring: RingPlan) -> tuple[list[Piece], list[Piece]]:
    """The ground's pieces, and the shapes."""
    return (
        [p for p in ring.pieces if p.kind == "ground"],
        [p for p in ring.pieces if p.kind == "shape"],
    )


FORMS = st.fixed_dictionaries(
    {
        "shape": st.sampled_from(["dot", "diamond", "leaf"]),
        "length": st.floats(3, 8),
        "turn": st.floats(-180, 180),
        "count": st.integers(3, 60),
        "cutter": st.floats(0.4, 2),
        "segments": st.sampled_from([None, 3, 7]),
        "at_centreline": st.sampled_from(["shape", "between"]),
        "hidden_shapes": st.sampled_from(["skip", "keep"]),
        "breadth": st.none(),
    }
)


def planned(**keys: Any) -> RingPlan:
    try:
        return shapes(**keys)
    except CannotMakeError:
        assume(False)
        raise


@settings(max_examples=12, deadline=None)
@given(FORMS)
def test_ground_and_shapes_fill_the_ring(keys: dict[str, Any]) -> None:
    ring = planned(**keys)
    assert sum(map(area, ring.pieces)) == pytest.approx(annulus(ring), abs=1e-6)
    assert overlap(ring) < 0.02
    assert outside(ring) < 1e-9


@settings(max_examples=8, deadline=None)
@given(FORMS, st.floats(0.02, 0.2))
def test_a_pocket_is_its_shape_widened_by_the_glue(keys: dict[str, Any], glue: float) -> None:
    ring = planned(**{**keys, "glue_line": glue})
    ground, let_in = parts(ring)
    pockets = [Polygon(hole.points(1e-3)) for piece in ground for hole in piece.holes]
    assert len(pockets) == len(let_in)
    for piece in let_in[:3]:
        mine = shape(piece)
        (pocket,) = (one for one in pockets if one.intersects(mine))
        assert pocket.covers(mine)
        assert pocket.boundary.distance(mine) == pytest.approx(glue, abs=2e-3)
        assert pocket.boundary.hausdorff_distance(mine.boundary) == pytest.approx(glue, abs=4e-3)


def _reached(outline: Outline, radius: float) -> tuple[float, float]:
    """mm² that a disc rolled inside, and one rolled outside, do not reach: by shapely."""
    one = Polygon(outline.points(2e-4))
    inside = one.buffer(-radius, quad_segs=64).buffer(radius, quad_segs=64)
    out = one.buffer(radius, quad_segs=64).buffer(-radius, quad_segs=64)
    return one.difference(inside).area, out.difference(one).area


@settings(max_examples=10, deadline=None)
@given(FORMS, st.sampled_from([0.0, 0.1]))
def test_the_bit_reaches_all_of_pocket_and_shape(keys: dict[str, Any], glue: float) -> None:
    """Morphological opening and closing (shapely's buffers) by a disc a hair smaller than the bit
    take nothing away and add nothing.
    """
    ring = planned(**{**keys, "glue_line": glue})
    ground, let_in = parts(ring)
    assume(let_in)
    radius = keys["cutter"] / 2 * 0.995
    for outline in (let_in[0].outline, next(p for p in ground if p.holes).holes[0]):
        inside, out = _reached(outline, radius)
        assert inside < 0.01
        assert out < 0.01 or outline is not let_in[0].outline


CORNERED: dict[str, list[tuple[float, float]]] = {
    "square": [(0, 0), (6, 0), (6, 6), (0, 6)],
    "L": [(0, 0), (6, 0), (6, 2), (2, 2), (2, 6), (0, 6)],
    "star": [
        ((5, 2.5)[i % 2] * math.cos(math.pi / 5 * i), (5, 2.5)[i % 2] * math.sin(math.pi / 5 * i))
        for i in range(10)
    ],
    "cross": [
        (1, 1), (1, 4), (-1, 4), (-1, 1), (-4, 1), (-4, -1),
        (-1, -1), (-1, -4), (1, -4), (1, -1), (4, -1), (4, 1),
    ],
}  # fmt: skip


@pytest.mark.parametrize("name", CORNERED)
@pytest.mark.parametrize("radius", [0.2, 0.4, 0.7])
def test_a_rolled_outline_is_the_opening_and_closing_of_it(name: str, radius: float) -> None:
    """What morphology calls so, by shapely's buffers."""
    made = Polygon(rounded_by(polygon(CORNERED[name]), radius).points(1e-4))
    whole = Polygon(CORNERED[name])
    opened = whole.buffer(-radius, quad_segs=200).buffer(radius, quad_segs=200)
    closed = opened.buffer(radius, quad_segs=200).buffer(-radius, quad_segs=200)
    assert made.symmetric_difference(closed).area < 0.002 * len(CORNERED[name])
    assert made.hausdorff_distance(closed) < 0.01


def test_corners_become_arcs_of_the_bit_by_a_closed_formula() -> None:
    """Rounding takes (1/tan(a/2) − (π − a)/2)·r² off a corner of angle a (a sector and a kite)."""
    radius = 0.5
    for corners in ([(0, 0), (8, 0), (4, 6)], [(0, 0), (6, 0), (6, 3), (0, 3)]):
        lost = 0.0
        for i, (x, y) in enumerate(corners):
            (a, b), (c, d) = corners[i - 1], corners[(i + 1) % len(corners)]
            angle = abs(math.atan2(b - y, a - x) - math.atan2(d - y, c - x))
            angle = min(angle, 2 * math.pi - angle)
            lost += (1 / math.tan(angle / 2) - (math.pi - angle) / 2) * radius**2
        sharp = polygon(corners)
        assert rounded_by(sharp, radius).area() == pytest.approx(sharp.area() - lost, abs=1e-6)


def test_widening_a_smooth_outline_adds_its_length_and_a_disc() -> None:
    """Steiner: the area of a convex outline moved outward by g grows by L·g + π·g²."""
    one = rounded_by(polygon([(0, 0), (8, 0), (4, 6)]), 0.5)
    length = LineString([*one.points(1e-5), one.points(1e-5)[0]]).length
    grown = widened(one, 0.3).area() - one.area()
    assert grown == pytest.approx(length * 0.3 + math.pi * 0.09, abs=1e-4)


def test_a_disc_that_gets_stuck_is_told_where() -> None:
    hourglass = [(0, 0), (6, 0), (3.2, 4), (6, 8), (0, 8), (2.8, 4)]
    with pytest.raises(TracingError, match="narrower than the bit"):
        rounded_by(polygon(hourglass), 0.5)
    with pytest.raises(TracingError, match="everywhere"):
        rounded_by(circle(1.0), 1.2)


@settings(max_examples=10, deadline=None)
@given(FORMS)
def test_shapes_go_round_evenly_about_the_centreline(keys: dict[str, Any]) -> None:
    ring = planned(**{**keys, "hidden_shapes": "keep"})
    _, let_in = parts(ring)
    assert len(let_in) == keys["count"]
    angles = []
    for piece in let_in:
        centre = shape(piece).centroid
        assert math.hypot(centre.x, centre.y) == pytest.approx(55.0, abs=1e-3)
        angles.append(math.degrees(math.atan2(centre.y, centre.x)))
    steps = [(a - b) % 360 for a, b in zip(angles, [*angles[1:], angles[0]], strict=True)]
    assert steps == pytest.approx([360 / keys["count"]] * keys["count"], abs=1e-3)
    nearest = min(abs((angle - 90 + 180) % 360 - 180) for angle in angles)
    wanted = 0.0 if keys["at_centreline"] == "shape" else 180 / keys["count"]
    assert nearest == pytest.approx(wanted, abs=1e-3)


def test_those_that_the_fingerboard_hides_are_left_out_and_told() -> None:
    board = box(-28.5, 40.0, 28.5, 200.0)
    kept, skipped = shapes(hidden_shapes="keep"), shapes()
    _, every = parts(kept)
    ground, let_in = parts(skipped)
    clear = [p for p in every if not shape(p).buffer(1e-6).intersects(board)]
    assert len(let_in) == len(clear) < len(every)
    assert all(p.visibility is Visibility.SEEN for p in let_in)
    assert sum(len(p.holes) for p in ground) == len(let_in)
    told = next(w.text() for w in skipped.warnings if w.code == "hidden-shapes")
    assert f"hides {len(every) - len(let_in)} of 24 shapes" in told
    (stock,) = (one for one in skipped.stock if one.name == "shape")
    assert stock.count == len(let_in)
    assert stock.spares == max(2, math.ceil(len(let_in) / 10))


@settings(max_examples=8, deadline=None)
@given(FORMS)
def test_blanks_hold_their_shapes_and_sides_their_ground(keys: dict[str, Any]) -> None:
    ring = planned(**keys)
    by_label = {piece.label: piece for piece in ring.pieces}
    places = [place.label for blank in ring.blanks for place in blank.places]
    assert sorted(places) == sorted(by_label)
    for blank in ring.blanks:
        for place in blank.places:
            piece = by_label[place.label]
            upright = piece.outline.mapped(math.radians(90 - (piece.axis or 0.0)))
            left, low, right, high = upright.bounds()
            beside = 1.0 if piece.kind == "shape" else 0.0
            assert high - low + 2 * beside <= blank.height + 1e-9
            assert right - left + 2 * beside <= blank.inner_width + 1e-9


def test_a_drawing_of_ones_own_keeps_its_size_and_is_rounded(tmp_path: Path) -> None:
    ring = drawn(tmp_path, HEART)
    _, let_in = parts(ring)
    first = let_in[0].outline.mapped(math.radians(90 - (let_in[0].axis or 0.0)))
    left, low, right, high = first.bounds()
    assert right - left == pytest.approx(6.0, abs=0.05)
    assert high - low < 7.0
    inside, out = _reached(first, 0.4 * 0.98)
    assert inside < 0.02
    assert out < 0.02
    bigger = drawn(tmp_path, HEART, length=8.0, count=12)
    assert area(parts(bigger)[1][0]) > 1.2 * area(let_in[0])


def test_its_outer_end_is_up_in_the_drawing(tmp_path: Path) -> None:
    """A triangle with its point up: turned outward, the point lies farthest from the centre."""
    svg = HEART.split("<path", maxsplit=1)[0] + '<path d="M5 1 L8 8 L2 8 Z"/></svg>'
    _, let_in = parts(drawn(tmp_path, svg, hidden_shapes="keep"))
    for piece in let_in:
        centre = shape(piece).centroid
        far = max(math.hypot(x, y) for x, y in piece.outline.points())
        near = min(math.hypot(x, y) for x, y in piece.outline.points())
        out = math.hypot(centre.x, centre.y)
        assert far - out > out - near


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ('<path d="M0 0 L5 0"/>', "open"),
        ('<path d="M0 0 L5 5 L5 0 L0 5 Z"/>', "crosses or touches itself"),
        ('<circle r="3"/><circle r="1"/>', "2 closed lines"),
        ("<g/>", "no closed line"),
        ('<path d="M0 0 L.1 0 L0 .1 Z"/>', "hardly anything"),
        ('<path d="M0 0 Z L"/>', "can't be read"),
        ("<g>" * 80, "inside each other"),
    ],
)
def test_a_drawing_that_is_no_shape_is_told(tmp_path: Path, body: str, found: str) -> None:
    with pytest.raises(InputError) as caught:
        drawn(
            tmp_path,
            f'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" '
            f'viewBox="0 0 9 9">{body}</svg>',
        )
    assert any("ring[1].file" in line and found in line for line in caught.value.lines())


def test_hostile_drawings_are_refused_and_lead_nowhere(tmp_path: Path) -> None:
    bombs = [
        '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><svg>&b;</svg>',
        '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg>&x;</svg>',
        '<svg><path d="M0 0 ' + "L1 1 " * 60_000 + 'Z"/></svg>',
        '<svg><path d="M0 0 A1e9 1e9 0 0 1 1e300 0 Z"/></svg>',
        "<svg>" + "x" * 300_000 + "</svg>",
    ]
    for bomb in bombs:
        with pytest.raises(InputError):
            drawn(tmp_path, bomb)
    for name in ("../own.svg", "/etc/passwd", "own.png", "none.svg", "picture.svg"):
        (tmp_path / "picture.svg").write_text(HEART, encoding="utf-8")
        with pytest.raises(InputError) as caught:
            drawn(tmp_path, HEART, file=name)
        assert any("ring[1].file" in line for line in caught.value.lines())


def test_refusals_name_what_works() -> None:
    most = int(re.findall(r"at most ([0-9]+) fit", refused(count=90))[0])
    shapes(count=most)
    refused(count=most + 1)
    told = refused(count=None, spacing=2.0)
    shapes(count=None, spacing=float(re.findall(r"spacing = ([0-9.]+) mm", told)[0]))
    better = float(re.findall(r"centre_radius = ([0-9.]+) mm", refused(centre_radius=57.0))[0])
    shapes(centre_radius=better)
    wider = float(re.findall(r"the ring ([0-9.]+) mm wide", refused(length=14.0, breadth=5.0))[0])
    shapes(length=14.0, breadth=5.0, width=wider, centre_radius=None)
    assert "narrower than the bit" in refused(cutter=4.0)
    assert "narrower than long" in refused(length=4.0, breadth=4.0)
    most_glue = float(re.findall(r"at most ([0-9.]+) mm", refused(glue_line=0.6))[0])
    shapes(glue_line=most_glue)
    assert "1.60 mm or less" in refused(shape_thickness=2.0)


def test_what_to_think_over_is_told() -> None:
    codes = {w.code for w in shapes(width=7.7, wood=["abalone", "koa"], count=25).warnings}
    assert codes == {"hidden-shapes", "thin-ground", "small-bit", "shell-dust", "broken-sequence"}
    calm = shapes(cutter=1.2, hidden_shapes="keep", breadth=4.0)
    assert {w.code for w in calm.warnings} == set()


@pytest.mark.parametrize(
    ("keys", "place", "found"),
    [
        ({"shape": "star"}, "ring[1].shape", '"dot"'),
        ({"file": "x.svg"}, "ring[1].file", "can't be looked for"),
        ({"length": None}, "ring[1].length", "missing"),
        ({"shape": "dot"}, "ring[1].breadth", "leave it out"),
        ({"spacing": 5}, "ring[1].spacing", "does not go together"),
        ({"turn": 400}, "ring[1].turn", "not between"),
        ({"hidden_shapes": "hide"}, "ring[1].hidden_shapes", '"skip"'),
    ],
)
def test_bad_keys_are_told_with_their_place(keys: dict[str, Any], place: str, found: str) -> None:
    ring = {name: value for name, value in {**RING, **keys}.items() if value is not None}
    with pytest.raises(InputError) as caught:
        design([ring])
    assert any(place in line and found in line for line in caught.value.lines())


def test_pieces_never_stand_on_one_another() -> None:
    whole = unary_union([shape(p) for p in shapes().pieces])
    assert whole.area == pytest.approx(annulus(shapes()), rel=1e-4)
