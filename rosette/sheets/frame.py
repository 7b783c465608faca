"""Pages round drawings: frame, title block and bars, and the parts of what is larger than a page.

A framed drawing keeps its own coordinates, so the ring's centre stays at 0,0 in its files. A
page has its lower left corner at 0,0, and the drawing stands in a window on it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from rosette.errors import Finding, InputError, finding
from rosette.geometry.outline import polygon
from rosette.sheets.bars import BAR_MARGIN, bars
from rosette.sheets.block import text_corners
from rosette.sheets.drawing import MEDIUM, TRUE_SCALE, Drawing, Element, Stroke, Text, Window
from rosette.sheets.tiles import Tile, join_marks, tiles
from rosette.sheets.titles import (
    LATER,
    TITLE_HEIGHT,
    WIDEST,
    Part,
    TitleBlock,
    sheet_place,
    title_block,
)

__all__ = ["LATER", "PAPERS", "TitleBlock", "framed", "pages", "room", "sheet_spot"]

PAPERS: dict[str, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "letter": (215.9, 279.4),
    "legal": (215.9, 355.6),
    "tabloid": (279.4, 431.8),
}
"""Width and height in mm, upright: ISO 216 and ANSI/ASME Y14.1 (Letter 8.5 × 11 in)."""

ISO_SHEETS = ((210.0, 297.0), (297.0, 420.0), (420.0, 594.0), (594.0, 841.0), (841.0, 1189.0))
"""A4 to A0 (ISO 216), for files that are not bound to a printer."""

EDGE = 8.0
"""From the page's right and upper edges to the frame: no printer that we allow for needs more."""

TOP_GAP = 10.0
"""A drawing hangs this far below the upper frame (mm): what room is left is below it, for notes."""

BLEED = 0.6
"""How far lines along a drawing's edge may reach past its bounds (mm)."""

JOIN_MARGIN = 6.0
"""Room round a part of a drawing for its crop marks and the words at its joins."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Page:
    """A sheet of paper by its lower left corner and size (mm)."""

    left: float = 0.0
    bottom: float = 0.0
    width: float
    height: float

    @property
    def frame(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of the frame."""
        right, top = self.left + self.width - EDGE, self.bottom + self.height - EDGE
        return self.left + BAR_MARGIN, self.bottom + BAR_MARGIN, right, top

    @property
    def title(self) -> tuple[float, float, float]:
        """Left, bottom and width of the title block."""
        left, bottom, right, _ = self.frame
        width = min(right - left, WIDEST)
        return right - width, bottom, width

    def marks(self, block: TitleBlock, part: Part | None = None) -> tuple[Element, ...]:
        """Frame, title block and bars."""
        left, bottom, right, top = self.frame
        corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
        return (
            Stroke(outline=polygon(corners), layer="note", weight=MEDIUM * 1.4, name="frame"),
            *title_block(block, *self.title, part),
            *bars((self.left, self.bottom), right - left, top - bottom),
        )


def room(width: float, height: float) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of what a page of that size leaves for a drawing (mm)."""
    left, bottom, right, top = _Page(width=width, height=height).frame
    return left, bottom + TITLE_HEIGHT, right, top


def sheet_spot(width: float, height: float, *, part: bool = False) -> tuple[float, float]:
    """Where the sheet's number goes on a page whose block leaves it for `LATER` (mm, baseline).

    `part` is whether the page is one of several that make up a sheet.
    """
    return sheet_place(*_Page(width=width, height=height).title, part=part)


def empty_page(width: float, height: float, block: TitleBlock) -> Drawing:
    """A page with frame, title block and bars and nothing else on it."""
    return Drawing(
        name="page",
        title=block.title,
        purpose="",
        bounds=(0.0, 0.0, width, height),
        elements=_Page(width=width, height=height).marks(block),
    )


def framed(drawing: Drawing, block: TitleBlock) -> Drawing:
    """The drawing on the smallest ISO sheet that holds it, or one as large as it needs.

    Every element keeps its coordinates; only the bounds grow, so that the drawing stands at
    the upper middle of its sheet.
    """
    width, height = _sheet_for(drawing)
    dx, dy = _shift((width, height), drawing.bounds)
    page = _Page(left=-dx, bottom=-dy, width=width, height=height)
    return replace(
        drawing,
        bounds=(page.left, page.bottom, page.left + width, page.bottom + height),
        elements=page.marks(_titled(block, drawing)) + drawing.elements,
    )


def pages(drawing: Drawing, paper: str, block: TitleBlock) -> tuple[Drawing, ...]:
    """The drawing at true scale on one page, or in parts that join where it is larger.

    Raises:
        InputError: the paper's name is not one of `PAPERS`.
    """
    tall = paper_size(paper)
    titled = _titled(block, drawing)
    for width, height in (tall, tall[::-1]):
        if _fits(drawing, width, height):
            return (_whole(drawing, width, height, titled),)
    choices = [(size, _parts(drawing, *size)) for size in (tall, tall[::-1])]
    size, parts = min(choices, key=lambda choice: len(choice[1]))
    return tuple(_part_pages(drawing, size, parts, titled))


def paper_size(paper: str) -> tuple[float, float]:
    """Width and height in mm of a paper by its name, upright."""
    if paper in PAPERS:
        return PAPERS[paper]
    found: Finding = finding(
        "unknown-paper",
        "paper",
        "{name} is not a paper that the tool knows; take one of {known}",
        name=repr(paper),
        known=", ".join(PAPERS),
    )
    raise InputError([found])


def _titled(block: TitleBlock, drawing: Drawing) -> TitleBlock:
    number = "-".join(one for one in (block.number, drawing.number) if one)
    given = block.document_type
    kind = drawing.document_type if given == TRUE_SCALE else given
    return replace(block, title=drawing.title, number=number, document_type=kind)


def _fits(drawing: Drawing, width: float, height: float) -> bool:
    left, bottom, right, top = room(width, height)
    slack = 1e-6
    return drawing.width <= right - left + slack and drawing.height <= top - bottom + slack


def _sheet_for(drawing: Drawing) -> tuple[float, float]:
    for size in ISO_SHEETS:
        for width, height in (size, size[::-1]):
            if _fits(drawing, width, height):
                return width, height
    return (
        drawing.width + BAR_MARGIN + EDGE,
        max(drawing.height + BAR_MARGIN + TITLE_HEIGHT + EDGE, 210.0),
    )


def _window(
    drawing: Drawing, shift: tuple[float, float], tile: Tile, parts: tuple[Tile, ...] = ()
) -> Window:
    """What a part shows; words that only reach into what its neighbours show are theirs."""
    left, bottom, right, top = tile.frame
    dx, dy = shift
    return Window(
        elements=tuple(
            one
            for one in drawing.elements
            if not isinstance(one, Text) or tile.owns(text_corners(one), parts)
        ),
        shift=shift,
        frame=(left + dx, bottom + dy, right + dx, top + dy),
    )


def _shift(
    size: tuple[float, float], frame: tuple[float, float, float, float]
) -> tuple[float, float]:
    """What moves a frame in the drawing to the upper middle of the page's room."""
    left, bottom, right, top = room(*size)
    x0, y0, x1, y1 = frame
    above = min((top - bottom - (y1 - y0)) / 2.0, TOP_GAP)
    return (left + right - x0 - x1) / 2.0, top - above - y1


def _whole(drawing: Drawing, width: float, height: float, block: TitleBlock) -> Drawing:
    shift = _shift((width, height), drawing.bounds)
    x0, y0, x1, y1 = drawing.bounds
    around = (x0 - BLEED, y0 - BLEED, x1 + BLEED, y1 + BLEED)
    tile = Tile(row=0, column=0, frame=around)
    return replace(
        drawing,
        bounds=(0.0, 0.0, width, height),
        elements=(
            *_Page(width=width, height=height).marks(block),
            _window(drawing, shift, tile),
        ),
    )


def _parts(drawing: Drawing, width: float, height: float) -> tuple[Tile, ...]:
    left, bottom, right, top = room(width, height)
    across, high = right - left - 2.0 * JOIN_MARGIN, top - bottom - 2.0 * JOIN_MARGIN
    return tiles(drawing.bounds, across, high)


def _part_pages(
    drawing: Drawing, size: tuple[float, float], parts: tuple[Tile, ...], block: TitleBlock
) -> Iterator[Drawing]:
    width, height = size
    rows, columns = parts[-1].row + 1, parts[-1].column + 1
    for tile in parts:
        shift = _shift(size, tile.frame)
        part = Part(label=tile.label, row=tile.row, column=tile.column, rows=rows, columns=columns)
        titled = replace(block, title=f"{block.title}, part {tile.label}")
        yield replace(
            drawing,
            name=f"{drawing.name}-{tile.label}",
            title=titled.title,
            bounds=(0.0, 0.0, width, height),
            elements=(
                *_Page(width=width, height=height).marks(titled, part),
                _window(drawing, shift, tile, parts),
                *join_marks(tile, parts, shift),
            ),
        )
