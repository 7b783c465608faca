"""One job, start to end: a design in, a whole folder out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from rosette.design.model import Design
from rosette.errors import Finding
from rosette.packet.contents import PARTS, Request
from rosette.packet.entry import Entry, Missing
from rosette.packet.fixtures import Item, fixture_drawings, fixtures_meanwhile
from rosette.packet.folder import Placed, put
from rosette.packet.listing import manifest_entry
from rosette.packet.manifest import FILE
from rosette.packet.target import find_target
from rosette.picture import picture
from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.sheets import sheets
from rosette.sheets.cutting import sheets_with
from rosette.units import Units

if TYPE_CHECKING:
    from rosette.offcuts.cutplan import CuttingPlan

Progress = Callable[[int, int, str], None]
"""Called with shares done, shares in all, and what is being made now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A job that is done: its plan, its place, what was written, what was not, what to mind."""

    plan: Plan
    placed: Placed
    files: tuple[str, ...]
    missing: tuple[Missing, ...]
    warnings: tuple[Finding, ...]


def make_job(
    design: Design,
    out: Path,
    *,
    record: bytes,
    paper: str,
    units: Units | None = None,
    cutting: CuttingPlan | None = None,
    fixtures: bool = True,
    make_room: bool = False,
    progress: Progress = lambda _done, _of, _doing: None,
) -> Job:
    """Make everything for one design and put it in place, all or nothing.

    Args:
        design: what to make.
        out: the job folder; made, or brought up to date.
        record: the bytes of the design's file, kept with the job.
        paper: a name in `rosette.sheets.frame.PAPERS`.
        units: what people read; the design's own where None.
        cutting: how the wedges come out of offcuts, where they do.
        fixtures: make the fixtures too.
        make_room: let the maker's files that stand in the way make room, under another name.
        progress: told how far it has come.

    Raises:
        CannotMakeError: the design can't be made.
        InputError: the folder can't be written; nothing has changed then.
    """
    find_target(out)  # refuse early what would be refused after all the work
    plan = make_plan(design)
    plan = replace(plan, units=units or plan.units)
    with fixtures_meanwhile(plan, wanted=fixtures) as waiting:
        drawings = sheets(plan) if cutting is None else sheets_with(cutting, plan)
        if fixtures:
            drawings += fixture_drawings(plan)
        request = Request(
            design=design,
            record=record,
            plan=plan,
            drawings=drawings,
            picture=picture(plan),
            paper=paper,
            fixtures=waiting,
            cutting=cutting,
        )
        made = _made(request, progress)
    entries = [one for one in made if isinstance(one, Entry)]
    missing = tuple(one for one in made if isinstance(one, Missing))

    def finish(yours: frozenset[str]) -> Entry:
        return manifest_entry(design, entries, missing, yours)

    placed = put(out, entries, finish, replace=make_room)
    return Job(
        plan=plan,
        placed=placed,
        files=(*(one.file for one in entries), FILE),
        missing=missing,
        warnings=(*plan.warnings, *(one for one in made if isinstance(one, Finding))),
    )


def _made(request: Request, progress: Progress) -> tuple[Item, ...]:
    made: tuple[Item, ...] = ()
    done, of = 0, sum(part.share for part in PARTS)
    for part in PARTS:
        progress(done, of, part.doing)
        made += tuple(part.make(request, made))
        done += part.share
    progress(of, of, "Putting the folder in place")
    return made
