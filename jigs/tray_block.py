"""The tray's sizes as a block of flat steps."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.letters import engraving
from jigs.terrace import Block, Step
from jigs.tray import BASE, CHAMFER, CORNER_RELIEF, MARK_DEPTH, Tray
from jigs.tray_floor import HOLE_TO_REST
from rosette.geometry.outline import Outline, Point, Vertex, at_angle, circle, polygon

SHORTEST_REST = 0.5
"""A shorter piece of land beside a hole does not print."""


def tray_block(tray: Tray) -> Block:
    """A plate, a recess in it down to the relief, and post and lands standing up from that."""
    recess = Step(
        outline=wall_outline(tray),
        top=BASE,
        steps=(Step(outline=post_outline(tray), top=tray.top, steps=_on_post(tray)), *_lands(tray)),
    )
    return Block(
        outline=plate_outline(tray),
        top=tray.top,
        steps=(recess, *_rim_marks(tray)),
        chamfer=CHAMFER,
    )


def plate_outline(tray: Tray) -> Outline:
    """The outside of the plate, which follows the wall."""
    return _flats(tray, tray.outer) if tray.flats else circle(tray.outer)


def wall_outline(tray: Tray) -> Outline:
    """The inside of the wall: flats whose corners are relieved outwards, or a circle."""
    if not tray.flats:
        return circle(tray.wall)
    return _flats(tray, tray.wall, relief=CORNER_RELIEF, outwards=True)


def post_outline(tray: Tray) -> Outline:
    """The post: flats whose corners are taken off hollow, under the joints, or a circle."""
    if not tray.flats:
        return circle(tray.post)
    relief = min(CORNER_RELIEF, 2.0 * tray.post * math.tan(tray.mitre_rad) / 4.0)
    return _flats(tray, tray.post, relief=relief, outwards=False)


def _flats(tray: Tray, apothem: float, *, relief: float = 0.0, outwards: bool = False) -> Outline:
    """A regular polygon with a flat for every wedge, each corner relieved by an arc about it."""
    corner = tray.mitre_rad
    half = apothem * math.tan(corner) - relief
    if not relief:
        bulge = 0.0
    elif outwards:
        bulge = math.tan((math.pi + 2.0 * corner) / 4.0)
    else:
        bulge = -math.tan((math.pi - 2.0 * corner) / 4.0)
    vertices: list[Vertex] = []
    for k in range(tray.segments):
        turn = math.radians(tray.turn) + 2.0 * k * corner
        ends = (Vertex(apothem, -half), Vertex(apothem, half, bulge))
        kept = ends if relief else ends[:1]
        vertices += Outline(kept, closed=False).mapped(turn).vertices
    return Outline(tuple(vertices))


def _lands(tray: Tray) -> Iterator[Step]:
    """The lands, interrupted where a finger hole spans joints, and the finger holes."""
    floor = tray.floor
    holes = [_axis(tray, number) for number in floor.holes]
    for number in range(1, tray.segments + 1):
        axis = _axis(tray, number)
        if not floor.spans:
            inside = (_finger_hole(tray, axis),) if number in floor.holes else ()
            yield Step(
                outline=_land(tray, axis, floor.start, floor.end), top=tray.floor_top, steps=inside
            )
            continue
        for start, end in _rests(tray, min(_apart(axis, hole) for hole in holes)):
            yield Step(outline=_land(tray, axis, start, end), top=tray.floor_top)
    if floor.spans:
        yield from (_finger_hole(tray, axis) for axis in holes)


def _finger_hole(tray: Tray, axis: float) -> Step:
    middle = at_angle(tray.floor.hole_distance, axis)
    return Step(outline=circle(tray.floor.hole / 2.0, middle), top=0.0)


def _rests(tray: Tray, off: float) -> Iterator[tuple[float, float]]:
    """Where a land runs whose axis is `off` degrees from the nearest hole that spans joints."""
    floor = tray.floor
    reach = floor.hole / 2.0 + HOLE_TO_REST
    aside = floor.hole_distance * math.sin(math.radians(off)) - floor.end * math.tan(tray.mitre_rad)
    if off >= 90.0 or aside >= reach:
        yield floor.start, floor.end
        return
    run = math.sqrt(reach**2 - max(0.0, aside) ** 2)
    along = floor.hole_distance * math.cos(math.radians(off))
    if along - run - floor.start >= SHORTEST_REST:
        yield floor.start, along - run
    if floor.end - along - run >= SHORTEST_REST:
        yield along + run, floor.end


def _land(tray: Tray, axis: float, start: float, end: float) -> Outline:
    corner = tray.mitre_rad

    def half(x: float) -> float:
        return x * math.tan(corner) - tray.floor.groove / (2.0 * math.cos(corner))

    points = [(start, half(start)), (start, -half(start)), (end, -half(end)), (end, half(end))]
    return polygon(points).mapped(math.radians(axis))


def _axis(tray: Tray, number: int) -> float:
    return tray.turn - 360.0 / tray.segments * (number - 1)


def _apart(a: float, b: float) -> float:
    return abs(math.remainder(a - b, 360.0))


def _rim_marks(tray: Tray) -> Iterator[Step]:
    """On the wall: an arrowhead at 12 o'clock that points to the centre, a line at 6 o'clock."""
    for angle, shape in ((90.0, _ARROW), (270.0, _DASH)):
        middle = rim_middle(tray, angle)
        outline = polygon([(x + middle, y) for x, y in shape]).mapped(math.radians(angle))
        yield Step(outline=outline, top=tray.top - MARK_DEPTH)


_ARROW: tuple[Point, ...] = ((-0.9, 0.0), (0.9, -1.0), (0.9, 1.0))
_DASH: tuple[Point, ...] = ((-0.9, -0.3), (0.9, -0.3), (0.9, 0.3), (-0.9, 0.3))


def rim_middle(tray: Tray, angle: float) -> float:
    """Distance of the middle of the wall's top from the centre, 12 or 6 o'clock."""
    if not tray.flats:
        return (tray.wall + tray.outer) / 2.0
    pitch = 360.0 / tray.segments
    if _apart((angle - tray.turn) / pitch * 360.0, 0.0) < 90.0:
        return (tray.wall + tray.outer) / 2.0
    return ((tray.wall + tray.outer) / math.cos(tray.mitre_rad) + CORNER_RELIEF) / 2.0


def _on_post(tray: Tray) -> tuple[Step, ...]:
    """The centre hole, the centreline, a dot at the seam, the words."""
    steps = [Step(outline=circle(tray.hole / 2.0), top=0.0)] if tray.hole else []
    if tray.post >= tray.hole / 2.0 + LEAST_FOR_MARKS:
        steps += _post_marks(tray)
    for line in tray.text:
        steps += engraving(
            line.text,
            middle=0.0,
            baseline=line.baseline,
            height=line.height,
            top=tray.top,
            depth=MARK_DEPTH,
        )
    return tuple(steps)


LEAST_FOR_MARKS = 11.5
"""Room on the post between its edge and the centre hole that the marks need."""
_POST_LINE: tuple[Point, ...] = ((-6.0, -0.3), (-2.5, -0.3), (-2.5, 0.3), (-6.0, 0.3))


def _post_marks(tray: Tray) -> Iterator[Step]:
    """Lines at 12 and 6 o'clock; the seam's dot keeps clear of them."""
    for angle in (90.0, 270.0):
        outline = polygon([(tray.post + x, y) for x, y in _POST_LINE]).mapped(math.radians(angle))
        yield Step(outline=outline, top=tray.top - MARK_DEPTH)
    aside = tray.post * math.sin(math.radians(_apart(tray.seam, 90.0)))
    distance = tray.post - (9.0 if aside < 3.0 else 4.0)
    dot = circle(1.0, at_angle(distance, tray.seam))
    yield Step(outline=dot, top=tray.top - MARK_DEPTH)
