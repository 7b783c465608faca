"""The two pictures of docs/first-ring.md: what to measure, from above and in section."""

from __future__ import annotations

import math

from rosette.geometry.outline import arc, at_angle, line, polygon
from rosette.sheets.dimension import arrow, between, horizontal, thin, vertical
from rosette.sheets.drawing import MEDIUM, THICK, THIN, Circle, Drawing, Element, Stroke, Text
from rosette.sheets.leaders import leader

SPRUCE, WOOD, BOARD = "#f3e6c8", "#c69a6b", "#e2dcd6"
HOLE_RADIUS, BOARD_WIDTH, REACH = 47.0, 57.0, 46.0
INNER, OUTER = 50.0, 66.6
ASLANT = 318.0


def _edge(radius: float) -> list[Element]:
    """A circle's edge: in full where it shows, dashed under the fingerboard."""
    side = math.degrees(max(math.acos(BOARD_WIDTH / 2.0 / radius), math.asin(REACH / radius)))
    return [
        Stroke(outline=arc(radius, 180.0 - side, 360.0 + side), layer="note", weight=MEDIUM),
        Stroke(
            outline=arc(radius, side, 180.0 - side), layer="hidden", weight=THIN, dashes=(3, 1.2)
        ),
    ]


def from_above() -> Drawing:
    """The soundhole, the ring round it and the fingerboard over it."""
    half = BOARD_WIDTH / 2.0
    board = polygon([(-half, REACH), (half, REACH), (half, 92), (-half, 92)])
    inside, outside = at_angle(INNER, ASLANT), at_angle(OUTER, ASLANT)
    elements: list[Element] = [
        Circle(centre=(0, 0), radius=OUTER, layer="note", fill=WOOD, colour=None),
        Circle(centre=(0, 0), radius=INNER, layer="note", fill=SPRUCE, colour=None),
        Circle(centre=(0, 0), radius=HOLE_RADIUS, layer="note", fill="#ffffff", colour=None),
        Stroke(outline=board, layer="note", fill=BOARD, weight=MEDIUM),
        *_edge(OUTER),
        *_edge(INNER),
        *_edge(HOLE_RADIUS),
        Stroke(
            outline=line((0, -76), (0, 62)), layer="centreline", weight=THIN, dashes=(8, 1, 0.6, 1)
        ),
        thin((-HOLE_RADIUS, 0), (HOLE_RADIUS, 0)),
        arrow((-HOLE_RADIUS, 0), 180),
        arrow((HOLE_RADIUS, 0), 0),
        Text(text="soundhole_diameter", at=(-42, 1.5), height=3),
        *between((0, 0), inside, "inner_radius"),
        *between(inside, outside, "width"),
        *horizontal((-half, 92), (half, 92), 99, "fingerboard_width"),
        *vertical((HOLE_RADIUS, 0), (half, REACH), 78, "fingerboard_reach"),
        Text(text="fingerboard", at=(0, 76), height=4, anchor="middle"),
        Text(text="towards the neck ↑", at=(-35, 88), height=3, anchor="right"),
        Text(text="the ring", at=(-58, -3), height=4, anchor="middle", turn=90),
    ]
    return Drawing(
        name="measuring-from-above",
        title="What to measure, from above",
        purpose="Where each measure of [instrument] and [[ring]] is taken.",
        bounds=(-84, -72, 84, 106),
        elements=tuple(elements),
    )


def in_section() -> Drawing:
    """The ring in its channel, much enlarged and not to scale."""
    top, tile, proud, gap = 44.0, 30.0, 7.0, 2.0
    left, right, end = 44.0, 112.0, 148.0
    floor = top - (tile - proud)
    spruce = [(0.0, 0.0), (end, 0.0), (end, top), (right + gap, top), (right + gap, floor)]
    spruce += [(left - gap, floor), (left - gap, top), (0.0, top)]
    ring = [(left, floor), (right, floor), (right, floor + tile), (left, floor + tile)]
    elements: list[Element] = [
        Stroke(outline=polygon(spruce), layer="note", fill=SPRUCE, weight=THICK),
        Stroke(outline=polygon(ring), layer="note", fill=WOOD, weight=THICK),
        Text(text="the ring", at=(62, floor + 13), height=4, anchor="middle"),
        Text(text="the top", at=(22, 20), height=4, anchor="middle"),
        *vertical((0, 0), (0, top), -7, "top_thickness"),
        *vertical((106, floor), (106, floor + tile), 106, "tile_thickness"),
        *vertical((right, floor + tile), (end, top), 155, "proud"),
        *vertical((70, 0), (70, floor), 70, "floor"),
        *leader((left - gap / 2, top - 4), (28, top + 9), "gap"),
        *horizontal((left, floor + tile), (right, floor + tile), 58, "width"),
    ]
    return Drawing(
        name="measuring-in-section",
        title="What to measure, in section",
        purpose="The ring in its channel before it is levelled, much enlarged.",
        bounds=(-16, -5, 164, 70),
        elements=tuple(elements),
    )
