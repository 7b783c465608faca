"""Groups whose commands are files, each loaded only when it is called for."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import ClassVar

import click

from rosette.cli import ending


class LazyGroup(click.Group):
    """A group that lists its commands without loading them.

    `lines` holds every command with the line that the help shows for it; the command NAME is
    `command` in the module `home` + NAME.
    """

    lines: ClassVar[Mapping[str, str]]
    home: ClassVar[str]
    heading: ClassVar[str] = "Commands"

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        """Every command, in the order of work."""
        return list(self.lines)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Load the file of one command."""
        if cmd_name not in self.lines:
            return None
        found: click.Command = import_module(self.home + cmd_name).command
        return found

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Refuse an unknown command with the nearest name."""
        if args[0] not in self.lines and not args[0].startswith("-"):
            raise click.UsageError(ending.unknown_command(args[0], self.lines), ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, _: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands without loading any of them."""
        with formatter.section(self.heading):
            formatter.write_dl(list(self.lines.items()))
