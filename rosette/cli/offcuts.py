"""`rosette offcuts`: keeping the box of offcuts. One file a command, loaded when it is called."""

from __future__ import annotations

from importlib import import_module

import click

from rosette.cli import ending

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


class Commands(click.Group):
    """A group whose commands are the files offcuts_NAME.py beside this one."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        """Every command, in the order of work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Load the file of one command."""
        if cmd_name not in COMMANDS:
            return None
        found: click.Command = import_module(f"rosette.cli.offcuts_{cmd_name}").command
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Refuse an unknown command with the nearest name."""
        if args[0] not in COMMANDS and not args[0].startswith("-"):
            raise click.UsageError(ending.unknown_command(args[0], COMMANDS), ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, _: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands without loading any of them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


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
