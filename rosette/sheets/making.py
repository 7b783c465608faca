"""How a ring is made, stage by stage: what it looks like after each glue-up and cut, with sizes.

A sheet for each ring that has stages, `making-N`, and more, `making-N-2`, where one does not hold
them. Woods are told apart by their letter in the key and by the tone of their ground.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from rosette.geometry.outline import Outline, Point, Vertex, polygon
from rosette.lettering import text_width
from rosette.patterns.base import Piece, RingPlan, Stage, Stock
from rosette.plan.model import Plan
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    column,
    drawing_of,
    enlarged,
    heights_split,
    row,
)
from rosette.sheets.dimension import units_note
from rosette.sheets.drawing import HAIR, THIN, Drawing, Element, Stroke, Text
from rosette.sheets.marks import centred
from rosette.sheets.table import heading, note, table
from rosette.units import Units, format_length, rounded
from rosette.wood.looks import look, wood_letters

PICTURE, WORDS, GAP = 92.0, 78.0, 8.0
"""Widths in mm of a stage's picture and of its words, and the space between the two."""
TALLEST = 52.0
"""The height in mm that a stage's picture may have."""
SCALES = (5.0, 4.0, 3.0, 2.0, 1.5, 1.0, 1 / 1.5, 1 / 2, 1 / 3, 1 / 4, 1 / 5, 1 / 8, 1 / 10, 1 / 20)
LETTER = 2.6
"""Height in mm of a wood's letter on a shape."""
FEW = 12
"""More shapes than these have the finest lines, so that their woods are seen."""
MOST_LETTERS = 24
"""On so many shapes of a stage stands a letter at the most."""


def drawings(plan: Plan) -> tuple[Drawing, ...]:
    """The making of each ring whose pattern tells of its stages."""
    return tuple(sheet for ring in plan.rings if ring.stages for sheet in _sheets(ring, plan.units))


def _sheets(ring: RingPlan, units: Units) -> list[Drawing]:
    woods = _woods(ring)
    letters = wood_letters(woods)
    blocks = [_head(ring, letters, units)]
    blocks += [
        _stage(number, stage, letters, units) for number, stage in enumerate(ring.stages, start=1)
    ]
    pages = heights_split(blocks, height=PAGE_HEIGHT, gap=GAP)
    return [
        drawing_of(
            column(page, gap=GAP),
            name=f"making-{ring.index}" if number == 1 else f"making-{ring.index}-{number}",
            title=f"Ring {ring.index}: how it is made"
            + (f", part {number}" if len(pages) > 1 else ""),
            purpose=f"The making of ring {ring.index} stage by stage, with the sizes at each.",
            document_type="Instructions",
        )
        for number, page in enumerate(pages, start=1)
    ]


def _woods(ring: RingPlan) -> list[str]:
    shapes = [shape.wood for stage in ring.stages for shape in stage.shapes]
    return list(dict.fromkeys([*ring.woods, *(one.wood for one in ring.stock), *shapes]))


def _head(ring: RingPlan, letters: dict[str, str], units: Units) -> Block:
    """What to prepare, and the letters of the woods."""
    rows: list[tuple[str, ...]] = [("prepare", "of", "how many", "spare", "long", "wide", "thick")]
    rows += [_stock_row(one, letters, units) for one in ring.stock]
    parts = [heading(f"Ring {ring.index}: {ring.pattern}")]
    if ring.stock:
        parts.append(table(rows, align="llrrrrr"))
    parts.append(
        note(
            "Length runs along the grain, as does the line through a letter in a picture."
            f" {units_note(units)}",
            width=PAGE_WIDTH,
        )
    )
    keys = [_key_entry(wood, letter) for wood, letter in letters.items()]
    parts.append(row(keys, gap=6.0) if _fits(keys) else column(keys, gap=2.0))
    return column(parts, gap=3.0)


def _fits(blocks: Sequence[Block]) -> bool:
    return sum(one.width + 6.0 for one in blocks) <= PAGE_WIDTH


def _stock_row(one: Stock, letters: dict[str, str], units: Units) -> tuple[str, ...]:
    sizes = (format_length(mm, units, decimals=2) for mm in (one.length, one.width, one.thickness))
    spare = str(one.spares) if one.spares else ""
    return (one.name, f"{letters[one.wood]} {one.wood}", str(one.count), spare, *sizes)


def _key_entry(wood: str, letter: str) -> Block:
    box = polygon([(0.0, 0.0), (8.0, 0.0), (8.0, 5.0), (0.0, 5.0)])
    words = Text(text=wood, at=(10.0, 1.2), height=2.5)
    wide = 10.0 + text_width(wood, 2.5)
    return Block(
        elements=(
            Stroke(outline=box, layer="note", weight=THIN, fill=look(wood).colour),
            *_letter(letter, (4.0, 2.5)),
            words,
        ),
        bounds=(0.0, 0.0, wide, 5.0),
    )


def _letter(letter: str, at: Point) -> list[Element]:
    """A letter on a ground of its own, so that it is read on a dark wood too."""
    half = max(1.7, text_width(letter, LETTER, True) / 2.0 + 0.5)
    x, y = at
    ground = polygon(
        [(x - half, y - 1.9), (x + half, y - 1.9), (x + half, y + 1.9), (x - half, y + 1.9)]
    )
    return [
        Stroke(outline=ground, layer="note", weight=HAIR, colour=None, fill="#ffffff"),
        centred(letter, at, height=LETTER, bold=True),
    ]


def _stage(number: int, stage: Stage, letters: dict[str, str], units: Units) -> Block:
    title = heading(f"{number}. {stage.title}")
    sizes = [(what, format_length(size, units, decimals=2)) for what, size in stage.sizes]
    words = [note(stage.saying.text(units), width=WORDS if stage.shapes else PAGE_WIDTH)]
    if sizes:
        words.append(table([("size", ""), *sizes], align="lr", most=WORDS))
    if not stage.shapes:
        return column([title, *words], gap=2.5)
    beside = row([_picture(stage.shapes, letters), column(words, gap=3.0)], gap=GAP)
    return column([title, beside], gap=2.5)


def _picture(shapes: Sequence[Piece], letters: dict[str, str]) -> Block:
    """The shapes to a scale that fits, with the letters of their woods and their grain."""
    boxes = [shape.outline.bounds() for shape in shapes]
    left, low = min(b[0] for b in boxes), min(b[1] for b in boxes)
    right, high = max(b[2] for b in boxes), max(b[3] for b in boxes)
    scale = next(
        (s for s in SCALES if (right - left) * s <= PICTURE and (high - low) * s <= TALLEST),
        SCALES[-1],
    )
    elements: list[Element] = []
    weight = THIN if len(shapes) <= FEW else 0.05
    for shape in shapes:
        elements.append(_drawn(shape, scale, (-left * scale, -low * scale), weight))
    elements += _marks(shapes, letters, scale, (-left * scale, -low * scale))
    wide, deep = (right - left) * scale, (high - low) * scale
    words = Text(text=_scale_words(scale), at=(0.0, -4.6), height=2.2)
    elements.append(words)
    return Block(
        elements=tuple(elements),
        bounds=(0.0, -5.6, max(PICTURE, wide), max(deep, 1.0)),
    )


def _scale_words(scale: float) -> str:
    if scale == 1.0:
        return "full size"
    if scale > 1.0:
        return f"{rounded(scale, 1).removesuffix('.0')} times as large"
    return f"1 to {rounded(1.0 / scale, 1).removesuffix('.0')}"


def _drawn(shape: Piece, scale: float, shift: Point, weight: float) -> Stroke:
    def placed(outline: Outline) -> Outline:
        return enlarged(outline, scale).mapped(shift=shift)

    return Stroke(
        outline=placed(shape.outline),
        holes=tuple(placed(hole) for hole in shape.holes),
        layer="note",
        weight=weight,
        fill=look(shape.wood).colour,
    )


def _marks(
    shapes: Sequence[Piece], letters: dict[str, str], scale: float, shift: Point
) -> list[Element]:
    """Letters on the first shapes of each wood that have room, the grain's arrow beside one."""
    found: list[Element] = []
    told: dict[str, int] = {}
    each = max(1, MOST_LETTERS // max(1, len({shape.wood for shape in shapes})))
    for shape in shapes:
        if told.get(shape.wood, 0) >= each:
            continue
        centre, room = _heart(shape)
        if room * scale < 2.1:
            continue
        at = (centre[0] * scale + shift[0], centre[1] * scale + shift[1])
        if shape.axis is not None and not told.get(shape.wood) and room * scale >= 6.0:
            found += _grain(at, shape.axis, min(room * scale - 1.0, 9.0))
        found += _letter(letters[shape.wood], at)
        told[shape.wood] = told.get(shape.wood, 0) + 1
    return found


def _grain(at: Point, axis: float, half: float) -> list[Element]:
    """A two-headed arrow along the grain, its middle left to the letter."""
    c, s = math.cos(math.radians(axis)), math.sin(math.radians(axis))
    near = 3.2
    elements: list[Element] = []
    for way in (1.0, -1.0):
        tail = (at[0] + way * near * c, at[1] + way * near * s)
        tip = (at[0] + way * half * c, at[1] + way * half * s)
        shaft = Outline((Vertex(*tail), Vertex(*tip)), closed=False)
        elements.append(Stroke(outline=shaft, layer="grain", weight=0.35, colour="#ffffff"))
        elements.append(Stroke(outline=shaft, layer="grain", weight=THIN))
    return elements


def _heart(shape: Piece) -> tuple[Point, float]:
    """A point well inside a shape, its centre if that will do, and its distance from all edges."""
    edges = [shape.outline.points(0.05), *(hole.points(0.05) for hole in shape.holes)]
    centre = _centroid(edges[0])
    room = _room(centre, edges)
    if not shape.holes and room > 0.0:
        return centre, room
    left, low, right, high = shape.outline.bounds()
    spots = [
        (left + (i + 0.5) / 9.0 * (right - left), low + (j + 0.5) / 9.0 * (high - low))
        for i in range(9)
        for j in range(9)
    ]
    return max(((spot, _room(spot, edges)) for spot in [centre, *spots]), key=lambda one: one[1])


def _centroid(points: Sequence[Point]) -> Point:
    area = x = y = 0.0
    for (ax, ay), (bx, by) in zip(points, [*points[1:], points[0]], strict=True):
        cross = ax * by - bx * ay
        area += cross
        x += (ax + bx) * cross
        y += (ay + by) * cross
    return (x / (3.0 * area), y / (3.0 * area)) if area else points[0]


def _room(at: Point, edges: Sequence[Sequence[Point]]) -> float:
    """How far a point stands from all edges; 0 where it is not inside (even-odd rule)."""
    inside, nearest = False, math.inf
    for points in edges:
        for (ax, ay), (bx, by) in zip(points, [*points[1:], points[0]], strict=True):
            dx, dy = bx - ax, by - ay
            long = dx * dx + dy * dy
            t = ((at[0] - ax) * dx + (at[1] - ay) * dy) / long if long else 0.0
            t = max(0.0, min(1.0, t))
            nearest = min(nearest, math.hypot(at[0] - ax - t * dx, at[1] - ay - t * dy))
            if (ay > at[1]) != (by > at[1]) and at[0] < ax + (at[1] - ay) / (by - ay) * dx:
                inside = not inside
    return nearest if inside else 0.0
