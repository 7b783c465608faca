"""The mosaic: it fills its ring, shows its motif, and its plies give every tile."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from itertools import pairwise
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import Point, Polygon

from rosette.errors import CannotMakeError
from rosette.patterns.base import Piece, RingPlan
from rosette.patterns.mosaic_work import kinds_of
from tests.patterns.filling import assert_fills
from tests.patterns.mosaics import (
    ALLOWANCE,
    GRIP,
    KERF,
    MOTIF,
    THICK,
    TRIM,
    WOODS,
    cell,
    made,
    stage,
)

motifs = st.integers(1, 5).flatmap(
    lambda wide: st.lists(st.text("wmr", min_size=wide, max_size=wide), min_size=1, max_size=5)
)
tapers = st.sampled_from(["columns", "log"])
sizes = st.tuples(st.integers(7, 12), st.floats(46, 70), st.floats(5, 11))


def shape(piece: Piece) -> Polygon:
    return Polygon(piece.outline.points(1e-4))


@settings(max_examples=8, deadline=None)
@given(motifs, tapers, st.sampled_from(["slip", "mirrored"]), sizes)
def test_cells_and_edges_fill_the_ring(
    motif: list[str], taper: str, repeat: str, size: tuple[int, float, float]
) -> None:
    half, inner, width = size
    ring = made(
        motif=motif, taper=taper, repeat=repeat, tiles=2 * half, inner_radius=inner, width=width
    )
    assert len(ring.pieces) == 2 * half * len(motif[0]) * (len(motif) + 2)
    assert_fills(ring)


@settings(max_examples=8, deadline=None)
@given(motifs, st.floats(0.01, 0.15), sizes)
def test_every_joint_is_as_wide_as_its_glue(
    motif: list[str], glue: float, size: tuple[int, float, float]
) -> None:
    """Joints on radii by integration, as in a ring of wedges; those between rows as strips."""
    half, inner, width = size
    ring = made(motif=motif, glue_line=glue, tiles=2 * half, inner_radius=inner, width=width)
    fans = 2 * half * len(motif[0])
    area = sum(p.outline.area() for p in ring.pieces)

    def joint(radius: float) -> float:
        return glue / 2 * math.sqrt(radius**2 - glue**2 / 4) + radius**2 * math.asin(
            glue / 2 / radius
        )

    outer = inner + width
    glued = fans * (joint(outer) - joint(inner))
    column = [p for p in ring.pieces if p.position == 1 and cell(p)[0] == 1]
    middle = math.degrees(math.pi / fans)
    seam = 90.0
    upright = [rotate(shape(p), middle - seam + 90.0, origin=(0, 0)) for p in column]
    for above, below in pairwise(upright):
        top, bottom = above.bounds[1], below.bounds[3]
        assert math.isclose(top - bottom, glue, abs_tol=1e-9)
        x = (top + bottom) / 2
        wide = 2 * (x * math.tan(math.pi / fans) - glue / 2 / math.cos(math.pi / fans))
        glued += fans * glue * wide
    annulus = math.pi * (outer**2 - inner**2)
    assert math.isclose(area, annulus - glued, abs_tol=1e-6 * annulus)


@settings(max_examples=8, deadline=None)
@given(motifs, tapers, st.floats(0.01, 0.15))
def test_no_two_cells_come_nearer_than_the_glue(motif: list[str], taper: str, glue: float) -> None:
    ring = made(motif=motif, taper=taper, glue_line=glue, tiles=14, repeat="mirrored")
    shapes = [shape(p) for p in ring.pieces if p.position in (1, 2, 14)]
    for number, one in enumerate(shapes):
        for other in shapes[:number]:
            assert one.distance(other) > glue - 1e-6


def at_noon(ring: RingPlan) -> dict[tuple[int, str], Piece]:
    return {cell(p): p for p in ring.pieces if p.position == 1}


@pytest.mark.parametrize("taper", ["columns", "log"])
def test_the_motif_stands_as_it_is_drawn(taper: str) -> None:
    """Seen at 12 o'clock the first line is at the top, and lines run from left to right."""
    tile = at_noon(made(taper=taper, at_centreline="tile"))
    for (column, row), piece in tile.items():
        if row not in "oi":
            assert piece.wood == WOODS[MOTIF[int(row) - 1][column - 1]]
    centres = {place: shape(piece).centroid for place, piece in tile.items()}
    for column in (1, 2, 3):
        levels = [centres[column, row].y for row in ("o", "1", "2", "3", "4", "i")]
        assert levels == sorted(levels, reverse=True)
    for row in ("o", "1", "4", "i"):
        across = [centres[column, row].x for column in (1, 2, 3)]
        assert across == sorted(across)
        assert across[1] == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("taper", ["columns", "log"])
@pytest.mark.parametrize("repeat", ["slip", "mirrored"])
def test_tiles_repeat_round_the_ring(taper: str, repeat: str) -> None:
    ring = made(taper=taper, repeat=repeat, tiles=12, glue_line=0.05)
    woods: list[dict[str, list[Polygon]]] = [defaultdict(list) for _ in range(12)]
    for piece in ring.pieces:
        woods[piece.position - 1][piece.wood].append(shape(piece))
    joined = [{w: shapely.union_all(s) for w, s in one.items()} for one in woods]
    for number, one in enumerate(joined):
        for wood, region in one.items():
            if repeat == "slip":
                other = rotate(joined[number - 1][wood], -30, origin=(0, 0))
            else:
                # the mirror image about the joint between the two
                towards = 2 * (90 - 30 * number)
                flipped = shapely.transform(joined[number - 1][wood], lambda xy: xy * [1, -1])
                other = rotate(flipped, towards, origin=(0, 0))
            assert region.symmetric_difference(other).area < 1e-5


@pytest.mark.parametrize("taper", ["columns", "log"])
def test_the_trim_goes_through_the_edge_veneers_only(taper: str) -> None:
    """Every cell keeps its distance from both rims, and somewhere it is just that."""
    ring = made(taper=taper, tiles=16, edge_left=0.4)
    inner, outer = Point(0, 0).buffer(52, 4000), Point(0, 0).buffer(61, 4000)
    within = [shape(p) for p in ring.pieces if p.kind == "cell" and p.position == 1]
    assert min(one.distance(outer.boundary) for one in within) == pytest.approx(0.4, abs=1e-4)
    assert min(one.distance(inner) for one in within) == pytest.approx(0.4, abs=1e-4)
    assert {p.wood for p in ring.pieces if p.kind == "edge"} == {"ebony"}


@settings(max_examples=40, deadline=None)
@given(motifs)
def test_one_stack_serves_columns_that_are_alike_or_mirrored(motif: list[str]) -> None:
    kinds = kinds_of(tuple(map(tuple, motif)))
    columns = ["".join(one) for one in zip(*motif, strict=True)]
    for kind in kinds:
        woods = "".join(kind.woods)
        assert {columns[n - 1] for n in kind.upright} == {woods}
        assert {columns[n - 1] for n in kind.turned} <= {woods[::-1]}
    used = sorted(n for kind in kinds for n in (*kind.upright, *kind.turned))
    assert used == list(range(1, len(columns) + 1))
    assert len(kinds) == len({min(one, one[::-1]) for one in columns})


@settings(max_examples=10, deadline=None)
@given(motifs, tapers, st.integers(7, 30), st.floats(40, 160), st.floats(60, 120))
def test_the_plies_give_every_tile(
    motif: list[str], taper: str, half: int, log: float, stack: float
) -> None:
    """The wood of the planks, counted anew from the motif, and what saw and clamp take of it."""
    ring = made(motif=motif, taper=taper, tiles=2 * half, log_length=log, stack_width=stack)
    cut = [p for p in stage(ring, "Slices") if p.kind == "slice"]
    slice_thick, slices = THICK + 2 * TRIM, len(cut)
    length = ring.stock[0].length
    assert length <= log + 1e-9
    assert length == pytest.approx(slices * (slice_thick + KERF) + KERF + GRIP)
    wanted = 2 * half + max(2, math.ceil(2 * half / 10))
    logs = math.ceil(wanted / math.floor((log - GRIP - KERF) / (slice_thick + KERF) + 1e-9))
    assert logs * slices >= wanted
    thickest = max(p.outline.bounds()[2] - p.outline.bounds()[0] for p in stage(ring, "Planks pl"))
    sawn = thickest + 2 * TRIM
    planks = stage(ring, "Planks planed")
    height = max(p.outline.bounds()[3] for p in planks)
    needed = Counter(min(c, c[::-1]) for c in map("".join, zip(*motif, strict=True)))
    wood = sum(one.count * one.length * one.width * one.thickness for one in ring.stock)
    volume = 0.0
    for uses in needed.values():
        total = uses * logs + 1
        count = math.ceil(total / math.floor((stack - GRIP - KERF) / (sawn + KERF) + 1e-9))
        each = math.ceil(total / count)
        volume += count * (each * (sawn + KERF) + KERF + GRIP) * height * length
    assert wood == pytest.approx(volume, rel=1e-9)
    assert all(one.width <= stack + 1e-9 for one in ring.stock)
    # the rows of each wood as the plies: in one log as many cells as in the motif
    letters = Counter("".join(motif))
    shown = Counter(p.wood for p in ring.pieces if p.kind == "cell" and p.position == 1)
    assert shown == {WOODS[letter]: count for letter, count in letters.items()}


@settings(max_examples=10, deadline=None)
@given(motifs, tapers, st.integers(7, 20), st.floats(5, 10))
def test_a_slice_holds_its_tile_with_the_trim(
    motif: list[str], taper: str, half: int, width: float
) -> None:
    ring = made(motif=motif, taper=taper, tiles=2 * half, width=width)
    name = "Log: " if taper == "columns" else "Log planed"
    slice_ = shapely.union_all([shape(p) for p in stage(ring, name)], grid_size=1e-7)
    tile = shapely.union_all([shape(p) for p in stage(ring, "A tile")], grid_size=1e-7)
    assert tile.difference(slice_.buffer(1e-4)).area < 1e-6
    # the rims before trimming: the allowance outside, and inside at the tile's corners
    assert slice_.buffer(1e-6).contains(Point(0, 52 + width + ALLOWANCE - (52 + width) * 1e-2))
    corner = math.radians(90 - 180 / (2 * half))
    inside = 52 - ALLOWANCE
    at = Point(inside * math.cos(corner), inside * math.sin(corner))
    assert slice_.distance(at) < 1e-6


def test_the_count_chosen_comes_nearest_the_cells_asked_for() -> None:
    def wide(ring: RingPlan) -> float:
        return dict(ring.stages[-1].sizes)["a cell, wide, at the middle of the ring"]

    chosen = made(cell_width=1.9)
    count = len(chosen.tiles)
    assert count % 2 == 0
    assert "tiles chosen" in chosen.steps[0].text()
    best = abs(wide(chosen) - 1.9)
    assert all(abs(wide(made(tiles=count + step)) - 1.9) >= best for step in (-2, 2))
    # once round the middle of the ring there are so many cells
    assert wide(chosen) * count * 3 == pytest.approx(2 * math.pi * 56.5, rel=1e-3)


def test_a_ply_given_leaves_the_rest_to_the_edges() -> None:
    ring = made(cell_height=1.5)
    sizes = dict(ring.stages[-1].sizes)
    assert sizes["a cell, high"] == 1.5
    rows = [p for (column, row), p in at_noon(ring).items() if column == 2 and row not in "oi"]
    heights = [shape(p).area / shape(p).minimum_rotated_rectangle.area for p in rows]
    assert len(heights) == 4
    assert {one.thickness for one in ring.stock if one.name.startswith("ply")} == {1.5}


def test_woods_move_all_round_since_the_grain_stands_upright() -> None:
    ring = made()
    assert sum(length for _, length in ring.across_grain) == pytest.approx(2 * math.pi * 61)
    assert {wood for wood, _ in ring.across_grain} == set(WOODS.values())


def test_offcuts_are_asked_for_the_plies() -> None:
    ring = made()
    assert [(b.wood, len(b.places), b.height, b.inner_width, b.thickness) for b in ring.blanks] == [
        (one.wood, one.count, one.length, one.width, one.thickness) for one in ring.stock
    ]
    assert all(b.inner_width == b.outer_width for b in ring.blanks)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"tiles": 21, "repeat": "mirrored"}, "20 or 22 would do"),
        ({"cell_height": 2.4}, "use plies of at most 2.0"),
        ({"width": 0.7}, "make the ring wider by at least"),
        ({"motif": ["wm" * 16] * 3, "taper": "log", "tiles": 8}, 'taper = "columns" keeps them'),
        ({"motif": ["w" * 64] * 20, "tiles": 20}, "at most 8 tiles would do"),
        ({"log_length": 17}, "at least 19.40 mm would do"),
        ({"stack_width": 16}, "at least"),
        ({"motif": ["w" * 60], "tiles": 60, "glue_line": 0.2}, "leave no width to a cell"),
    ],
)
def test_what_cannot_be_made_is_refused_with_what_can(keys: dict[str, Any], said: str) -> None:
    with pytest.raises(CannotMakeError) as caught:
        made(**keys)
    assert said in str(caught.value)


def test_the_remedies_work() -> None:
    with pytest.raises(CannotMakeError, match=r"use plies of at most 2\.\d+ mm") as caught:
        made(cell_height=2.4)
    fits = float(str(caught.value).split("at most ")[1].split(" mm")[0])
    for keys in (
        {"cell_height": fits},
        {"motif": ["wm" * 16] * 3, "taper": "columns", "tiles": 8},
        {"log_length": 19.4},
    ):
        assert made(**keys).pieces


@pytest.mark.parametrize(
    ("keys", "code"),
    [
        ({"tiles": 21}, "odd-count"),
        ({"motif": ["wmrwm"], "tiles": 150}, "thin-cells"),
        ({"motif": ["wmwmwmwm"], "taper": "log"}, "narrow-columns"),
        ({"taper": "log", "tiles": 8}, "uneven-edge"),
    ],
)
def test_warnings_that_belong_to_it(keys: dict[str, Any], code: str) -> None:
    assert code in {one.code for one in made(**keys).warnings}
    assert code not in {one.code for one in made().warnings}
