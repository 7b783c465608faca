"""Goldens of the making of a ring: two made-up stages, so that no pattern's change moves them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from rosette.geometry.outline import Outline, circle, polygon
from rosette.patterns.base import Piece, Stage, Stock
from rosette.plan import make_plan
from rosette.sheets import making
from rosette.sheets.drawing import Drawing
from rosette.words import Length, say
from tests.properties.designs import design, radial


def _shape(number: int, wood: str, outline: Outline, *, axis: float | None = None) -> Piece:
    return Piece(
        label=str(number), position=number, wood=wood, kind="ply", outline=outline, axis=axis
    )


def _plies() -> tuple[Piece, ...]:
    woods = ("walnut", "maple", "ebony")
    return tuple(
        _shape(i, woods[i % 3], polygon([(0, 3 * i), (60, 3 * i), (60, 3 * i + 3), (0, 3 * i + 3)]))
        for i in range(6)
    )


def _tile() -> tuple[Piece, ...]:
    block = polygon([(0, 0), (12, 0), (14, 16), (-2, 16)])
    dot = circle(2.0, (6.0, 9.0))
    return (
        replace(_shape(1, "walnut", block, axis=90.0), holes=(dot,)),
        _shape(2, "maple", dot.mapped(math.radians(0.0))),
    )


def _making() -> Drawing:
    plan = make_plan(design([radial(segments=12, wood=["walnut"])]))
    stages = (
        Stage(
            title="The plies",
            saying=say("Glue six plies to a block {high} high.", high=Length(18.0)),
            sizes=(("high", 18.0), ("long", 60.0)),
            shapes=_plies(),
        ),
        Stage(title="Rest", saying=say("Leave it in the clamps over night.")),
        Stage(
            title="A tile",
            saying=say("Bore each block and glue a dot into it."),
            sizes=(("across the dot", 4.0),),
            shapes=_tile(),
        ),
    )
    stock = (
        Stock(name="ply", wood="walnut", count=2, length=60, width=20, thickness=3),
        Stock(name="ply", wood="maple", count=2, length=60, width=20, thickness=3, spares=1),
        Stock(name="ply", wood="ebony", count=2, length=60, width=20, thickness=3),
    )
    ring = replace(plan.rings[0], stages=stages, stock=stock)
    (sheet,) = making.drawings(replace(plan, rings=(ring,)))
    return sheet


MAKING_CASES: dict[str, Callable[[], Drawing]] = {"making-2": _making}
