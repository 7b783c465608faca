"""The options that say how wedges are cut out of offcuts, for every command that cuts."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Literal, TypeVar

import click
from click.core import ParameterSource

from rosette.units import Units

if TYPE_CHECKING:
    from rosette.offcuts.options import CutOptions

Command = TypeVar("Command", bound=Callable[..., Any])

MOST_SPARES = 500
MOST_TOLERANCE = 45.0


def _finite(_ctx: click.Context, _param: click.Parameter, value: float) -> float:
    """A range lets "nan" through, which is neither below nor above anything."""
    if not math.isfinite(value):
        raise click.BadParameter("it is not a number of degrees.")
    return value


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


OPTIONS = (
    click.option(
        "--method",
        type=click.Choice(["strip", "free"]),
        default="strip",
        help="strip (the default): a saw, every cut from edge to edge. free: fret saw, laser, CNC.",
    ),
    click.option(
        "--grain-tolerance",
        type=click.FloatRange(0.0, MOST_TOLERANCE),
        default=0.0,
        callback=_finite,
        metavar="DEG",
        help="How far wedges may stand off the grain. Left out: not at all.",
    ),
    click.option(
        "--all", "everything", is_flag=True, help="Cut as many wedges as the offcuts hold."
    ),
    click.option(
        "--keep-neighbours",
        is_flag=True,
        help="Saw all wedges the same way up, so that neighbours in the wood stay neighbours.",
    ),
    click.option(
        "--mirrored", is_flag=True, help="Let the left half of the ring mirror the right half."
    ),
    click.option(
        "--faces",
        type=click.Choice(["one", "both"]),
        default="one",
        help="both: wedges may be turned over, so that their backs show. Left out: one.",
    ),
    click.option(
        "--first",
        type=click.Choice(["offcuts", "runs", "remainder"]),
        default="offcuts",
        help="What to weigh first once all wedges are there: fewest offcuts (the default), the"
        " longest runs of neighbours, or the best remainder.",
    ),
    click.option(
        "--skip-hidden", is_flag=True, help="Leave out wedges that the fingerboard hides wholly."
    ),
    click.option(
        "--least-in-hand",
        metavar="LENGTH",
        help="Warn where a cut leaves less than this to hold. Left out: 150 mm, or 6 in for a"
        " design in inches.",
    ),
    click.option(
        "--laser-line",
        type=click.Choice(["outside", "edge"]),
        help="Files for a laser or CNC. outside: half a kerf outside each blank, for a machine that"
        " knows no kerf; edge: on the blank's own edge. Left out: outside with --method free, no"
        " such files with strips.",
    ),
    click.option(
        "--laser-once",
        is_flag=True,
        help="In those files, make each line that two blanks share a single cut.",
    ),
)
NAMES = frozenset(
    (
        *("method", "grain_tolerance", "spares", "everything", "keep_neighbours", "mirrored"),
        *("faces", "first", "skip_hidden", "least_in_hand", "laser_line", "laser_once"),
    )
)
"""The parameters that `cutting_options` adds."""


def cutting_options(*, spares: int | str, told: str) -> Callable[[Command], Command]:
    """Add the options to a command; `spares` where they are left out, `told` what that means."""
    count = click.option(
        "--spares",
        type=Spares(),
        default=spares,
        metavar="N",
        help=f'Spares of each kind of wedge; "usual" for a tenth, two at the least. {told}',
    )

    def add(command: Command) -> Command:
        for option in reversed((count, *OPTIONS)):
            command = option(command)
        return command

    return add


def options_from(wishes: dict[str, Any], units: Units) -> CutOptions:
    """The options of the command line as the library has them."""
    from rosette.cli.lengths import length_option
    from rosette.offcuts.options import LEAST_IN_HAND, OBJECTIVES, CutOptions

    given = dict(wishes)
    first, least = given.pop("first"), given.pop("least_in_hand")
    return CutOptions(
        **given,
        objectives=(first, *(one for one in OBJECTIVES if one != first)),
        least_in_hand=LEAST_IN_HAND[units]
        if least is None
        else length_option("--least-in-hand", least, units),
    )


def refuse_without_box() -> None:
    """Refuse options that say how to cut where no box is given.

    Raises:
        UsageError: naming the first of them.
    """
    context = click.get_current_context()
    for parameter in context.command.params:
        name = parameter.name or ""
        if name in NAMES and context.get_parameter_source(name) is ParameterSource.COMMANDLINE:
            raise click.UsageError(
                f"{parameter.opts[0]} says how wedges are cut out of offcuts; name the box too,"
                " with --offcuts.",
                context,
            )
