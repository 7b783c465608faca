"""A whole range of sizes: a folder of fixtures for each row of a table, over all cores.

Each folder is put in place as a whole. A run that is stopped goes on where it was: a folder
that holds what its row asks for, made by this version, is left alone.
"""

from __future__ import annotations

import csv
import io
import multiprocessing
import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from rosette import __version__
from rosette.errors import InputError, RosetteError
from rosette.packet.manifest import FILE, ManifestError, read_manifest
from rosette.packet.size_table import Row
from rosette.packet.target import find_target
from rosette.packet.trouble import disk_trouble
from rosette.units import Units

SUMMARY = "sizes.csv"
HEADING = ("size", "line", "state", "what")
MADE, THERE, NOT_MADE = "made", "there already", "not made"
CRASHED = "the CAD kernel crashed on it; make its kinds one at a time to see which"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What became of one row: `state` is "made", "there already" or "not made", `what` why."""

    name: str
    line: int
    state: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What is made of every row, and how: see `rosette.packet.fixture_folder.make_fixtures`."""

    out: Path
    kinds: tuple[str, ...]
    paper: str
    units: Units | None = None
    make_room: bool = False


Told = Callable[[Outcome], None]


def make_range(
    rows: Sequence[Row], wishes: Wishes, *, cores: int | None = None, told: Told
) -> tuple[Outcome, ...]:
    """Make every row's folder; `told` hears of each as it is done. In the order of the table.

    A row that is wrong, can't be made or crashes the kernel stops no other. When the run is
    interrupted what is done stays, and the summary says how far it came.

    Raises:
        InputError: the folder of the range can't be written, or holds another's summary.
    """
    _check_place(wishes.out)
    found: dict[int, Outcome] = {}

    def tell(outcome: Outcome) -> None:
        found[outcome.line] = outcome
        told(outcome)

    try:
        todo = []
        for row in rows:
            settled = _settled(row, wishes)
            if settled is None:
                todo.append(row)
            else:
                tell(settled)
        for outcome in _made(todo, wishes, cores or os.cpu_count() or 1):
            tell(outcome)
    finally:
        outcomes = tuple(found[row.line] for row in rows if row.line in found)
        _write_summary(wishes.out, outcomes)
    return outcomes


def _settled(row: Row, wishes: Wishes) -> Outcome | None:
    """What became of a row that needs no making."""
    if row.design is None:
        why = "; ".join(one.text() for one in row.wrong)
        return Outcome(name=row.name, line=row.line, state=NOT_MADE, what=why)
    if _is_there(row, wishes):
        return Outcome(name=row.name, line=row.line, state=THERE, what="as it was made before")
    return None


def _is_there(row: Row, wishes: Wishes) -> bool:
    """Whether a row's folder is whole, of this version, and of this very design and wishes."""
    folder = wishes.out / row.name
    try:
        manifest = read_manifest((folder / FILE).read_bytes())
    except (OSError, ManifestError):
        return False
    if manifest.version != __version__ or manifest.design_sha256 != _digest(row, wishes):
        return False
    with suppress(OSError):
        return all(
            sha256((folder / file).read_bytes()).hexdigest() == digest
            for file, digest in manifest.written().items()
        )
    return False


def _digest(row: Row, wishes: Wishes) -> str:
    asked = (wishes.kinds, wishes.paper, wishes.units)
    named = () if row.design is None else row.design.files()
    files = b"".join(one.data for one in named)
    return sha256(row.record + files + repr(asked).encode()).hexdigest()


def _made(todo: list[Row], wishes: Wishes, cores: int) -> Iterator[Outcome]:
    """The outcome of each row as it is done. Rows at work when the kernel crashes go again, alone.

    A pool takes its work in order, so that those at work are among the first that are not done.
    """
    while todo:
        workers = min(cores, len(todo))
        done: set[int] = set()
        crashed = False
        for outcome in _pooled(todo, wishes, workers):
            if outcome is None:
                crashed = True
            else:
                done.add(outcome.line)
                yield outcome
        todo = [row for row in todo if row.line not in done]
        if crashed:
            suspects, todo = todo[: workers + 1], todo[workers + 1 :]
            for row in suspects:
                yield next(_pooled([row], wishes, 1)) or _crashed(row)


def _crashed(row: Row) -> Outcome:
    return Outcome(name=row.name, line=row.line, state=NOT_MADE, what=CRASHED)


def _pooled(rows: list[Row], wishes: Wishes, workers: int) -> Iterator[Outcome | None]:
    """Outcomes from a pool of processes; None once where the pool dies."""
    context = multiprocessing.get_context("spawn")  # the kernel does not bear being forked
    pool = ProcessPoolExecutor(workers, mp_context=context, initializer=_ignore_interrupts)
    try:
        futures: list[Future[Outcome]] = [pool.submit(make_row, row, wishes) for row in rows]
        for future in as_completed(futures):
            try:
                yield future.result()
            except BrokenProcessPool:
                yield None
                return
    finally:
        for process in list((pool._processes or {}).values()):
            process.kill()
        pool.shutdown(wait=True, cancel_futures=True)


def _ignore_interrupts() -> None:
    """Ctrl-C is for the first process, which ends the others."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def make_row(row: Row, wishes: Wishes) -> Outcome:
    """Make one row's folder here and now."""
    from dataclasses import replace

    from rosette.packet.fixture_folder import make_fixtures

    assert row.design is not None
    try:
        job = make_fixtures(
            replace(row.design, sha256=_digest(row, wishes)),
            wishes.out / row.name,
            record=row.record,
            kinds=wishes.kinds,
            paper=wishes.paper,
            units=wishes.units,
            make_room=wishes.make_room,
            own_process=False,
        )
    except RosetteError as error:
        why = "; ".join(one.text(wishes.units or error.units) for one in error.findings)
        return Outcome(name=row.name, line=row.line, state=NOT_MADE, what=why)
    names = ", ".join(job.names)
    left = [one.text(job.plan.units) for one in job.warnings]
    return Outcome(name=row.name, line=row.line, state=MADE, what="; ".join([names, *left]))


def _check_place(out: Path) -> None:
    find_target(out / "size")
    summary = out / SUMMARY
    with disk_trouble(out), suppress(FileNotFoundError):
        first = summary.read_bytes()[:200].split(b"\n")[0].strip()
        if first != ",".join(HEADING).encode():
            raise InputError(
                "the list of sizes is written there, and this one is another's; move it away",
                source=str(summary),
            )


def _write_summary(out: Path, outcomes: Sequence[Outcome]) -> None:
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(HEADING)
    rows.writerows((one.name, one.line, one.state, one.what) for one in outcomes)
    with disk_trouble(out):
        out.mkdir(parents=True, exist_ok=True)
        part = out / f".{SUMMARY}.part"
        part.write_text(text.getvalue(), encoding="utf-8")
        part.replace(out / SUMMARY)
