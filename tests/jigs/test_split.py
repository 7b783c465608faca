"""Parts split for a bed: few pieces, each on the bed, nothing lost, one way to join them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from jigs.base import FixtureError
from jigs.bed import MARGIN, Printer, printer_for
from jigs.block_solid import block_solid
from jigs.pieces import Split, TooLargeError, pieces_for, split_for
from jigs.split import split_solid, strips_of
from jigs.terrace import Block, Step
from rosette.geometry.outline import circle, polygon
from tests.jigs.pairings import bodies, meant, together
from tests.jigs.trays import plan, tray

BED = Printer(width=180, depth=180, gap=0.1)


def _plate(width: float, depth: float, *steps: Step) -> Block:
    corners = [(0, 0), (width, 0), (width, depth), (0, depth)]
    return Block(outline=polygon(corners), top=6.0, steps=steps)


def _holes(*places: tuple[float, float]) -> tuple[Step, ...]:
    return tuple(Step(outline=circle(3, place), top=0.0) for place in places)


RING = Block(outline=circle(120), top=6, steps=(Step(outline=circle(85), top=0),))
HOLES = [(x, y) for x in (-50.0, 0.0, 50.0) for y in (-50.0, 0.0, 50.0)]
BLOCKS = {
    "bar": (_plate(400, 19), 2),
    "runner": (_plate(300, 9.5), 2),
    "ring": (RING, 4),
    "disc with holes": (Block(outline=circle(100), top=6, steps=_holes(*HOLES)), 3),
    "plate": (_plate(300, 250), 4),
    "tray": (tray(inner=80, segments=24).block(), 3),
}
every = pytest.mark.parametrize("name", BLOCKS)


@cache
def _cut(name: str) -> tuple[Split, Any, list[Any]]:
    block = BLOCKS[name][0]
    split, solid = split_for(block, BED), block_solid(block)
    return split, solid, split_solid(solid, split, name)


@every
def test_as_few_pieces_as_do_each_on_the_bed(name: str) -> None:
    split, _, solids = _cut(name)
    assert [piece.suffix for piece in split.pieces] == [
        f"{i}of{BLOCKS[name][1]}" for i in range(1, BLOCKS[name][1] + 1)
    ]
    for piece, solid in zip(split.pieces, solids, strict=True):
        box = solid.rotate((0, 0, 0), (0, 0, 1), piece.turn).BoundingBox()
        assert max(box.xlen, box.ylen) <= 180 - 2 * MARGIN + 0.1


@every
def test_pieces_and_what_is_cut_away_are_the_whole(name: str) -> None:
    split, solid, solids = _cut(name)
    strips = strips_of(solid, split)
    away = solid.intersect(strips[0].fuse(*strips[1:]) if strips[1:] else strips[0]).Volume()
    assert sum(one.Volume() for one in solids) + away == pytest.approx(solid.Volume(), rel=1e-6)
    assert all(one.isValid() and one.ShapeType() == "Solid" for one in solids)


@pytest.mark.parametrize("name", ["bar", "plate"])
def test_pieces_stand_off_one_another_by_the_gap(name: str) -> None:
    _, _, solids = _cut(name)
    for i, one in enumerate(solids):
        near = min(one.distance(other) for k, other in enumerate(solids) if k != i)
        assert near == pytest.approx(BED.gap, abs=0.01)


@every
def test_their_plans_do_too(name: str) -> None:
    """Pieces are upright prisms as far as seams go, so that plans tell the same."""
    plans = bodies(BLOCKS[name][0], split_for(BLOCKS[name][0], BED))
    for i, one in enumerate(plans):
        near = min(one.distance(other) for k, other in enumerate(plans) if k != i)
        assert near == pytest.approx(BED.gap, abs=1e-6)


@pytest.mark.parametrize("name", ["bar", "runner", "ring", "disc with holes"])
def test_pieces_go_together_in_one_way_only(name: str) -> None:
    block = BLOCKS[name][0]
    split = split_for(block, BED)
    ways = together(block, split)
    if len(split.seams[0].tongues) == 1:  # one tongue: the sockets of two copies may face
        ways = [way for way in ways if way[0].piece != way[1].piece]
    assert [way for way in ways if not meant(*way)] == []
    assert len({(one.piece, other.piece) for one, other, _, _ in ways}) >= BLOCKS[name][1] - 1


def test_tongues_without_a_lean_or_at_one_distance_are_caught() -> None:
    """The proof above can fail: straight tongues turn over, like distances change places."""
    split = split_for(BLOCKS["runner"][0], BED)
    (seam,) = split.seams
    straight = replace(seam, tongues=tuple(replace(one, lean=0.0) for one in seam.tongues))
    ways = together(BLOCKS["runner"][0], replace(split, seams=(straight,)))
    assert any(over for _, _, over, _ in ways)

    split = split_for(RING, BED)
    _, left, right = split.seams
    apart = left.tongues[1].at - left.tongues[0].at
    first, second = right.tongues
    alike = replace(right, tongues=(first, replace(second, at=first.at + apart)))
    ways = together(RING, replace(split, seams=(split.seams[0], left, alike)))
    assert [way for way in ways if not meant(*way)] != []


def test_what_fits_is_left_whole() -> None:
    assert [one.suffix for one in pieces_for(_plate(170, 170), BED)] == [""]
    assert pieces_for(_plate(170.1, 20), BED)[0].turn == 45.0
    assert len(pieces_for(_plate(170.1, 170), BED)) == 2
    assert len(pieces_for(_plate(600, 600), None)) == 1


def test_beds_are_taken_either_way_round() -> None:
    wide, deep = Printer(width=250, depth=210, gap=0.1), Printer(width=210, depth=250, gap=0.1)
    assert pieces_for(_plate(240, 200), wide)[0].turn == 0.0
    assert pieces_for(_plate(240, 200), deep)[0].turn == 90.0


def test_seams_pass_holes_and_tongues_stand_clear_of_them() -> None:
    split = split_for(BLOCKS["disc with holes"][0], BED)
    for seam in split.seams:
        across = {x if seam.along == "y" else y for x, y in HOLES}
        assert min(abs(seam.at - one) for one in across) >= 3 + 4
        for tongue in seam.tongues:
            left, low, right, high = tongue.room()
            for x, y in HOLES:
                t, s = (x, y - seam.at) if seam.along == "x" else (-y, x - seam.at)
                off = (max(left - t, 0, t - right), max(low - s, 0, s - high))
                assert off[0] ** 2 + off[1] ** 2 >= 9.0 - 0.2


def test_a_part_too_narrow_for_tongues_is_refused_in_words() -> None:
    with pytest.raises(TooLargeError, match="can't be had in pieces that lock") as caught:
        split_for(_plate(300, 4), BED)
    assert caught.value.exit_code == 1
    assert "have it routed" in str(caught.value)


def test_a_solid_that_is_not_the_blocks_is_refused() -> None:
    split = split_for(_plate(300, 250), BED)
    with pytest.raises(FixtureError, match="not where it should be"):
        split_solid(block_solid(_plate(300, 240)), split, "ring-1-tray")


def test_only_what_is_printed_is_split() -> None:
    wishes = plan().fixtures
    assert printer_for(replace(wishes, process="cnc")) is None
    assert printer_for(replace(wishes, clearance=0.2)) == Printer(width=220, depth=220, gap=0.1)
    assert printer_for(replace(wishes, clearance=0.05)) == Printer(width=220, depth=220, gap=0.05)
