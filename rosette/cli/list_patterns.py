"""`rosette list patterns`: every kind of ring, with a small picture."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING

import click

from rosette.cli.picture_file import check_picture, write_picture

if TYPE_CHECKING:
    from rosette.gallery import Example

WIDTH, LEFT = 80, 40


@click.command("patterns", short_help="Show every ring pattern.")
@click.option(
    "--picture",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Also draw a quarter of each, full size, into a file: .svg, .pdf or .png. One that is"
    " there is replaced.",
)
def command(picture: Path | None) -> None:
    """Show every ring pattern, those of other packages too.

    docs/design-file.md tells the keys of each.
    """
    from rosette.gallery import contact_sheet, examples

    check_picture(picture)
    found = examples()
    for one in found:
        for line in _lines(one):
            click.echo(line)
        click.echo()
    if picture is not None:
        sheet = contact_sheet(found)
        write_picture(picture, sheet, [sheet], paper="a3", name="Ring patterns")
        click.echo(f"Drawn in {picture}.")


def _lines(one: Example) -> Iterator[str]:
    from rosette.gallery import marks_of, sketch

    letters = not _draws_blocks()
    left = sketch(one.ring, letters=letters)
    room = WIDTH - LEFT
    right = [one.pattern.name, *wrap(one.pattern.summary, room), ""]
    right += [f"{mark * 2}  {wood}" for wood, mark in marks_of(one.ring, letters=letters).items()]
    for number in range(max(len(left), len(right))):
        sketched = left[number] if number < len(left) else ""
        told = right[number] if number < len(right) else ""
        yield f"{sketched:<{LEFT}}{told}".rstrip()


def _draws_blocks() -> bool:
    """Whether the output can show block characters."""
    try:
        "█▓▒░".encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
