"""`rosette offcuts add`: one more offcut, from a few measures."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rosette.units import Units

if TYPE_CHECKING:
    from rosette.offcuts.keep import Added

ABOUT = """\
Add an offcut to BOX, a file that is begun where there is none yet.

Its shape is one of the four below. A length is a number in the file's units or carries its own:
"3 3/4 in". x runs along the piece as you lay it down, from left to right, and y up from its
lower edge.

\b
  --rectangle ALONG ACROSS
  --taper LENGTH LEFT RIGHT      widths at the left and the right end
  --curved LENGTH LEFT RIGHT RISE   how much wider it is in the middle
  --file TRACING                 an SVG or DXF file beside BOX

Everything else in the file stays as you wrote it."""


@click.command("add", help=ABOUT, short_help="Add an offcut.")
@click.argument("box", type=click.Path(path_type=Path))
@click.option("--id", "name", required=True, metavar="NAME", help="What you call it.")
@click.option("--wood", required=True, metavar="WOOD", help="Its wood, as designs call it.")
@click.option("--thickness", required=True, metavar="LENGTH", help="How thick it is.")
@click.option("--rectangle", nargs=2, metavar="ALONG ACROSS", help="A rectangle.")
@click.option("--taper", nargs=3, metavar="LENGTH LEFT RIGHT", help="A strip wider at one end.")
@click.option(
    "--sits",
    metavar="WHERE",
    help='With --taper: where the right end sits, "bottom", "middle", "top" or a length above the'
    " left end's lower corner. Left out: middle.",
)
@click.option(
    "--curved",
    nargs=4,
    metavar="LENGTH LEFT RIGHT RISE",
    help="A rectangle with a bowed upper edge; a rise below 0 is a hollow.",
)
@click.option(
    "--file", "tracing", type=click.Path(path_type=Path), metavar="TRACING", help="A tracing."
)
@click.option(
    "--grain", type=float, metavar="DEG", help="The grain's direction, counter-clockwise from x."
)
@click.option(
    "--knot",
    "knots",
    nargs=3,
    multiple=True,
    metavar="X Y ACROSS",
    help="A knot: where its middle is, and how wide. Can be given again.",
)
@click.option("--count", type=int, metavar="N", help="How many there are of it.")
@click.option("--note", metavar="WORDS", help="Anything to remember it by.")
@click.option(
    "--units",
    type=click.Choice(["mm", "in"]),
    help="Of plain numbers in a file that is new; mm where left out.",
)
def command(
    *,
    box: Path,
    name: str,
    wood: str,
    thickness: str,
    rectangle: tuple[str, ...] | None,
    taper: tuple[str, ...] | None,
    sits: str | None,
    curved: tuple[str, ...] | None,
    tracing: Path | None,
    grain: float | None,
    knots: Sequence[tuple[str, ...]],
    count: int | None,
    note: str | None,
    units: Units | None,
) -> None:
    """Put the measures together as TOML, add them, tell."""
    from rosette.keys.show import toml_value
    from rosette.offcuts.keep import add
    from rosette.offcuts.typed import typed_values

    shapes: Mapping[str, Sequence[str] | None] = {
        "rectangle": rectangle, "taper": taper, "curved": curved,
        "file": None if tracing is None else (_beside(box, tracing),),
    }  # fmt: skip
    given = [shape for shape, measures in shapes.items() if measures]
    if len(given) != 1:
        told = "; ".join(f"--{one}" for one in given) or "none is given"
        raise click.UsageError(
            f"one of --rectangle, --taper, --curved and --file says the shape: {told}."
        )
    if sits is not None and given != ["taper"]:
        raise click.UsageError("--sits goes with --taper only.")
    values = {"id": toml_value(name), "wood": toml_value(wood)}
    values |= typed_values(
        box,
        units,
        thickness=thickness,
        shape=given[0],
        measures=shapes[given[0]] or (),
        sits=sits,
        knots=knots,
    )
    angle = None if grain is None else int(grain) if grain.is_integer() else grain
    plain = {"grain": angle, "count": count, "note": note}
    values |= {key: toml_value(value) for key, value in plain.items() if value is not None}
    for line in _told(add(box, values, units=units), box):
        click.echo(line)


def _beside(box: Path, tracing: Path) -> str:
    """The tracing's path as the file of the box has it."""
    return Path(os.path.relpath(tracing, box.resolve().parent)).as_posix()


def _told(added: Added, box: Path) -> Sequence[str]:
    from rosette.offcuts.box_table import area, area_words
    from rosette.units import format_length

    one, units = added.offcut, added.units
    begun = "" if added.change.before else f" The box {box} is begun with it."
    return [
        f"{one.id} is in the box: {one.wood}, {format_length(one.thickness, units)} thick,"
        f" {area_words(area(one), units)} usable.{begun}"
    ]
