"""`rosette explore`: which rings a box of offcuts can make."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from rosette.cli.ending import INTERRUPTED, told_if_stopped
from rosette.cli.make import bar, ending_on_request
from rosette.cli.new_file import refuse_existing, write_new
from rosette.design.kinds import KINDS
from rosette.units import Units

if TYPE_CHECKING:
    from rosette.offcuts.explored import Ask, Exploration
    from rosette.offcuts.supply import Stock

ABOUT = """\
Ask what the box in the file OFFCUTS can make, before there is a design.

For each wood and count of wedges the widest rings are found, by how many offcuts they touch and
how many spares they leave. A ring that is no better in anything than another is left out; what
each is best at is named. Numbers without a unit are in the box's own; ranges are written 12-48,
"14 to 18 mm", 24,36.

With --write a row becomes a design file, after its wedges were really laid out in the offcuts.

Ends with 1 where no ring fits, and says which would. Ctrl-C shows what was found until then, and
ends with 130."""

NOTHING_YET = "nothing was found yet, and nothing was changed."

LENGTHS = {
    "width": ("RANGE", "How wide the ring may be. Left out: 10 to 25 mm."),
    "inner_radius": (
        "RANGE",
        "From the soundhole's centre to the ring's inner edge; of a range, every millimetre (or"
        " 1/16 in).",
    ),
    "worth": (
        "LENGTH",
        "How much wider a ring has to be to be listed beside one that takes fewer offcuts or leaves"
        " more spares. Left out: 1 mm.",
    ),
    "kerf": ("LENGTH", "Width of the saw's cut, measured."),
    "tile": ("LENGTH", "Thickness of the ring's wood; thinner offcuts are left out."),
    "inner_allowance": ("LENGTH", "Stock left inside for trimming. Left out: 1.5 mm."),
    "outer_allowance": ("LENGTH", "Stock left outside for trimming. Left out: 1.5 mm."),
}


def _length_options(command: Any) -> Any:
    for name, (metavar, about) in reversed(LENGTHS.items()):
        option = f"--{name.replace('_', '-')}"
        command = click.option(option, name, metavar=metavar, help=about)(command)
    return command


@click.command("explore", help=ABOUT, short_help="See which rings a box can make.")
@click.argument("offcuts", type=click.Path(path_type=Path))
@click.option(
    "--wood",
    multiple=True,
    metavar="NAMES",
    help="A wood of the box, or several that take turns round the ring: walnut,maple. May be"
    " given again. Left out: each wood by itself.",
)
@click.option(
    "--segments",
    metavar="COUNTS",
    help="How many wedges: 24,36, or 12-48 for the even ones. Left out: 12, 18, 24 … 48.",
)
@_length_options
@click.option(
    "--spares",
    metavar="NUMBERS",
    help='Spares of each wood: 2, or 0,4, or "usual" for a tenth. Left out: 0,usual.',
)
@click.option(
    "--like",
    type=click.Path(path_type=Path),
    metavar="DESIGN",
    help="Take all that is not given from this design.",
)
@click.option(
    "--ring",
    type=int,
    metavar="N",
    help="Which ring of that design. Left out: the first of wedges.",
)
@click.option(
    "--kind",
    type=click.Choice(KINDS),
    help="Without a design: the kind of guitar, for what is usual. Left out: steel.",
)
@click.option(
    "--method",
    type=click.Choice(["strip", "free"]),
    default="strip",
    help="strip (the default): a saw. free: fret saw, laser or CNC; slow.",
)
@click.option(
    "--grain-tolerance",
    type=click.FloatRange(0.0, 45.0),
    default=0.0,
    metavar="DEG",
    help="How far wedges may stand off the grain. Left out: not at all.",
)
@click.option("--keep-neighbours", is_flag=True, help="Saw all wedges the same way up.")
@click.option(
    "--all", "everything", is_flag=True, help="Also list what another row does better than."
)
@click.option(
    "--units", type=click.Choice(["mm", "in"]), help="Tell lengths in these, not the box's own."
)
@click.option("--json", "as_json", is_flag=True, help="JSON, as docs/file-formats.md has it.")
@click.option(
    "--picture",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Also draw the choice into a file: .svg, .pdf or .png. One that is there is replaced.",
)
@click.option(
    "--write",
    nargs=2,
    metavar="ROW DESIGN",
    help="Write a row out as a design file, which must not be there yet.",
)
@click.pass_context
def command(
    ctx: click.Context,
    /,
    *,
    offcuts: Path,
    like: Path | None,
    units: Units | None,
    as_json: bool,
    picture: Path | None,
    write: tuple[str, str] | None,
    **given: Any,
) -> None:
    """Read, look, tell."""
    from rosette.cli.picture_file import check_picture

    check_picture(picture)
    target = _target(write)
    with told_if_stopped(ctx, NOTHING_YET), ending_on_request(), bar() as progress:
        ask, stock, names = _asked(offcuts, like, given)
        from rosette.offcuts.explore import explore

        found = explore(stock, ask, progress=progress, box_file=names[0], box_sha256=names[1])
    drawn = picture if found.rows else None
    if drawn is not None:
        _draw(found, drawn, units or ask.units)
    if as_json:
        from rosette.offcuts.explore_json import exploration_json

        click.echo(json.dumps(exploration_json(found), ensure_ascii=False, allow_nan=False))
    else:
        from rosette.offcuts.explore_table import lines

        for line in lines(found, units):
            click.echo(line)
    if drawn is not None:
        click.echo(f"Drawn in {drawn}.", err=as_json)
    if found.stopped:
        click.echo(_stopped(found, picture, target), err=True)
        ctx.exit(INTERRUPTED)
    if target is not None:
        _write(found, stock, *target)
        click.echo(
            f"Row {target[0]} is written to {target[1]}. Next: rosette check {target[1]}",
            err=as_json,
        )


def _stopped(found: Exploration, picture: Path | None, target: tuple[int, Path] | None) -> str:
    """What was come to before the end, and which files were asked for and are not there."""
    shown = "this is what was found until then." if found.rows else "nothing was found yet."
    unwritten = "" if target is None else f" {target[1]} is not written."
    undrawn = "" if picture is None or found.rows else f" {picture} is not drawn."
    return f"Stopped before the end: {shown}{undrawn}{unwritten}"


def _target(write: tuple[str, str] | None) -> tuple[int, Path] | None:
    """The row and the file to write, refused early where they won't do."""
    if not write:
        return None
    row, name = write
    if not (row.isascii() and row.isdigit() and len(row) < 7):
        raise click.UsageError(f'--write: "{row}" is not the number of a row.')
    refuse_existing(Path(name))
    return int(row), Path(name)


def _asked(
    offcuts: Path, like: Path | None, given: dict[str, Any]
) -> tuple[Ask, tuple[Stock, ...], tuple[str, str]]:
    from rosette.design import read_design
    from rosette.offcuts import read_box
    from rosette.offcuts.asking import ask_for
    from rosette.offcuts.cutting import stock_of
    from rosette.offcuts.options import CutOptions

    box = read_box(offcuts)
    options = CutOptions(
        method=given.pop("method"),
        grain_tolerance=given.pop("grain_tolerance"),
        keep_neighbours=given.pop("keep_neighbours"),
    )
    design = None if like is None else read_design(like)
    ask = ask_for(box, {**given, "options": options}, like=design)
    return ask, stock_of(box), (box.source, box.sha256)


def _draw(found: Exploration, picture: Path, units: Units) -> None:
    from rosette.cli.picture_file import write_picture
    from rosette.sheets.explore import choice_chart, choice_pages

    write_picture(
        picture,
        choice_chart(found, units),
        choice_pages(found, units),
        paper="letter" if units == "in" else "a4",
        name=found.box_file,
    )


def _write(found: Exploration, stock: tuple[Stock, ...], number: int, path: Path) -> None:
    from rosette.errors import InputError
    from rosette.offcuts.explore_design import row_text, tried

    row = found.row(number)
    if row is None:
        raise InputError(
            f"there is no row {number}; the rows are 1 to {len(found.rows)}", source="--write"
        )
    text = row_text(found, row)
    tried(text, stock, found, row)
    write_new(path, text.encode())
