"""Putting a whole job folder in place: all of it or nothing, and nobody's work lost."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from rosette.disk.exchange import exchange, place
from rosette.disk.folders import sync_names
from rosette.disk.undisturbed import undisturbed
from rosette.packet.entry import Entry
from rosette.packet.survey import Survey, survey
from rosette.packet.target import Target, find_target
from rosette.packet.tree import carry, match_folder
from rosette.packet.trouble import disk_trouble, refused
from rosette.packet.work import ASIDE, settle, stage, working


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A folder that is in place, and what was met on the way.

    `kept` were written earlier, changed since and no longer written; `replaced` are
    (file, the name under which the older one stays); `rescued` came in meanwhile.
    """

    folder: Path
    kept: tuple[str, ...] = ()
    replaced: tuple[tuple[str, str], ...] = ()
    rescued: tuple[str, ...] = ()


def put(
    out: Path,
    entries: Sequence[Entry],
    finish: Callable[[frozenset[str]], Entry],
    *,
    replace: bool = False,
) -> Placed:
    """Write `entries` into the folder `out`, which is as it was or wholly new, never between.

    Args:
        out: the folder; it may exist, and what the maker keeps in it stays.
        entries: the files to write.
        finish: makes the last file, given the files that are there as the maker's own.
        replace: let files of the maker's that stand in the way make room, under another name.

    Raises:
        InputError: something stands in the way, or the disk refuses.
    """
    target = find_target(out)
    with disk_trouble(out), working(target) as work:
        top, target = target.top, find_target(out)  # a killed run may just have been settled
        if target.top != top:
            raise refused("out", out, "the folders around it have just changed; run it again")
        hashes = {one.file: one.sha256 for one in entries}
        found = survey(target.folder, hashes, replace=replace) if target.exists else Survey()
        staged = stage(work)
        _fill(staged / target.inside, [*entries, finish(found.yours)], target, found)
        with undisturbed():
            _change_places(staged, target)
            rescued = settle(target)
    return Placed(folder=target.folder, kept=found.kept, replaced=found.replaced, rescued=rescued)


def _fill(new: Path, entries: Sequence[Entry], target: Target, found: Survey) -> None:
    """Put the new folder together beside the old one, and have the disk keep it."""
    new.mkdir(parents=True, exist_ok=True)
    for entry in entries:
        if entry.file not in found.yours:
            _write(new / entry.file, entry.data)
    _carry_over(target.folder, new, found.carried)
    for folder, _, _ in os.walk(new):
        sync_names(Path(folder))


def _write(path: Path, data: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


def _carry_over(old: Path, new: Path, carried: Mapping[str, str]) -> None:
    folders = [file for file in carried if _is_folder(old / file)]
    for file in folders:
        (new / carried[file]).mkdir(parents=True, exist_ok=True)
    for file in carried:
        if not _is_folder(old / file):
            (new / carried[file]).parent.mkdir(parents=True, exist_ok=True)
            carry(old / file, new / carried[file])
    for file in sorted(folders, key=lambda name: -len(PurePosixPath(name).parts)):
        match_folder(old / file, new / carried[file])
    if old.is_dir():
        match_folder(old, new)


def _is_folder(path: Path) -> bool:
    return path.is_dir() and not path.is_symlink()


def _change_places(staged: Path, target: Target) -> None:
    if target.exists:
        exchange(staged, target.top, staged.with_name(ASIDE))
    else:
        try:
            place(staged, target.top)
        except FileExistsError:
            raise refused(
                "out", target.top, "has come to be there while the job was made; run it again"
            ) from None
    sync_names(target.top.parent)
