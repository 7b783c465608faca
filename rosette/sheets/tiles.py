"""Parts of a drawing that is larger than its paper, and the marks that join them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosette.geometry.outline import Point, line
from rosette.sheets.drawing import THIN, Circle, Element, Stroke, Text

OVERLAP = 10.0
"""How much in mm two neighbouring parts show of the same drawing; the join runs down its middle."""

_GREY = "#444444"
_TARGET = 2.0
_CROP = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One part: its row from the top, its column from the left, and what it shows of the drawing.

    `frame` is left, bottom, right, top in the drawing's coordinates (mm).
    """

    row: int
    column: int
    frame: tuple[float, float, float, float]

    @property
    def label(self) -> str:
        """A letter a row and a number a column: A1 is the upper left part.

        >>> Tile(row=1, column=2, frame=(0, 0, 1, 1)).label
        'B3'
        """
        letters, row = "", self.row
        while row >= 0:
            letters = chr(ord("A") + row % 26) + letters
            row = row // 26 - 1
        return f"{letters}{self.column + 1}"

    def owns(self, points: Sequence[Point], parts: Sequence[Tile]) -> bool:
        """Whether what spans these points is whole here, or reaches past a join into this part."""
        left, bottom, right, top = self.frame
        xs, ys = [x for x, _ in points], [y for _, y in points]
        if left <= min(xs) and max(xs) <= right and bottom <= min(ys) and max(ys) <= top:
            return True
        beside = {(one.row - self.row, one.column - self.column) for one in parts}
        join = OVERLAP / 2.0
        left += join if (0, -1) in beside else 0.0
        right -= join if (0, 1) in beside else 0.0
        bottom += join if (1, 0) in beside else 0.0
        top -= join if (-1, 0) in beside else 0.0
        return min(xs) < right and max(xs) > left and min(ys) < top and max(ys) > bottom


def tiles(
    bounds: tuple[float, float, float, float], across: float, high: float
) -> tuple[Tile, ...]:
    """Parts of equal size, none larger than `across` × `high` mm, row by row from the top.

    >>> [tile.label for tile in tiles((0, 0, 300, 100), 160, 200)]
    ['A1', 'A2']
    """
    left, bottom, right, top = bounds
    columns = list(_spans(right - left, across))
    rows = list(_spans(top - bottom, high))
    return tuple(
        Tile(row=i, column=j, frame=(left + x0, top - y1, left + x1, top - y0))
        for i, (y0, y1) in enumerate(rows)
        for j, (x0, x1) in enumerate(columns)
    )


def _spans(length: float, longest: float) -> Iterator[tuple[float, float]]:
    """Equal spans that cover a length, each overlapping the next."""
    count = max(1, math.ceil((length - OVERLAP) / (longest - OVERLAP) - 1e-9))
    span = (length + (count - 1) * OVERLAP) / count
    for i in range(count):
        start = i * (span - OVERLAP)
        yield start, start + span


def join_marks(tile: Tile, parts: tuple[Tile, ...], shift: Point) -> tuple[Element, ...]:
    """Crop marks at the part's corners, and join lines with targets and words at its neighbours.

    The lower or right-hand part is trimmed along the join line and laid over the other, target on
    target. `shift` moves the drawing's coordinates to the page's.
    """
    by_place = {(one.row, one.column): one for one in parts}
    elements: list[Element] = list(_crop_marks(tile, shift))
    for row, column in ((0, 1), (1, 0), (0, -1), (-1, 0)):
        neighbour = by_place.get((tile.row + row, tile.column + column))
        if neighbour:
            elements += _join(tile, neighbour, shift)
    return tuple(elements)


def _crop_marks(tile: Tile, shift: Point) -> Iterator[Element]:
    left, bottom, right, top = tile.frame
    for x, outward in ((left, -1.0), (right, 1.0)):
        for y, upward in ((bottom, -1.0), (top, 1.0)):
            yield _rule((x + outward, y), (x + outward * _CROP, y), shift)
            yield _rule((x, y + upward), (x, y + upward * _CROP), shift)


def _join(tile: Tile, other: Tile, shift: Point) -> Iterator[Element]:
    """The join line to one neighbour, two targets on it and what to do there."""
    left, bottom, right, top = tile.frame
    beside = tile.row == other.row
    first, second = sorted((tile, other), key=lambda one: (one.row, one.column))
    middle = (
        (first.frame[2] + second.frame[0]) / 2.0
        if beside
        else (first.frame[1] + second.frame[3]) / 2.0
    )
    low, high = (bottom, top) if beside else (left, right)

    def at(along: float) -> Point:
        return (middle, along) if beside else (along, middle)

    yield _rule(at(low), at(high), shift, dashes=(4.0, 2.0))
    for count, share in ((1, 0.2), (2, 0.8)):
        x, y = at(low + share * (high - low))
        for dx, dy in ((1.6 * _TARGET, 0.0), (0.0, 1.6 * _TARGET)):
            yield _rule((x - dx, y - dy), (x + dx, y + dy), shift)
        yield Circle(
            centre=(x + shift[0], y + shift[1]),
            radius=_TARGET,
            layer="note",
            weight=THIN,
            colour=_GREY,
            name=f"join-{first.label}-{second.label}-{count}",
        )
    yield _words(tile, other, beside=beside, trimmed=tile is second, shift=shift)


def _words(tile: Tile, other: Tile, *, beside: bool, trimmed: bool, shift: Point) -> Text:
    """What to do at a join, in the margin outside the part."""
    left, bottom, right, top = tile.frame
    text = (
        f"Cut along the dashed line and lay this edge over {other.label}, target on target"
        if trimmed
        else f"Lay {other.label} over this edge up to the dashed line, target on target"
    )
    out = 1.6
    height = 2.0
    if beside:
        x = left - out if trimmed else right + out + height
        at, turn = (x, (bottom + top) / 2.0), 90.0
    else:
        y = top + out if trimmed else bottom - out - height
        at, turn = ((left + right) / 2.0, y), 0.0
    return Text(
        text=text,
        at=(at[0] + shift[0], at[1] + shift[1]),
        height=height,
        anchor="middle",
        turn=turn,
        colour=_GREY,
    )


def _rule(a: Point, b: Point, shift: Point, dashes: tuple[float, ...] = ()) -> Stroke:
    dx, dy = shift
    return Stroke(
        outline=line((a[0] + dx, a[1] + dy), (b[0] + dx, b[1] + dy)),
        layer="note",
        weight=THIN,
        colour=_GREY,
        dashes=dashes,
    )
