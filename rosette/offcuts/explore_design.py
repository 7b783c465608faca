"""A row of the choice as a design file, tried out on the box before anybody trusts it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rosette.design import read_design_text
from rosette.design.kinds import usual
from rosette.design.model import Design, PlacedRing
from rosette.design.typed import typed_length
from rosette.design.written import design_text
from rosette.errors import CannotMakeError, finding
from rosette.offcuts.cutplan import CuttingPlan
from rosette.offcuts.cutting import cut
from rosette.offcuts.explored import Ask, Exploration, Row
from rosette.offcuts.supply import Stock
from rosette.patterns.radial_keys import RadialKeys
from rosette.plan import make_plan
from rosette.units import format_length
from rosette.words import listed

_NEAR = 1e-9


def row_design(ask: Ask, row: Row) -> Design:
    """The design of a row: the one asked with, its ring of wedges as the row has it.

    A guitar that is made up of what is usual gets a soundhole as the ring's inner radius wants
    it.
    """
    design, at = ask.design, ask.ring - 1
    placed = design.rings[at]
    assert isinstance(placed.keys, RadialKeys)  # an Ask is made for a ring of wedges
    keys = placed.keys
    if abs(row.kind.inner_radius - placed.inner_radius) > _NEAR:
        keys = replace(keys, inner_radius=row.kind.inner_radius, space=None)
    keys = replace(
        keys,
        width=row.width,
        outer_radius=None,
        segments=row.kind.segments,
        segment_width=None,
        wood=row.kind.woods,
    )
    ring = PlacedRing(
        index=placed.index,
        keys=keys,
        inner_radius=row.kind.inner_radius,
        outer_radius=row.outer_radius,
    )
    design = replace(design, rings=(*design.rings[:at], ring, *design.rings[at + 1 :]))
    return design if ask.like else _with_soundhole(design, row.kind.inner_radius)


def _with_soundhole(design: Design, inner_radius: float) -> Design:
    space = typed_length(usual("steel", design.units)["space"], design.units)
    hole = inner_radius - space if inner_radius > 2.0 * space else inner_radius / 2.0
    instrument = replace(design.instrument, soundhole_diameter=2.0 * hole, fingerboard_reach=hole)
    return replace(design, instrument=instrument)


def row_text(exploration: Exploration, row: Row) -> str:
    """The design file of a row."""
    ask, kind = exploration.ask, row.kind
    uses = ", ".join(f"{count} × {name}" if count > 1 else name for name, count in row.uses)
    spares = f"{row.spares or 'no'} spare{'s' if row.spares != 1 else ''}"
    spares += " of each wood" if len(kind.woods) > 1 else ""
    head = (
        f"{ask.design.instrument.name}: {kind.segments} wedges of {listed(kind.woods)},"
        f" a ring {format_length(row.width, ask.units)} wide.\n"
        f"Chosen from what {exploration.box_file or 'a box of offcuts'} can make: it comes out of"
        f" {uses},\nwith {spares}.\n"
        'Change any value and try again: "rosette check" says whether it can be made,\n'
        '"rosette cut" how its wedges come out of the box.'
    )
    return design_text(row_design(ask, row), head=head, assumed=ask.assumed)


def tried(text: str, stock: Sequence[Stock], exploration: Exploration, row: Row) -> CuttingPlan:
    """The design of a row, planned and cut: the proof that the box gives it.

    Raises:
        CannotMakeError: it can't be made, or its wedges don't all come out of the box.
    """
    plan = make_plan(read_design_text(text.encode(), f"row {row.number}"))
    cutting = cut(plan, stock, replace(exploration.ask.options, spares=row.spares))
    if not cutting.complete:
        missing = cutting.missing + sum(tally.spares_missing for tally in cutting.tallies)
        raise CannotMakeError(
            [
                finding(
                    "not-enough-wood",
                    "",
                    'all rings of the design together lack {missing} wedges in this box; "rosette'
                    ' cut" with the design says which',
                    missing=missing,
                )
            ],
            source=f"row {row.number}",
            units=exploration.ask.units,
        )
    return cutting
