"""`rosette cut`: the wedges of a design out of a box of offcuts."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from rosette.cli.cut_options import cutting_options, options_from
from rosette.cli.ending import INTERRUPTED, told_if_stopped
from rosette.cli.make import bar, ending_on_request
from rosette.units import Units

if TYPE_CHECKING:
    from rosette.design.model import Design
    from rosette.offcuts.alternatives import Alternative, Alternatives
    from rosette.offcuts.box import Box
    from rosette.offcuts.cutplan import CuttingPlan
    from rosette.offcuts.options import CutOptions

ABOUT = """\
Cut the wedges of DESIGN out of the box in the file OFFCUTS.

Says which offcuts to take, every cut in order with its settings, where each wedge stands in the
ring, and what is left. All wedges needed come first, then the fewest offcuts, then the longest
runs of neighbours in the wood, then the best remainder.

Ends with 1 where there is too little wood: the plan then shows what can be cut, and what the box
does allow. Ctrl-C while it searches shows the best plan until then, and ends with 130."""

NO_PLAN_YET = "no plan was found yet, and nothing was changed."
NOTHING_OFFERED = "there is too little wood, and what the box does allow was not found yet."


@click.command("cut", help=ABOUT, short_help="Cut the wedges out of a box of offcuts.")
@click.argument("design", type=click.Path(path_type=Path))
@click.argument("offcuts", type=click.Path(path_type=Path))
@cutting_options(spares=0, told="Left out: none.")
@click.option(
    "--units",
    type=click.Choice(["mm", "in"]),
    help="Tell lengths in these units instead of the design's own.",
)
@click.option("--json", "as_json", is_flag=True, help="JSON, as docs/file-formats.md promises it.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Also write cuts.json and the cutting sheets into a folder.",
)
@click.pass_context
def command(
    ctx: click.Context,
    /,
    *,
    design: Path,
    offcuts: Path,
    units: Units | None,
    as_json: bool,
    out: Path | None,
    **wishes: Any,
) -> None:
    """Read, cut, tell."""
    from rosette.design import read_design
    from rosette.offcuts import read_box

    found, box = read_design(design), read_box(offcuts)
    told = units or found.units
    options = options_from(wishes, told)
    with told_if_stopped(ctx, NO_PLAN_YET), ending_on_request(), bar() as progress:
        from rosette.offcuts.cutting import cut_box

        cutting = cut_box(found, box, options, progress=progress)
    if cutting.interrupted:
        _tell(cutting, told, (), as_json=as_json)
        click.echo(_stopped(cutting, out), err=True)
        ctx.exit(INTERRUPTED)
    try:
        instead = _instead(found, box, options, cutting)
    except KeyboardInterrupt:
        _tell(cutting, told, (), as_json=as_json)
        click.echo(f"\nStopped: {NOTHING_OFFERED}", err=True)
        ctx.exit(INTERRUPTED)
    _tell(cutting, told, instead.offered, as_json=as_json)
    if not cutting.complete:
        from rosette.offcuts.shortage import shortage

        raise shortage(found, box, cutting, instead)
    if out is not None:
        from rosette.packet.cutfolder import write_cutting

        write_cutting(cutting, found, out, units=told)
        click.echo(f"Cutting sheets and cuts.json are in {out}.", err=True)


def _stopped(cutting: CuttingPlan, out: Path | None) -> str:
    """What was come to before the end."""
    shown = "this is the best plan until then." if cutting.touched else "nothing was found yet."
    unwritten = "" if out is None else f" Nothing is written to {out}."
    return f"Stopped before the end: {shown}{unwritten}"


def _tell(
    cutting: CuttingPlan, units: Units, offered: Sequence[Alternative], *, as_json: bool
) -> None:
    if as_json:
        from rosette.offcuts.as_json import cut_json

        document = cut_json(cutting, units, offered)
        click.echo(json.dumps(document, ensure_ascii=False, allow_nan=False))
    else:
        from rosette.cutting_report import cutting_report

        click.echo(cutting_report(cutting, units), nl=False)


def _instead(design: Design, box: Box, options: CutOptions, cutting: CuttingPlan) -> Alternatives:
    """What the box does allow where it lacks wood."""
    from rosette.offcuts.alternatives import Alternatives, alternatives
    from rosette.offcuts.cutting import stock_of

    if cutting.complete:
        return Alternatives()

    with ending_on_request(), bar() as progress:
        return alternatives(design, stock_of(box), options, cutting, progress=progress)


def cut_for_job(design: Design, offcuts: Path, wishes: dict[str, Any], units: Units) -> CuttingPlan:
    """The cutting plan of a whole job; spares that nobody asked for may be missing.

    Raises:
        CannotMakeError: too little wood, with what the box does allow.
        KeyboardInterrupt: stopped; a job is not made from half a search.
    """
    from rosette.offcuts import read_box
    from rosette.offcuts.cutting import cut_box
    from rosette.offcuts.shortage import shortage

    box = read_box(offcuts)
    options = options_from(wishes, units)
    with bar() as progress:
        cutting = cut_box(design, box, options, progress=progress)
    if cutting.interrupted:
        raise KeyboardInterrupt
    if cutting.missing or (options.spares != "usual" and not cutting.complete):
        raise shortage(design, box, cutting, _instead(design, box, options, cutting))
    return cutting
