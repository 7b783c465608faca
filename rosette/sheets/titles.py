"""The title block of a page: the fields of ISO 7200, with room to write in what is not known."""

from __future__ import annotations

from dataclasses import dataclass

from rosette.geometry.outline import line, polygon
from rosette.lettering import text_width
from rosette.sheets.drawing import MEDIUM, THIN, TRUE_SCALE, Element, Stroke, Text

TITLE_HEIGHT = 20.0
"""How high a title block is, in mm."""
WIDEST = 272.0
"""A title block is as wide as its page's frame, but no wider than this (mm)."""

LATER = " "
"""A field with this in it stays empty, without the rule that a blank field gets."""

_ROW = TITLE_HEIGHT / 2.0
_PAD = 1.4
_CAPTION = 1.7
_VALUE = 2.4
_SMALLEST = 1.8
_GREY = "#555555"
_WHO, _WHICH, _WHAT, _PART = 37.0, 33.0, 33.0, 24.0
"""Widths in mm of the columns owner and creator, number and date, type and sheet, part."""

SHEET_HEIGHT = 3.0
"""Height in mm of the capitals of the sheet's number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """What a title block says, after ISO 7200; what is empty is left to fill in by hand.

    `name` is the supplementary title (the instrument), `sheet` the sheet's number and how
    many there are, as in "3 / 12".
    """

    title: str = ""
    name: str = ""
    owner: str = ""
    creator: str = ""
    number: str = ""
    date: str = ""
    document_type: str = TRUE_SCALE
    sheet: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Which part of a sheet that takes several pages: its label and its place among them."""

    label: str
    row: int
    column: int
    rows: int
    columns: int


def title_block(
    block: TitleBlock, left: float, bottom: float, width: float, part: Part | None = None
) -> tuple[Element, ...]:
    """The fields and their lines, `width` mm wide, with its lower left corner at (left, bottom)."""
    right = left + width
    mine = _PART if part else 0.0
    x1 = right - _WHAT - mine
    x2 = x1 - _WHICH
    x3 = x2 - _WHO
    top = bottom + _ROW
    elements: list[Element] = [
        _rule(left, bottom + TITLE_HEIGHT, right, bottom + TITLE_HEIGHT, MEDIUM),
        _rule(left, top, right - mine, top, THIN),
        *(_rule(x, bottom, x, bottom + TITLE_HEIGHT, THIN) for x in (x1, x2, x3)),
        *_field("Title", block.title, left, top, x3 - left, height=3.2, bold=True),
        *_field("Instrument", block.name, left, bottom, x3 - left),
        *_field("Owner", block.owner, x3, top, _WHO),
        *_field("Creator", block.creator, x3, bottom, _WHO),
        *_field("Number", block.number, x2, top, _WHICH),
        *_field("Date", block.date, x2, bottom, _WHICH),
        *_field("Document type", block.document_type, x1, top, _WHAT),
        *_field("Sheet", block.sheet, x1, bottom, _WHAT, height=SHEET_HEIGHT, bold=True),
    ]
    if part:
        elements += _part_key(part, right - mine, bottom)
    return tuple(elements)


def sheet_place(
    left: float, bottom: float, width: float, *, part: bool = False
) -> tuple[float, float]:
    """Where the sheet's number starts on its baseline, for a page numbered later."""
    return left + width - _WHAT - (_PART if part else 0.0) + _PAD, bottom + _PAD + 0.4


def _rule(x0: float, y0: float, x1: float, y1: float, weight: float) -> Stroke:
    return Stroke(outline=line((x0, y0), (x1, y1)), layer="note", weight=weight)


def _field(
    caption: str,
    value: str,
    left: float,
    bottom: float,
    width: float,
    *,
    height: float = _VALUE,
    bold: bool = False,
) -> list[Element]:
    """One cell: a small caption above its value, or above a rule to write on."""
    x, room = left + _PAD, width - 2.0 * _PAD
    elements: list[Element] = [
        Text(
            text=caption,
            at=(x, bottom + _ROW - _PAD - _CAPTION),
            height=_CAPTION,
            colour=_GREY,
        )
    ]
    if not value:
        rule = line((x, bottom + _PAD + 0.4), (x + room, bottom + _PAD + 0.4))
        elements.append(Stroke(outline=rule, layer="note", weight=THIN, colour=_GREY))
        return elements
    lines, size = fitted(value.strip(), room, height, bold=bold)
    baseline = bottom + _PAD + (0.4 if len(lines) == 1 else -0.2)
    for i, words in enumerate(reversed(lines)):
        at = (x, baseline + i * 1.6 * size)
        elements.append(Text(text=words, at=at, height=size, bold=bold))
    return elements


def fitted(text: str, width: float, height: float, *, bold: bool) -> tuple[tuple[str, ...], float]:
    """Words that fit a width: smaller, then on two lines, at last cut short with "…".

    Gives the lines and their height in mm.
    """
    if not text:
        return (), height
    size = min(height, height * width / text_width(text, height, bold))
    if size >= _SMALLEST + 0.2:
        return (text,), size
    lines = _two_lines(text, width, _SMALLEST, bold)
    if len(lines) > 1:
        return lines, _SMALLEST
    return lines, min(size, height) if size >= _SMALLEST else _SMALLEST


def _two_lines(text: str, width: float, height: float, bold: bool) -> tuple[str, ...]:
    words = text.split(" ")
    count = len(words)
    while count > 1 and text_width(" ".join(words[:count]), height, bold) > width:
        count -= 1
    rest = " ".join(words[count:])
    lines = (" ".join(words[:count]), rest) if rest else (" ".join(words),)
    return tuple(_cut(one, width, height, bold) for one in lines)


def _cut(text: str, width: float, height: float, bold: bool) -> str:
    if text_width(text, height, bold) <= width:
        return text
    while text and text_width(text + "…", height, bold) > width:
        text = text[:-1]
    return text + "…"


def _part_key(part: Part, left: float, bottom: float) -> list[Element]:
    """A small map of all parts of the sheet with this one filled in."""
    across, high = _PART - 2.0 * _PAD, 9.0
    cell = min(across / part.columns, high / part.rows, 6.0)
    x0 = left + _PART / 2.0 - cell * part.columns / 2.0
    top = bottom + 6.5 + cell * part.rows / 2.0
    elements: list[Element] = [
        _rule(left, bottom, left, bottom + TITLE_HEIGHT, THIN),
        Text(
            text="Part",
            at=(left + _PAD, bottom + TITLE_HEIGHT - _PAD - _CAPTION),
            height=_CAPTION,
            colour=_GREY,
        ),
        Text(
            text=part.label,
            at=(left + _PART - _PAD, bottom + TITLE_HEIGHT - _PAD - SHEET_HEIGHT),
            height=SHEET_HEIGHT,
            anchor="right",
            bold=True,
        ),
    ]
    for row in range(part.rows):
        for column in range(part.columns):
            x, y = x0 + column * cell, top - (row + 1) * cell
            here = (row, column) == (part.row, part.column)
            corners = [(x, y), (x + cell, y), (x + cell, y + cell), (x, y + cell)]
            elements.append(
                Stroke(
                    outline=polygon(corners),
                    layer="note",
                    weight=THIN,
                    fill="#000000" if here else None,
                )
            )
    return elements
