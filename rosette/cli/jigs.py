"""`rosette jigs`: which fixtures suit a design, and the fixtures themselves."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rosette.units import Units

if TYPE_CHECKING:
    from rosette.packet.fixture_folder import FixtureJob
    from rosette.packet.size_run import Outcome

ABOUT = """\
List the fixtures that suit DESIGN, and why: trays, cauls, gauges, carriers, plates.

With --make they go into a folder: STEP, STL, 3MF, a dimensioned drawing and a picture of each, and
fixtures.pdf to print. How they are made - printed, routed, from plywood - and how closely they fit
stands under [fixtures] in the design.

With --sizes a whole range is made, a folder for each row of a table whose columns are keys of a
ring, such as name,inner_radius,width,segments. All cores work on it. A run that was stopped goes
on where it was; a row that can't be made stops no other, and sizes.csv says what became of each.
Ends with 1 where a row or a fixture can't be made."""


@click.command("jigs", help=ABOUT, short_help="List and make fixtures for a design.")
@click.argument("design", type=click.Path(path_type=Path))
@click.option(
    "--make",
    "kinds",
    multiple=True,
    metavar="KIND",
    help='A kind to make, or "all"; may be given again.',
)
@click.option("--out", type=click.Path(path_type=Path), metavar="DIR", help="The folder for them.")
@click.option(
    "--sizes",
    type=click.Path(path_type=Path),
    metavar="TABLE",
    help="A CSV table: make every size in it.",
)
@click.option(
    "--cores",
    type=click.IntRange(1, 256),
    metavar="N",
    help="How many sizes to make at a time. Left out: as many as the machine has cores.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter", "a3"], case_sensitive=False),
    help="What fixtures.pdf is printed on. Left out: letter for a design in inches, else a4.",
)
@click.option(
    "--units",
    type=click.Choice(["mm", "in"]),
    help="What drawings and pages are told in. Left out: the design's own units.",
)
@click.option(
    "--replace",
    is_flag=True,
    help="Let files of yours that stand in the way make room, under another name.",
)
@click.option("--json", "as_json", is_flag=True, help="The list as JSON, for scripts.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    *,
    design: Path,
    kinds: tuple[str, ...],
    out: Path | None,
    sizes: Path | None,
    cores: int | None,
    paper: str | None,
    units: Units | None,
    replace: bool,
    as_json: bool,
) -> None:
    """Read, make or list, tell."""
    _check_options(kinds, out, sizes, as_json=as_json)
    if out is None:
        _list(design, units, as_json=as_json)
        return
    asked = _Asked(kinds=kinds, out=out, paper=paper, units=units, replace=replace)
    ctx.exit(_make(design, asked) if sizes is None else _range(design, sizes, asked, cores))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """What is wanted, as it was typed."""

    kinds: tuple[str, ...]
    out: Path
    paper: str | None
    units: Units | None
    replace: bool

    def paper_for(self, design_units: Units) -> str:
        """The paper, or what is usual where these units are."""
        return self.paper or ("letter" if (self.units or design_units) == "in" else "a4")


def _check_options(
    kinds: tuple[str, ...], out: Path | None, sizes: Path | None, *, as_json: bool
) -> None:
    if kinds and out is None:
        raise click.UsageError("--make needs a folder to put the fixtures into: --out DIR.")
    if out is not None and not kinds:
        raise click.UsageError("--out needs to know what to make: --make KIND, or --make all.")
    if sizes is not None and out is None:
        raise click.UsageError("--sizes needs --make KIND and --out DIR.")
    if as_json and out is not None:
        raise click.UsageError("--json is for the list; leave out --make and --out.")


def _list(design: Path, units: Units | None, *, as_json: bool) -> None:
    from rosette.design import read_design
    from rosette.packet.fixture_list import list_json, list_lines
    from rosette.packet.trouble import shown
    from rosette.plan import make_plan

    plan = make_plan(read_design(design))
    if as_json:
        click.echo(json.dumps(list_json(plan), ensure_ascii=False, allow_nan=False))
        return
    for line in list_lines(plan, shown(design), units):
        click.echo(line)


def _make(design: Path, asked: _Asked) -> int:
    from rosette.cli.make import bar, ending_on_request
    from rosette.design.read import read_design_text
    from rosette.design.source import read_bytes, shown_path
    from rosette.packet.fixture_folder import kinds_wanted, make_fixtures

    wanted = kinds_wanted(asked.kinds)
    record = read_bytes(design)
    found = read_design_text(record, shown_path(design), design.parent)
    with ending_on_request(), bar() as progress:
        job = make_fixtures(
            found,
            asked.out,
            record=record,
            kinds=wanted,
            paper=asked.paper_for(found.units),
            units=asked.units,
            make_room=asked.replace,
            progress=progress,
        )
    return _told(job, asked)


def _told(job: FixtureJob, asked: _Asked) -> int:
    from rosette.cli.made import left_alone, listed
    from rosette.packet.trouble import shown

    out = asked.out
    click.echo(f"{job.plan.name}: {len(job.files)} files in {shown(out)}")
    click.echo(f"\n  Open first:  {shown(out / 'fixtures.pdf')}")
    for name in job.names:
        click.echo(f"  {name}: STEP, STL, 3MF, drawing (SVG, DXF), picture (PNG)")
    warnings = [one.text(job.plan.units) for one in job.warnings]
    for line in (*listed("To think over:", warnings), *left_alone(job.placed)):
        click.echo(line)
    refused = [one for one in job.warnings if one.code.startswith("no-")]
    return 1 if refused and "all" not in asked.kinds else 0


def _range(design: Path, sizes: Path, asked: _Asked, cores: int | None) -> int:
    from rosette.cli.ending import INTERRUPTED
    from rosette.cli.make import ending_on_request
    from rosette.packet.fixture_folder import kinds_wanted
    from rosette.packet.size_run import Wishes, make_range
    from rosette.packet.size_table import read_sizes

    wanted = kinds_wanted(asked.kinds)
    rows = read_sizes(sizes, design)
    inches = any(row.design is not None and row.design.units == "in" for row in rows)
    wishes = Wishes(
        out=asked.out,
        kinds=wanted,
        paper=asked.paper_for("in" if inches else "mm"),
        units=asked.units,
        make_room=asked.replace,
    )
    count = 0

    def told(outcome: Outcome) -> None:
        nonlocal count
        count += 1
        click.echo(f"{count} of {len(rows)}  {outcome.name}: {outcome.state}", err=True)

    try:
        with ending_on_request():
            outcomes = make_range(rows, wishes, cores=cores, told=told)
    except KeyboardInterrupt:
        click.echo(
            f"\nStopped: {count} of {len(rows)} sizes are settled, and stay. The same command"
            " again goes on from there.",
            err=True,
        )
        return INTERRUPTED
    return _told_range(outcomes, asked.out)


def _told_range(outcomes: Sequence[Outcome], out: Path) -> int:
    from rosette.cli.made import listed
    from rosette.packet.size_run import MADE, NOT_MADE, SUMMARY
    from rosette.packet.trouble import shown

    made = sum(one.state == MADE for one in outcomes)
    bad = [one for one in outcomes if one.state == NOT_MADE]
    there = len(outcomes) - made - len(bad)
    click.echo(
        f"{len(outcomes)} sizes in {shown(out)}: {made} made, {there} there already,"
        f" {len(bad)} not made."
    )
    click.echo(f"{shown(out / SUMMARY)} says what became of each.")
    for line in listed("Not made:", [f"{one.name}, line {one.line}: {one.what}" for one in bad]):
        click.echo(line)
    return 1 if bad else 0
