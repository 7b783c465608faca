"""The half tray's bed as a block: a plate whose front face is the rail, wall, post and lands."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.half_tray import RAIL, HalfTray
from jigs.half_tray_screws import ALONG, HOLE, LEDGE, slot_radius
from jigs.letters import engraving, extent_of
from jigs.terrace import Block, Step
from jigs.tray_floor import LAND_BESIDE_HOLE
from rosette.geometry.outline import Outline, Point, Vertex, circle, polygon

SLOT_DEPTH = 3.4
"""Of the slots for the screws' heads: an M4 head is 2.8 high (ISO 4017)."""
MARK_DEPTH = 0.6
DOT = 1.0
LETTERS = 6.0


def bed_block(of: HalfTray) -> Block:
    """The plate and all that stands on it."""
    wall = Step(outline=wall_outline(of), top=of.top, steps=tuple(_holes(of, in_post=False)))
    post = (Step(outline=post_outline(of), top=of.top, steps=_on_post(of)),) if of.post else ()
    return Block(
        outline=_rectangle(of.half_width, of.rail, of.back),
        top=RAIL,
        steps=(wall, *post, *_lands(of)),
        under=tuple(_slots(of)),
        chamfer=of.process.chamfer,
    )


def _rectangle(x: float, low: float, high: float) -> Outline:
    return polygon([(-x, low), (x, low), (x, high), (-x, high)])


def wall_outline(of: HalfTray) -> Outline:
    """The wall with its legs, open towards the rail."""
    x, back, front = of.half_width - LEDGE, of.back - LEDGE, of.wall.front
    outside = [Vertex(x, front), Vertex(x, back), Vertex(-x, back), Vertex(-x, front)]
    return Outline((*outside, *of.wall.vertices()))


def post_outline(of: HalfTray) -> Outline:
    """Half a disc, flat towards the rail."""
    half = math.asin(of.wall.front / of.post)
    x = of.post * math.cos(half)
    bulge = math.tan((math.pi - 2.0 * half) / 4.0)
    return Outline((Vertex(x, of.wall.front, bulge), Vertex(-x, of.wall.front)))


def _lands(of: HalfTray) -> Iterator[Step]:
    """What each wedge stands on, with holes to push the half out."""
    floor, pads = of.floor, of.pads
    pushed = _pushed(of)
    for number, axis in enumerate(of.axes):
        half = [
            x * math.tan(of.mitre_rad) - pads.groove / (2.0 * math.cos(of.mitre_rad))
            for x in (floor.start, floor.end)
        ]
        corners = [
            (floor.start, half[0]),
            (floor.start, -half[0]),
            (floor.end, -half[1]),
            (floor.end, half[1]),
        ]
        turn = math.radians(axis)
        hole = circle(floor.hole / 2.0, (floor.hole_distance, 0.0)).mapped(turn)
        yield Step(
            outline=polygon(corners).mapped(turn),
            top=of.floor_top,
            steps=(Step(outline=hole, top=0.0),) if number in pushed else (),
        )


def _pushed(of: HalfTray) -> set[int]:
    """The wedges with a hole under them, one on each side; none where they are too narrow."""
    middle = of.pads.half_width(of.floor.hole_distance) * math.cos(of.mitre_rad)
    if (
        not of.floor.hole
        or of.floor.spans
        or middle - of.floor.hole / 2.0 < LAND_BESIDE_HOLE - 1e-9
    ):
        return set()
    quarter = (of.count - 1) // 4
    return {quarter, of.count - 1 - quarter}


def _holes(of: HalfTray, *, in_post: bool) -> Iterator[Step]:
    for screw in of.screws:
        if (math.hypot(*screw) < of.post) is in_post:
            yield Step(outline=circle(HOLE / 2.0, screw), top=SLOT_DEPTH)


def _slots(of: HalfTray) -> Iterator[Step]:
    """On the underside, along y beside the wall's ends and along x elsewhere."""
    for i, (x, y) in enumerate(of.screws):
        turn = math.pi / 2.0 if i < 2 else 0.0
        yield Step(outline=_slot(slot_radius(of.process)).mapped(turn, (x, y)), top=SLOT_DEPTH)


def _slot(radius: float) -> Outline:
    return Outline(
        (
            Vertex(-ALONG, -radius),
            Vertex(ALONG, -radius, 1.0),
            Vertex(ALONG, radius),
            Vertex(-ALONG, radius, 1.0),
        )
    )


def _on_post(of: HalfTray) -> tuple[Step, ...]:
    """The screws' holes, a dot where the half begins, which ring it is for."""
    steps = list(_holes(of, in_post=True))
    sunk = of.top - MARK_DEPTH
    dot = (2.0 * DOT - of.post, of.wall.front + 2.0 * DOT)
    if math.hypot(*dot) < of.post - DOT - 0.5 and _clear(of, dot):
        steps.append(Step(outline=circle(DOT, dot), top=sunk))
    return (*steps, *_letters(of))


def _clear(of: HalfTray, point: Point) -> bool:
    return all(math.dist(point, screw) > HOLE / 2.0 + DOT + 1.0 for screw in of.screws)


def _letters(of: HalfTray) -> Iterator[Step]:
    if not of.label or not of.process.text_depth:
        return
    height = max(LETTERS, of.process.text_height)
    extent = extent_of(of.label, height)
    screws = [y for x, y in of.screws if math.hypot(x, y) < of.post]
    baseline = max([of.wall.front, *screws]) + HOLE / 2.0 + 3.0 - extent.low
    corner = math.hypot(extent.width / 2.0, baseline + extent.high)
    if corner < of.post - 2.0:
        yield from engraving(
            of.label,
            middle=0.0,
            baseline=baseline,
            height=height,
            top=of.top,
            depth=of.process.text_depth,
        )
