"""The box of offcuts as a picture: every piece to one scale, its grain, defects, name and wood."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from rosette.geometry.outline import Point, polygon
from rosette.lettering import text_width
from rosette.offcuts.box import Box, BoxOffcut
from rosette.offcuts.box_table import area, area_words, clear_circle, size
from rosette.sheets import key
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    block,
    column,
    drawing_of,
    enlarged,
    heights_split,
    rows_of,
)
from rosette.sheets.drawing import HAIR, MEDIUM, THIN, Drawing, Element, Stroke, Text
from rosette.sheets.marks import arrow, centred, fitted, swatch, upright
from rosette.sheets.saw_pictures import scale_text
from rosette.sheets.scaled import scaled_rows
from rosette.sheets.table import heading, note
from rosette.units import Units, number_in
from rosette.wood.looks import look, mixed, wood_letters

MOST_ON_A_PAGE = 0.2
"""The scale of a box that takes more than one page whatever its scale."""
BAD = "#8d857c"
GAP, BETWEEN = 6.0, 8.0
CAPTION = 26.0
"""Least width of a piece's words (mm)."""
ARROW = 14.0


def inventory(box: Box, units: Units | None = None) -> Drawing:
    """The whole box in one drawing, as high as it needs."""
    head, rows = _parts(box, units or box.units)
    return drawing_of(
        column([head, *rows], gap=GAP),
        name="offcuts",
        title="The box of offcuts",
        purpose="Every offcut of the box to one scale, with its grain, defects, wood and size.",
    )


def inventory_pages(box: Box, units: Units | None = None) -> tuple[Drawing, ...]:
    """The same in parts that each stand on one page."""
    head, rows = _parts(box, units or box.units)
    pages = heights_split([head, *rows], height=PAGE_HEIGHT, gap=GAP)
    return tuple(
        drawing_of(
            column(page, gap=GAP),
            name=f"offcuts-{number}",
            title="The box of offcuts",
            purpose="Offcuts of the box to one scale, with their grain, defects, wood and size.",
        )
        for number, page in enumerate(pages, start=1)
    )


def _parts(box: Box, units: Units) -> tuple[Block, list[Block]]:
    """What stands above, and the rows of pieces at the largest scale at which they fit a page."""
    letters = wood_letters(one.wood for one in box.offcuts)

    def cells(scale: float) -> list[Block]:
        return [_cell(one, letters[one.wood], scale, units) for one in box.offcuts]

    scale, rows = scaled_rows(
        cells,
        above=lambda scale: _head(letters, scale).height,
        width=PAGE_WIDTH,
        between=BETWEEN,
        gap=GAP,
        many=MOST_ON_A_PAGE,
    )
    return _head(letters, scale), rows


def _head(letters: Mapping[str, str], scale: float) -> Block:
    entries = [
        key.Entry(_wood_sample(wood, letter), f"{letter}: {wood}")
        for wood, letter in letters.items()
    ]
    entries += [
        key.Entry(_bad_sample, "knot, crack or stain: no wedge is cut from it"),
        key.Entry(lambda y: list(arrow((1.0, y), (11.0, y), layer="grain")), "grain"),
    ]
    told = note(
        f"Drawn {scale_text(scale)}. Below each: its name, how many there are of it, its wood and"
        " thickness, how far it reaches along and across its grain, its usable area.",
        PAGE_WIDTH,
        size=2.2,
    )
    return column([heading("The box of offcuts"), told, _keys(entries)], gap=3.0)


def _keys(entries: Sequence[key.Entry]) -> Block:
    half = (len(entries) + 1) // 2
    sides = [
        key.key_block(title, part, width=86.0)
        for title, part in (("Woods and marks", entries[:half]), (" ", entries[half:]))
        if part
    ]
    return column(rows_of(sides, width=PAGE_WIDTH, gap=6.0), gap=2.0)


def _wood_sample(wood: str, letter: str) -> key.Sample:
    def sample(y: float) -> list[Element]:
        ground = swatch((0.0, y - 1.7), width=key.SAMPLE, height=3.4, fill=_ground(wood))
        return [ground, centred(letter, (key.SAMPLE / 2.0, y), height=2.2, bold=True)]

    return sample


def _bad_sample(y: float) -> list[Element]:
    return [swatch((0.0, y - 1.4), width=key.SAMPLE, height=2.8, fill=BAD, weight=HAIR)]


def _ground(wood: str) -> str:
    """A wood's colour, so pale that words stand out on it."""
    return mixed(look(wood).colour, "#ffffff", 0.55)


def _cell(one: BoxOffcut, letter: str, scale: float, units: Units) -> Block:
    """One piece with its words below."""
    wood = Stroke(
        outline=enlarged(polygon(one.outline), scale),
        holes=tuple(enlarged(polygon(ring), scale) for ring in one.holes),
        layer="note",
        weight=MEDIUM,
        fill=_ground(one.wood),
        name=one.id,
    )
    holes = [
        Stroke(outline=enlarged(polygon(ring), scale), layer="note", weight=MEDIUM)
        for ring in one.holes
    ]
    bad = [
        Stroke(outline=enlarged(polygon(ring), scale), layer="note", weight=THIN, fill=BAD)
        for ring in one.defects
    ]
    marks = _marks(one, letter, scale)
    drawn = block([wood, *holes, *bad, *marks])
    return column([drawn, _caption(one, letter, max(drawn.width, CAPTION), units)], gap=1.6)


def _marks(one: BoxOffcut, letter: str, scale: float) -> list[Element]:
    """The grain's arrow through the widest clear spot, the wood's letter beside it."""
    (x, y), radius = clear_circle(one)
    x, y, radius = x * scale, y * scale, radius * scale
    half = min(ARROW / 2.0, max(0.9 * radius, 1.5))
    c, s = math.cos(math.radians(one.grain)), math.sin(math.radians(one.grain))
    roomy = radius > 4.2
    aside = 1.9 if roomy else 0.0

    def at(along: float, beside: float) -> Point:
        return x + c * along - s * beside, y + s * along + c * beside

    head = min(2.0, half)
    marks: list[Element] = [*arrow(at(-half, -aside), at(half, -aside), layer="grain", head=head)]
    if roomy:
        turn = upright(one.grain)
        marks.append(centred(letter, at(0.0, aside), height=2.6, turn=turn, bold=True))
    return marks


def _caption(one: BoxOffcut, letter: str, width: float, units: Units) -> Block:
    along, across = size(one)
    places = 1 if units == "in" else 0
    reach = " × ".join(number_in(value, units, decimals=places) for value in (along, across))
    name = f"{one.id}  × {one.count}" if one.count > 1 else one.id
    # What was measured is never cut short; a name may be.
    lines = [
        (name, 2.8, True),
        (f"{letter}, {number_in(one.thickness, units)} {units} thick", 2.0, False),
        (f"{reach} {units}, {area_words(area(one), units)}", 2.0, False),
    ]
    width = max(width, *(text_width(words, height) for words, height, _ in lines[1:]))
    parts: list[Element] = []
    top, widest = 0.0, 0.0
    for words, height, bold in lines:
        shown, fits = fitted(words, width=width, height=height, bold=bold)
        top -= fits
        parts.append(Text(text=shown, at=(0.0, top), height=fits, bold=bold))
        top -= 1.3
        widest = max(widest, block(parts).width)
    return Block(elements=tuple(parts), bounds=(0.0, top, widest, 0.0))
