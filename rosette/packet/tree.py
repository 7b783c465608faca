"""Walking a folder, and taking the maker's own files along without touching them."""

from __future__ import annotations

import hashlib
import os
import shutil
import stat
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from rosette.packet.trouble import refused

MOST = 5000
"""Entries in a folder beyond which it is not a job folder but somebody's whole shelf."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Something that stands in a folder: its path inside, and what `lstat` says of it."""

    file: str
    status: os.stat_result

    @property
    def is_folder(self) -> bool:
        """A folder, and not a link to one."""
        return stat.S_ISDIR(self.status.st_mode)

    @property
    def is_file(self) -> bool:
        """A plain file."""
        return stat.S_ISREG(self.status.st_mode)

    @property
    def identity(self) -> tuple[int, int]:
        """The same for every name of one file."""
        return self.status.st_dev, self.status.st_ino


def walk(folder: Path) -> Iterator[Found]:
    """Everything in a folder, each folder before what is in it, links not followed."""
    waiting = [PurePosixPath()]
    while waiting:
        inside = waiting.pop()
        for name in sorted(os.listdir(folder / inside)):
            found = Found(file=str(inside / name), status=os.lstat(folder / inside / name))
            yield found
            if found.is_folder:
                waiting.append(inside / name)


def listed(folder: Path) -> tuple[Found, ...]:
    """`walk`, refused where the folder can't be carried over whole.

    Raises:
        InputError: it holds too much, or another disk.
    """
    disk = os.lstat(folder).st_dev
    everything: list[Found] = []
    for found in walk(folder):
        if found.status.st_dev != disk:
            raise refused("out", folder / found.file, "another disk is attached inside the folder")
        everything.append(found)
        if len(everything) > MOST:
            raise refused(
                "out",
                folder,
                f"holds more than {MOST} files; give the job a folder of its own with --out",
            )
    return tuple(everything)


def file_sha256(path: Path) -> str:
    """Hash of a file's bytes."""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def carry(source: Path, target: Path) -> None:
    """Give a file a second name; where that can't be, a faithful copy. Links stay links."""
    try:
        os.link(source, target, follow_symlinks=False)
    except (FileNotFoundError, FileExistsError):
        raise
    except (OSError, NotImplementedError):
        _copy(source, target)


def _copy(source: Path, target: Path) -> None:
    mode = os.lstat(source).st_mode
    if not (stat.S_ISREG(mode) or stat.S_ISLNK(mode)):
        raise refused("out", source, "is neither a file nor a folder; move it out of the way")
    shutil.copy2(source, target, follow_symlinks=False)
    _own(source, target)


def match_folder(source: Path, target: Path) -> None:
    """Give a new folder the mode, times and owner of the one it stands for."""
    _own(source, target)
    shutil.copystat(source, target)


def _own(source: Path, target: Path) -> None:
    if not hasattr(os, "chown"):
        return
    status, made = os.lstat(source), os.lstat(target)
    if (status.st_uid, status.st_gid) != (made.st_uid, made.st_gid):
        try:
            os.chown(target, status.st_uid, status.st_gid, follow_symlinks=False)
        except OSError:
            return  # a file of somebody else's: a copy of it can only be one's own


def before_name(file: str, taken: Iterable[str]) -> str:
    """The name under which an older file stays beside a newer one.

    >>> before_name("sheets/ring.svg", set()), before_name("a.b", {"a.before.b"})
    ('sheets/ring.before.svg', 'a.before-2.b')
    """
    path, names = PurePosixPath(file), set(taken)
    stem, suffix = path.stem, path.suffix
    wanted, count = path.with_name(f"{stem}.before{suffix}"), 1
    while str(wanted) in names:
        count += 1
        wanted = path.with_name(f"{stem}.before-{count}{suffix}")
    return str(wanted)
