"""The wood to prepare is what the ring uses, with kerfs, grips and trimming, by another account.

Nothing here is taken from the code but the finished pieces and the sizes told of each stage: block
and strips are laid out anew as shapes, with a saw's kerf between.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
from shapely import union_all
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from rosette.patterns.base import RingPlan, Stage
from tests.patterns.bands import PLIES, THREE, keys, polygons, ring

KERF, TRIM, GRIP, FACE = 0.9, 0.2, 6.0, 1.0
ALLOWANCE = 1.5

CASES: list[tuple[str, dict[str, Any]]] = [
    ("rope", {"width": 1.8}),
    ("rope", {"width": 1.8, "plies": THREE, "glue_line": 0.03, "twist": "counter-clockwise"}),
    ("rope", {"form": "straight", "angle": 60}),
    ("rope", {"form": "straight", "plies": THREE, "segments": 21, "block_length": 120}),
    ("rope", {"form": "straight", "width": 14.0, "bar_length": 120, "adjust": "plies"}),
    ("ladder", {"width": 1.8}),
    ("ladder", {"form": "straight", "plies": THREE, "glue_line": 0.03}),
    ("herringbone", {"form": "straight", "width": 9.0}),
]


def _stage(plan: RingPlan, name: str) -> Stage:
    (one,) = (stage for stage in plan.stages if stage.title.startswith(name))
    return one


def _sizes(plan: RingPlan, name: str) -> dict[str, float]:
    return dict(_stage(plan, name).sizes)


def _whole(number: float) -> int:
    assert number == pytest.approx(round(number), abs=1e-6), number
    return round(number)


@pytest.mark.parametrize(("pattern", "given"), CASES)
def test_plies_are_as_many_and_as_large_as_the_ring_takes(
    pattern: str, given: dict[str, Any]
) -> None:
    plan = ring(pattern, **given)
    asked = keys(pattern, **given)
    glue = asked.get("glue_line", 0.0)
    plies = [one for one in plan.stock if one.name.startswith("ply")]
    repeat = sum(one.thickness for one in plies) + len(plies) * glue
    block, slabs, bar = (_sizes(plan, name) for name in ("Block", "Slabs", "Bar"))
    sine = repeat / bar["one repeat"]
    lean = math.sqrt(max(0.0, 1.0 - sine**2)) / sine
    wide = slabs["width of a slab"]

    rows = _whole((block["height"] + glue) / repeat)
    blocks = _whole(plies[0].count / rows)
    assert {one.count for one in plies} == {rows * blocks}
    # slabs sawn one after the other until only the grip is left
    out_of_one = _whole(
        (plies[0].length - GRIP - block["height"] * lean - KERF / sine) / ((wide + KERF) / sine)
    )
    strips = _whole(
        (plies[0].width - 2.0 * FACE - GRIP) / (asked["tile_thickness"] + 2 * TRIM + KERF)
    )
    per_bar = _whole((bar["length along an edge"] + glue / sine) / (block["height"] + glue) * sine)
    bars = blocks * out_of_one // per_bar
    assert bars >= 1
    assert blocks * out_of_one - bars * per_bar < blocks
    _slabs_fit(plan, plies[0].length, block["height"], out_of_one)
    if given.get("form") == "straight":
        lanes = 2 if pattern == "herringbone" else 1
        _pieces_come_out(plan, bars * strips / lanes, bar["one repeat"], wide * lean, glue)
    else:
        needed = _repeats(plan) + 1
        assert (bars * strips - 1) * rows * per_bar >= needed
        assert wide == pytest.approx(plan.width + 2.0 * TRIM)
        assert bars > 1 or (strips - 2) * rows * per_bar < needed


def _repeats(plan: RingPlan) -> int:
    """Repeats that the ring's pieces are."""
    return _whole(len(plan.pieces) / len([one for one in plan.stock if one.name.startswith("ply")]))


def _slabs_fit(plan: RingPlan, length: float, height: float, count: int) -> None:
    """Slabs lie in the block, a kerf apart, the first a kerf from where the block begins."""
    shapes = polygons(_stage(plan, "Slabs").shapes)
    whole = box(0.0, 0.0, length, height).buffer(1e-6)
    assert all(whole.contains(one) for one in shapes)
    plies = len(_stage(plan, "Block").shapes)
    slabs = [union_all(shapes[i : i + plies]).convex_hull for i in range(0, len(shapes), plies)]
    assert len(slabs) <= count
    for one, other in pairwise(slabs):
        assert one.distance(other) == pytest.approx(KERF, abs=1e-6)
    right = max(one.bounds[2] for one in shapes)
    if len(slabs) == count:
        assert length - right == pytest.approx(GRIP + KERF / _sine(plan), abs=1e-6)


def _sine(plan: RingPlan) -> float:
    """Of the angle at which the slabs are cut."""
    sizes = _sizes(plan, "Slabs")
    return (sizes["width of a slab"] + KERF) / sizes["step of the stop along the block"]


def _pieces_come_out(
    plan: RingPlan, strips: float, repeat: float, overhang: float, glue: float
) -> None:
    """Enough mitred pieces come out of the strips, a kerf apart, every one at the same phase."""
    sizes = _sizes(plan, "Straight pieces")
    count, told, each = _told(plan)
    half = math.pi / count
    outer = plan.outer_radius + ALLOWANCE
    long = 2.0 * outer * math.tan(half) - glue / math.cos(half)
    assert sizes["outer edge"] == pytest.approx(long, abs=1e-9)
    # the inner corner stands half a joint beside the mitre
    inner = plan.inner_radius - ALLOWANCE
    lowest = inner * math.cos(half - math.asin(glue / 2.0 / inner))
    assert sizes["height"] == pytest.approx(outer - lowest, abs=1e-9)
    piece = Polygon(
        [
            (-sizes["inner edge"] / 2.0, 0.0),
            (sizes["inner edge"] / 2.0, 0.0),
            (sizes["outer edge"] / 2.0, sizes["height"]),
            (-sizes["outer edge"] / 2.0, sizes["height"]),
        ]
    )
    step = repeat
    while translate(piece, step).distance(piece) < KERF - 1e-9:
        step += repeat
    length = _sizes(plan, "Bar")["length along an edge"] - overhang
    # the worst that the first may lie is a whole repeat in
    room = length - sizes["outer edge"] - repeat
    assert each == math.floor(room / step + 1e-9) + 1
    spares = max(2, math.ceil(count / 10))
    assert told == spares
    assert strips * each >= count + spares


def _told(plan: RingPlan) -> tuple[int, int, int]:
    """Pieces, spares and pieces out of a strip, as the step tells them."""
    words = _stage(plan, "Straight pieces").saying.text().split()
    return int(words[1]), int(words[4]), int(words[7])


@pytest.mark.parametrize(
    "given",
    [
        {"width": 3.0, "bend_limit": 4.0},
        {"width": 3.0, "rows": 3, "bend_limit": 4.0, "glue_line": 0.02},
        {"width": 9.0, "rows": 3, "form": "straight"},
        {"width": 8.0, "rows": 4, "form": "straight", "block_length": 100, "segments": 41},
    ],
)
def test_sticks_are_as_many_and_as_large_as_the_ring_takes(given: dict[str, Any]) -> None:
    plan = ring("checker", **given)
    asked = keys("checker", **given)
    rows, glue = asked.get("rows", 2), asked.get("glue_line", 0.0)
    panel, cut, bar = (_sizes(plan, name) for name in ("Panel", "Slices", "Bar"))
    along = cut["length of a slice, along the grain"]
    slices = _whole((panel["length, along the grain"] - GRIP - KERF) / (along + KERF))
    sorts = 1 + rows % 2
    panels = _whole(sum(one.count for one in plan.stock) / rows)
    wood = {name: sum(one.count for one in plan.stock if one.wood == name) for name in plan.woods}
    assert len(set(wood.values())) == 1
    wide = sum(one.count * one.width for one in plan.stock) / panels + (rows - 1) * glue
    assert panel["width"] == pytest.approx(wide, abs=1e-9)
    per_bar = _whole((bar["length"] + glue) / (along + glue))
    assert per_bar % 2 == 0
    bars = panels * slices // per_bar
    assert bars >= 1
    assert panels % sorts == 0
    thick = plan.stock[0].thickness - 2.0 * FACE
    strips = bars * _whole((thick - GRIP) / (asked["tile_thickness"] + 2.0 * TRIM + KERF))
    if given.get("form") == "straight":
        count, spares, each = _told(plan)
        assert strips * each >= count + spares
        outer = plan.outer_radius + ALLOWANCE
        inner = (plan.inner_radius - ALLOWANCE) * math.cos(math.pi / count)
        assert wide >= outer - inner - 1e-9
        assert (each - 1) * 2.0 * outer * math.tan(math.pi / count) < bar["length"]
    else:
        assert wide == pytest.approx(plan.width + 2.0 * TRIM)
        assert (strips - 1) * per_bar >= len(plan.pieces) / rows + 2


def test_a_mitred_piece_holds_the_finished_one() -> None:
    for pattern in ("rope", "herringbone", "checker"):
        plan = ring(pattern, form="straight", width=9.0)
        blank = _sizes(plan, "Straight pieces")
        shapes = polygons(_stage(plan, "A piece").shapes)
        count = _told(plan)[0]
        lowest = (plan.inner_radius - ALLOWANCE) * math.cos(math.pi / count)
        whole = Polygon(
            [
                (-blank["inner edge"] / 2.0, lowest),
                (blank["inner edge"] / 2.0, lowest),
                (blank["outer edge"] / 2.0, lowest + blank["height"]),
                (-blank["outer edge"] / 2.0, lowest + blank["height"]),
            ]
        ).buffer(1e-6)
        assert all(whole.contains(one) for one in shapes)
        area = math.pi * (plan.outer_radius**2 - plan.inner_radius**2) / count
        assert sum(one.area for one in shapes) == pytest.approx(area, rel=1e-4)


def test_blanks_for_offcuts_are_the_plies_to_prepare() -> None:
    plan = ring("rope")
    for stock, blank in zip(plan.stock, plan.blanks, strict=True):
        assert (blank.wood, blank.thickness) == (stock.wood, stock.thickness)
        assert (blank.height, blank.inner_width) == (stock.length, stock.width)
        assert blank.inner_width == blank.outer_width
        assert len(blank.places) == stock.count
    labels = [place.label for blank in plan.blanks for place in blank.places]
    assert len(set(labels)) == len(labels)


@pytest.mark.parametrize(
    ("pattern", "given"),
    [
        ("checker", {"rows": 3}),
        ("checker", {"rows": 4}),
        ("rope", {"plies": [{**PLIES[0], "thickness": mm} for mm in (0.6, 0.9, 0.6, 1.2)]}),
        ("herringbone", {"width": 3.6}),
    ],
)
def test_what_is_prepared_of_one_wood_has_names_of_its_own(
    pattern: str, given: dict[str, Any]
) -> None:
    kinds = [(one.wood, one.name) for one in ring(pattern, **given).stock]
    assert len(set(kinds)) == len(kinds)


def test_a_bent_line_between_goes_round_with_something_to_trim() -> None:
    plan = ring("herringbone", width=3.6, line={"wood": "holly", "thickness": 0.4})
    (line,) = (one for one in plan.stock if one.name == "line")
    (piece,) = (one for one in plan.pieces if one.kind == "line")
    outer = max(math.hypot(x, y) for x, y in piece.outline.points())
    assert line.length > 2.0 * math.pi * outer
    assert line.width == pytest.approx(0.4)
