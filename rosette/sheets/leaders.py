"""Dimensions of round things, and leaders: radius, diameter, angle, notes with an arrow.

Layer `dimension`, after the habits of ISO 129-1; an angle is an arc, arrows and words, never
a format's own dimension. Points in mm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from rosette.geometry.outline import Point, arc, at_angle
from rosette.lettering import text_width
from rosette.sheets.dimension import (
    ARROW,
    LIFT,
    SIZE,
    Head,
    Place,
    arrow,
    fits_along,
    letters,
    reading_turn,
    thin,
)
from rosette.sheets.drawing import THIN, Element, Stroke


def radius(
    centre: Point, size: float, angle: float, text: str, *, along: float | None = None
) -> tuple[Element, ...]:
    """A radius: a line from the centre to an arrow on the arc at `angle`, words above it.

    The words' middle stands `along` mm from the centre, half-way where that is not given.
    """
    cx, cy = centre
    x, y = at_angle(size, angle)
    turn = reading_turn(centre, (cx + x, cy + y))
    far = size / 2.0 if along is None else along
    ux, uy = at_angle(far, angle)
    up = math.radians(turn + 90.0)
    spot = (cx + ux + LIFT * math.cos(up), cy + uy + LIFT * math.sin(up))
    return (
        thin(centre, (cx + x, cy + y)),
        arrow((cx + x, cy + y), angle),
        letters(text, spot, turn=turn),
    )


def diameter(centre: Point, size: float, angle: float, text: str) -> tuple[Element, ...]:
    """A diameter (`size` is the diameter): a line through the centre, its words on a shelf."""
    (cx, cy), (ux, uy) = centre, at_angle(size / 2.0, angle)
    tip, other = (cx + ux, cy + uy), (cx - ux, cy - uy)
    far = (size / 2.0 + 8.0) / (size / 2.0)
    return (
        arrow(other, angle + 180.0),
        thin(other, tip),
        *leader(tip, (cx + far * ux, cy + far * uy), text, towards=angle),
    )


def leader(
    tip: Point,
    elbow: Point,
    *texts: str,
    head: Head = "filled",
    towards: float | None = None,
) -> tuple[Element, ...]:
    """An arrow at `tip`, a line to `elbow` and from there a level shelf with words above it.

    More texts stand below the shelf, one under the other. `towards` turns the arrow where it
    is not to point along its line.
    """
    way = math.degrees(math.atan2(tip[1] - elbow[1], tip[0] - elbow[0]))
    wide = max(text_width(text, SIZE) for text in texts) + 1.0
    side = 1.0 if elbow[0] >= tip[0] - 1e-6 else -1.0
    left = elbow[0] if side > 0 else elbow[0] - wide
    parts: list[Element] = [
        arrow(tip, way if towards is None else towards, head=head),
        thin(tip, elbow),
        thin(elbow, (elbow[0] + side * wide, elbow[1])),
        letters(texts[0], (left + 0.5, elbow[1] + LIFT), anchor="left"),
    ]
    for row, text in enumerate(texts[1:], start=1):
        down = elbow[1] - row * SIZE * 1.6 + 0.4
        parts.append(letters(text, (left + 0.5, down), anchor="left"))
    return tuple(parts)


def angular(
    centre: Point,
    size: float,
    start: float,
    end: float,
    text: str,
    *,
    place: Place = "start",
    shelf: Point | None = None,
) -> tuple[Element, ...]:
    """The angle from `start` to `end` (counter-clockwise) as an arc of radius `size` with arrows.

    Words that don't fit over the arc stand level past its `place` (start is the clockwise end),
    or on a shelf that begins at `shelf`, where given.
    """
    run, middle = math.radians(end - start) * size, (start + end) / 2.0
    tight = run < 3.0 * ARROW
    upright = abs(math.remainder(middle - 90.0, 360.0)) < 45.0
    over = shelf is None and upright and fits_along(run, text)
    # an arrow on an arc follows the chord that it covers, not the tangent at its tip
    lean = math.degrees(ARROW / size) / 2.0
    tail = math.degrees(2.0 * ARROW / size)
    low = start - tail if tight or (place == "start" and not over) else start
    high = end + tail if tight or (place == "end" and not over) else end
    ways = (start - 90.0 + lean, end + 90.0 - lean)
    if tight:
        ways = (start + 90.0 - lean, end - 90.0 + lean)
    parts: list[Element] = [
        Stroke(outline=arc(size, low, high, centre), layer="dimension", weight=THIN),
        arrow(_about(centre, size, start), ways[0]),
        arrow(_about(centre, size, end), ways[1]),
    ]
    if over:
        sag = size * (1.0 - math.cos(text_width(text, SIZE) / 2.0 / size))
        spot = _about(centre, size + LIFT + sag, middle)
        return (*parts, letters(text, spot, turn=middle - 90.0))
    root = _about(centre, size, low if place == "start" else high)
    side = 1.0 if (shelf or root)[0] > _about(centre, size, middle)[0] else -1.0
    return (*parts, *_shelf(root, shelf or root, side, text))


def _about(centre: Point, size: float, angle: float) -> Point:
    x, y = at_angle(size, angle)
    return centre[0] + x, centre[1] + y


def _shelf(root: Point, start: Point, side: float, text: str) -> Iterator[Element]:
    """A level line from `start` to one side with words above it, joined to `root`."""
    wide = text_width(text, SIZE) + 1.0
    left = start[0] if side > 0 else start[0] - wide
    if math.dist(root, start) > 0.01:
        yield thin(root, start)
    yield thin(start, (start[0] + side * wide, start[1]))
    yield letters(text, (left + 0.5, start[1] + LIFT), anchor="left")
