"""What the disk can refuse, said in words."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from rosette.errors import InputError, finding

_REASONS = {
    errno.ENOSPC: "the disk is full; free some space and run it again",
    errno.EDQUOT: "your share of the disk is used up; free some space and run it again",
    errno.EACCES: "you may not write there; choose another folder with --out",
    errno.EPERM: "you may not write there; choose another folder with --out",
    errno.EROFS: "that disk can only be read; choose another folder with --out",
    errno.ENAMETOOLONG: "the name is too long for that disk; choose a shorter one with --out",
    errno.ENOTDIR: "part of that path is a file, not a folder; choose another with --out",
    errno.ENOENT: "it can't be found or made there; choose another folder with --out",
    errno.ELOOP: "it is a link that leads round in a circle; choose another folder with --out",
    errno.EBUSY: "it is a disk of its own or in use; name a folder inside it with --out",
    errno.EXDEV: "part of it lies on another disk; choose another folder with --out",
    errno.EEXIST: "two names in it differ only in capitals, which that disk takes for one",
    errno.EINVAL: "that disk does not take such a name; choose another folder with --out",
    errno.EIO: "the disk reports a fault; check it, or choose another folder with --out",
    errno.EMFILE: "too many files are open; close some programs and run it again",
    errno.EFBIG: "that disk does not take files so large; choose another with --out",
}


def shown(path: Path | str) -> str:
    """A path as it can be printed, whatever bytes it is made of."""
    text = os.fsencode(path).decode("utf-8", "replace")
    return "".join(c if c.isprintable() else "�" for c in text)


def refused(code: str, path: Path | str, sentence: str) -> InputError:
    """An input error about a path; `sentence` follows its name and a colon."""
    return InputError([finding(code, shown(path), "{sentence}", sentence=sentence)])


@contextmanager
def disk_trouble(path: Path | str) -> Iterator[None]:
    """Turn what the operating system refuses about `path` into a sentence."""
    try:
        yield
    except OSError as error:
        reason = _REASONS.get(error.errno or 0, error.strerror or "the disk refuses it")
        raise refused("disk", path, f"can't write the job folder: {reason}") from error
