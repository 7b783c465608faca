"""The glue-up tray: from above, its heights as tints, and a section through its wall."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.terrace import Block, Step
from jigs.tray import Tray
from rosette.geometry.outline import Outline, polygon
from rosette.patterns.base import RingPlan
from rosette.sheets.drawing import MEDIUM, THIN, Drawing, Element, Stroke, Text

TINTS = ("#ffffff", "#b9c7d6", "#d9e2ea", "#e9dcc6", "#f6efe2")
"""From the bench seen through a hole, over relief, lands and marks, to the top of the wall."""
WOOD = "#c9a26b"
MARGIN = 6.0
LETTERS = 5.0


def tray_from_above(tray: Tray) -> Drawing:
    """The whole tray, neck up."""
    block = tray.block()
    heights = sorted({0.0, *_heights(block)})
    left, low, right, high = block.outline.bounds()
    elements = (
        Stroke(outline=block.outline, layer="cut", fill=TINTS[-1], weight=MEDIUM),
        *_steps(block, heights),
    )
    bounds = (left - MARGIN, low - MARGIN, right + MARGIN, high + MARGIN)
    return Drawing(
        name="tray",
        title="The glue-up tray",
        purpose="The tray of the ring, seen from above.",
        bounds=bounds,
        elements=elements,
    )


def _heights(step: Step | Block) -> Iterator[float]:
    yield step.top
    for one in step.steps:
        yield from _heights(one)


def _steps(step: Step | Block, heights: list[float]) -> Iterator[Element]:
    for one in step.steps:
        outline = one.outline
        if not isinstance(outline, Outline):
            outline = polygon(outline.points())
        tint = TINTS[heights.index(one.top)]
        yield Stroke(outline=outline, layer="cut", fill=tint, weight=THIN)
        yield from _steps(one, heights)


def tray_in_section(tray: Tray, ring: RingPlan) -> Drawing:
    """Five times full size: a wedge on its land, between post and wall, cut along its axis."""
    assert ring.wedges is not None
    blank, scale = ring.wedges.blank, 5.0
    start, end = tray.post - 5.0, tray.wall + 5.0
    floor, relief = tray.floor_top, tray.floor_top - 1.0
    profile = [
        (start, 0.0),
        (end - 0.4, 0.0),
        (end, 0.4),
        (end, tray.top),
        (tray.wall, tray.top),
        (tray.wall, relief),
        (tray.floor.end, relief),
        (tray.floor.end, floor),
        (tray.floor.start, floor),
        (tray.floor.start, relief),
        (tray.post, relief),
        (tray.post, tray.top),
        (start, tray.top),
    ]
    wedge = _box(blank.inner_distance, floor, blank.outer_distance, floor + ring.tile_thickness)

    def placed(points: list[tuple[float, float]]) -> Outline:
        return polygon([((x - start) * scale, y * scale) for x, y in points])

    high = (floor + ring.tile_thickness) * scale
    wide = (end - start) * scale
    words = (
        ("post", (tray.post - 2.5 - start) * scale, tray.top / 2.0 * scale),
        ("wedge", wide / 2.0, (floor + ring.tile_thickness / 2.0) * scale),
        ("land", wide / 2.0, 2.2 * scale),
        ("relief", (tray.post + 2.6 - start) * scale, 2.2 * scale),
        ("relief", (tray.wall - 2.6 - start) * scale, 2.2 * scale),
        ("wall", (tray.wall + 2.5 - start) * scale, tray.top / 2.0 * scale),
    )
    return Drawing(
        name="tray-in-section",
        title="The glue-up tray in section",
        purpose="A wedge in its place in the tray, cut along its axis.",
        bounds=(-MARGIN, -MARGIN, wide + MARGIN, high + MARGIN),
        elements=(
            Stroke(outline=placed(profile), layer="cut", fill=TINTS[3], weight=MEDIUM),
            Stroke(outline=placed(wedge), layer="cut", fill=WOOD, weight=MEDIUM),
            *(
                Text(text=text, at=(x, y - LETTERS / 2.0), height=LETTERS, anchor="middle")
                for text, x, y in words
            ),
        ),
    )


def _box(left: float, low: float, right: float, high: float) -> list[tuple[float, float]]:
    return [(left, low), (right, low), (right, high), (left, high)]
