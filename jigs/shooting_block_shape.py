"""The shooting block's parts as flat steps, and the sizes to check on them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base import Check, Part, Place
from jigs.corners import dog_boned, nut_pocket, rectangle, slot
from jigs.hardware import CLEARANCE_HOLES, NUTS
from jigs.letters import engraving, extent_of
from jigs.shooting_block import (
    BAR,
    BEHIND_SCREW,
    BOARD_HEAD,
    BOARD_ROOM,
    BOARD_SCREW,
    DRAW,
    HEEL,
    NOSE,
    POCKET,
    RAIL,
    THREAD,
    ShootingBlock,
)
from jigs.shooting_block_station import INSET
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, circle

NUT_ROOM = 0.8
"""The nut's pocket is this much deeper than the nut is thick."""
DUST = 0.6
"""Depth of the dust groove round the fence."""
MARK = 0.6
SPOT, FROM_MIDDLE, BESIDE = 1.0, 4.2, 1.7
LIFT = 3.3
"""Diameter of the hole in the stop: an M4 screw bites in it and lifts the stop out."""
LETTERS = 4.0
CLOSE = 0.05
"""How true fence and stop must be (mm): printers do better than their usual over so little."""
ABOVE = 1.0


def parts(block: ShootingBlock) -> tuple[Part, ...]:
    """The block, its two stops and its two clamp bars, the right stop for the second side."""
    x, _ = block.screw
    on_wedge = block.table + block.thickness
    return (
        Part(name="block", title=f"{block.title}: block", block=base(block)),
        Part(
            name="stop",
            title=f"{block.title}: stop",
            block=stop(block),
            places=(_stop_place(block, 2), _stop_place(block, 1)),
            colour=1,
        ),
        Part(
            name="bar",
            title=f"{block.title}: clamp bar",
            block=bar(block),
            places=(Place(x=x, z=on_wedge), Place(x=-x, z=on_wedge)),
            colour=2,
        ),
    )


def base(block: ShootingBlock) -> Block:
    """The rail, the table behind it, and all that stands on the table or is sunk in it."""
    table = Step(
        outline=rectangle(INSET - block.half, INSET, block.half - INSET, block.depth - INSET),
        top=block.table,
        steps=(
            *_stations(block),
            *(_board_screw(block, x) for x in (-1.0, 0.0, 1.0)),
            *_words(block),
        ),
    )
    return Block(
        outline=rectangle(-block.half, 0.0, block.half, block.depth),
        top=RAIL,
        steps=(table,),
        under=tuple(_nut(block, left=left) for left in (False, True)),
        chamfer=block.process.chamfer,
    )


def stop(block: ShootingBlock) -> Block:
    """The stop about its middle: its short side along x, one spot at each face across it."""
    first, second = block.station.stop_sides
    x, y = first / 2.0, second / 2.0
    ends = FROM_MIDDLE + (second - first) / 2.0
    spots = [(FROM_MIDDLE, 0.0), (-FROM_MIDDLE, 0.0)]
    spots += [(side, end) for end in (ends, -ends) for side in (BESIDE, -BESIDE)]
    top = block.wall_top - (block.table - POCKET)
    marks = (Step(outline=circle(SPOT, at), top=top - MARK) for at in spots)
    hole = Step(outline=circle(LIFT / 2.0), top=0.0)
    return Block(outline=rectangle(-x, -y, x, y), top=top, steps=(hole, *marks))


def bar(block: ShootingBlock) -> Block:
    """The clamp bar, its length along y as it lies on the wedge, its slot about x = 0."""
    _, y = block.screw
    width = max(CLEARANCE_HOLES[THREAD][1], block.process.bit)
    draw = Step(outline=slot(width, (0.0, y - DRAW), (0.0, y)), top=0.0)
    outline = rectangle(-BAR / 2.0, INSET + NOSE, BAR / 2.0, y + BEHIND_SCREW + HEEL)
    return Block(outline=outline, top=block.bar, steps=(draw,), chamfer=block.process.chamfer)


def checks(block: ShootingBlock) -> tuple[Check, ...]:
    """What makes the angle, the width and the edge that a disc's fence runs on."""
    first, second = block.station.stop_sides
    return (
        *_fence_checks(block),
        Check(
            part="stop",
            what="the stop across its faces with one spot",
            size=first,
            ends=((-first / 2.0, 0.0), (first / 2.0, 0.0)),
            minus=CLOSE,
            plus=CLOSE,
        ),
        Check(
            part="stop",
            what="the stop across its faces with two spots",
            size=second,
            ends=((0.0, -second / 2.0), (0.0, second / 2.0)),
            minus=CLOSE,
            plus=CLOSE,
        ),
        Check(
            part="block",
            what="from the working edge to the back edge, the same at both ends",
            size=block.depth,
            ends=((-block.half + 3.0, 0.0), (-block.half + 3.0, block.depth)),
        ),
    )


def _fence_checks(block: ShootingBlock) -> Iterator[Check]:
    station = block.station
    (c, s), places = station.fence_direction, (station.fence_start, station.fence_end)
    for hand, sign in (("right", 1.0), ("left", -1.0)):
        for end, along in zip(("narrow", "wide"), places, strict=True):
            x, y = sign * (block.aside + along * c), along * s
            yield Check(
                part="block",
                what=f"{hand} fence, {end} end: from the working edge to its corner",
                size=y,
                minus=CLOSE,
                plus=CLOSE,
                ends=((x, 0.0), (x, y)),
            )


def _stations(block: ShootingBlock) -> Iterator[Step]:
    station, process, (x, y) = block.station, block.process, block.screw
    hole = CLEARANCE_HOLES[THREAD][1] / 2.0
    heel = (y + BEHIND_SCREW, y + BEHIND_SCREW + HEEL)
    for left in (False, True):
        at = -x if left else x
        pocket = dog_boned(station.pocket_corners(), process.bit)
        fence = Step(outline=block.mapped(station.fence(), left=left), top=block.wall_top)
        if station.groove:
            groove = block.mapped(station.fence(station.groove), left=left)
            fence = Step(outline=groove, top=block.table - DUST, steps=(fence,))
        yield fence
        yield Step(outline=block.mapped(pocket, left=left), top=block.table - POCKET)
        yield Step(outline=circle(hole, (at, y)), top=_nut_top())
        yield Step(
            outline=rectangle(at - BAR / 2.0, heel[0], at + BAR / 2.0, heel[1]),
            top=block.table + block.thickness,
        )


def _nut(block: ShootingBlock, *, left: bool) -> Step:
    x, y = block.screw
    process = block.process
    outline = nut_pocket(
        NUTS[THREAD][0],
        clearance=process.slide,
        radius=process.inside_radius,
        at=(-x if left else x, y),
    )
    return Step(outline=outline, top=_nut_top())


def _nut_top() -> float:
    return NUTS[THREAD][1] + NUT_ROOM


def _board_screw(block: ShootingBlock, side: float) -> Step:
    at = (side * (block.half - BOARD_ROOM), block.depth - BOARD_ROOM)
    hole = Step(outline=circle(CLEARANCE_HOLES[BOARD_SCREW][1] / 2.0, at), top=0.0)
    return Step(outline=circle(BOARD_HEAD / 2.0, at), top=block.table - 4.0, steps=(hole,))


def _words(block: ShootingBlock) -> Iterator[Step]:
    """The ring and its count, before the middle board screw, where there is room."""
    if not block.text:
        return
    process, room = block.process, 2.0 * (block.screw[0] - BAR / 2.0 - ABOVE)
    lines = (f"RING {block.ring}", str(block.segments))
    height = min(LETTERS, *(LETTERS * room / extent_of(line, LETTERS).width for line in lines))
    low = block.depth - BOARD_ROOM - BOARD_HEAD / 2.0 - 2.0 - 2.7 * height
    if height < process.text_height or low < _highest(block) + ABOVE:
        return
    for i, line in enumerate(reversed(lines)):
        yield from engraving(
            line,
            middle=0.0,
            baseline=low + 1.7 * height * i,
            height=height,
            top=block.table,
            depth=process.text_depth,
        )


def _highest(block: ShootingBlock) -> float:
    """How far back anything reaches that stands between the two stations."""
    fence: Outline = block.station.fence(block.station.groove)
    return fence.bounds()[3]


def _stop_place(block: ShootingBlock, side: int) -> Place:
    """The stop in the right station for the second side, in the left one for the first."""
    x, y = block.station.stop_middle(side)
    mitre = math.degrees(block.station.mitre_rad)
    z = block.table - POCKET
    if side == 2:
        return Place(x=block.aside + x, y=y, z=z, turn=mitre - 90.0)
    return Place(x=-(block.aside + x), y=y, z=z, turn=-mitre)
