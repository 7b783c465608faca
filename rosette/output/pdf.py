"""A document as one PDF: drawings at true scale, pages of words, all in the same frame."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from itertools import zip_longest
from typing import Any

from rosette.lettering import FAMILY, font_size, text_width
from rosette.output.document import (
    Block,
    Caution,
    Document,
    Figure,
    Heading,
    Paragraph,
    SheetPages,
    Table,
    TextPages,
    Tick,
)
from rosette.output.parts import printable
from rosette.output.svg import svg_to_typeset
from rosette.output.typeset import typeset
from rosette.sheets.drawing import Drawing
from rosette.sheets.frame import LATER, empty_page, pages, paper_size, room, sheet_spot
from rosette.sheets.titles import SHEET_HEIGHT, TitleBlock

PADDING = 8.0
"""Room between the frame and the words of a text page, in mm."""

CELL_HEIGHT = 2.9
"""Height of the capitals in a table, in mm, and a little to spare."""

CELL_PADDING = 6.0
"""Room beside the words of a cell, both sides together, in mm."""

WHOLE_LINES = 14
"""A table with no more lines of words than this stays on one page."""


def pdf_bytes(document: Document, block: TitleBlock) -> bytes:
    """The whole file, the same bytes for the same document.

    `block` says what is the same on every page; each part puts in its own title, and the
    sheets are numbered here.

    Raises:
        InputError: the document's paper is not known.
    """
    width, height = paper_size(document.paper)
    block = replace(block, sheet=LATER)
    parts = [
        one
        for part in document.parts
        for one in (
            _sheet_pages(part, document.paper, block)
            if isinstance(part, SheetPages)
            else [_text_pages(part, width, height, block)]
        )
    ]
    return typeset(
        "packet.typ",
        {
            "title": printable(document.title),
            "author": printable(block.creator),
            "family": FAMILY,
            "sheet_size": font_size(SHEET_HEIGHT),
            "width": width,
            "height": height,
            "parts": parts,
        },
    )


def _sheet_pages(part: SheetPages, paper: str, block: TitleBlock) -> list[dict[str, Any]]:
    made = pages(part.drawing, paper, block)
    return [
        _page(page, part=len(made) > 1)
        | {"kind": "sheet", "bookmark": "" if i else printable(part.drawing.title)}
        for i, page in enumerate(made)
    ]


def _text_pages(part: TextPages, width: float, height: float, block: TitleBlock) -> dict[str, Any]:
    titled = replace(block, title=part.title, document_type="Instructions")
    left, bottom, right, top = room(width, height)
    margin = {
        "left": left + PADDING,
        "right": width - right + PADDING,
        "top": height - top + PADDING,
        "bottom": bottom + PADDING,
    }
    inside = (right - left - 2.0 * PADDING, top - bottom - 2.0 * PADDING)
    return _page(empty_page(width, height, titled)) | {
        "kind": "text",
        "margin": margin,
        "blocks": [
            _block(one, inside) | {"sticky": isinstance(one, Caution) and isinstance(after, Tick)}
            for one, after in zip_longest(part.blocks, part.blocks[1:])
        ],
    }


def _page(page: Drawing, *, part: bool = False) -> dict[str, Any]:
    x, y = sheet_spot(page.width, page.height, part=part)
    return {
        "svg": svg_to_typeset(page),
        "width": page.width,
        "height": page.height,
        "spot": {"x": x, "y": page.height - y},
    }


def _block(block: Block, inside: tuple[float, float]) -> dict[str, Any]:
    match block:
        case Heading():
            return {"kind": "heading", "text": printable(block.text), "level": block.level}
        case Paragraph():
            return {"kind": "paragraph", "text": printable(block.text)}
        case Caution():
            return {"kind": "caution", "text": printable(block.text)}
        case Tick():
            return {"kind": "tick", "text": printable(block.text)}
        case Table():
            return _table(block, inside[0])
        case Figure():
            return _figure(block, inside)


def _table(table: Table, room: float) -> dict[str, Any]:
    rows = [[printable(cell) for cell in row] for row in table.rows]
    columns = max(len(row) for row in rows)
    rows = [row + [""] * (columns - len(row)) for row in rows]
    widths = _widths([[row[i] for row in rows] for i in range(columns)], room)
    lines = sum(max(map(_lines, row, widths)) for row in rows)
    return {
        "kind": "table",
        "align": list(table.align.ljust(columns, "l")[:columns]),
        "head": rows[0],
        "rows": rows[1:],
        "widths": widths,
        "whole": lines <= WHOLE_LINES,
    }


def _lines(cell: str, width: float) -> int:
    """About how many lines a cell's words take."""
    return math.ceil(text_width(cell, CELL_HEIGHT) / max(width - CELL_PADDING, 1.0)) or 1


def _widths(columns: list[list[str]], room: float) -> list[float]:
    """How wide each column is in mm: as its longest cell needs, or less where room is short.

    Where the heads alone make it too wide they are broken into lines. Short columns keep what
    they need; the long ones share what is left.
    """
    needed = [_column_width(cells) for cells in columns]
    if sum(needed) <= room:
        return needed
    least = [_column_width([*cells[0].split(), *cells[1:]]) for cells in columns]
    if sum(least) <= room:
        share = (room - sum(least)) / (sum(needed) - sum(least))
        return [low + share * (high - low) for low, high in zip(least, needed, strict=True)]
    widths = dict.fromkeys(range(len(needed)), 0.0)
    left, open_columns = room, sorted(widths, key=lambda i: needed[i])
    while open_columns:
        fair = left / len(open_columns)
        i = open_columns.pop(0)
        widths[i] = min(needed[i], fair)
        left -= widths[i]
    return list(widths.values())


def _column_width(cells: Iterable[str]) -> float:
    """What a column takes for its longest cell to stand on one line, in mm."""
    return max(text_width(cell, CELL_HEIGHT, bold=True) for cell in cells) + CELL_PADDING


def _figure(figure: Figure, inside: tuple[float, float]) -> dict[str, Any]:
    """A drawing among the words, made smaller where the page does not hold it."""
    drawing = figure.drawing
    scale = min(figure.width / drawing.width, inside[0] / drawing.width, inside[1] / drawing.height)
    return {
        "kind": "figure",
        "svg": svg_to_typeset(drawing),
        "width": drawing.width * scale,
        "height": drawing.height * scale,
    }
