"""The choice that a box offers, as a chart: ring width against wedges, offcuts and spares shown.

A mark is a row of the table, with its number. Below it stands a small square for every offcut it
touches, beside it its spares; nothing is told by colour alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from rosette.offcuts.explore_table import block_title, looked_at
from rosette.offcuts.explored import Exploration, Row
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    column,
    drawing_of,
    heights_split,
    rows_of,
)
from rosette.sheets.drawing import HAIR, MEDIUM, Drawing, Element, Text
from rosette.sheets.explore_marks import RADIUS, chart_key, mark
from rosette.sheets.explore_rings import small_rings
from rosette.sheets.marks import (
    GREY,
    SHORT_DASHED,
    Box,
    boxes_of,
    broken,
    fitted,
    segment,
)
from rosette.units import MM_PER_INCH, Units, format_length, nearest_fraction

AXIS = 21.0
"""Room in mm for the widths beside a panel."""
MARK_WIDTH, MARK_HEIGHT = 10.6, 7.6
"""What a mark takes with its squares and spares (mm)."""
COLUMN = 22.0
"""How wide a count's column is at the least (mm)."""
HEIGHTS = (60.0, 85.0, 115.0, 150.0, 190.0)
GAP = 6.0
LANE = 1.5
"""How far marks move aside for one another at a time (mm)."""
LIGHT = "#c9c9c9"
TITLE, PURPOSE = (
    "What this box can make",
    "The rings that the box of offcuts can make, to choose from.",
)


def choice_chart(found: Exploration, units: Units | None = None) -> Drawing:
    """The whole choice on one drawing."""
    return _drawing(column(_blocks(found, units or found.ask.units), gap=GAP), 0)


def choice_pages(found: Exploration, units: Units | None = None) -> tuple[Drawing, ...]:
    """The same, shared out over drawings that each go on a page."""
    blocks = _blocks(found, units or found.ask.units)
    pages = heights_split(blocks, height=PAGE_HEIGHT, gap=GAP)
    return tuple(_drawing(column(page, gap=GAP), i) for i, page in enumerate(pages, 1))


def _drawing(whole: Block, number: int) -> Drawing:
    name = f"choice-{number}" if number else "choice"
    return drawing_of(whole, name=name, title=TITLE, purpose=PURPOSE)


def _blocks(found: Exploration, units: Units) -> list[Block]:
    blocks = [_heading(found)]
    rows = found.choice
    for _, some in groupby(rows, key=lambda row: (row.kind.woods, row.kind.inner_radius)):
        mine = list(some)
        blocks += [_panel(part, found, units) for part in _parts(mine)]
        blocks += rows_of(small_rings(mine, found.ask, units), width=PAGE_WIDTH, gap=6.0)
    return [*blocks, chart_key(rows)]


def _heading(found: Exploration) -> Block:
    words, height = fitted(
        f"What {found.box_file or 'the box'} can make", width=PAGE_WIDTH, height=4.0, bold=True
    )
    elements: list[Element] = [Text(text=words, at=(0.0, 0.0), height=height, bold=True)]
    low = -1.5
    if found.stopped:
        told = f"Stopped early: {looked_at(found)}."
        elements.append(Text(text=told, at=(0.0, -6.0), height=2.5, bold=True))
        low = -7.0
    return Block(elements=tuple(elements), bounds=(0.0, low, PAGE_WIDTH, 4.2))


def _parts(rows: Sequence[Row]) -> list[list[Row]]:
    """Rows shared out over panels, so that every count has room for its marks."""
    counts = list(dict.fromkeys(row.kind.segments for row in rows))
    most = int((PAGE_WIDTH - AXIS) / COLUMN)
    panels = math.ceil(len(counts) / most)
    each = math.ceil(len(counts) / panels)
    return [
        [row for row in rows if row.kind.segments in counts[i : i + each]]
        for i in range(0, len(counts), each)
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scale:
    """From a ring's width to a height on the panel, both in mm."""

    low: float
    high: float
    height: float

    def y(self, width: float) -> float:
        return (width - self.low) / (self.high - self.low) * self.height


Spot = tuple[float, float]


def _panel(rows: Sequence[Row], found: Exploration, units: Units) -> Block:
    """One chart of up to a page's width; as high as its marks need to stand clear."""
    counts = list(dict.fromkeys(row.kind.segments for row in rows))
    wide = min(32.0, (PAGE_WIDTH - AXIS) / len(counts))
    step = _tick(rows, units)
    low = math.floor((min(row.width for row in rows) - 0.15 * step) / step) * step
    high = max(low + 2 * step, math.ceil(max(row.width for row in rows) / step + 1e-9) * step)
    placed: dict[int, Spot] = {}
    scale = _Scale(low=low, high=high, height=HEIGHTS[0])
    for height in HEIGHTS:
        scale = _Scale(low=low, high=high, height=height)
        placed = _placed(rows, counts, wide, scale)
        if len(placed) == len(rows):
            break
    right = AXIS + wide * len(counts)
    marks = [one for row in rows if row.number in placed for one in mark(row, placed[row.number])]
    clear = [*boxes_of(marks), *(_box(spot) for spot in placed.values())]
    elements = [
        *_axes(rows[0], counts, wide, scale, units),
        *_levels(scale, step, right, clear, units),
        *_limit(found, scale, right, clear),
        *marks,
    ]
    top, bottom = scale.height + MARK_HEIGHT + 7.0, -13.5
    left_out = [str(row.number) for row in rows if row.number not in placed]
    if left_out:
        told, height = fitted(
            f"No room for the rows {', '.join(left_out)}: see the table.",
            width=PAGE_WIDTH,
            height=2.2,
        )
        elements.append(Text(text=told, at=(0.0, bottom - 3.0), height=height))
        bottom -= 5.0
    return Block(elements=tuple(elements), bounds=(0.0, bottom, PAGE_WIDTH, top))


def _tick(rows: Sequence[Row], units: Units) -> float:
    """Widths between the lines of a chart: round in the reader's units, at most nine lines."""
    span = max(row.width for row in rows) - min(row.width for row in rows)
    unit = MM_PER_INCH / 16.0 if units == "in" else 1.0
    return next(unit * by for by in (1, 2, 4, 5, 8, 10, 20, 40) if span / (unit * by) <= 8.0)


def _placed(
    rows: Sequence[Row], counts: Sequence[int], wide: float, scale: _Scale
) -> dict[int, Spot]:
    """Where marks stand: at their width, beside one another where they would meet."""
    placed: dict[int, Spot] = {}
    for number, count in enumerate(counts):
        lanes = max(1, int((wide - MARK_WIDTH) / LANE) + 1)
        if max(map(len, _together(rows, count, scale))) == 1:
            lanes = 1
        left = AXIS + wide * (number + 0.5) - (MARK_WIDTH + LANE * (lanes - 1)) / 2.0
        spots: list[Spot] = []
        mine = [row for row in rows if row.kind.segments == count]
        for row in sorted(mine, key=lambda row: (row.offcuts, -row.width)):
            y = scale.y(row.width)
            for lane in range(lanes):
                x = left + RADIUS + 1.0 + LANE * lane
                if all(abs(x - a) >= MARK_WIDTH or abs(y - b) >= MARK_HEIGHT for a, b in spots):
                    spots.append((x, y))
                    placed[row.number] = (x, y)
                    break
    return placed


def _together(rows: Sequence[Row], count: int, scale: _Scale) -> list[list[float]]:
    """The heights of a count's marks, those together that would meet in one lane."""
    groups: list[list[float]] = [[]]
    for y in sorted(scale.y(row.width) for row in rows if row.kind.segments == count):
        if groups[-1] and y - groups[-1][-1] >= MARK_HEIGHT:
            groups.append([])
        groups[-1].append(y)
    return groups


def _box(spot: Spot) -> list[Spot]:
    """The square round a mark."""
    x, y = spot
    r = RADIUS + 0.9
    return [(x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r)]


def _axes(
    row: Row, counts: Sequence[int], wide: float, scale: _Scale, units: Units
) -> Iterator[Element]:
    right = AXIS + wide * len(counts)
    words, size = fitted(block_title(row, units), width=PAGE_WIDTH, height=3.0, bold=True)
    top = scale.height + MARK_HEIGHT
    yield Text(text=words, at=(0.0, top + 3.0), height=size, bold=True)
    for number, count in enumerate(counts):
        x = AXIS + wide * number
        yield segment((x, -4.5), (x, top), weight=HAIR, colour=GREY)
        yield Text(
            text=str(count), at=(x + wide / 2.0, -8.5), height=2.8, anchor="middle", bold=True
        )
    yield segment((right, -4.5), (right, top), weight=HAIR, colour=GREY)
    yield Text(text="wedges", at=((AXIS + right) / 2.0, -12.6), height=2.2, anchor="middle")
    yield Text(
        text="ring width", at=(2.6, scale.height / 2.0), height=2.2, anchor="middle", turn=90.0
    )


def _levels(
    scale: _Scale, step: float, right: float, clear: Sequence[Box], units: Units
) -> Iterator[Element]:
    for i in range(round((scale.high - scale.low) / step) + 1):
        width = scale.low + i * step
        y = scale.y(width)
        for a, b in broken((AXIS, y), (right, y), clear):
            yield segment(a, b, weight=HAIR, colour=LIGHT)
        told = format_length(width, "mm", decimals=1)
        if units == "in":
            told = f"{nearest_fraction(width)} in"
        yield Text(text=told, at=(AXIS - 1.5, y - 1.1), height=2.2, anchor="right")


def _limit(
    found: Exploration, scale: _Scale, right: float, clear: Sequence[Box]
) -> Iterator[Element]:
    """The widest that was asked for, where the chart reaches it."""
    widest = found.ask.widest
    if scale.low < widest <= scale.high + 1e-6:
        y = scale.y(widest)
        for a, b in broken((AXIS, y), (right, y), clear):
            yield segment(a, b, weight=MEDIUM, dashes=SHORT_DASHED, colour=GREY)
