"""The hidden folder beside a job folder's place: one run at a time, nothing left behind.

What a killed run left in it is settled by the next one: see docs/decisions on the swap.
"""

from __future__ import annotations

import os
import shutil
import stat
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from rosette.disk.locks import try_lock
from rosette.packet.sweep import sweep
from rosette.packet.target import Target
from rosette.packet.trouble import refused

LOCK, STAGED, NEW, ASIDE, GONE = "rosette.lock", "staged", "new", "aside", "gone"
_OURS = {LOCK, STAGED, NEW, ASIDE, GONE}
_MARK = b"A job folder in the making. Delete this folder only when no rosette is running.\n"
_PATIENCE = 30.0
"""Seconds to wait for another run, which holds the lock only while it writes."""


@contextmanager
def working(target: Target, *, patience: float = _PATIENCE) -> Iterator[Path]:
    """Hold the work folder of a target, empty but for its lock; it is gone afterwards.

    Whatever happens inside, the target is left whole: as it was, or wholly new.

    Raises:
        InputError: another run holds it, or something else stands in its place.
    """
    lock, whole = _hold(target.work, patience), False
    try:
        settle(target)
        yield target.work
    finally:
        try:
            settle(target)
            whole = True
        finally:
            _release(target.work, lock, whole=whole)


def stage(work: Path) -> Path:
    """The empty folder in which the new one is put together, known again after a kill."""
    new = work / NEW
    new.mkdir()
    with (work / STAGED).open("w") as note:
        note.write(f"{os.lstat(new).st_ino}\n")
        note.flush()
        os.fsync(note.fileno())
    return new


def settle(target: Target) -> tuple[str, ...]:
    """Bring the target to a whole state and empty its work folder.

    Gives the names of the maker's files that came in while the folders changed places.
    """
    work, new, aside = target.work, target.work / NEW, target.work / ASIDE
    rescued: tuple[str, ...] = ()
    _remove(work / GONE)
    if _is_folder(aside):
        if not os.path.lexists(target.top):
            os.rename(aside, target.top)
        else:
            rescued += sweep(aside, target.top)
            _discard(aside)
    if _is_folder(new):
        if _was_exchanged(work):
            rescued += sweep(new, target.top)
        _discard(new)
    with suppress(FileNotFoundError):
        os.unlink(work / STAGED)
    return rescued


def _was_exchanged(work: Path) -> bool:
    """Whether `new` holds the older folder: it is not the one that was staged."""
    with suppress(FileNotFoundError):
        note = (work / STAGED).read_text("ascii", "replace")
        return note.endswith("\n") and note.strip() != str(os.lstat(work / NEW).st_ino)
    return False


def _hold(work: Path, patience: float) -> int:
    """Make the work folder, or take over a dead run's; gives its locked file."""
    deadline = time.monotonic() + patience
    while True:
        with suppress(FileExistsError):
            work.mkdir(mode=0o700)
        try:
            _check_ours(work)
            lock = os.open(
                work / LOCK, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o600
            )
        except FileNotFoundError:
            continue
        if try_lock(lock) and _is_same(work / LOCK, lock):
            os.write(lock, _MARK)
            return lock
        os.close(lock)
        if time.monotonic() > deadline:
            raise refused(
                "out", work.parent, "another run is writing this job folder; wait until it is done"
            )
        time.sleep(0.05)


def _check_ours(work: Path) -> None:
    names = set(os.listdir(work)) if stat.S_ISDIR(os.lstat(work).st_mode) else {""}
    lock = (work / LOCK).read_bytes() if LOCK in names else b""
    if names - _OURS or (names and LOCK not in names) or not _MARK.startswith(lock[: len(_MARK)]):
        raise refused(
            "out",
            work,
            "stands where the job folder is put together, and is not this tool's; move it away",
        )


def _is_same(path: Path, opened: int) -> bool:
    with suppress(FileNotFoundError):
        return os.path.samestat(os.lstat(path), os.fstat(opened))
    return False


def _release(work: Path, lock: int, *, whole: bool) -> None:
    """Take the lock away last; where something is left to settle it stays, as its mark."""
    if not whole:
        os.close(lock)
        return
    try:
        os.unlink(work / LOCK)
        gone = True
    except PermissionError:  # a system on which an open file can't be deleted
        gone = False
    os.close(lock)
    if not gone:
        os.unlink(work / LOCK)
    with suppress(OSError):
        work.rmdir()


def _is_folder(path: Path) -> bool:
    with suppress(FileNotFoundError):
        return stat.S_ISDIR(os.lstat(path).st_mode)
    return False


def _discard(folder: Path) -> None:
    """Delete a folder; one that is half deleted is not looked through again after a kill."""
    gone = folder.with_name(GONE)
    os.rename(folder, gone)
    _remove(gone)


def _remove(folder: Path) -> None:
    """Delete a folder whole, its write-protected parts too, where there is one."""
    if not _is_folder(folder):
        return

    def unlock(again: Callable[..., Any], path: str, _: object) -> None:
        os.chmod(Path(path).parent, 0o700)
        if os.path.isdir(path) and not os.path.islink(path):
            os.chmod(path, 0o700)
        again(path)

    shutil.rmtree(folder, onerror=unlock)
