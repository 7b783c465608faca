"""Which fixtures suit a plan and why, told to people and to programs."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from rosette.errors import Finding
from rosette.plan.model import Plan
from rosette.units import Units, format_length

if TYPE_CHECKING:
    from jigs.base import Fixture, Part

SCHEMA = "rosette.jigs/1"
WIDTH, INDENT = 80, 4
NEVER = "nothing in this design calls for one"


def list_lines(plan: Plan, design: str, units: Units | None = None) -> Iterator[str]:
    """The list for a terminal, at most 80 columns wide.

    Raises:
        InputError: the design names a kind that there is not.
    """
    import jigs

    units = units or plan.units
    offers = jigs.offers(plan, jigs.KINDS)
    made = [one for _, one in offers if not isinstance(one, Finding)]
    count = "1 fixture suits" if len(made) == 1 else f"{len(made)} fixtures suit"
    yield f"{plan.name}: {count} this design"
    for kind, one in offers:
        if not isinstance(one, Finding):
            yield ""
            yield from _offered(kind, one, units)
    yield from _others(offers, units)
    yield ""
    yield "Make some of them, or all, into a folder:"
    first = offers[0][0] if offers else next(iter(jigs.KINDS))
    yield f"  rosette jigs {design} --make {first} --out fixtures"
    yield f"  rosette jigs {design} --make all --out fixtures"


def _offered(kind: str, one: Fixture, units: Units) -> Iterator[str]:
    yield from _wrapped(f"{kind}: {one.title} ({one.name})", 0)
    yield from _wrapped(one.purpose, INDENT)
    why = one.why.text(units)
    if why:
        yield from _wrapped(f"Why here: {why}.", INDENT)
    sizes = "; ".join(_part(part, units) for part in one.parts())
    yield from _wrapped(f"Parts: {sizes}.", INDENT)
    if one.hardware():
        bought = ", ".join(f"{x.count} {x.what} ({x.standard})" for x in one.hardware())
        yield from _wrapped(f"To buy: {bought}.", INDENT)
    for warning in one.warnings:
        yield from _wrapped(f"Mind: {warning.saying.text(units)}.", INDENT)


def _others(offers: tuple[tuple[str, Fixture | Finding], ...], units: Units) -> Iterator[str]:
    import jigs

    refused = [(kind, one) for kind, one in offers if isinstance(one, Finding)]
    told = {kind for kind, _ in offers}
    lines = [f"{kind}: {one.text(units)}" for kind, one in refused]
    lines += [f"{kind}: {NEVER}" for kind in jigs.KINDS if kind not in told]
    if lines:
        yield ""
        yield "Not for this design:"
    for line in lines:
        yield from wrap(line, WIDTH, initial_indent="- ", subsequent_indent="  ")


def _part(part: Part, units: Units) -> str:
    times = f"{len(part.places)} × " if len(part.places) > 1 else ""
    sizes = " × ".join(format_length(size, units, decimals=1) for size in size_of(part))
    return f"{times}{part.name} {sizes}"


def _wrapped(text: str, indent: int) -> list[str]:
    lead = " " * indent
    return wrap(text, WIDTH, initial_indent=lead, subsequent_indent=lead, break_on_hyphens=False)


def size_of(part: Part) -> tuple[float, float, float]:
    """Width, depth and height of a part by itself (mm)."""
    left, low, right, high = part.block.outline.bounds()
    return right - left, high - low, part.block.highest - part.block.lowest


def list_json(plan: Plan) -> dict[str, Any]:
    """The list for programs, lengths in mm.

    Raises:
        InputError: the design names a kind that there is not.
    """
    import jigs

    offers = jigs.offers(plan, jigs.KINDS)
    return {
        "schema": SCHEMA,
        "name": plan.name,
        "process": plan.fixtures.process,
        "clearance": plan.fixtures.clearance,
        "fixtures": [
            _fixture(kind, one, plan) for kind, one in offers if not isinstance(one, Finding)
        ],
        "not_made": [
            {"kind": kind, "code": one.code, "where": one.where, "message": one.saying.text()}
            for kind, one in offers
            if isinstance(one, Finding)
        ],
    }


def _fixture(kind: str, one: Fixture, plan: Plan) -> dict[str, Any]:
    from jigs.export import names

    return {
        "kind": kind,
        "name": one.name,
        "title": one.title,
        "purpose": one.purpose,
        "why": one.why.text(),
        "files": list(names(one, plan.fixtures.bed)),
        "parts": [
            {"name": part.name, "count": len(part.places), "size": list(size_of(part))}
            for part in one.parts()
        ],
        "hardware": [
            {"what": x.what, "standard": x.standard, "count": x.count} for x in one.hardware()
        ],
        "checks": [
            {"part": x.part, "what": x.what, "size": x.size, "minus": x.minus, "plus": x.plus}
            for x in one.checks()
        ],
        "warnings": [
            {"code": x.code, "where": x.where, "message": x.saying.text()} for x in one.warnings
        ],
    }
