"""`rosette list woods`: the woods whose movement is known."""

from __future__ import annotations

from textwrap import wrap

import click


@click.command("woods", short_help="Show the woods whose movement is known.")
def command() -> None:
    """Show the woods whose movement is known, in percent of width per percent of moisture.

    A design may name any wood; only for these can the movement be told.
    """
    from rosette.wood.species import also_called, known_woods, species

    found = [wood for wood in map(species, known_woods()) if wood is not None]
    woods = sorted({wood.name: wood for wood in found}.values(), key=lambda wood: wood.name)
    sources = {source: i for i, source in enumerate(dict.fromkeys(w.source for w in woods), 1)}
    click.echo(f"{'wood':<20}{'quartersawn':>12}{'flatsawn':>10}  source  also called")
    for wood in woods:
        row = f"{wood.name:<20}{100 * wood.radial:>12.3f}{100 * wood.tangential:>10.3f}"
        common = wrap(", ".join(also_called(wood.name)), 80 - 52) or [""]
        click.echo(f"{row}  [{sources[wood.source]}]     {common[0]}".rstrip())
        for more in common[1:]:
            click.echo(" " * 52 + more)
    click.echo()
    for source, number in sources.items():
        click.echo(f"[{number}] {source}")
