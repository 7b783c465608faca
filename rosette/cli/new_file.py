"""Writing a file that must not be there yet: whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from rosette.design.source import shown_path
from rosette.errors import InputError


def refuse_existing(path: Path) -> None:
    """Refuse a path where something is already, or whose folder is not there.

    Raises:
        InputError: saying what is in the way.
    """
    try:
        folder, there = path.parent.is_dir(), os.path.lexists(path)
    except (OSError, ValueError):
        raise InputError("this name can't be used for a file", source=shown_path(path)) from None
    if there:
        raise _in_the_way(path)
    if not folder:
        raise InputError(
            f"there is no folder {shown_path(path.parent)}; make it first", source=shown_path(path)
        )


def _in_the_way(path: Path) -> InputError:
    if path.is_dir():
        what = "this is a folder; give a file's name"
    else:
        what = "there is such a file already, and it stays as it is; give another name"
    return InputError(what, source=shown_path(path))


def write_new(path: Path, data: bytes) -> None:
    """Write a file in one step that fails where there is one already.

    Raises:
        InputError: where it can't be written; nothing is left behind then.
    """
    try:
        _write(path, data)
    except FileExistsError:
        raise _in_the_way(path) from None
    except OSError as error:
        reason = error.strerror or "it can't be written"
        raise InputError(f"it can't be written: {reason}", source=shown_path(path)) from None


def _write(path: Path, data: bytes) -> None:
    number, name = tempfile.mkstemp(prefix=".rosette-", dir=path.parent)
    beside = Path(name)
    try:
        with os.fdopen(number, "wb") as file:
            file.write(data)
        beside.chmod(0o666 & ~_umask())
        _put(beside, path)
    finally:
        beside.unlink(missing_ok=True)


def _put(beside: Path, path: Path) -> None:
    """Give the written file its name, unless the name is taken."""
    try:
        os.link(beside, path)
    except FileExistsError:
        raise
    except OSError:
        # some disks (memory sticks, shared folders) know no links
        if os.path.lexists(path):
            raise FileExistsError(str(path)) from None
        beside.replace(path)


def _umask() -> int:
    now = os.umask(0o077)
    os.umask(now)
    return now
