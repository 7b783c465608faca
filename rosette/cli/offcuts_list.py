"""`rosette offcuts list`: the box as a table, as a picture, as JSON."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rosette.errors import InputError
from rosette.units import Units

if TYPE_CHECKING:
    from rosette.offcuts import Box

PIXELS_PER_MM = 6.0


@click.command("list", short_help="Show the box.")
@click.argument("box", type=click.Path(path_type=Path))
@click.option(
    "--picture",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Also draw the box to scale into a file: .svg, .png or .pdf. One that is there is"
    " replaced.",
)
@click.option(
    "--json", "as_json", is_flag=True, help="JSON for scripts, as docs/file-formats.md has it."
)
@click.option(
    "--units",
    type=click.Choice(["mm", "in"]),
    help="Tell lengths in these units instead of the box's own.",
)
def command(box: Path, picture: Path | None, as_json: bool, units: Units | None) -> None:
    """List the offcuts of BOX: wood, thickness, size, usable area, how many.

    Ends with 2 where the file is wrong, every mistake at once.
    """
    from rosette.offcuts import read_box
    from rosette.offcuts.box_table import box_json, lines

    drawn = _drawer(picture)
    found = read_box(box)
    if picture is not None and drawn is not None:
        _write(picture, drawn(found, units or found.units))
    if as_json:
        click.echo(json.dumps(box_json(found), ensure_ascii=False, allow_nan=False))
        return
    for line in lines(found, units):
        click.echo(line)
    if picture is not None:
        click.echo(f"\nDrawn in {picture}.")


def _drawer(picture: Path | None) -> Callable[[Box, Units], bytes] | None:
    """What draws a file of that name, looked for before anything is done."""
    if picture is None:
        return None
    drawers = {".svg": _svg, ".png": _png, ".pdf": _pdf}
    ending = picture.suffix.lower()
    if ending not in drawers:
        raise click.UsageError(f"--picture: {picture.name} is neither .svg nor .png nor .pdf.")
    return drawers[ending]


def _svg(box: Box, units: Units) -> bytes:
    from rosette.output.svg import svg_bytes
    from rosette.sheets.inventory import inventory

    return svg_bytes(inventory(box, units))


def _png(box: Box, units: Units) -> bytes:
    from rosette.output.png import png_bytes
    from rosette.sheets.inventory import inventory

    return png_bytes(inventory(box, units), pixels_per_mm=PIXELS_PER_MM)


def _pdf(box: Box, units: Units) -> bytes:
    from rosette.output.document import Document, SheetPages
    from rosette.output.pdf import pdf_bytes
    from rosette.sheets.frame import TitleBlock
    from rosette.sheets.inventory import inventory_pages

    pages = tuple(SheetPages(drawing=one) for one in inventory_pages(box, units))
    paper = "letter" if units == "in" else "a4"
    document = Document(title="The box of offcuts", paper=paper, parts=pages)
    block = TitleBlock(name=box.source, document_type="Inventory")
    return pdf_bytes(document, block)


def _write(path: Path, data: bytes) -> None:
    """A whole file or none."""
    part = path.with_name(f".{path.name}.part")
    try:
        part.write_bytes(data)
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise InputError(
            f"it can't be written: {error.strerror or 'the disk refuses it'}", source=str(path)
        ) from None
