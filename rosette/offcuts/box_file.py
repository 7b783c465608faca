"""An offcuts file on the disk: changed whole or not at all, every state before it kept.

Beside `offcuts.toml` stands the folder `offcuts.toml.before` with a lock and the numbered files
as they were: 0001.toml is the oldest. See docs/decisions on the box that loses nothing.
"""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from rosette.design.source import shown_path
from rosette.disk.exchange import exchange, place
from rosette.disk.folders import sync_names
from rosette.disk.locks import try_lock
from rosette.disk.undisturbed import undisturbed
from rosette.errors import InputError, finding
from rosette.offcuts.box import MOST_BYTES

LOCK, ASIDE, NEW = "lock", "aside", "new-"
PATIENCE = 10.0
"""Seconds to wait for another run, which holds the lock only while it writes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A change that was made; `before` is the file as it was, or None where it is new."""

    path: Path
    before: Path | None


def change(
    path: Path, make: Callable[[bytes | None], bytes], *, patience: float = PATIENCE
) -> Changed:
    """Replace the file at `path` by what `make` makes of its bytes (None where it is not there).

    Links are followed. The file is read under a lock, and looked at once more when the new one
    has taken its place: a change by hand in between puts everything back.

    Raises:
        InputError: another run is at it, it was changed meanwhile, or the disk refuses.
    """
    real = Path(os.path.realpath(path))
    with _trouble(path), _locked(real, path, patience) as room:
        _settle(real, room)
        old = _read(real)
        data = make(old)
        if data == old:
            return Changed(path=path, before=None)
        kept = None if old is None else _keep(real, room, old)
        new = room / f"{NEW}{_hash(data)}"
        _write(new, data, like=real)
        with undisturbed():
            _swap(path, real, new, old)
        return Changed(path=path, before=kept)


def _swap(path: Path, real: Path, new: Path, old: bytes | None) -> None:
    """Put the new file in place; what was there has to be what was read."""
    aside = new.with_name(ASIDE)
    if _read(real) != old:
        new.unlink()
        raise _changed_by_hand(path)
    if old is None:
        try:
            place(new, real)
        except FileExistsError:
            new.unlink()
            raise _changed_by_hand(path) from None
        sync_names(real.parent)
        return
    exchange(new, real, aside)
    if _read(new) != old:
        # saved by hand in the last instant: that goes back to its place
        exchange(new, real, aside)
        new.unlink()
        raise _changed_by_hand(path)
    sync_names(real.parent)
    new.unlink()


def _settle(real: Path, room: Path) -> None:
    """Make good what a run that was killed in the middle left."""
    for part in room.glob("*.part"):
        part.unlink()
    aside = room / ASIDE
    if os.path.lexists(aside) and not os.path.lexists(real):
        os.rename(aside, real)  # only where the system can't exchange
    for new in (*room.glob(f"{NEW}*"), *room.glob(ASIDE)):
        data = new.read_bytes()
        ours = new.name == f"{NEW}{_hash(data)}"
        if not ours and data != _last(real, room):
            # a change by hand that an exchange took away in the last instant before the kill
            _keep(real, room, _read(real) or b"")
            os.replace(new, real)
        else:
            new.unlink()


def _keep(real: Path, room: Path, data: bytes) -> Path:
    """Put a state of the file among those before it, unless it is the last of them already."""
    numbers = _numbers(real, room)
    if numbers and _last(real, room) == data:
        return room / _named(real, numbers[-1])
    kept = room / _named(real, numbers[-1] + 1 if numbers else 1)
    _write(kept, data, like=real)
    sync_names(room)
    return kept


def _named(real: Path, number: int) -> str:
    return f"{number:04d}{real.suffix}"


def _numbers(real: Path, room: Path) -> list[int]:
    stems = [one.stem for one in room.glob(f"*{real.suffix}") if one.suffix == real.suffix]
    return sorted(int(stem) for stem in stems if stem.isascii() and stem.isdigit())


def _last(real: Path, room: Path) -> bytes | None:
    """The state kept last."""
    numbers = _numbers(real, room)
    return _read(room / _named(real, numbers[-1])) if numbers else None


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _write(path: Path, data: bytes, *, like: Path) -> None:
    """A whole file or none of that name."""
    part = path.with_name(f"{path.name}.part")
    with part.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    with suppress(FileNotFoundError):
        part.chmod(like.stat().st_mode & 0o777)
    os.replace(part, path)


def _read(path: Path) -> bytes | None:
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        return None
    if len(data) > MOST_BYTES:
        raise InputError("it is far larger than any box", source=shown_path(path))
    return data


@contextmanager
def _locked(real: Path, path: Path, patience: float) -> Iterator[Path]:
    """Hold the lock in the folder of the states before, made where it is not there."""
    room = real.with_name(f"{real.name}.before")
    lock = _lock(room, path, patience)
    try:
        yield room
    finally:
        # nothing kept, so nothing was changed: no trace of it
        if os.name == "posix" and set(os.listdir(room)) == {LOCK}:
            os.unlink(room / LOCK)
            with suppress(OSError):
                room.rmdir()
        os.close(lock)


def _lock(room: Path, path: Path, patience: float) -> int:
    deadline = time.monotonic() + patience
    while True:
        room.mkdir(exist_ok=True)
        with suppress(FileNotFoundError):
            lock = os.open(room / LOCK, os.O_RDWR | os.O_CREAT, 0o600)
            if try_lock(lock) and _is_same(room / LOCK, lock):
                return lock
            os.close(lock)
        if time.monotonic() > deadline:
            raise _refused(path, "busy", "another run is changing it; try again when it ends")
        time.sleep(0.02)


def _is_same(path: Path, opened: int) -> bool:
    """Whether the lock is still the one that others find."""
    with suppress(FileNotFoundError):
        return os.path.samestat(os.stat(path), os.fstat(opened))
    return False


def _changed_by_hand(path: Path) -> InputError:
    return _refused(
        path,
        "changed",
        "it was changed by hand just now, and stays as it was saved; run it again",
    )


def _refused(path: Path, code: str, sentence: str) -> InputError:
    return InputError([finding(code, "", "{it}", it=sentence)], source=shown_path(path))


@contextmanager
def _trouble(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        reason = error.strerror or "the disk refuses it"
        raise _refused(path, "disk", f"it can't be changed: {reason}") from error
