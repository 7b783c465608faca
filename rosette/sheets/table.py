"""Ruled tables, wrapped notes and boxed cautions as blocks of a sheet (mm, layer `note`)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rosette.geometry.outline import line, polygon
from rosette.lettering import text_width
from rosette.sheets.block import PAGE_WIDTH, Block
from rosette.sheets.drawing import MEDIUM, THICK, THIN, Anchor, Element, Stroke, Text

SIZE = 2.4
"""Height of a capital in tables and notes."""
SMALLEST = 2.0
"""Smallest lettering of a table that has to be made narrower."""
LINE = 1.75
"""Distance between the baselines of a note, in capitals."""
PAD = 1.6
"""Room at each side of a cell."""

_ANCHORS: dict[str, Anchor] = {"l": "left", "c": "middle", "r": "right"}


def table(
    rows: Sequence[Sequence[str]],
    *,
    align: str = "",
    size: float = SIZE,
    head: bool = True,
    bold_first: bool = False,
    most: float = PAGE_WIDTH,
    smallest: float = SMALLEST,
) -> Block:
    """A ruled table; columns as wide as their words ask. `align` is one of l, c, r a column.

    The first row is its head unless `head` is false; `bold_first` makes the first column bold.
    A table wider than `most` is lettered smaller, down to `smallest`, and then its widest column
    of words is broken into lines.
    """
    columns = list(zip(*rows, strict=True))
    aligned = align or "l" * len(columns)
    bold = [
        [(head and i == 0) or (bold_first and j == 0) for j in range(len(columns))]
        for i in range(len(rows))
    ]
    natural = sum(_column_widths(rows, size, bold))
    size = max(min(size, size * most / natural), min(size, smallest))
    widths = _column_widths(rows, size, bold)
    if sum(widths) > most + 1e-6:
        words = max(
            (j for j, way in enumerate(aligned) if way == "l"), key=lambda j: widths[j], default=0
        )
        widths[words] = max(most - sum(widths) + widths[words], 12.0)
    return _ruled(rows, widths, aligned, bold, size=size, head=head)


def _column_widths(
    rows: Sequence[Sequence[str]], size: float, bold: Sequence[Sequence[bool]]
) -> list[float]:
    return [
        max(text_width(cell, size, bold[i][j]) for i, cell in enumerate(cells)) + 2.0 * PAD
        for j, cells in enumerate(zip(*rows, strict=True))
    ]


def _ruled(
    rows: Sequence[Sequence[str]],
    widths: list[float],
    align: str,
    bold: Sequence[Sequence[bool]],
    *,
    size: float,
    head: bool,
) -> Block:
    edges = [sum(widths[:j]) for j in range(len(widths) + 1)]
    parts: list[Element] = []
    top = 0.0
    for i, cells in enumerate(rows):
        lines = [
            wrapped(cell, widths[j] - 2.0 * PAD + 1e-6, size=size, bold=bold[i][j])
            for j, cell in enumerate(cells)
        ]
        if i:
            parts.append(_rule((0.0, top), (edges[-1], top), MEDIUM if head and i == 1 else THIN))
        for j, cell in enumerate(lines):
            x, anchor = _stand(edges[j], edges[j + 1], align[j])
            parts.extend(
                Text(
                    text=words,
                    at=(x, top - size * 1.6 - size * LINE * k),
                    height=size,
                    anchor=anchor,
                    bold=bold[i][j],
                )
                for k, words in enumerate(cell)
            )
        top -= size * 2.2 + size * LINE * (max(1, *(len(cell) for cell in lines)) - 1)
    parts.extend(_rule((x, 0.0), (x, top), THIN) for x in edges[1:-1])
    parts.append(_frame(edges[-1], -top, MEDIUM))
    return Block(elements=tuple(parts), bounds=(0.0, top, edges[-1], 0.0))


def _stand(left: float, right: float, align: str) -> tuple[float, Anchor]:
    """Where the words of a cell stand, and by which end."""
    x = {"l": left + PAD, "c": (left + right) / 2.0, "r": right - PAD}[align]
    return x, _ANCHORS[align]


def _rule(a: tuple[float, float], b: tuple[float, float], weight: float) -> Stroke:
    return Stroke(outline=line(a, b), layer="note", weight=weight)


def _frame(wide: float, deep: float, weight: float) -> Stroke:
    corners = [(0.0, 0.0), (wide, 0.0), (wide, -deep), (0.0, -deep)]
    return Stroke(outline=polygon(corners), layer="note", weight=weight)


def wrapped(text: str, width: float, *, size: float = SIZE, bold: bool = False) -> list[str]:
    """A text broken at its spaces into lines no wider than `width` mm.

    A word that is wider than that by itself is broken where it must be.
    """
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold) <= width:
            lines[-1] = longer
        else:
            lines.extend(_broken(word, width, size, bold))
    return lines


def _broken(word: str, width: float, size: float, bold: bool) -> Iterator[str]:
    """A word in pieces that fit."""
    piece = ""
    for letter in word:
        if piece and text_width(piece + letter, size, bold) > width:
            yield piece
            piece = ""
        piece += letter
    yield piece


def note(
    text: str, width: float, *, size: float = SIZE, bold: bool = False, indent: float = 0.0
) -> Block:
    """A wrapped paragraph; lines after the first stand `indent` mm further in."""
    lines = wrapped(text, width - indent, size=size, bold=bold)
    step = size * LINE
    parts = tuple(
        Text(text=words, at=(indent if i else 0.0, -size - step * i), height=size, bold=bold)
        for i, words in enumerate(lines)
    )
    wide = max(
        text_width(words, size, bold) + (indent if i else 0.0) for i, words in enumerate(lines)
    )
    deep = size * 1.3 + step * (len(lines) - 1)
    return Block(elements=parts, bounds=(0.0, -deep, wide, 0.0))


def heading(text: str, *, size: float = 3.5) -> Block:
    """A bold line above a part of a sheet."""
    words = Text(text=text, at=(0.0, -size), height=size, bold=True)
    return Block(elements=(words,), bounds=(0.0, -size * 1.4, text_width(text, size, True), 0.0))


def steps(texts: Sequence[str], width: float, *, size: float = SIZE) -> Block:
    """Numbered paragraphs, one below the other."""
    indent = text_width(f"{len(texts)}. ", size) + 1.0
    parts: list[Element] = []
    top = 0.0
    for number, text in enumerate(texts, start=1):
        body = note(text, width - indent, size=size).at(indent, top)
        parts.append(Text(text=f"{number}.", at=(0.0, top - size), height=size))
        parts.extend(body.elements)
        top -= body.height + size * 0.75
    return Block(elements=tuple(parts), bounds=(0.0, top + size * 0.75, width, 0.0))


def caution(texts: Sequence[str], width: float, *, size: float = SIZE) -> Block:
    """A box that says CAUTION in bold, its paragraphs below: never told by colour alone."""
    pad = 2.5
    inner = width - 2.0 * pad
    title = heading("CAUTION", size=3.0).at(pad, -pad)
    parts: list[Element] = list(title.elements)
    top = -pad - title.height - 1.2
    for text in texts:
        body = note(text, inner, size=size).at(pad, top)
        parts.extend(body.elements)
        top -= body.height + size * 0.6
    deep = -(top + size * 0.6) + pad
    parts.append(_frame(width, deep, THICK))
    return Block(elements=tuple(parts), bounds=(0.0, -deep, width, 0.0))
