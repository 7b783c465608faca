"""The trimming table's sizes as blocks of flat steps."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from jigs.corners import nut_pocket
from jigs.hardware import CLEARANCE_HOLES, NUTS
from jigs.terrace import Block, Step
from jigs.trimming_table import (
    INNER_SCREWS,
    OUTER_SCREWS,
    OVERHANG,
    RIM_SCREWS,
    THREAD,
    TrimmingTable,
)
from rosette.geometry.outline import Point, at_angle, circle, polygon

SHANK = CLEARANCE_HOLES[THREAD][1] / 2.0
_ARROW: tuple[Point, ...] = ((-3.0, 0.0), (3.0, -2.0), (3.0, 2.0))
_DASH: tuple[Point, ...] = ((-3.0, -0.5), (3.0, -0.5), (3.0, 0.5), (-3.0, 0.5))


def _ring_of(radius: float, angles: Iterable[float]) -> tuple[Point, ...]:
    return tuple(at_angle(radius, angle) for angle in angles)


def table_block(table: TrimmingTable) -> Block:
    """A plate with a recess, in it the ring's land, in that the post with the pin."""
    inner = _ring_of(table.inner_screws, INNER_SCREWS)
    outer = _ring_of(table.outer_screws, OUTER_SCREWS)
    inside = Step(
        outline=circle(table.inner + OVERHANG),
        top=table.base,
        steps=(_post(table), *_holes(inner, table.nut_depth)),
    )
    land = Step(outline=circle(table.outer - OVERHANG), top=table.land, steps=(inside,))
    recess = Step(
        outline=circle(table.recess),
        top=table.base,
        steps=(land, *_holes(outer, table.nut_depth)),
    )
    return Block(
        outline=circle(table.table),
        top=table.top,
        steps=(recess, *_rim(table)),
        under=tuple(_nuts(table, inner + outer)),
        chamfer=table.chamfer,
    )


def _post(table: TrimmingTable) -> Step:
    """The post, the hole that the pin is pressed into, and a thin one to push it out through."""
    push = Step(outline=circle(table.pin_hole / 4.0), top=0.0)
    hole = Step(outline=circle(table.pin_hole / 2.0), top=table.pin_foot, steps=(push,))
    return Step(outline=circle(table.post), top=table.top, steps=(hole,))


def _holes(places: Iterable[Point], foot: float) -> Iterator[Step]:
    return (Step(outline=circle(SHANK, at), top=foot) for at in places)


def _nuts(table: TrimmingTable, places: Iterable[Point]) -> Iterator[Step]:
    for at in places:
        pocket = nut_pocket(
            NUTS[THREAD][0],
            clearance=table.slide,
            radius=table.process.inside_radius,
            at=at,
        )
        yield Step(outline=pocket, top=table.nut_depth)


def _rim(table: TrimmingTable) -> Iterator[Step]:
    """Holes for screws into the bench, and the marks at 12 and 6 o'clock."""
    middle = table.recess + table.rim / 2.0
    for at in _ring_of(middle, RIM_SCREWS):
        yield _sunk(table, at, top=table.top, foot=0.0)
    if table.process.text_depth:
        depth = table.process.text_depth
        for angle, shape in ((90.0, _ARROW), (270.0, _DASH)):
            outline = polygon([(x + middle, y) for x, y in shape])
            yield Step(outline=outline.mapped(math.radians(angle)), top=table.top - depth)


def _sunk(table: TrimmingTable, at: Point, *, top: float, foot: float) -> Step:
    """A hole for a screw whose head is sunk in the face at `top`."""
    shank = Step(outline=circle(SHANK, at), top=foot)
    sunk = circle(table.sink_diameter / 2.0, at)
    return Step(outline=sunk, top=top - table.sink_depth, steps=(shank,))


def inner_clamp(table: TrimmingTable) -> Block:
    """A disc on the ring's inner half, its foot down inside the ring, its hole round the post."""
    return Block(
        outline=circle(table.outer - table.keep),
        top=table.cap,
        steps=(
            Step(outline=circle(table.post + table.slide), top=-table.foot),
            *(
                _sunk(table, at, top=table.cap, foot=-table.foot)
                for at in _ring_of(table.inner_screws, INNER_SCREWS)
            ),
        ),
        under=(Step(outline=circle(table.inner_foot), top=-table.foot),),
    )


def outer_clamp(table: TrimmingTable) -> Block:
    """A flat ring on the ring's outer half, its foot down outside the trimmed ring."""
    top = table.cap + table.foot
    return Block(
        outline=circle(table.outer_clamp),
        top=top,
        steps=(
            Step(outline=circle(table.inner + table.keep), top=table.foot),
            *(
                _sunk(table, at, top=top, foot=0.0)
                for at in _ring_of(table.outer_screws, OUTER_SCREWS)
            ),
        ),
        under=(Step(outline=circle(table.outer + table.slide), top=table.foot),),
    )
