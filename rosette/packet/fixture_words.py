"""What fixtures.pdf says before the drawings: what each is for, what to buy, what can hurt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from rosette.output.document import (
    Block,
    Caution,
    Document,
    Heading,
    Paragraph,
    SheetPages,
    Table,
    TextPages,
)
from rosette.plan.model import Plan
from rosette.sheets.drawing import Drawing
from rosette.units import format_length

if TYPE_CHECKING:
    from jigs.base import Fixture

MAKING = {
    "fdm": "Printed: each part lies in the 3MF and STL as it is printed. Print at 100 %, without"
    " scaling, and measure the sizes in each drawing's table before you use it.",
    "cnc": "Routed: use the STEP. Inside corners have the radius of the bit that the design names."
    " Measure the sizes in each drawing's table before you use it.",
    "plywood": "Routed from plywood: use the STEP. Inside corners have the radius of the bit that"
    " the design names. Measure the sizes in each drawing's table before you use it.",
}
CAUTION = (
    "A fixture holds work where tools run. Look each one over for cracks, warp and loose screws"
    " before every use; throw away one that a blade or bit has run into. Printed parts soften in a"
    " hot car, and break without warning: wear eye protection, keep hands away from the line of"
    " the cut, and never hold a small piece in your fingers where the fixture should hold it. The"
    " machine's own manual, local rules and your own judgement come first."
)


def fixture_pages(
    plan: Plan, fixtures: Sequence[Fixture], drawings: Sequence[Drawing], paper: str
) -> Document:
    """The pages to print: words first, then each drawing."""
    words = TextPages(title="Fixtures", blocks=tuple(_blocks(plan, fixtures)))
    sheets = (SheetPages(drawing=one) for one in drawings)
    return Document(title=f"{plan.name}: fixtures", paper=paper, parts=(words, *sheets))


def picture_words(fixture: Fixture) -> str:
    """What the picture of a fixture is, for the manifest."""
    return f"A picture of it: {fixture.title}."


def _blocks(plan: Plan, fixtures: Sequence[Fixture]) -> Iterator[Block]:
    yield Paragraph(text=MAKING[plan.fixtures.process])
    clearance = format_length(plan.fixtures.clearance, plan.units)
    yield Paragraph(
        text=f"Sliding parts have {clearance} of room at each side (clearance, under [fixtures] in"
        " the design)."
    )
    yield Caution(text=CAUTION)
    for fixture in fixtures:
        yield Heading(text=f"{fixture.title} ({fixture.name})", level=2)
        yield Paragraph(text=fixture.purpose)
        why = fixture.why.text(plan.units)
        if why:
            yield Paragraph(text=f"Here: {why}.")
        if fixture.hardware():
            yield Table(rows=tuple(_hardware(fixture)), align="llr")
        for warning in fixture.warnings:
            yield Paragraph(text=f"Mind: {warning.saying.text(plan.units)}.")


def _hardware(fixture: Fixture) -> Iterator[tuple[str, ...]]:
    yield "to buy", "standard", "how many"
    for one in fixture.hardware():
        yield one.what, one.standard, str(one.count)
