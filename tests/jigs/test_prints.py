"""Fixtures as files for one printer: in pieces, the right way up, with holes closed if need be."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import pytest

import jigs
from jigs.base import Fixture, Part
from jigs.bed import Printer
from jigs.block_solid import checked_solid
from jigs.export import files, made, names
from jigs.membrane import LAYER
from jigs.prints import on_printer, printed
from jigs.terrace import Block, Step
from rosette.geometry.outline import circle, polygon
from tests.jigs.trays import plan, tray

SMALL = Printer(width=180, depth=180, gap=0.1)
BED = (180.0, 180.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf(Fixture):
    """A board, and a clip with counterbores on both sides."""

    width: float
    pocket: float = 4.0

    def parts(self) -> tuple[Part, ...]:
        corners = [(0, 0), (self.width, 0), (self.width, 60), (0, 60)]
        mouth = Step(outline=circle(4, (10, 10)), top=4.0)
        bore = Step(outline=circle(2, (10, 10)), top=4.0)
        above = Step(
            outline=circle(4, (40, 10)), top=4.0, steps=(Step(outline=circle(2, (40, 10)), top=0),)
        )
        side = self.pocket
        pocket = Step(
            outline=polygon([(20, 3), (20 + side, 3), (20 + side, 3 + side), (20, 3 + side)]),
            top=5.0,
        )
        board = Block(outline=polygon(corners), top=6.0)
        clip = Block(
            outline=polygon([(0, 0), (60, 0), (60, 30), (0, 30)]),
            top=8.0,
            steps=(bore, above),
            under=(mouth, pocket),
        )
        return (
            Part(name="board", title="Board", block=board),
            Part(name="clip", title="Clip", block=clip),
        )


def _shelf(width: float, **more: Any) -> Shelf:
    return Shelf(name="shelf", kind="shelf", title="Shelf", purpose="", width=width, **more)


def _volume(data: bytes) -> float:
    import trimesh

    mesh = trimesh.load_mesh(io.BytesIO(data), file_type="stl")
    assert mesh.is_watertight
    assert mesh.bounds[0][2] == pytest.approx(0.0, abs=1e-6)
    return float(mesh.volume)


@cache
def _files() -> dict[str, bytes]:
    return files(on_printer(_shelf(300), SMALL), BED)


def test_names_are_known_beforehand_and_pieces_have_theirs() -> None:
    made = on_printer(_shelf(300), SMALL)
    stls = [name for name in names(made, BED) if name.endswith(".stl")]
    assert stls == ["shelf-board-1of2.stl", "shelf-board-2of2.stl", "shelf-clip.stl"]
    assert tuple(_files()) == names(made, BED)
    assert [one.code for one in made.warnings] == ["in-pieces"]
    assert made.warnings[0].text().startswith("shelf: 2 pieces, since")


def test_a_printer_that_holds_it_gets_it_whole() -> None:
    made = on_printer(_shelf(170), SMALL)
    assert made.warnings == ()
    assert names(made, BED)[1:3] == ("shelf-board.stl", "shelf-clip.stl")
    assert on_printer(_shelf(900), None) == _shelf(900)


def test_what_can_not_be_had_in_pieces_is_left_whole_and_told() -> None:
    made = on_printer(_shelf(1800), SMALL)
    assert names(made, BED)[1] == "shelf-board.stl"
    assert [(one.code, one.where) for one in made.warnings] == [("bed-too-small", "shelf")]


def test_pieces_lie_on_the_bed_and_hold_what_the_board_holds_but_for_the_gap() -> None:
    data = _files()
    pieces = [_volume(data[f"shelf-board-{i}of2.stl"]) for i in (1, 2)]
    cut = 300 * 60 * 6 - sum(pieces)
    assert 60 * 6 * 0.1 < cut < 3 * 60 * 6 * 0.1


def test_holes_in_ceilings_are_closed_in_what_is_printed_and_open_in_step(tmp_path: Any) -> None:
    from cadquery import importers

    shelf = _shelf(300)
    clip = shelf.parts()[1]
    (routed,) = printed(shelf, clip, checked_solid(clip, "shelf")).meshes
    added = _volume(_files()["shelf-clip.stl"]) - routed.volume()
    assert added == pytest.approx(math.pi * 4 * LAYER, rel=0.01)
    path = tmp_path / "shelf.step"
    path.write_bytes(_files()["shelf.step"])
    solids = importers.importStep(str(path)).solids().vals()
    assert sorted(one.Volume() for one in solids) == pytest.approx(
        sorted(one.block.volume() for one in _shelf(300).parts()), rel=1e-9
    )


def test_a_ceiling_that_no_bridge_holds_is_told() -> None:
    assert made(on_printer(_shelf(100), SMALL), BED).findings == ()
    shelf = on_printer(_shelf(100, pocket=14.0), SMALL)
    clip = replace(shelf.parts()[1], print_over=False)
    bad = printed(shelf, clip, checked_solid(clip, "shelf")).findings
    assert [(one.code, one.where) for one in bad] == []  # turned over it has but the counterbore
    wide = replace(clip.block, steps=(), under=(replace(clip.block.under[1], top=5.0),), top=8.0)
    top = Step(outline=polygon([(40, 5), (56, 5), (56, 25), (40, 25)]), top=5.5)
    clip = replace(clip, block=replace(wide, steps=(top,)))
    (told,) = printed(shelf, clip, checked_solid(clip, "shelf")).findings
    assert (told.code, told.where) == ("overhang", "shelf.clip")


def test_what_is_routed_is_neither_turned_nor_closed() -> None:
    shelf = _shelf(100)
    clip = shelf.parts()[1]
    (mesh,) = printed(shelf, clip, checked_solid(clip, "shelf")).meshes
    assert mesh.volume() == pytest.approx(clip.block.volume(), rel=1e-3)


def test_designs_bring_their_printer() -> None:
    wishes = replace(plan().fixtures, bed_width=150.0, bed_depth=140.0)
    (small,) = jigs.fixtures(replace(plan(), fixtures=wishes))
    assert small.printer == Printer(width=150, depth=140, gap=0.1)
    assert [one.code for one in small.warnings] == ["in-pieces"]
    (routed,) = jigs.fixtures(replace(plan(), fixtures=replace(wishes, process="cnc")))
    assert routed.printer is None
    assert tray().warnings == ()
