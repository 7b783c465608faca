"""`rosette cut`: the wedges of a design out of a box of offcuts."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import click

from rosette.cli.ending import INTERRUPTED
from rosette.cli.make import bar, ending_on_request
from rosette.units import Units

if TYPE_CHECKING:
    from rosette.design.model import Design
    from rosette.offcuts.alternatives import Alternative
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


class Spares(click.ParamType[Any]):
    """A number, or "usual"."""

    name = "spares"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> int | Literal["usual"]:
        """Read what was typed."""
        if value == "usual":
            return "usual"
        text = str(value)
        if not (text.isascii() and text.isdigit() and int(text[:9]) <= MOST_SPARES):
            self.fail(f'"{text}" is not a number from 0 to {MOST_SPARES}, nor "usual".', param, ctx)
        return int(text)


MOST_SPARES = 500
MOST_TOLERANCE = 45.0


@click.command("cut", help=ABOUT, short_help="Cut the wedges out of a box of offcuts.")
@click.argument("design", type=click.Path(path_type=Path))
@click.argument("offcuts", type=click.Path(path_type=Path))
@click.option(
    "--method",
    type=click.Choice(["strip", "free"]),
    default="strip",
    help="strip (the default): a saw, every cut from edge to edge. free: fret saw, laser or CNC.",
)
@click.option(
    "--grain-tolerance",
    type=click.FloatRange(0.0, MOST_TOLERANCE),
    default=0.0,
    metavar="DEG",
    help="How far wedges may stand off the grain. Left out: not at all.",
)
@click.option(
    "--spares",
    type=Spares(),
    default=0,
    metavar="N",
    help='Spares of each kind of wedge; "usual" for a tenth, two at the least. Left out: none.',
)
@click.option("--all", "everything", is_flag=True, help="As many wedges as the offcuts hold.")
@click.option(
    "--keep-neighbours",
    is_flag=True,
    help="Saw all wedges the same way up, so that neighbours in the wood stay neighbours.",
)
@click.option(
    "--mirrored", is_flag=True, help="Let the left half of the ring mirror the right half."
)
@click.option(
    "--faces",
    type=click.Choice(["one", "both"]),
    default="one",
    help="both: wedges may be turned over, so that their backs show. Left out: one.",
)
@click.option(
    "--first",
    type=click.Choice(["offcuts", "runs", "remainder"]),
    default="offcuts",
    help="What to weigh first once all wedges are there: fewest offcuts (the default), longest"
    " runs of neighbours, or the best remainder.",
)
@click.option(
    "--skip-hidden", is_flag=True, help="Leave out the wedges that the fingerboard hides wholly."
)
@click.option(
    "--least-in-hand",
    metavar="LENGTH",
    help='Warn where a cut leaves less than this to hold. Left out: "150 mm".',
)
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
    with ending_on_request(), bar() as progress:
        from rosette.offcuts.cutting import cut_box

        cutting = cut_box(found, box, options, progress=progress)
    if cutting.interrupted:
        _tell(cutting, told, (), as_json=as_json)
        click.echo("Stopped before the end: this is the best plan until then.", err=True)
        ctx.exit(INTERRUPTED)
    offered = _offered(found, box, options, cutting)
    _tell(cutting, told, offered, as_json=as_json)
    if not cutting.complete:
        from rosette.offcuts.shortage import shortage

        raise shortage(found, box, cutting, offered)
    if out is not None:
        from rosette.packet.cutfolder import write_cutting

        write_cutting(cutting, found, out, units=told)
        click.echo(f"Cutting sheets and cuts.json are in {out}.", err=True)


def options_from(wishes: dict[str, Any], units: Units) -> CutOptions:
    """The options of the command line as the library has them."""
    from rosette.cli.lengths import length_option
    from rosette.offcuts.options import LEAST_IN_HAND, OBJECTIVES, CutOptions

    first, least = wishes.pop("first"), wishes.pop("least_in_hand")
    return CutOptions(
        **wishes,
        objectives=(first, *(one for one in OBJECTIVES if one != first)),
        least_in_hand=LEAST_IN_HAND
        if least is None
        else length_option("--least-in-hand", least, units),
    )


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


def _offered(
    design: Design, box: Box, options: CutOptions, cutting: CuttingPlan
) -> tuple[Alternative, ...]:
    """What the box does allow where it lacks wood."""
    if cutting.complete:
        return ()
    from rosette.offcuts.alternatives import alternatives
    from rosette.offcuts.cutting import stock_of

    with bar() as progress:
        return alternatives(design, stock_of(box), options, cutting, progress=progress)
