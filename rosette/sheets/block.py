"""Blocks of a sheet: elements and the room they take, so that they can be set out side by side.

Everything is in mm, y up. A block's own coordinates don't matter: layout moves it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import permutations

from rosette.geometry.outline import Outline, Point, Vertex
from rosette.lettering import text_width
from rosette.sheets.drawing import TRUE_SCALE, Circle, Drawing, Element, Stroke, Text, Window

Bounds = tuple[float, float, float, float]

PAGE_WIDTH = 180.0
"""What a sheet's blocks may be wide in mm to stand on one A4 or Letter page."""
PAGE_HEIGHT = 230.0
"""What a sheet's blocks may be high in mm to stand on one A4 or Letter page."""

DESCENT = 0.3
"""How far letters hang below their baseline, as a share of a capital's height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Elements and the rectangle (left, bottom, right, top) that they take."""

    elements: tuple[Element, ...]
    bounds: Bounds

    @property
    def width(self) -> float:
        """Right less left."""
        return self.bounds[2] - self.bounds[0]

    @property
    def height(self) -> float:
        """Top less bottom."""
        return self.bounds[3] - self.bounds[1]

    def at(self, left: float, top: float) -> Block:
        """The same block with its upper left corner at (left, top)."""
        dx, dy = left - self.bounds[0], top - self.bounds[3]
        x0, y0, x1, y1 = self.bounds
        return Block(
            elements=moved(self.elements, (dx, dy)), bounds=(x0 + dx, y0 + dy, x1 + dx, y1 + dy)
        )


def block(elements: Iterable[Element], *, margin: float = 0.0) -> Block:
    """A block just large enough for its elements and a margin round them."""
    kept = tuple(elements)
    x0, y0, x1, y1 = extent(kept)
    return Block(elements=kept, bounds=(x0 - margin, y0 - margin, x1 + margin, y1 + margin))


def moved(elements: Iterable[Element], shift: Point) -> tuple[Element, ...]:
    """The elements shifted by (dx, dy)."""
    return tuple(_moved(element, shift) for element in elements)


def _moved(element: Element, shift: Point) -> Element:
    dx, dy = shift
    if isinstance(element, Stroke):
        return replace(
            element,
            outline=element.outline.mapped(shift=shift),
            holes=tuple(hole.mapped(shift=shift) for hole in element.holes),
        )
    if isinstance(element, Circle):
        return replace(element, centre=(element.centre[0] + dx, element.centre[1] + dy))
    if isinstance(element, Text):
        return replace(element, at=(element.at[0] + dx, element.at[1] + dy))
    x0, y0, x1, y1 = element.frame
    return Window(
        elements=element.elements,
        shift=(element.shift[0] + dx, element.shift[1] + dy),
        frame=(x0 + dx, y0 + dy, x1 + dx, y1 + dy),
    )


def enlarged(outline: Outline, scale: float) -> Outline:
    """An outline drawn `scale`:1 about the origin."""
    return Outline(
        tuple(Vertex(x * scale, y * scale, bulge) for x, y, bulge in outline.vertices),
        outline.closed,
    )


def text_corners(text: Text) -> tuple[Point, Point, Point, Point]:
    """The four corners of the rectangle that a line of words takes, descenders included."""
    wide = text_width(text.text, text.height, text.bold)
    left = {"left": 0.0, "middle": -wide / 2.0, "right": -wide}[text.anchor]
    c, s = math.cos(math.radians(text.turn)), math.sin(math.radians(text.turn))
    x, y = text.at

    def corner(u: float, v: float) -> Point:
        return x + c * u - s * v, y + s * u + c * v

    low, high = -DESCENT * text.height, text.height
    return (
        corner(left, low),
        corner(left + wide, low),
        corner(left + wide, high),
        corner(left, high),
    )


def extent(elements: Iterable[Element]) -> Bounds:
    """The rectangle (left, bottom, right, top) that elements take."""
    boxes = [_extent(element) for element in elements]
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def _extent(element: Element) -> Bounds:
    if isinstance(element, Stroke):
        return element.outline.bounds()
    if isinstance(element, Circle):
        (x, y), r = element.centre, element.radius
        return x - r, y - r, x + r, y + r
    if isinstance(element, Text):
        corners = text_corners(element)
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        return min(xs), min(ys), max(xs), max(ys)
    return element.frame


def column(blocks: Sequence[Block], *, gap: float = 5.0) -> Block:
    """Blocks one below the other, their left sides in line."""
    placed: list[Block] = []
    top = 0.0
    for one in blocks:
        placed.append(one.at(0.0, top))
        top -= one.height + gap
    return _joined(placed)


def row(blocks: Sequence[Block], *, gap: float = 8.0) -> Block:
    """Blocks side by side, their tops in line."""
    placed: list[Block] = []
    left = 0.0
    for one in blocks:
        placed.append(one.at(left, 0.0))
        left += one.width + gap
    return _joined(placed)


def rows_of(blocks: Sequence[Block], *, width: float = PAGE_WIDTH, gap: float = 8.0) -> list[Block]:
    """Blocks side by side as long as they fit in `width`, then on the next row."""
    lines: list[list[Block]] = []
    used = 0.0
    for one in blocks:
        if lines and used + gap + one.width <= width:
            lines[-1].append(one)
            used += gap + one.width
        else:
            lines.append([one])
            used = one.width
    return [row(line, gap=gap) for line in lines]


def tightest(
    blocks: Sequence[Block], *, width: float = PAGE_WIDTH, gap: float = 8.0
) -> tuple[Block, ...]:
    """A few blocks in the order in which `rows_of` takes the least height; the first stays first.

    Of orders that take the same the one nearest to the given; more than seven blocks stay as
    they are.
    """
    if not 2 < len(blocks) <= 7:
        return tuple(blocks)
    orders = ((blocks[0], *rest) for rest in permutations(blocks[1:]))
    return min(orders, key=lambda order: round(_stacked_height(order, width, gap), 6))


def _stacked_height(order: Sequence[Block], width: float, gap: float) -> float:
    """What `rows_of` would take, told without setting anything out."""
    total, tall, used = 0.0, 0.0, width
    for one in order:
        if used + gap + one.width <= width:
            tall, used = max(tall, one.height), used + gap + one.width
        else:
            total, tall, used = total + tall + gap, one.height, one.width
    return total + tall


def flow(
    blocks: Sequence[Block], *, width: float = PAGE_WIDTH, gap: float = 8.0, lead: float = 6.0
) -> Block:
    """`rows_of` blocks, one row below the other."""
    return column(rows_of(blocks, width=width, gap=gap), gap=lead)


def lowest(*blocks: Block) -> Block:
    """The block that takes the least height; the first of equals."""
    return min(blocks, key=lambda one: one.height)


def _joined(placed: Sequence[Block]) -> Block:
    return Block(
        elements=tuple(element for one in placed for element in one.elements),
        bounds=(
            min(one.bounds[0] for one in placed),
            min(one.bounds[1] for one in placed),
            max(one.bounds[2] for one in placed),
            max(one.bounds[3] for one in placed),
        ),
    )


def heights_split(blocks: Sequence[Block], *, height: float, gap: float) -> list[list[Block]]:
    """Blocks in order, shared out so that each column of them is no higher than `height`."""
    sheets: list[list[Block]] = []
    used = 0.0
    for one in blocks:
        if sheets and used + gap + one.height <= height:
            sheets[-1].append(one)
            used += gap + one.height
        else:
            sheets.append([one])
            used = one.height
    return sheets


def drawing_of(
    whole: Block, *, name: str, title: str, purpose: str, document_type: str = TRUE_SCALE
) -> Drawing:
    """A sheet of one block, with 2 mm of air round it."""
    placed = whole.at(2.0, -2.0)
    x0, y0, x1, y1 = placed.bounds
    return Drawing(
        name=name,
        title=title,
        purpose=purpose,
        bounds=(x0 - 2.0, y0 - 2.0, x1 + 2.0, y1 + 2.0),
        elements=placed.elements,
        document_type=document_type,
    )
