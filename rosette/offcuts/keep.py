"""Keeping the box: a piece added, the pieces of a job taken, what is left of them put back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from rosette.design.source import shown_path
from rosette.errors import InputError, finding
from rosette.offcuts import box_entries as entries
from rosette.offcuts.box import Box, BoxOffcut, read_box_text
from rosette.offcuts.box_file import Changed, change
from rosette.offcuts.box_text import Block, after_last, blocks, joined, with_count
from rosette.offcuts.cuts_file import JobCuts
from rosette.offcuts.leftover import WORTH_KEEPING, Part, parts_left
from rosette.offcuts.names import free_name
from rosette.units import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """An offcut that was added to a box of these units, and the change that put it there."""

    offcut: BoxOffcut
    units: Units
    change: Changed


@dataclass(frozen=True, slots=True, kw_only=True)
class Took:
    """What a job took: ids with how many pieces of each, and the offcuts that came back."""

    used: tuple[tuple[str, int], ...]
    back: tuple[BoxOffcut, ...]
    change: Changed


def add(path: Path, values: Mapping[str, str], *, units: Units | None = None) -> Added:
    """Add one offcut to the box, which is begun where there is none yet.

    Args:
        path: the offcuts file.
        values: keys of an [[offcut]], each value as TOML.
        units: those of a new file, mm unless said otherwise; a file that is there has its own.

    Raises:
        InputError: the file or the offcut is not sound, or the file can't be changed.
    """
    made: list[tuple[BoxOffcut, Units]] = []

    def make(old: bytes | None) -> bytes:
        text = entries.start(units or "mm") if old is None else _text(old)
        before = None if old is None else read_box_text(old, shown_path(path), folder=_folder(path))
        new = entries.entry("offcut", values)
        parts = after_last(blocks(text), "offcut", new)
        data, box = _checked(path, text, joined(parts, new={new}))
        _same(path, before.offcuts if before else (), box.offcuts[:-1])
        made.append((box.offcuts[-1], box.units))
        return data

    done = change(path, make)
    offcut, own = made[-1]
    return Added(offcut=offcut, units=own, change=done)


def take(path: Path, job: JobCuts, *, keep: float = WORTH_KEEPING) -> Took:
    """Take what a job has used out of the box and put back what is left and worth keeping.

    Args:
        path: the offcuts file.
        job: the cuts that were made.
        keep: what comes back holds a square of this side (mm) along its grain.

    Raises:
        InputError: these cuts were taken before, or the wood they use is not as it was.
    """
    made: list[tuple[_Taking, tuple[BoxOffcut, ...]]] = []

    def make(old: bytes | None) -> bytes:
        if old is None:
            raise _refused(path, "missing-file", "there is no such file")
        box = read_box_text(old, shown_path(path), folder=_folder(path))
        _check(path, box, job)
        taking = _Taking(
            box=box,
            job=job,
            used=Counter(piece.offcut for piece in job.pieces),
            back=_back(box, job, keep),
        )
        text = _text(old)
        data, now = _checked(path, text, _edited(path, text, taking))
        _same(path, _expected(taking), [one for one in now.offcuts if one.id not in taking.back])
        made.append((taking, tuple(one for one in now.offcuts if one.id in taking.back)))
        return data

    done = change(path, make)
    taking, back = made[-1]
    return Took(used=tuple(taking.used.items()), back=back, change=done)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Taking:
    """The box as it was, how many pieces of each offcut are used, what comes back by its new id."""

    box: Box
    job: JobCuts
    used: Mapping[str, int]
    back: Mapping[str, tuple[BoxOffcut, Part]]


def _check(path: Path, box: Box, job: JobCuts) -> None:
    """Refuse cuts that were taken before, and wood that is not as it was when they were planned."""
    if any(one.cuts == job.sha256 for one in box.taken):
        raise _refused(
            path, "taken-before", f"the cuts in {job.source} have been taken out of it already"
        )
    if not job.pieces:
        raise _refused(path, "no-cuts", f"{job.source} cuts nothing, so there is nothing to take")
    found = []
    for name, count in Counter(piece.offcut for piece in job.pieces).items():
        offcut = box.find(name)
        known = job.woods.get(name)
        if offcut is None:
            sentence = "is not in the box; it was taken or renamed since the cuts were planned"
        elif offcut.count < count:
            sentence = f"is there {offcut.count} times, and {count} of them are used"
        elif known is None and box.sha256 != job.box_sha256:
            sentence = "may have changed, as the box has since the cuts were planned"
        elif known is not None and known != offcut.sha256:
            sentence = "is not as it was when the cuts were planned"
        else:
            continue
        found.append(finding("changed", name, "{it}; plan the cuts again", it=sentence))
    if found:
        raise InputError(found, source=shown_path(path), units=box.units)


def _back(box: Box, job: JobCuts, keep: float) -> dict[str, tuple[BoxOffcut, Part]]:
    """What comes back, by its new id."""
    taken_names = {one.id for one in box.offcuts}
    for one in box.taken:
        taken_names |= {*one.used, *one.back}
    back: dict[str, tuple[BoxOffcut, Part]] = {}
    for piece in job.pieces:
        offcut = box.find(piece.offcut)
        assert offcut is not None  # looked at before
        parts = parts_left(
            offcut.pieces(), piece.wedges, piece.cuts, kerf=job.kerf, free=job.free, keep=keep
        )
        for part in parts:
            name = free_name(offcut.id, taken_names)
            taken_names.add(name)
            back[name] = (offcut, part)
    return back


def _edited(path: Path, text: str, taking: _Taking) -> str:
    """The file's text with the used pieces out, what is left in, and the job noted."""
    parts = blocks(text)
    offcuts = iter(taking.box.offcuts)
    if sum(part.name == "offcut" for part in parts) != len(taking.box.offcuts):
        raise _refused(
            path,
            "layout",
            "its offcuts don't each stand under a line [[offcut]], so it can't be changed here; put"
            " each under such a line",
        )
    edited: list[Block] = []
    new: set[str] = set()
    for part in parts:
        offcut = next(offcuts) if part.name == "offcut" else None
        if offcut is None or not taking.used.get(offcut.id):
            edited.append(part)
            continue
        count = offcut.count - taking.used[offcut.id]
        edited.extend([with_count(part, count)] if count else [])
        for name, (parent, one) in taking.back.items():
            if parent is offcut:
                made = _entry(name, parent, one, taking)
                new.add(made)
                edited.append(Block("offcut", made))
    noted = _note(taking)
    return joined([*edited, Block("taken", noted)], new={*new, noted})


def _note(taking: _Taking) -> str:
    """The job among those taken."""
    used = [name for name, count in taking.used.items() for _ in range(count)]
    values = {
        "cuts": entries.words(taking.job.sha256),
        "job": entries.words(taking.job.job),
        "used": entries.names(used),
        **({"back": entries.names(list(taking.back))} if taking.back else {}),
    }
    remark = "" if taking.box.taken else "What jobs have used; rosette offcuts take writes it."
    return entries.entry("taken", values, remark=remark)


def _entry(name: str, parent: BoxOffcut, part: Part, taking: _Taking) -> str:
    units = taking.box.units
    values = {
        "id": entries.words(name),
        "wood": entries.words(parent.wood),
        "thickness": entries.number(parent.thickness, units),
        "outline": entries.points(part.outline, units),
        "grain": f"{parent.grain:g}",
    }
    if part.holes:
        values["holes"] = entries.outlines(part.holes, units)
    if part.defects:
        values["defects"] = entries.outlines(part.defects, units)
    if parent.note:
        values["note"] = entries.words(parent.note)
    return entries.entry("offcut", values, remark=f"left of {parent.id} after {taking.job.job}")


def _expected(taking: _Taking) -> list[BoxOffcut]:
    used = taking.used
    left = [replace(one, count=one.count - used.get(one.id, 0)) for one in taking.box.offcuts]
    return [one for one in left if one.count > 0]


def _text(data: bytes) -> str:
    return data.decode("utf-8-sig")


def _checked(path: Path, old: str, text: str) -> tuple[bytes, Box]:
    """The new file as bytes, its ends of lines as they were, and the box that it reads as."""
    if "\r\n" in old:
        text = text.replace("\r\n", "\n").replace("\n", "\r\n")
    data = text.encode()
    return data, read_box_text(data, shown_path(path), folder=_folder(path))


def _same(path: Path, wanted: Iterable[BoxOffcut], found: Iterable[BoxOffcut]) -> None:
    """Make sure that a change has left every other offcut as it was."""
    if list(wanted) != list(found):
        raise _refused(
            path,
            "layout",
            "it is written in a way that can't be changed here without harm; change it by hand",
        )


def _folder(path: Path) -> Path:
    return path.resolve().parent


def _refused(path: Path, code: str, sentence: str) -> InputError:
    return InputError([finding(code, "", "{it}", it=sentence)], source=shown_path(path))
