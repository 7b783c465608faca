"""Putting a finished file or folder in another's place, in one step where the system can."""

from __future__ import annotations

import ctypes
import errno
import os
import sys
from functools import cache
from pathlib import Path
from typing import Any

_AT_FDCWD = -100
_NOREPLACE, _EXCHANGE = 1, 2
"""Flags of renameat2(2)."""

_CANNOT = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM)
"""How a kernel or a file system says that it has no such exchange."""


def exchange(new: Path, old: Path, aside: Path) -> None:
    """Put `new` where `old` is, and `old` where `new` was.

    Where the system can't do it in one step, `old` goes to `aside` first: whoever finds
    `aside` filled and `old` missing, after an error or a kill, has to move it back.
    """
    if _renameat2(new, old, _EXCHANGE):
        return
    os.rename(old, aside)
    os.rename(new, old)
    os.rename(aside, new)


def place(new: Path, free: Path) -> None:
    """Put `new` at `free`, where nothing may be.

    Raises:
        OSError: FileExistsError where something has come to stand there.
    """
    if _renameat2(new, free, _NOREPLACE):
        return
    if os.path.lexists(free):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(free))
    os.rename(new, free)


def _renameat2(source: Path, target: Path, flags: int) -> bool:
    """True where done, False where this system has no such call."""
    call = _found()
    if call is None:
        return False
    if call(_AT_FDCWD, os.fsencode(source), _AT_FDCWD, os.fsencode(target), flags) == 0:
        return True
    code = ctypes.get_errno()
    if code in _CANNOT:
        return False
    raise OSError(code, os.strerror(code), str(target))


@cache
def _found() -> Any:
    """The C library's renameat2, or None."""
    if not sys.platform.startswith("linux"):
        return None
    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return None
    call.argtypes = (
        ctypes.c_int,
        ctypes.c_char_p,
        ctypes.c_int,
        ctypes.c_char_p,
        ctypes.c_uint,
    )
    return call
