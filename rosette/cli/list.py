"""`rosette list`: what there is to choose from. One file a command, loaded when it is called."""

from __future__ import annotations

import click

from rosette.cli.lazily import LazyGroup

COMMANDS = {
    "patterns": "Show every ring pattern, with a small picture of each.",
    "woods": "Show the woods whose movement is known, and where the figures come from.",
}
"""Every command of the group, with the line that its help shows for it."""


class Commands(LazyGroup):
    """The lists: the files list_NAME.py beside this one."""

    lines = COMMANDS
    home = "rosette.cli.list_"


@click.group(
    "list",
    cls=Commands,
    help="Show what a design can choose from.",
    short_help="Show what there is to choose from.",
    subcommand_metavar="COMMAND ...",
    options_metavar="",
    invoke_without_command=True,
)
@click.pass_context
def command(ctx: click.Context) -> None:
    """Show the help where no command was named."""
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())
