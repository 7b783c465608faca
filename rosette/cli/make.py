"""`rosette make`: the whole job into one folder."""

from __future__ import annotations

import signal
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from rosette.cli.cut_options import cutting_options, refuse_without_box

if TYPE_CHECKING:
    from rosette.packet import Progress
    from rosette.units import Units

SLOW = 1.0
"""Seconds after which a bar shows how far the job has come."""

ABOUT = """\
Do the whole job: everything that goes to the bench, in one folder.

The folder holds packet.pdf (open it first: it says what each file is for), the sheets at true
scale as SVG and DXF, the fixtures as STEP, STL and 3MF, the picture, the plan and a copy of the
design. It is put in place as a whole or not at all. What you keep in the folder yourself stays
as it is; a file of yours that stands in the way is named, and nothing is done."""


@click.command("make", help=ABOUT, short_help="Do the whole job into one folder.")
@click.argument("design", type=click.Path(path_type=Path))
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    required=True,
    metavar="DIR",
    help="The job folder; made, or brought up to date.",
)
@click.option(
    "--offcuts",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="The box to cut the wedges from; the options from --method on say how.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter", "a3"], case_sensitive=False),
    help="What the packet is printed on. Left out: letter for a design in inches, else a4.",
)
@click.option(
    "--units",
    type=click.Choice(["mm", "in"]),
    help="What the sheets and pages are told in. Left out: the design's own units.",
)
@click.option("--no-fixtures", is_flag=True, help="Leave out the fixtures; quicker.")
@click.option(
    "--replace",
    is_flag=True,
    help="Let files of yours that stand in the way make room: they stay under another"
    " name, packet.before.pdf for packet.pdf.",
)
@cutting_options(spares="usual", told="Left out: usual, or as many as the box holds.")
def command(
    *,
    design: Path,
    out: Path,
    offcuts: Path | None,
    paper: str | None,
    units: Units | None,
    no_fixtures: bool,
    replace: bool,
    **wishes: Any,
) -> None:
    """Read, make, tell."""
    from rosette.cli.made import summary
    from rosette.design.read import read_design_text
    from rosette.design.source import read_bytes, shown_path
    from rosette.packet import make_job

    record = read_bytes(design)
    found = read_design_text(record, shown_path(design), design.parent)
    cutting = None
    if offcuts is None:
        refuse_without_box()
    else:
        with ending_on_request():
            from rosette.cli.cut import cut_for_job

            cutting = cut_for_job(found, offcuts, wishes, units or found.units)
    with ending_on_request(), bar() as progress:
        job = make_job(
            found,
            out,
            record=record,
            paper=paper or ("letter" if (units or found.units) == "in" else "a4"),
            units=units,
            cutting=cutting,
            fixtures=not no_fixtures,
            make_room=replace,
            progress=progress,
        )
    for line in summary(job, out):
        click.echo(line)


@contextmanager
def ending_on_request() -> Iterator[None]:
    """Let a polite request to end (SIGTERM) clean up like Ctrl-C does."""

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGTERM, stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


@contextmanager
def bar() -> Iterator[Progress]:
    """A progress bar on stderr: only on a terminal, and only once the job turns out slow."""
    started, shown = time.monotonic(), list[Any]()

    def progress(done: int, of: int, doing: str) -> None:
        if not shown and time.monotonic() - started > SLOW and sys.stderr.isatty():
            shown.append(_opened(of))
        if shown:
            shown[0].update(done - shown[0].pos, doing)

    try:
        yield progress
    finally:
        if shown:
            shown[0].__exit__(None, None, None)


def _opened(of: int) -> Any:
    opened = click.progressbar(
        length=of,
        file=sys.stderr,
        width=24,
        show_eta=False,
        item_show_func=lambda doing: doing or "",
    )
    return opened.__enter__()
