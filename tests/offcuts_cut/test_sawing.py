"""Cuts in order with their settings, against a rectangle worked out by hand and against physics."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely

from rosette.offcuts.cutplan import CutPiece, SawCut
from rosette.offcuts.supply import Stock
from tests.offcuts.scraps import scrap
from tests.offcuts_cut.cases import SMALL, board, cutting, plan
from tests.properties.designs import radial


def test_a_board_is_cut_from_one_end_and_what_is_held_is_the_longer_part() -> None:
    """A 300 × 60 board: after the crosscut at x there are 300 - x and a half kerf less to hold."""
    found = cutting(plan(), board("A", 300, 60))
    (piece,) = found.touched
    cross = [cut for cut in piece.cuts if cut.kind == "crosscut"]
    ends = [cut.start[0] for cut in cross]
    if ends[0] > ends[-1]:
        ends = [300.0 - at for at in ends]
    assert ends == sorted(ends)
    before = 0.0
    for cut, at in zip(cross, ends, strict=True):
        assert cut.mitre == pytest.approx(0.0, abs=1e-9)
        assert cut.swing == "square"
        kerf = found.kerf / 2.0
        assert cut.in_hand == pytest.approx(max(300.0 - at, at - before) - kerf)
        before = at + kerf
        assert cut.fence_line is not None
        (_, low), (_, high) = cut.fence_line
        assert low == high
        assert low in (0.0, 60.0)


def test_the_last_cut_of_a_band_leaves_a_wedge_to_hold() -> None:
    """Two wedges in a band 70 mm wide: the gauge holds what is left of it, down to a wedge."""
    found = cutting(plan(), board("A", 300, 70))
    (piece,) = found.touched
    size = found.tallies[0].size
    slants = [cut for cut in piece.cuts if cut.kind == "slant" and cut.band == 1]
    held = [cut.in_hand for cut in slants]
    assert held == sorted(held, reverse=True)
    assert held[-1] <= size.outer_width
    assert piece.least_in_hand == pytest.approx(min(cut.in_hand for cut in piece.cuts))


def test_little_to_hold_is_warned_of_below_the_limit_alone() -> None:
    assert "short-in-hand" in {w.code for w in cutting(plan(), board("A", 300, 60)).warnings}
    fine = cutting(plan(), board("A", 300, 60), least_in_hand=5.0)
    assert "short-in-hand" not in {w.code for w in fine.warnings}


@pytest.mark.parametrize("seed", [0, 3, 5, 8])
def test_the_gauge_as_told_makes_the_cut_as_drawn(seed: int) -> None:
    """Stand at the saw: the fence edge in front of you, swung as told, and saw straight away.

    With its right end towards you the gauge is turned clockwise seen from above, and what lies
    on it with it, so the cut leans counter-clockwise in the wood.
    """
    stock = Stock(wood=replace(scrap(seed), wood="walnut", thickness=3.0))
    found = cutting(plan(), stock)
    for piece in found.touched:
        for cut in piece.cuts:
            if cut.fence_line is None:
                continue
            (ax, ay), (bx, by) = cut.fence_line
            edge = math.atan2(by - ay, bx - ax)
            turn = {"right": 1.0, "left": -1.0, "square": 0.0}[cut.swing] * math.radians(cut.mitre)
            sawn = edge + math.pi / 2 + turn
            drawn = math.atan2(cut.end[1] - cut.start[1], cut.end[0] - cut.start[0])
            assert math.sin(sawn - drawn) == pytest.approx(0.0, abs=1e-9)
            assert _beyond_the_edge(piece, cut, edge)


def _beyond_the_edge(piece: CutPiece, cut: SawCut, edge: float) -> bool:
    """The wood that is cut lies on the far side of the gauge."""
    assert cut.fence_line is not None
    nx, ny = -math.sin(edge), math.cos(edge)
    ax, ay = cut.fence_line[0]
    if cut.kind == "slant":
        points = [p for w in piece.wedges if w.band == cut.band for p in w.vertices]
    else:
        (bx, by) = cut.fence_line[1]
        inside = ((ax + bx) / 2 + nx * 0.1, (ay + by) / 2 + ny * 0.1)
        return shapely.Polygon(piece.wood.outline).buffer(0.05).covers(shapely.Point(inside))
    return all((x - ax) * nx + (y - ay) * ny > -1e-6 for x, y in points)


def test_turning_the_wood_over_does_the_same_as_swinging_the_gauge_across() -> None:
    """Over its long side a band shows its back: a cut leaning left then leans right."""
    found = cutting(plan(), board("A", 300, 90))
    for piece in found.touched:
        for band in {cut.band for cut in piece.cuts if cut.kind == "slant"}:
            slants = [c for c in piece.cuts if c.kind == "slant" and c.band == band]
            for cut in slants:
                assert cut.turn_over == (cut.swing != slants[0].swing)
                assert cut.mitre == pytest.approx(found.tallies[0].mitre)


def test_every_wedge_is_freed_on_both_sides_or_had_its_own_edge() -> None:
    found = cutting(plan(), board("A", 300, 90))
    (piece,) = found.touched
    freed = [label for cut in piece.cuts for label in cut.frees]
    assert set(freed) == {one.label for one in piece.wedges}
    assert all(1 <= freed.count(one.label) <= 2 for one in piece.wedges)


def test_wood_without_a_straight_edge_along_the_grain_is_named() -> None:
    corners = [(90 + 88 * math.cos(t / 20 * math.pi), 90 + 88 * math.sin(t / 20 * math.pi))
               for t in range(40)]  # fmt: skip
    disc = replace(board("disc", 1, 1).wood, outline=tuple(corners))
    found = cutting(plan(), Stock(wood=disc))
    assert all(cut.fence_line is None for cut in found.touched[0].cuts if cut.kind == "crosscut")
    assert "no-straight-edge" in {one.code for one in found.warnings}


def test_one_wedge_has_one_setting_at_the_saw() -> None:
    """32 wedges meet at 360/64 = 5.625°: whatever the wood, no cut's setting is told otherwise."""
    many = plan(radial(**{**SMALL, "segments": 32}))
    skewed = scrap(7)
    wood = Stock(wood=replace(skewed, wood="walnut", thickness=2.4, grain=4.0), count=3)
    found = cutting(many, board("A", 300, 60), wood, everything=True)
    told = {f"{c.mitre:.2f}" for p in found.touched for c in p.cuts if c.kind == "slant"}
    assert told == {f"{360 / 64:.2f}"}
