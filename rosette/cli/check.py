"""`rosette check`: whether a design can be made as it stands."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from textwrap import wrap

import click

from rosette.design import read_design
from rosette.errors import CannotMakeError, Finding, RosetteError
from rosette.plan import Plan, make_plan
from rosette.units import Units

WIDTH = 80


@click.command("check", short_help="Say whether a design can be made.")
@click.argument("design", type=click.Path(path_type=Path))
@click.option(
    "--json", "as_json", is_flag=True, help="JSON for scripts, as docs/file-formats.md has it."
)
@click.option(
    "--units",
    type=click.Choice(["mm", "in"]),
    help="Tell lengths in these units instead of the design's own.",
)
@click.pass_context
def command(ctx: click.Context, design: Path, as_json: bool, units: Units | None) -> None:
    """Read DESIGN and say what is wrong with it, or that it can be made.

    Ends with 0 where it can be made, with what to think over first; with 1 where the design is
    sound but can't be made as asked, and what would work; with 2 where the file is wrong,
    every mistake at once.
    """
    try:
        plan = make_plan(read_design(design))
    except RosetteError as error:
        error.units = units or error.units
        if not as_json:
            raise
        kind = "refusal" if isinstance(error, CannotMakeError) else "input"
        click.echo(_as_json(error.findings, kind, error.units, ok=False))
        ctx.exit(error.exit_code)
    if as_json:
        click.echo(_as_json(plan.warnings, "warning", units or plan.units, ok=True))
    else:
        for line in _told(plan, units or plan.units):
            click.echo(line)


def _as_json(findings: Iterable[Finding], kind: str, units: Units, *, ok: bool) -> str:
    listed = [
        {
            "kind": kind,
            "code": one.code,
            "where": one.where,
            "message": one.saying.text(units),
        }
        for one in findings
    ]
    return json.dumps(
        {"schema": "rosette.check/1", "ok": ok, "findings": listed}, ensure_ascii=False
    )


def _told(plan: Plan, units: Units) -> Iterator[str]:
    if not plan.warnings:
        yield f"{plan.name} can be made as it stands."
        return
    yield f"{plan.name} can be made. To think over before cutting:"
    for one in plan.warnings:
        yield from wrap(
            one.text(units),
            WIDTH,
            initial_indent="- ",
            subsequent_indent="  ",
            break_long_words=False,
            break_on_hyphens=False,
        )
