"""The fixtures of a job: made by `jigs`, which alone knows the CAD kernel."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from rosette.errors import CannotMakeError, Finding, MissingLibraryError, finding
from rosette.packet.apart import apart
from rosette.packet.entry import Entry, Missing
from rosette.plan.model import Plan

if TYPE_CHECKING:
    from jigs.base import Fixture

KINDS = (".step", ".stl", ".3mf")
WITHOUT = "run again with --no-fixtures to have everything but the fixtures"
CRASHED = f"the CAD kernel crashed on the fixtures; {WITHOUT}"

Item = Entry | Missing | Finding
"""A file, one that could not be made, or something to think over about one."""


@contextmanager
def fixtures_meanwhile(plan: Plan, *, wanted: bool) -> Iterator[Callable[[], tuple[Item, ...]]]:
    """Start making the fixtures; gives a function that waits for them."""
    if not wanted:
        yield tuple
        return
    with apart(fixture_items, plan, refusal=CRASHED) as waiting:
        yield waiting


def fixture_items(plan: Plan) -> tuple[Item, ...]:
    """Every fixture of a plan as files, and what to mind about them.

    Raises:
        CannotMakeError: the kernel made no sound solid of one.
    """
    import jigs

    made = (item for fixture in jigs.fixtures(plan) for item in _items(fixture))
    return (*jigs.findings(plan), *made)


def _items(fixture: Fixture) -> Iterator[Item]:
    from jigs.export import files

    try:
        made = files(fixture)
    except MissingLibraryError as error:
        why = " ".join(error.lines())
        for kind in KINDS:
            file = f"fixtures/{fixture.name}{kind}"
            yield Missing(file=file, what=fixture.purpose, why=why)
    except CannotMakeError as error:
        raise CannotMakeError([*error.findings, finding("fixture", "", WITHOUT)]) from error
    else:
        for name, data in made.items():
            yield Entry(file=f"fixtures/{name}", what=fixture.purpose, data=data)
