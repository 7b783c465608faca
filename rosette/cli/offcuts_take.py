"""`rosette offcuts take`: what a job has used, out of the box; what is left, back into it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from rosette.offcuts.cuts_file import JobCuts
    from rosette.offcuts.keep import Took
    from rosette.units import Units

WIDTH = 80


@click.command("take", short_help="Note what a job has used.")
@click.argument("box", type=click.Path(path_type=Path))
@click.argument("cuts", type=click.Path(path_type=Path))
@click.option(
    "--keep",
    metavar="LENGTH",
    help="Put back what holds a square of this side along its grain. Left out: 15 mm.",
)
def command(box: Path, cuts: Path, keep: str | None) -> None:
    """Take out of BOX what a job has used, and put back what is left of it.

    CUTS is the cuts.json of the job, or its folder. Do it when the cuts are made: used pieces go
    out, and each part of them that is still worth keeping comes back under a new name, S2a of
    S2, with its outline. Cuts that were taken before are refused, and so is wood that has been
    changed since they were planned.
    """
    from rosette.cli.lengths import length_option
    from rosette.offcuts import read_box
    from rosette.offcuts.cuts_file import read_cuts
    from rosette.offcuts.keep import take
    from rosette.offcuts.leftover import WORTH_KEEPING

    units = read_box(box).units
    side = WORTH_KEEPING if keep is None else length_option("--keep", keep, units)
    job = read_cuts(cuts)
    for line in _told(take(box, job, keep=side), job, units):
        click.echo(line)


def _told(took: Took, job: JobCuts, units: Units) -> Iterator[str]:
    from rosette.offcuts.box_table import area, area_words, size
    from rosette.units import format_length

    used = [name if count == 1 else f"{count} of {name}" for name, count in took.used]
    yield from _wrapped(f"Taken for {job.job}: {', '.join(used)}.")
    if not took.back:
        yield "Nothing that is left of it is worth keeping."
    else:
        yield "Back in the box; write the names on them:"
    for one in took.back:
        along, across = (format_length(value, units, decimals=1) for value in size(one))
        yield from _wrapped(
            f"- {one.id}: {one.wood}, {along} along the grain, {across} across,"
            f" {area_words(area(one), units)} usable"
        )
    if took.change.before is not None:
        yield from _wrapped(f"The box as it was before: {took.change.before}")


def _wrapped(text: str) -> list[str]:
    return wrap(text, WIDTH, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False)
