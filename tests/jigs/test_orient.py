"""Which way up parts are printed: bodies whose overhangs are plain to see."""

from __future__ import annotations

import math
import re

import pytest

from jigs.base import Part
from jigs.block_solid import block_solid, problem_of
from jigs.membrane import LAYER, closed
from jigs.mesh import Mesh, mesh_of
from jigs.orient import hanging_findings, lie_of
from jigs.overhang import Ceiling, ceilings
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, circle, polygon
from tests.jigs.trays import tray


def _box(left: float, low: float, right: float, high: float) -> Outline:
    return polygon([(left, low), (right, low), (right, high), (left, high)])


def _plate(*steps: Step, under: tuple[Step, ...] = ()) -> Block:
    return Block(outline=_box(0, 0, 60, 40), top=10.0, steps=steps, under=under)


def _mesh(block: Block) -> Mesh:
    return mesh_of(block_solid(block), "known", Part(name="plate", title="", block=block))


def _part(block: Block, over: bool = False) -> Part:
    return Part(name="plate", title="", block=block, print_over=over)


def _ceiling(*under: Step) -> Ceiling:
    (found,) = ceilings(_mesh(_plate(under=under)))
    return found


def test_what_stands_has_no_ceiling() -> None:
    assert ceilings(_mesh(_plate(Step(outline=_box(5, 5, 55, 35), top=4.0)))) == ()
    assert ceilings(_mesh(tray(segments=24).block())) == ()  # its bottom edge leans by 45°


@pytest.mark.parametrize("turn", [0.0, 0.4])
@pytest.mark.parametrize(("width", "hangs"), [(11.5, False), (12.5, True)])
def test_a_channel_bridges_across_if_it_is_narrow(width: float, hangs: bool, turn: float) -> None:
    channel = polygon([(-20, 0), (20, 0), (20, width), (-20, width)])
    found = _ceiling(Step(outline=channel.mapped(turn, (28, 10)), top=4.0))
    assert found.area == pytest.approx(40 * width, rel=1e-4)
    assert (found.hanging > 1.0) is hangs
    if not hangs and not turn:
        assert found.span == pytest.approx(width, abs=1e-3)


def test_what_stands_on_one_foot_hangs_and_a_narrow_ledge_does_not() -> None:
    """A foot along one side: everything else is a ledge of 30 mm."""
    block = _plate(under=(Step(outline=_box(5, 5, 20, 35), top=-6.0),))
    (found,) = ceilings(_mesh(block))
    assert found.hanging > 1500.0
    narrow = _plate(under=(Step(outline=_box(0.4, 0.4, 59.6, 39.6), top=-6.0),))
    (found,) = ceilings(_mesh(narrow))
    assert found.hanging == 0.0


def test_two_feet_carry_a_bridge_and_a_pier_halves_it() -> None:
    pocket = Step(outline=_box(10, 10, 50, 32), top=4.0)
    pier = Step(outline=_box(11, 20, 49, 22), top=0.0)
    assert _ceiling(pocket).hanging > 500.0
    (found,) = ceilings(
        _mesh(_plate(under=(Step(outline=pocket.outline, top=4.0, steps=(pier,)),)))
    )
    assert found.hanging < 22.0  # the ends beside the pier


HEAD, HOLE = circle(4.4, (30, 20)), circle(2.25, (30, 20))


def test_the_ceiling_of_a_counterbore_hangs_round_its_hole_and_bridges_without() -> None:
    """A head of M4, 8.8 mm, its hole 4.5: threads across the hole have nothing to rest on."""
    counterbore = Step(outline=HEAD, top=5.0)
    (found,) = ceilings(_mesh(_plate(Step(outline=HOLE, top=5.0), under=(counterbore,))))
    assert found.area == pytest.approx(math.pi * (4.4**2 - 2.25**2), rel=0.01)
    assert found.hanging > 10.0
    assert found.closed == 0.0
    assert _ceiling(counterbore).hanging == 0.0
    assert _ceiling(counterbore).span == pytest.approx(8.8, abs=0.05)


def test_a_part_is_turned_over_where_that_helps_and_only_there() -> None:
    below = _plate(Step(outline=HOLE, top=5.0), under=(Step(outline=HEAD, top=5.0),))
    lie = lie_of(_part(below), _mesh(below))
    assert (lie.over, lie.closed, lie.hanging) == (True, False, ())
    bore = Step(outline=HEAD, top=5.0, steps=(Step(outline=HOLE, top=0.0),))
    above = _plate(bore)
    assert lie_of(_part(above), _mesh(above)).over is False
    assert lie_of(_part(above, over=True), _mesh(above)).over is False
    plain = _plate()
    assert lie_of(_part(plain, over=True), _mesh(plain)).over is True


BOTH = _plate(
    Step(
        outline=circle(4.4, (15, 20)), top=5.0, steps=(Step(outline=circle(2, (15, 20)), top=0.0),)
    ),
    Step(outline=HOLE, top=5.0),
    under=(Step(outline=HEAD, top=5.0),),
)


def test_where_neither_way_does_holes_are_closed() -> None:
    lie = lie_of(_part(BOTH), _mesh(BOTH))
    assert (lie.closed, lie.hanging) == (True, ())


@pytest.mark.parametrize("over", [False, True])
def test_closing_adds_a_layer_in_each_hole_and_then_nothing_hangs(over: bool) -> None:
    block = closed(BOTH, over=over)
    radius = 2.0 if over else 2.25
    added = math.pi * radius**2 * LAYER
    assert block.volume() - BOTH.volume() == pytest.approx(added, rel=1e-9)
    assert problem_of(block_solid(block), block.volume()) == ""
    lie = lie_of(_part(block, over=over), _mesh(block))
    assert (lie.over, lie.closed, lie.hanging) == (over, False, ())


def test_closing_leaves_what_is_no_ceiling_and_what_is_too_wide() -> None:
    through = _plate(Step(outline=HOLE, top=0.0))
    assert closed(through, over=False) == closed(through, over=True) == through
    wide = _plate(
        Step(outline=circle(8, (30, 20)), top=5.0),
        under=(Step(outline=circle(12, (30, 20)), top=5.0),),
    )
    assert closed(wide, over=False) == wide


def test_what_hangs_either_way_is_told_with_its_place() -> None:
    pocket = Step(outline=_box(10, 10, 50, 32), top=7.0)
    block = _plate(pocket, under=(Step(outline=_box(10, 8, 50, 30), top=4.0),))
    lie = lie_of(_part(block), _mesh(block))
    assert len(lie.hanging) == 1
    (told,) = hanging_findings(lie, "ring-1-tray.plate")
    assert told.code == "overhang"
    area = re.match(r"ring-1-tray.plate: printed as it stands, (\d+) mm² hang in", told.text())
    assert area is not None
    assert 700 < int(area[1]) <= 880
    assert "supports" in told.text()
