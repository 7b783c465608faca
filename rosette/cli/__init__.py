"""The command line: one file a command, each loaded only when it is called for.

To add one: write `rosette/cli/NAME.py` with a click command called `command`, and give it a
line in `COMMANDS`. A command reads, calls one function of the library and prints; errors it
raises are told to the user in one place, `rosette.cli.ending`.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import Any

import click

from rosette import __version__
from rosette.cli import ending
from rosette.cli.lazily import LazyGroup

COMMANDS = {
    "new": "Start a design: a few questions, and a file that explains every key.",
    "check": "Read a design and say what is wrong with it, or that it can be made.",
    "plan": "Work out the bench numbers: wedges, saw, channel, movement.",
    "explore": "See what a box of offcuts can make, before there is a design.",
    "cut": "Cut the wedges out of a box of offcuts: which, how, what is left.",
    "make": "Do the whole job: sheets, glue-up tray, packet, all in one folder.",
    "jigs": "List the fixtures that suit a design, and make them; whole ranges too.",
    "offcuts": "Keep the box of offcuts: list it, add to it, take out what a job uses.",
    "list": "Show what there is to choose from: ring patterns, woods.",
}
"""Every command in the order of work, with the line that `rosette --help` shows for it."""

ABOUT = """\
Plans the wooden ring round a guitar's soundhole, from a design file to the bench:
the wedges and how to saw them, the channel for the ring, sheets at true scale, a
tray to glue the ring up in, a checklist."""

AFTER = """\
A first ring, start to end:

  rosette new my-guitar.toml             answer a few questions
  rosette check my-guitar.toml           can it be made as it stands?
  rosette plan my-guitar.toml            the numbers for the bench
  rosette make my-guitar.toml --out job  everything, in the folder "job"

"rosette COMMAND --help" tells more of each."""


class Commands(LazyGroup):
    """The whole tool: its commands are the files of this folder."""

    lines = COMMANDS
    home = "rosette.cli."
    heading = "Commands, in the order of work"

    def format_epilog(self, _: click.Context, formatter: click.HelpFormatter) -> None:
        """Show the example as it stands, unwrapped."""
        formatter.write(f"\n{AFTER}\n")

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; click would end a closed pipe with 1, which means something else."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            raise ending.PipeClosedError from None

    @staticmethod
    def _named(args: Sequence[str] | None) -> str:
        """The command that the arguments name, as it is typed."""
        first = next(iter(sys.argv[1:] if args is None else args), "")
        return f"rosette {first}" if first in COMMANDS else "rosette"

    def main(  # type: ignore[override]
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        **extra: Any,
    ) -> None:
        """Run a command and end the process with its exit code, every user's error in words."""
        extra.pop("standalone_mode", None)
        ending.prepare_streams()
        with ending.told(self._named(args)) as end:
            result = super().main(
                args, prog_name or "rosette", complete_var, standalone_mode=False, **extra
            )
            end.code = result if isinstance(result, int) else 0
            ending.flush()
        sys.exit(end.code)


@click.group(
    "rosette",
    cls=Commands,
    help=ABOUT,
    invoke_without_command=True,
    options_metavar="",
    subcommand_metavar="COMMAND ...",
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
)
@click.version_option(__version__, message="rosette %(version)s", help="Show the version.")
@click.pass_context
def main(ctx: click.Context) -> None:
    """Show the help where no command was named."""
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())
