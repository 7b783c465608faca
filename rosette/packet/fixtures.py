"""The fixtures of a job: made by `jigs`, which alone knows the CAD kernel."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from rosette.errors import CannotMakeError, Finding, MissingLibraryError, finding
from rosette.packet.apart import apart
from rosette.packet.entry import Entry, Missing
from rosette.plan.model import Plan
from rosette.sheets.drawing import Drawing

if TYPE_CHECKING:
    from jigs.base import Fixture

WITHOUT = "run again with --no-fixtures to have everything but the fixtures"
CRASHED = f"the CAD kernel crashed on the fixtures; {WITHOUT}"
CRASHED_ALONE = "the CAD kernel crashed on the fixtures; make them one kind at a time to see which"

Item = Entry | Missing | Finding
"""A file, one that could not be made, or something to think over about one."""


def fixture_drawings(plan: Plan) -> tuple[Drawing, ...]:
    """Dimensioned drawings of every fixture that the design asks for; needs no CAD kernel."""
    import jigs
    from rosette.sheets.fixture import drawings

    return tuple(sheet for one in jigs.fixtures(plan) for sheet in drawings(one, plan))


@contextmanager
def fixtures_meanwhile(plan: Plan, *, wanted: bool) -> Iterator[Iterator[tuple[Item, ...]]]:
    """Start making the fixtures: gives `fixture_items`, worked out elsewhere."""
    if not wanted:
        yield iter(((), ()))
        return
    with apart(fixture_items, plan, refusal=CRASHED) as found:
        yield found


def fixture_items(plan: Plan) -> Iterator[tuple[Item, ...]]:
    """First what there will be, the files still empty, as soon as it is known; then all of it.

    Raises:
        CannotMakeError: the kernel made no sound solid of one.
    """
    import jigs
    from jigs.kernel import load

    fixtures, notes = jigs.fixtures(plan), jigs.findings(plan)
    try:
        if fixtures:
            load()
    except MissingLibraryError as error:
        why = " ".join(error.lines())
        missing = tuple(
            Missing(file=file, what=one.purpose, why=why)
            for one in fixtures
            for file in _names(one, plan)
        )
        yield notes + missing
        yield notes + missing
        return
    yield notes + tuple(
        Entry(file=file, what=one.purpose, data=b"")
        for one in fixtures
        for file in _names(one, plan)
    )
    yield notes + tuple(entry for one in fixtures for entry in _entries(one, plan))


def _names(fixture: Fixture, plan: Plan) -> Iterator[str]:
    from jigs.export import names

    return (f"fixtures/{name}" for name in names(fixture, plan.fixtures.bed))


def _entries(fixture: Fixture, plan: Plan) -> Iterator[Item]:
    from jigs.export import made

    try:
        done = made(fixture, plan.fixtures.bed)
    except CannotMakeError as error:
        raise CannotMakeError([*error.findings, finding("fixture", "", WITHOUT)]) from error
    yield from done.findings
    for name, data in done.files.items():
        yield Entry(file=f"fixtures/{name}", what=fixture.purpose, data=data)
