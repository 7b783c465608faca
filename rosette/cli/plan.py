"""`rosette plan`: the bench numbers of one design."""

from __future__ import annotations

import json
from pathlib import Path

import click

from rosette.design import read_design
from rosette.plan import make_plan
from rosette.units import Units


@click.command("plan")
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="JSON, as docs/file-formats.md promises it.")
@click.option(
    "--units",
    type=click.Choice(["mm", "in"]),
    help="Tell lengths in these units instead of the design's own.",
)
def command(design: Path, as_json: bool, units: Units | None) -> None:
    """Work out the bench numbers of DESIGN: wedges, saw, channel, movement."""
    plan = make_plan(read_design(design))
    if as_json:
        from rosette.plan.as_json import plan_json

        click.echo(json.dumps(plan_json(plan, units), ensure_ascii=False, allow_nan=False))
    else:
        from rosette.report import report

        click.echo(report(plan, units), nl=False)
