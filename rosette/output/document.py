"""A document: pages of words and drawings in order, before any file format."""

from __future__ import annotations

from dataclasses import dataclass

from rosette.sheets.drawing import Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading inside a run of text pages; level 1 is the largest."""

    text: str
    level: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """Running words."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A warning that must stand out (boxed, with the word CAUTION: never by colour alone)."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """A line of a checklist, with a box to tick."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table; `align` is one of l, c, r a column, and the first row of cells is its head."""

    rows: tuple[tuple[str, ...], ...]
    align: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing among the words, `width` mm wide (not to scale unless that is its own width)."""

    drawing: Drawing
    width: float


Block = Heading | Paragraph | Caution | Tick | Table | Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class TextPages:
    """Blocks that flow over as many pages as they need."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPages:
    """One drawing at true scale: a page, or tiles with overlap where it is larger than the page."""

    drawing: Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """The whole packet; `paper` is a name in `rosette.sheets.frame.PAPERS`."""

    title: str
    paper: str
    parts: tuple[TextPages | SheetPages, ...]
