"""Fixtures alone, in a folder of their own: the files, a drawing and a picture of each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from rosette.design.model import Design
from rosette.errors import CannotMakeError, Finding, InputError
from rosette.packet.apart import apart
from rosette.packet.entry import Entry
from rosette.packet.fixture_words import fixture_pages, picture_words
from rosette.packet.fixtures import CRASHED_ALONE, Item
from rosette.packet.folder import Placed, put
from rosette.packet.job import Progress
from rosette.packet.listing import manifest_entry
from rosette.packet.manifest import FILE
from rosette.packet.target import find_target
from rosette.packet.title import title_block
from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.units import Units

if TYPE_CHECKING:
    from jigs.base import Fixture

PICTURE_PIXELS = 1600


@dataclass(frozen=True, slots=True, kw_only=True)
class FixtureJob:
    """Fixtures that are in place: their names, the files, what to mind."""

    plan: Plan
    placed: Placed
    names: tuple[str, ...]
    files: tuple[str, ...]
    warnings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Order:
    """What to make of a plan, as it is handed to another process."""

    plan: Plan
    kinds: tuple[str, ...]


def make_fixtures(
    design: Design,
    out: Path,
    *,
    record: bytes,
    kinds: Sequence[str],
    paper: str,
    units: Units | None = None,
    make_room: bool = False,
    own_process: bool = True,
    progress: Progress = lambda _done, _of, _doing: None,
) -> FixtureJob:
    """Make the fixtures of one design and put them in place, all or nothing.

    Args:
        design: what they are for.
        out: the folder; made, or brought up to date.
        record: the bytes of the design's file, kept beside them.
        kinds: which, by the names that `jigs.KINDS` has.
        paper: what fixtures.pdf is printed on, a name in `rosette.sheets.frame.PAPERS`.
        units: what people read; the design's own where None.
        make_room: let the maker's files that stand in the way make room, under another name.
        own_process: make the solids in another process, so that a crash of the kernel is told.
        progress: told how far it has come.

    Raises:
        CannotMakeError: the design can't be made, or none of the fixtures can.
        InputError: there is no such kind, or the folder can't be written.
        MissingLibraryError: the CAD kernel can't be loaded.
    """
    import jigs

    find_target(out)
    plan = make_plan(design)
    plan = replace(plan, units=units or plan.units)
    fixtures, notes = jigs.fixtures(plan, kinds), jigs.findings(plan, kinds)
    if not fixtures:
        raise CannotMakeError(notes or NOTHING, source=design.source, units=plan.units)
    order = _Order(plan=plan, kinds=tuple(kinds))
    with _solids(order, apart_from_here=own_process) as solids:
        progress(0, len(fixtures) + 1, "Drawing the sheets")
        entries = [*_record(design, record), *_drawn(plan, fixtures, paper)]
        for number, fixture in enumerate(fixtures, start=1):
            progress(number, len(fixtures) + 1, f"Making {fixture.name}")
            made = next(solids)
            entries += [one for one in made if isinstance(one, Entry)]
            notes += tuple(one for one in made if isinstance(one, Finding))
    progress(len(fixtures) + 1, len(fixtures) + 1, "Putting the folder in place")

    def finish(yours: frozenset[str]) -> Entry:
        return manifest_entry(design, entries, (), yours)

    placed = put(out, entries, finish, replace=make_room)
    return FixtureJob(
        plan=plan,
        placed=placed,
        names=tuple(one.name for one in fixtures),
        files=(*(one.file for one in entries), FILE),
        warnings=notes,
    )


NOTHING = "nothing in this design calls for such a fixture"


def _record(design: Design, record: bytes) -> Iterator[Entry]:
    yield Entry(
        file="design.toml",
        what="A copy of the design that the fixtures were made for.",
        data=record,
    )
    for one in design.files():
        yield Entry(file=one.name, what="A copy of a file that the design names.", data=one.data)


def _drawn(plan: Plan, fixtures: Sequence[Fixture], paper: str) -> Iterator[Entry]:
    """The drawings, one by one and as pages to print."""
    from rosette.output.dxf import dxf_bytes
    from rosette.output.pdf import pdf_bytes
    from rosette.output.svg import svg_bytes
    from rosette.sheets.fixture import drawings
    from rosette.sheets.frame import framed

    sheets = tuple(sheet for fixture in fixtures for sheet in drawings(fixture, plan))
    block = title_block(plan)
    yield Entry(
        file="fixtures.pdf",
        what="To print: what each fixture is for, its parts and hardware, and its drawing.",
        data=pdf_bytes(fixture_pages(plan, fixtures, sheets, paper), block),
    )
    for number, one in enumerate(sheets, start=1):
        sheet = framed(one, title_block(plan, f"{number} of {len(sheets)}"))
        yield Entry(file=f"{one.name}.svg", what=one.purpose, data=svg_bytes(sheet))
        yield Entry(file=f"{one.name}.dxf", what=one.purpose, data=dxf_bytes(sheet))


@contextmanager
def _solids(order: _Order, *, apart_from_here: bool) -> Iterator[Iterator[tuple[Item, ...]]]:
    """The files of each fixture in turn, made here or meanwhile in another process."""
    if not apart_from_here:
        yield _solid_files(order)
        return
    with apart(_solid_files, order, refusal=CRASHED_ALONE) as made:
        yield made


def _solid_files(order: _Order) -> Iterator[tuple[Item, ...]]:
    """What the CAD kernel makes of each fixture: the solids' files, a picture, what is found."""
    import jigs
    from jigs.kernel import load

    load()
    for fixture in jigs.fixtures(order.plan, order.kinds):
        yield tuple(_files_of(fixture, order.plan))


def _files_of(fixture: Fixture, plan: Plan) -> Iterator[Item]:
    from jigs.export import made
    from jigs.render import png_bytes

    done = made(fixture, plan.fixtures.bed)
    yield from done.findings
    for name, data in done.files.items():
        yield Entry(file=name, what=fixture.purpose, data=data)
    picture = png_bytes(fixture, pixels=PICTURE_PIXELS)
    yield Entry(file=f"{fixture.name}.png", what=picture_words(fixture), data=picture)


def kinds_wanted(named: Sequence[str]) -> tuple[str, ...]:
    """The kinds that a maker named; "all" is every one.

    Raises:
        InputError: there is no such kind.
    """
    import jigs

    if "all" in named:
        return tuple(jigs.KINDS)
    try:
        return jigs.check_kinds(named)
    except InputError as error:
        raise InputError([replace(one, where="--make") for one in error.findings]) from None
