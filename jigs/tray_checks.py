"""The sizes of a tray to check by caliper."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import Check
from jigs.tray import Tray
from rosette.geometry.outline import Point, at_angle


def tray_checks(tray: Tray) -> tuple[Check, ...]:
    """In the order of measuring (mm)."""
    return tuple(_checks(tray))


def _checks(tray: Tray) -> Iterator[Check]:
    axis = _axis_near(tray, 0.0) if tray.flats else 0.0
    if not tray.flats or tray.segments % 2 == 0:
        for what, reach in (("across the post", tray.post), ("across inside the wall", tray.wall)):
            ends = at_angle(reach, axis + 180.0), at_angle(reach, axis)
            yield Check(part="plate", what=what, size=2.0 * reach, ends=ends)
    yield Check(
        part="plate",
        what="between post and wall, at the middle of a wedge",
        size=tray.wall - tray.post,
        ends=(at_angle(tray.post, axis), at_angle(tray.wall, axis)),
    )
    spot = on_a_land(tray)
    if spot is not None:
        heights = (tray.floor_top, tray.top)
        what = "how high the wall stands over the lands"
        yield Check(part="plate", what=what, size=tray.depth, at=spot, heights=heights)


def section_line(tray: Tray) -> tuple[Point, Point]:
    """A line across the tray through the middle of a land, for its drawing."""
    spot = on_a_land(tray)
    y = spot[1] if spot is not None else 0.0
    return (-tray.outer, y), (tray.outer, y)


def _axis_near(tray: Tray, degrees: float) -> float:
    """The direction of the wedge that lies nearest to a direction."""
    pitch = 360.0 / tray.segments
    return tray.turn + round((degrees - tray.turn) / pitch) * pitch


def on_a_land(tray: Tray) -> Point | None:
    """The middle of a land without a finger hole, the nearest to 3 o'clock."""
    if tray.floor.spans:
        return None
    pitch = 360.0 / tray.segments
    holes = {(number - 1) % tray.segments for number in tray.floor.holes}
    first = round((tray.turn - _axis_near(tray, 0.0)) / pitch)
    steps = sorted(range(tray.segments), key=lambda i: min(i, tray.segments - i))
    found = next((i for i in steps if (first + i) % tray.segments not in holes), None)
    if found is None:
        return None
    middle = (tray.floor.start + tray.floor.end) / 2.0
    return at_angle(middle, tray.turn - pitch * (first + found))
