"""`rosette offcuts`: keeping the box of offcuts. One file a command, loaded when it is called."""

from __future__ import annotations

import click

from rosette.cli.lazily import LazyGroup

COMMANDS = {
    "list": "Show the box as a table, and as a picture.",
    "add": "Add an offcut from a few measures, or from a tracing.",
    "take": "Note what a job has used, and put back what is left.",
}
"""Every command of the group, with the line that its help shows for it."""

ABOUT = """\
Keep the box of offcuts: what is in it, what comes in, what a job takes out.

The box is a text file that you can read and change by hand; docs/offcuts-file.md tells of every
key. Each change made here is whole or not there, and the file as it was before stays in a folder
beside it, FILE.before."""


class Commands(LazyGroup):
    """The box's commands: the files offcuts_NAME.py beside this one."""

    lines = COMMANDS
    home = "rosette.cli.offcuts_"


@click.group(
    "offcuts",
    cls=Commands,
    help=ABOUT,
    short_help="Keep the box of offcuts.",
    subcommand_metavar="COMMAND ...",
    options_metavar="",
    invoke_without_command=True,
)
@click.pass_context
def command(ctx: click.Context) -> None:
    """Show the help where no command was named."""
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())
