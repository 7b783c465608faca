"""The pictures of docs/patterns: part of a ring, and each stage of its making."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from textwrap import wrap

from rosette.gallery import INNER, Example, examples
from rosette.geometry.outline import Outline, Point, Vertex, polygon
from rosette.patterns.base import Piece, RingPlan, Stage
from rosette.picture import INK, SPRUCE, ring_elements
from rosette.sheets.drawing import HAIR, Drawing, Element, Stroke, Text, Window

SHOWN = (
    *("rope", "herringbone", "checker", "ladder", "mosaic", "chevron"),
    *("lines", "arcs", "petals", "shapes"),
)
WIDE, HIGH, LARGEST = 150.0, 22.0, 4.0
"""Room for a stage in mm, and how much it is enlarged at the most."""


def bands() -> Iterator[Drawing]:
    """A picture of each."""
    for one in examples():
        if one.pattern.name in SHOWN:
            yield _picture(one)


def _picture(one: Example) -> Drawing:
    ring = one.ring
    elements: list[Element] = []
    side = ring.outer_radius + 4.0
    wide = INNER * 1.5
    frame = (-wide, ring.outer_radius - 26.0, wide, side)
    elements += _ground(frame)
    elements.append(Window(elements=tuple(ring_elements(ring)), shift=(0.0, 0.0), frame=frame))
    top = frame[1] - 4.0
    for number, stage in enumerate(ring.stages, start=1):
        block, top = _stage(ring, stage, number, (-wide, top))
        elements += block
    return Drawing(
        name=f"pattern-{one.pattern.name}",
        title=one.pattern.name,
        purpose="A ring of the pattern and the stages of its making, from above unless said.",
        bounds=(-wide - 2.0, top, wide + 2.0, side + 2.0),
        elements=tuple(elements),
    )


def _ground(frame: tuple[float, float, float, float]) -> Iterator[Element]:
    left, bottom, right, top = frame
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    yield Stroke(outline=polygon(corners), layer="note", weight=HAIR, colour=SPRUCE, fill=SPRUCE)


def _stage(ring: RingPlan, stage: Stage, number: int, at: Point) -> tuple[list[Element], float]:
    """A stage's title and what it looks like, as much of it as there is room for; what is left."""
    x, y = at
    elements: list[Element] = []
    for line in wrap(f"{number}  {stage.title}", 80):
        y -= 4.2
        elements.append(Text(text=line, at=(x, y), height=2.8, bold=True, colour=INK))
    boxes = [one.outline.bounds() for one in stage.shapes]
    left, bottom = min(b[0] for b in boxes), min(b[1] for b in boxes)
    right, top = max(b[2] for b in boxes), max(b[3] for b in boxes)
    scale = min(LARGEST, HIGH / (top - bottom))
    if (right - left) * scale < 2.0 * WIDE:
        scale = min(scale, max(WIDE / (right - left), HIGH / 2.0 / (top - bottom)))
    y -= 2.0 + (top - bottom) * scale
    shapes = tuple(_scaled(one, scale, (left, bottom), (x, y)) for one in stage.shapes)
    drawn = ring_elements(replace(ring, pieces=shapes, spacers=(), wedges=None))
    frame = (x - 0.2, y - 0.2, x + WIDE + 0.2, y + (top - bottom) * scale + 0.2)
    elements.append(Window(elements=tuple(drawn), shift=(0.0, 0.0), frame=frame))
    return elements, y - 3.0


def _scaled(one: Piece, scale: float, origin: Point, to: Point) -> Piece:
    def scaled(outline: Outline) -> Outline:
        return Outline(
            tuple(
                Vertex((x - origin[0]) * scale + to[0], (y - origin[1]) * scale + to[1], bulge)
                for x, y, bulge in outline.vertices
            )
        )

    return replace(one, outline=scaled(one.outline), holes=tuple(map(scaled, one.holes)))
