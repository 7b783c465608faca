"""What a fixture's sheet says in tables: parts, what to buy, what to check (mm on paper)."""

from __future__ import annotations

from collections.abc import Sequence

from rosette.plan.model import FixtureWishes
from rosette.sheets.block import Block, column
from rosette.sheets.dimension import length_text, units_note
from rosette.sheets.fixture_measures import Numbered, off_text
from rosette.sheets.fixture_views import FixtureView, PartView
from rosette.sheets.table import heading, note, table
from rosette.units import Units, format_length

SIZE = 2.5
MEASURED = "measured" + "\u00a0" * 12
"""Room to write a size in."""
MAKING = {"fdm": "Printed", "cnc": "Routed", "plywood": "Routed from plywood"}


def parts_table(fixture: FixtureView, wishes: FixtureWishes, units: Units, most: float) -> Block:
    """Every part: number, name, count, size, and which way up it is made."""
    head = ("", "part", "count", f"wide × deep × high, {units}", _way_head(wishes))
    rows = [
        (
            str(number),
            part.name,
            str(len(part.places)),
            _size(part, units),
            _way_up(part, wishes),
        )
        for number, part in enumerate(fixture.parts(), start=1)
    ]
    return _titled(
        "Parts",
        table([head, *rows], align="clcll", size=SIZE, bold_first=True, smallest=SIZE, most=most),
    )


def _way_head(wishes: FixtureWishes) -> str:
    return "printed" if wishes.process == "fdm" else "routed from"


def _way_up(part: PartView, wishes: FixtureWishes) -> str:
    block = part.block
    if wishes.process == "fdm":
        return "top down" if part.print_over else "top up"
    if block.steps and block.under:
        return "both sides"
    return "below" if block.under else "above"


def _size(part: PartView, units: Units) -> str:
    left, low, right, high = part.block.outline.bounds()
    sizes = (right - left, high - low, part.block.highest - part.block.lowest)
    return " × ".join(length_text(size, units, decimals=1) for size in sizes)


def hardware_table(fixture: FixtureView, most: float) -> Block | None:
    """What to buy; None where that is nothing."""
    rows = [(one.what, one.standard or "–", str(one.count)) for one in fixture.hardware()]
    if not rows:
        return None
    head = ("to buy", "standard", "count")
    return _titled(
        "Hardware", table([head, *rows], align="llr", size=SIZE, smallest=SIZE, most=most)
    )


def checks_table(
    checks: Sequence[Numbered], units: Units, most: float, several: bool
) -> Block | None:
    """Every size to check, with room to write down what was measured."""
    if not checks:
        return None
    head = ("", "what", *(("part",) if several else ()), f"size, {units}", "off by", MEASURED)
    rows = [
        (
            str(one.number),
            one.check.what,
            *((one.check.part,) if several else ()),
            length_text(one.check.size, units),
            off_text(one.check, units),
            "",
        )
        for one in checks
    ]
    align = "cl" + ("l" if several else "") + "rrl"
    made = table([head, *rows], align=align, size=SIZE, bold_first=True, smallest=SIZE, most=most)
    return _titled("Check by caliper", made)


def notes(
    wishes: FixtureWishes,
    units: Units,
    width: float,
    *,
    several: bool,
    crowded: bool,
    scale: str,
) -> Block:
    """How it is made, and how to read the sheet."""
    room = format_length(wishes.clearance, units)
    words = [
        f"{MAKING[wishes.process]} ({wishes.process}), made for {room} of room where parts slide.",
        f"{units_note(units)} Scale {scale}. Dashed: on the underside.",
    ]
    if crowded:
        words.append(
            "Where sizes crowd, their numbers alone stand at the ends of what is measured."
        )
    if several:
        words.append(
            "Put together they are drawn as they stand in use; each by itself with its top up."
        )
    return note(" ".join(words), width, size=SIZE)


def _titled(title: str, made: Block) -> Block:
    return column([heading(title, size=3.0), made], gap=1.2)
