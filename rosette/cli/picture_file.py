"""A drawing written into a file of the kind that its name says."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rosette.design.source import shown_path
from rosette.errors import InputError

if TYPE_CHECKING:
    from rosette.sheets.drawing import Drawing

ENDINGS = (".svg", ".pdf", ".png")
PIXELS_PER_MM = 8.0


def check_picture(path: Path | None) -> None:
    """Refuse a picture's name before anything is done.

    Raises:
        UsageError: its ending is none that can be written.
        InputError: its folder is not there.
    """
    if path is None:
        return
    if path.suffix.lower() not in ENDINGS:
        raise click.UsageError(f"--picture: {path.name} is neither .svg nor .pdf nor .png.")
    if not path.parent.is_dir():
        raise InputError(
            f"there is no folder {shown_path(path.parent)}; make it first", source=shown_path(path)
        )


def write_picture(
    path: Path, drawing: Drawing, pages: Sequence[Drawing], *, paper: str, name: str
) -> None:
    """Draw into a file, whole or not at all; one that is there is replaced.

    `pages` are the same for a file that has pages, each drawing on one of `paper`; `name` is
    what their title block names.

    Raises:
        InputError: it can't be written.
    """
    data = _bytes(path.suffix.lower(), drawing, pages, paper, name)
    part = path.with_name(f".{path.name}.part")
    try:
        part.write_bytes(data)
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        reason = error.strerror or "the disk refuses it"
        raise InputError(f"it can't be written: {reason}", source=shown_path(path)) from None


def _bytes(ending: str, drawing: Drawing, pages: Sequence[Drawing], paper: str, name: str) -> bytes:
    if ending == ".svg":
        from rosette.output.svg import svg_bytes

        return svg_bytes(drawing)
    if ending == ".png":
        from rosette.output.png import png_bytes

        return png_bytes(drawing, pixels_per_mm=PIXELS_PER_MM)
    from rosette.output.document import Document, SheetPages
    from rosette.output.pdf import pdf_bytes
    from rosette.sheets.frame import TitleBlock

    parts = tuple(SheetPages(drawing=one) for one in pages)
    document = Document(title=drawing.title, paper=paper, parts=parts)
    return pdf_bytes(document, TitleBlock(name=name, document_type="Choice"))
