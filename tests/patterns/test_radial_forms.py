"""The forms of a radial ring: pairs, halves, gradients, two widths, a leaning grain."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon

from rosette.errors import CannotMakeError, InputError
from rosette.geometry.leaning import LeaningBlank, leaning_blank
from rosette.offcuts.box import read_box_text
from rosette.offcuts.cutting import cut_box
from rosette.offcuts.options import CutOptions
from rosette.patterns.base import RingPlan
from rosette.plan import make_plan
from rosette.sheets.origins import origins
from tests.patterns.filling import assert_fills
from tests.properties.designs import design, radial

ALLOWANCE, KERF = 1.5, 0.9
"""Those of the designs' base."""


def ring(**keys: Any) -> RingPlan:
    return make_plan(design([radial(**keys)])).rings[0]


def codes(made: RingPlan) -> set[str]:
    return {one.code for one in made.warnings}


def refused(**keys: Any) -> str:
    with pytest.raises(CannotMakeError) as caught:
        ring(**keys)
    return str(caught.value)


# ---- filling


@settings(max_examples=15, deadline=None)
@given(st.data())
def test_two_widths_and_a_leaning_grain_fill_the_ring(data: st.DataObject) -> None:
    joint = data.draw(st.sampled_from([0.0, 0.4]))
    glue = data.draw(st.sampled_from([0.0, 0.1]))
    count = 2 * data.draw(st.integers(4, 24))
    made = ring(
        inner_radius=data.draw(st.floats(46.0, 80.0)),
        width=data.draw(st.floats(2.0, 25.0)),
        segments=count,
        widths=data.draw(st.sampled_from([None, [2, 1], [1, 3.5]])),
        skew=data.draw(st.floats(-30, 30)),
        spacer={"wood": "maple", "thickness": joint} if joint else None,
        glue_line=glue,
        at_centreline=data.draw(st.sampled_from(["joint", "wedge"])),
    )
    if made.wedges is not None:
        return
    if glue:  # the glue lies beside the veneer: what is left out is the whole joint less it
        assert_fills(replace(made, spacers=()), joint=joint + glue, joints=count)
    else:
        assert_fills(made)


# ---- the leaning blank


def sector(blank_of: dict[str, float]) -> Polygon:
    """The wedge with its allowances, by its definition: an annulus between two lines."""
    half, joint = math.radians(blank_of["half"]), blank_of["joint"]
    inner, outer = blank_of["inner_radius"], blank_of["outer_radius"]
    ends = []
    for radius in (outer, inner):
        taken = half - math.asin(joint / 2 / radius)
        arc = [
            (radius * math.cos(a), radius * math.sin(a))
            for a in (-taken + 2 * taken * i / 400 for i in range(401))
        ]
        ends.append(arc)
    return rotate(Polygon([*ends[0], *reversed(ends[1])]), -blank_of["lean"], origin=(0, 0))


@settings(max_examples=60, deadline=None)
@given(
    st.floats(1.5, 30),
    st.floats(-44, 44),
    st.sampled_from([0.0, 0.5]),
    st.floats(40, 90),
    st.floats(3, 40),
)
def test_the_blank_is_the_least_that_holds_the_wedge(
    half: float, lean: float, joint: float, inner: float, width: float
) -> None:
    """Its four edges each touch the wedge, none cuts into it; grain along +x after turning."""
    given_ = {
        "half": half,
        "lean": lean,
        "joint": joint,
        "inner_radius": inner,
        "outer_radius": inner + width,
    }
    blank = leaning_blank(**given_)
    wedge = sector(given_)
    left, _, right, _ = wedge.bounds
    assert math.isclose(blank.inner, left, abs_tol=1e-3)
    assert math.isclose(blank.outer, right, abs_tol=1e-3)
    shape = Polygon(blank.corners())
    assert shape.is_valid
    assert wedge.difference(shape.buffer(1e-3)).area < 1e-6
    for side in (True, False):
        edge = [blank.side(u, left=side) for u in (blank.inner, blank.outer)]
        along = (blank.outer - blank.inner, edge[1] - edge[0])
        off = [
            (along[0] * (y - edge[0]) - along[1] * (x - blank.inner)) / math.hypot(*along)
            for x, y in wedge.exterior.coords
        ]
        assert min(abs(one) for one in off) < 1e-6
        # each side stands half a joint inside the radial plane: so far from the ring's centre
        centre = (-along[0] * edge[0] + along[1] * blank.inner) / math.hypot(*along)
        assert math.isclose(abs(centre), joint / 2, abs_tol=1e-9)


def laid_head_to_tail(blank: LeaningBlank, count: int, kerf: float) -> float:
    """Length of strip by laying shapes: every second turned half a turn, a kerf between."""
    best = math.inf
    for first_turned in (False, True):
        shapes: list[Polygon] = []
        for number in range(count):
            shape = Polygon(blank.corners())
            middle = ((blank.inner + blank.outer) / 2, 0.0)
            if (number % 2 == 1) != first_turned:
                shape = rotate(shape, 180, origin=middle)
            if shapes:
                low, high = 0.0, 500.0
                before = shapes[-1]
                shape = translate(shape, 0, before.centroid.y - shape.centroid.y)
                for _ in range(60):
                    middle_ = (low + high) / 2
                    if translate(shape, 0, middle_).distance(before) < kerf:
                        low = middle_
                    else:
                        high = middle_
                shape = translate(shape, 0, high)
            shapes.append(shape)
        bounds = [shape.bounds for shape in shapes]
        best = min(best, max(b[3] for b in bounds) - min(b[1] for b in bounds))
    return best


@pytest.mark.parametrize("count", [1, 2, 5, 6])
@pytest.mark.parametrize(("half", "lean"), [(5.0, 20.0), (7.5, -4.0), (10.0, 0.0), (12.0, 35.0)])
def test_the_strip_is_as_long_as_shapes_laid_on_it(half: float, lean: float, count: int) -> None:
    blank = leaning_blank(half=half, lean=lean, joint=0.4, inner_radius=50, outer_radius=70)
    laid = laid_head_to_tail(blank, count, KERF)
    assert math.isclose(blank.strip_length(count, kerf=KERF), laid, abs_tol=1e-6)


def test_the_saws_two_angles_come_from_the_cut_blank_as_its_description_says() -> None:
    """atan(lean ± t), t half the difference of the widths over the height: α+σ and α−σ."""
    (blank,) = ring(segments=24, skew=20).blanks
    taper = (blank.outer_width - blank.inner_width) / 2 / blank.height
    angles = [math.degrees(math.atan(blank.lean + s * taper)) for s in (1, -1)]
    assert angles == pytest.approx([7.5 + 20.0, 20.0 - 7.5])


def test_every_wedge_leans_alike() -> None:
    made = ring(segments=24, skew=20)
    for piece in made.pieces:
        corners = piece.outline.vertices
        towards = math.degrees(math.atan2(sum(v.y for v in corners), sum(v.x for v in corners)))
        assert piece.axis is not None
        # clockwise as it runs outward
        assert (towards - piece.axis) % 360 == pytest.approx(20.0)


# ---- two widths


def test_two_widths_share_the_circle_in_proportion() -> None:
    made = ring(segments=24, widths=[3, 1], wood=["walnut", "maple"])
    areas = Counter[str]()
    for piece in made.pieces:
        areas[piece.wood] += piece.outline.area()  # type: ignore[assignment]
    assert areas["walnut"] / areas["maple"] == pytest.approx(3.0)
    assert {one.name: one.places[0].position for one in made.blanks} == {
        "wide wedge": 1,
        "narrow wedge": 2,
    }
    assert sum(len(one.places) for one in made.blanks) == 24


@settings(max_examples=20, deadline=None)
@given(st.integers(2, 20), st.sampled_from([[2, 1], [1, 4]]), st.floats(-20, 20))
def test_stock_adds_up(half_count: int, widths: list[float], skew: float) -> None:
    """By areas: the blanks, a kerf of each cut, two slanted ends, and the grip are the strip."""
    made = ring(segments=4 * half_count, widths=widths, skew=skew)
    for stock, blank in zip(made.stock, made.blanks, strict=True):
        taper = (blank.outer_width - blank.inner_width) / 2 / blank.height
        angles = [math.atan(blank.lean + s * taper) for s in (1, -1)]
        low, high = sorted(map(abs, angles))
        count = len(blank.places) + max(2, math.ceil(len(blank.places) / 10))
        blanks = count * (blank.inner_width + blank.outer_width) / 2 * blank.height
        slant = blank.height / math.cos(high), blank.height / math.cos(low)
        kerfs = KERF * (count // 2 * slant[0] + (count - 1) // 2 * slant[1])
        ends = blank.height**2 / 2 * (math.tan(low) + math.tan(high if count % 2 else low))
        trimming = 2 * KERF / math.cos(high) * blank.height + 150.0 * blank.height
        whole = stock.length * stock.width
        assert whole == pytest.approx(blanks + kerfs + ends + trimming, rel=1e-9)
        assert stock.length == pytest.approx(blank.height)


def test_two_widths_have_halves_only_where_four_divide_the_count() -> None:
    """Joints lie at k·(a+b) and k·(a+b)+a; one lies across from another where 180° is k·(a+b)."""
    assert "no-halves" in codes(ring(segments=26, widths=[2, 1]))
    assert "no-halves" not in codes(ring(segments=28, widths=[2, 1]))
    assert "26 or" in refused(segments=27, widths=[2, 1])


def test_even_widths_are_a_plain_ring() -> None:
    plain, even = ring(segments=24), ring(segments=24, widths=[1, 1])
    assert even.wedges == plain.wedges
    assert even.pieces == plain.pieces


# ---- woods


def order(made: RingPlan) -> str:
    return "".join(piece.wood for piece in made.pieces)


def test_pairs_are_of_one_wood_and_cut_as_one() -> None:
    made = ring(segments=12, wood=["a", "b"], mirrored_pairs=True)
    assert order(made) == "aabbaabbaabb"
    assert made.wedges is not None
    assert made.wedges.leaves == 2
    assert "broken-sequence" not in codes(made)
    assert "broken-sequence" in codes(ring(segments=10, wood=["a", "b"], mirrored_pairs=True))
    assert "10 or 12" in refused(segments=11, mirrored_pairs=True)


def test_a_pair_takes_its_two_leaves_a_saw_cut_and_planing() -> None:
    made = ring(segments=12, mirrored_pairs=True)
    (blank,) = made.blanks
    assert len(blank.places) == 6
    assert blank.thickness == pytest.approx(2 * 2.2 + KERF + 2 * 0.5)
    (stock,) = made.stock
    assert stock.thickness == blank.thickness
    # six pairs and a pair to spare, head to tail, each cut and end at 15°
    mean = (blank.inner_width + blank.outer_width) / 2
    taper = (blank.outer_width - blank.inner_width) / 2
    along = KERF / math.cos(math.radians(15.0))
    assert stock.width == pytest.approx(7 * mean + 8 * along + taper + 150.0)


@pytest.mark.parametrize("count", [12, 13, 14])
@pytest.mark.parametrize("stands", ["joint", "wedge"])
@pytest.mark.parametrize("gradient", [True, False])
def test_mirrored_halves_mirror(count: int, stands: str, gradient: bool) -> None:
    made = ring(
        segments=count,
        wood=["a", "b", "c"],
        mirrored_halves=True,
        gradient=gradient,
        at_centreline=stands,
    )
    by_place = {
        (
            round(math.cos(math.radians(p.axis or 0)), 9),
            round(math.sin(math.radians(p.axis or 0)), 9),
        ): p.wood
        for p in made.pieces
    }
    for (x, y), wood in by_place.items():
        assert by_place[(-x if x else 0.0, y)] == wood


def test_a_gradient_goes_once_round_or_once_down_each_side() -> None:
    woods = ["a", "b", "c", "d"]
    assert order(ring(segments=12, wood=woods, gradient=True)) == "aaabbbcccddd"
    halves = order(ring(segments=16, wood=woods, gradient=True, mirrored_halves=True))
    assert halves == "aabbccdd" + "ddccbbaa"
    pairs = order(
        ring(segments=16, wood=woods, gradient=True, mirrored_halves=True, mirrored_pairs=True)
    )
    assert pairs == halves
    assert "list 6 woods or fewer" in refused(
        segments=12, wood=list("abcdefg"), gradient=True, mirrored_halves=True
    )


@settings(max_examples=40, deadline=None)
@given(st.integers(2, 30), st.integers(1, 6), st.booleans(), st.booleans())
def test_no_wood_of_a_gradient_is_left_out(
    half: int, woods: int, mirrored: bool, pairs: bool
) -> None:
    names = list("abcdef")[:woods]
    try:
        made = ring(
            segments=2 * half,
            wood=names,
            gradient=True,
            mirrored_halves=mirrored,
            mirrored_pairs=pairs,
        )
    except CannotMakeError:
        places = math.ceil((half if mirrored else 2 * half) / (2 if pairs else 1))
        assert places < woods
        return
    counts = Counter(piece.wood for piece in made.pieces)
    assert set(counts) == set(names)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"mirrored_pairs": True, "skew": 10}, "chevron"),
        ({"mirrored_pairs": True, "widths": [2, 1]}, "leave out one"),
        (
            {"mirrored_pairs": True, "mirrored_halves": True, "at_centreline": "wedge"},
            'at_centreline = "joint"',
        ),
        ({"mirrored_halves": True, "widths": [2, 1]}, 'at_centreline = "wedge"'),
        ({"segments": 8, "skew": 60}, "skew of at most 52.5"),
        ({"segments": 4, "widths": [20, 1]}, "more wedges"),
    ],
)
def test_what_does_not_go_together_is_refused(keys: dict[str, Any], said: str) -> None:
    assert said in refused(**keys)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"skew": 75}, "ring[1].skew: 75 is not between -60 and 60"),
        ({"skew": "left"}, "ring[1].skew"),
        ({"widths": [2]}, "list of 2 numbers"),
        ({"widths": [2, 0]}, "ring[1].widths[2]"),
        ({"mirrored_pairs": "yes"}, "neither true nor false"),
        ({"mirored_halves": True}, "mirrored_halves"),
    ],
)
def test_bad_keys_are_told_with_their_place(keys: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError) as caught:
        ring(**keys)
    assert said in str(caught.value)


def test_short_grain_is_told() -> None:
    assert "short-grain" in codes(ring(skew=40))
    assert "short-grain" not in codes(ring(skew=10))


def test_a_leaning_grain_moves_less_along_the_rim() -> None:
    """cos² of the lean: the strain of a turned direction (any textbook of mechanics)."""
    ((_, plain),) = ring().across_grain
    ((_, leaning),) = ring(skew=30).across_grain
    assert leaning / plain == pytest.approx(0.75)


def test_the_count_chosen_suits_the_form() -> None:
    made = ring(segments=None, segment_width=9.0, widths=[2, 1])
    assert len(made.pieces) % 4 == 0
    assert "chosen" in made.steps[0].text()
    made = ring(segments=None, segment_width=9.0, mirrored_pairs=True, wood=["a", "b"])
    assert len(made.pieces) % 4 == 0


def test_thin_joints_bound_the_count_by_the_narrow_wedge() -> None:
    said = refused(segments=400, widths=[3, 1], spacer={"wood": "maple", "thickness": 0.8})
    most = int(said.split("at most ")[1].split()[0])
    made = ring(segments=most, widths=[3, 1], spacer={"wood": "maple", "thickness": 0.8})
    assert len(made.pieces) == most
    narrow = math.pi / (most + 2) / 2
    assert narrow < math.asin(0.4 / 50.5)


def test_both_leaves_of_a_pair_are_found_in_the_offcut_it_comes_from() -> None:
    made = design([radial(segments=12, mirrored_pairs=True)])
    text = b"""
schema = 1
[[offcut]]
id = "W1"
wood = "walnut"
thickness = 6.5
rectangle = [150, 200]
"""
    cutting = cut_box(made, read_box_text(text), CutOptions())
    pieces = make_plan(made).rings[0].pieces
    assert sorted(origins(cutting)) == sorted(piece.label for piece in pieces)
