"""Every tray's solid, held against the kernel's own figures and another way of building it."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from jigs.block_solid import block_solid, problem_of
from jigs.terrace import Block, Step
from rosette.geometry.outline import circle, polygon
from tests.jigs.trays import CASES, solid, tray


@pytest.mark.parametrize("asked", CASES.values(), ids=CASES.keys())
def test_every_tray_is_one_valid_solid_of_the_volume_worked_out(asked: dict[str, Any]) -> None:
    made = tray(**asked)
    assert problem_of(solid(made), made.volume()) == ""
    assert solid(made).Volume() == pytest.approx(made.volume(), rel=1e-12)
    box = solid(made).BoundingBox()
    assert (box.zmin, box.zmax) == pytest.approx((0.0, made.top), abs=1e-6)
    assert (box.xlen, box.ylen) == pytest.approx(made.across(), abs=2e-2)


@pytest.mark.parametrize("segments", [6, 180])
def test_with_words_on_it_too(segments: int) -> None:
    made = tray(segments=segments, text="true")
    assert len(made.text) == 3
    assert problem_of(solid(made), made.volume()) == ""
    plain = replace(made, text=())
    assert plain.volume() - made.volume() > 20.0


def test_washer_has_the_volume_of_the_handbook() -> None:
    """R 60, r 50, h 3: 10367.255757 mm³, π·(R² - r²)·h."""
    washer = Block(outline=circle(60), top=3.0, steps=(Step(outline=circle(50), top=0.0),))
    assert block_solid(washer).Volume() == pytest.approx(10367.255757, abs=1e-6)
    assert washer.volume() == pytest.approx(10367.255757, abs=1e-6)


def test_faces_put_together_give_what_cutting_gives() -> None:
    """The same tray cut out of a block step by step with cadquery's own operations."""
    import cadquery as cq

    made = tray(segments=6)
    t, flat = math.tan(math.pi / 6), 1 / math.cos(math.pi / 6)

    def hexagon(apothem: float, low: float, high: float) -> cq.Workplane:
        plane = cq.Workplane(origin=(0, 0, low)).transformed(rotate=(0, 0, made.seam))
        return plane.polygon(6, 2 * apothem * flat).extrude(high - low)

    def pins(distance: float, radius: float, low: float, high: float) -> cq.Workplane:
        plane = cq.Workplane(origin=(0, 0, low))
        return plane.polarArray(distance, made.seam, 360, 6).circle(radius).extrude(high - low)

    body = hexagon(made.outer, 0, made.top).faces("<Z").chamfer(0.4)
    recess = hexagon(made.wall, 4, made.top).union(pins(made.wall * flat, 1.6, 4, made.top))
    relief = min(1.6, made.post * t / 2)
    post = hexagon(made.post, 4, made.top).cut(pins(made.post * flat, relief, 4, made.top))
    floor = made.floor
    half = [x * t - floor.groove / 2 * flat for x in (floor.start, floor.end)]
    land = [(floor.start, half[0]), (floor.start, -half[0]), (floor.end, -half[1])]
    land += [(floor.end, half[1])]
    body = body.cut(recess).union(post)
    for k in range(6):
        plane = cq.Workplane(origin=(0, 0, 4)).transformed(rotate=(0, 0, made.turn - 60 * k))
        body = body.union(plane.polyline(land).close().extrude(1))
        if k + 1 in floor.holes:
            body = body.cut(
                plane.center(floor.hole_distance, 0).circle(floor.hole / 2).extrude(20, both=True)
            )
    body = body.cut(cq.Workplane().circle(made.hole / 2).extrude(20))
    ours, theirs = solid(replace(made, text=())), body.val()
    marks = 0.6 * (1.8 * 2.0 / 2 + 1.8 * 0.6 + 2 * 3.5 * 0.6 + math.pi)
    assert ours.cut(theirs).Volume() == pytest.approx(0.0, abs=1e-6)
    assert theirs.cut(ours).Volume() == pytest.approx(marks, abs=1e-6)


def _square(side: float, x: float = 0.0) -> Any:
    s = side / 2
    return polygon([(x - s, -s), (x + s, -s), (x + s, s), (x - s, s)])


@pytest.mark.parametrize(
    "steps",
    [
        (Step(outline=_square(2, 5), top=1.0),),
        (Step(outline=_square(2), top=1.0), Step(outline=_square(2, 1), top=2.0)),
        (Step(outline=_square(4, 20), top=1.0),),
    ],
    ids=["across an edge", "across each other", "outside"],
)
def test_steps_that_cross_make_a_solid_that_is_refused(steps: tuple[Step, ...]) -> None:
    block = Block(outline=_square(10), top=3.0, steps=steps)
    assert problem_of(block_solid(block), block.volume()) != ""


def test_steps_on_the_underside_and_holes_into_them() -> None:
    """A counterbore from below with a hole into it, and a foot that a hole goes right through."""
    under = (
        Step(outline=circle(5, (8, 8)), top=3.0),
        Step(outline=circle(4, (-8, -8)), top=-2.0),
    )
    holes = (
        Step(outline=circle(2, (8, 8)), top=3.0),
        Step(outline=circle(1, (-8, -8)), top=-2.0),
        Step(outline=circle(1, (0, -8)), top=0.0),
    )
    raised = Step(outline=circle(15), top=8.0, steps=holes)
    block = Block(outline=_square(40), top=6.0, steps=(raised,), under=under)
    by_hand = 1600 * 6 + math.pi * (225 * 2 - 4 * 5 - 10 - 8 - 25 * 3 + 16 * 2)
    assert block.volume() == pytest.approx(by_hand, rel=1e-12)
    assert problem_of(block_solid(block), by_hand) == ""
