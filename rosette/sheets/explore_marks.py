"""The marks of the chart of a choice, and what they mean."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rosette.geometry.outline import Point
from rosette.lettering import text_width
from rosette.offcuts.explored import Row
from rosette.sheets.block import PAGE_WIDTH, Block, column, rows_of
from rosette.sheets.drawing import HAIR, MEDIUM, THIN, Circle, Element, Stroke, Text
from rosette.sheets.marks import GREY, SHORT_DASHED, centred, fitted, segment, swatch

RADIUS = 2.5
SQUARE, BETWEEN = 1.3, 0.5
MOST_SQUARES = 3
UNPROVED = (0.8, 0.5)
"""Dashes round a width that is not proved to be the widest."""


def mark(row: Row, spot: Point) -> Iterator[Element]:
    """A row's mark round a point: its number, offcuts below, spares beside."""
    x, y = spot
    best = bool(row.best)
    yield Circle(
        centre=spot,
        radius=RADIUS,
        layer="note",
        weight=MEDIUM if best else THIN,
        dashes=() if row.proved or row.at_limit else UNPROVED,
        fill="#ffffff",
        name=f"row-{row.number}",
    )
    if best:
        yield Circle(centre=spot, radius=RADIUS + 0.7, layer="note", weight=THIN)
    words, size = fitted(str(row.number), width=2.0 * RADIUS - 1.0, height=2.2, bold=best)
    yield centred(words, spot, height=size, bold=best)
    yield from _squares((x - RADIUS, y - RADIUS - 0.8 - SQUARE), row.offcuts)
    yield Text(text=f"+{row.spares}", at=(x + RADIUS + 0.9, y - 0.9), height=1.8)


def _squares(at: Point, count: int) -> Iterator[Stroke | Text]:
    """A square for each offcut; of many, one with their number."""
    x, y = at
    shown = count if count <= MOST_SQUARES else 1
    for i in range(shown):
        left = x + i * (SQUARE + BETWEEN)
        yield swatch((left, y), width=SQUARE, height=SQUARE, fill="#000000", weight=HAIR)
    if shown < count:
        yield Text(text=f"×{count}", at=(x + SQUARE + BETWEEN, y - 0.2), height=1.8)


def chart_key(rows: Sequence[Row]) -> Block:
    """What the marks mean."""
    samples: list[tuple[list[Element], str]] = [
        (_sample_circle(best=False), "a row of the table, by its number"),
        (_sample_circle(best=True), "best at something: shown below its chart"),
        (list(_squares((0.0, -0.6), 2)), "offcuts that it touches, a square each"),
        ([Text(text="+3", at=(0.0, -0.9), height=1.8)], "spares of each wood beside the ring"),
    ]
    if any(row.at_limit for row in rows):
        line = segment((0.0, 0.0), (6.0, 0.0), weight=MEDIUM, dashes=SHORT_DASHED, colour=GREY)
        samples.append(([line], "the widest that was asked for; a ring there may go wider"))
    if any(not row.proved and not row.at_limit for row in rows):
        samples.append(
            (
                _sample_circle(best=False, dashes=UNPROVED),
                "the widest found; that no wider one fits is not proved",
            )
        )
    blocks = []
    for sample, words in samples:
        text = Text(text=words, at=(9.0, -1.0), height=2.2)
        elements = (*sample, text)
        blocks.append(
            Block(elements=elements, bounds=(0.0, -3.4, 9.0 + text_width(words, 2.2), 3.4))
        )
    return column(rows_of(blocks, width=PAGE_WIDTH, gap=6.0), gap=1.0)


def _sample_circle(*, best: bool, dashes: tuple[float, ...] = ()) -> list[Element]:
    at = (RADIUS + 0.7, 0.0)
    weight = MEDIUM if best else THIN
    rings: list[Element] = [
        Circle(centre=at, radius=RADIUS, layer="note", weight=weight, dashes=dashes)
    ]
    if best:
        rings.append(Circle(centre=at, radius=RADIUS + 0.7, layer="note", weight=THIN))
    return [*rings, centred("7", at, height=2.2, bold=best)]
