"""Walls, floors and gaps measured on bodies whose sizes are known."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from jigs.base import Part
from jigs.block_solid import block_solid
from jigs.letters import engraving
from jigs.mesh import Mesh, mesh_of
from jigs.process import process_for
from jigs.terrace import Block, Step
from jigs.thickness import Measured, thin_places
from jigs.thin_findings import thin_findings, worst_findings
from rosette.geometry.outline import Outline, circle, polygon
from tests.jigs.trays import plan, tray


def _box(left: float, low: float, right: float, high: float) -> Outline:
    return polygon([(left, low), (right, low), (right, high), (left, high)])


def _mesh(block: Block) -> Mesh:
    part = Part(name="plate", title="", block=block)
    return mesh_of(block_solid(block), "known", part)


def _plate(*steps: Step, under: tuple[Step, ...] = (), top: float = 10.0) -> Block:
    return Block(outline=_box(0, 0, 60, 40), top=top, steps=steps, under=under)


def _found(
    block: Block, feature: float = 1.2, wall: float = 3.0, gap: float = 3.175
) -> list[Measured]:
    return list(thin_places(_mesh(block), feature=feature, wall=wall, gap=gap))


SOUND = Step(outline=_box(10, 10, 50, 30), top=4.0)


def test_a_sound_body_has_no_thin_place() -> None:
    assert _found(_plate(SOUND)) == []
    assert _found(tray(segments=12).block(), gap=0.4) == []


@pytest.mark.parametrize("turn", [0, 17, 90])
def test_a_straight_wall_between_a_pocket_and_the_edge(turn: float) -> None:
    """2.5 mm thick and 6 high: less than 3."""
    block = _plate(Step(outline=_box(2.5, 10, 50, 30), top=4.0))
    turned = math.radians(turn)
    steps = tuple(replace(one, outline=one.outline.mapped(turned)) for one in block.steps)
    (found,) = _found(replace(block, outline=block.outline.mapped(turned), steps=steps))
    assert (found.kind, found.height) == ("wall", pytest.approx(6.0))
    assert found.size == pytest.approx(2.5, abs=1e-4)
    x, y = found.x * math.cos(turned) + found.y * math.sin(turned), 0.0
    assert x + y == pytest.approx(1.25, abs=1e-3)


def test_a_low_wall_may_be_thinner_and_a_lower_one_is_looked_through() -> None:
    low = _plate(Step(outline=_box(2.5, 10, 50, 30), top=5.1))
    assert _found(low) == []
    assert [one.size for one in _found(low, feature=2.6)] == [pytest.approx(2.5, abs=1e-4)]
    assert _found(_plate(Step(outline=_box(0.5, 10, 50, 30), top=9.0))) == []


@pytest.mark.parametrize("neck", [0.8, 1.0])
def test_a_neck_between_two_holes(neck: float) -> None:
    """Holes of 6 mm: what is between them is the distance of their middles less 6."""
    other = 30 + (6 + neck) * math.cos(0.3), 20 + (6 + neck) * math.sin(0.3)
    holes = (Step(outline=circle(3, (30, 20)), top=0.0), Step(outline=circle(3, other), top=0.0))
    (found,) = _found(_plate(*holes))
    assert (found.kind, found.size) == ("feature", pytest.approx(neck, abs=0.03))
    assert found.size >= neck - 1e-4
    assert (found.x, found.y) == pytest.approx(((30 + other[0]) / 2, (20 + other[1]) / 2), abs=0.5)
    assert _found(_plate(*holes), feature=neck - 0.03) == []


def test_a_neck_between_a_hole_and_a_flat_edge() -> None:
    (found,) = _found(_plate(Step(outline=circle(3, (30, 4.1)), top=0.0)))
    assert found.size == pytest.approx(1.1, abs=0.02)


def test_a_pocket_narrower_than_the_cutter_but_not_a_hole() -> None:
    slot = Step(outline=_box(10, 10, 50, 12.8), top=4.0)
    (found,) = _found(_plate(slot, Step(outline=circle(1.4, (30, 30)), top=0.0)))
    assert (found.kind, found.size) == ("gap", pytest.approx(2.8, abs=1e-4))
    assert _found(_plate(slot), gap=2.8) == []


def test_a_floor_between_a_pocket_from_above_and_one_from_below() -> None:
    above, below = Step(outline=_box(10, 10, 40, 30), top=6.0), _box(30, 20, 55, 35)
    (found,) = _found(_plate(above, under=(Step(outline=below, top=5.0),)))
    assert (found.kind, found.size) == ("floor", pytest.approx(1.0))
    assert (found.x, found.y) == (pytest.approx(35, abs=5), pytest.approx(25, abs=5))
    assert _found(_plate(above, under=(Step(outline=_box(44, 20, 55, 35), top=5.0),))) == []


def test_edges_that_run_to_a_point_are_a_sliver() -> None:
    wedge = Block(outline=polygon([(0, 0), (60, 0), (60, 20)]), top=5.0)
    assert min(one.size for one in _found(wedge)) < 0.2
    assert _found(Block(outline=polygon([(0, 0), (40, 0), (40, 40)]), top=5.0)) == []


def test_letters_are_looked_through() -> None:
    words = engraving("ring 1", middle=30, baseline=18, height=6, top=10.0, depth=0.6)
    assert _found(_plate(*words)) == []


def test_one_finding_for_each_place() -> None:
    pockets = [Step(outline=_box(x, 2.0, x + 8, 30), top=4.0) for x in (5.0, 25.0, 45.0)]
    assert [(one.kind, round(one.x)) for one in _found(_plate(*pockets))] == [
        ("wall", pytest.approx(x + 4, abs=4)) for x in (5.0, 25.0, 45.0)
    ]


def test_what_is_thin_is_told_with_its_place_and_what_to_do() -> None:
    wishes = plan().fixtures
    printed = process_for(replace(wishes, process="fdm"))
    routed = process_for(replace(wishes, process="cnc", bit_diameter=3.175))
    slot = Step(outline=_box(2.5, 10, 50, 12.8), top=4.0)
    mesh = _mesh(_plate(slot, under=(Step(outline=_box(10, 20, 50, 30), top=9.0),)))
    told = {one.code: one.text() for one in thin_findings(mesh, printed, "ring-1-tray.plate")}
    assert sorted(told) == ["thin-floor", "thin-wall"]
    assert told["thin-wall"].startswith("ring-1-tray.plate: a wall is 2.50 mm thick and 6.00 mm")
    assert "x 1.25 mm, y 1" in told["thin-wall"]
    assert "3.00 mm" in told["thin-wall"]
    told = {one.code: one.text("in") for one in thin_findings(mesh, routed, "ring-1-tray.plate")}
    assert sorted(told) == ["narrow-gap", "thin-floor", "thin-wall"]
    assert "0.110 in" in told["narrow-gap"]


def test_the_worst_of_each_sort() -> None:
    pockets = [Step(outline=_box(x, 2.0 + x / 100, x + 8, 30), top=4.0) for x in (5.0, 25.0, 45.0)]
    hole = Step(outline=circle(3, (19, 33)), top=0.0)
    mesh = _mesh(_plate(*pockets, hole, Step(outline=circle(3, (25.5, 33.2)), top=0.0)))
    process = process_for(replace(plan().fixtures, process="fdm"))
    everything = thin_findings(mesh, process, "")
    worst = worst_findings(mesh, process, "")
    assert sorted({one.code for one in everything}) == sorted(one.code for one in worst)
    assert len(everything) == 4
    assert next(one for one in worst if one.code == "thin-wall").text().startswith("a wall is 2.05")
