"""Where a job folder goes, looked at before anything is made."""

from __future__ import annotations

import hashlib
import os
import stat
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from rosette.packet.trouble import disk_trouble, refused


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """A job folder's place on the disk, links followed.

    `top` is what is put in place in one step: the folder itself where it exists, else its
    first missing parent, so that `inside` is the way from `top` to the folder.
    """

    folder: Path
    top: Path
    inside: PurePosixPath
    exists: bool

    @property
    def work(self) -> Path:
        """The hidden folder beside `top` in which the new one is put together."""
        name = f".{self.top.name}.rosette-work"
        if len(os.fsencode(name)) > 240:
            digest = hashlib.sha256(os.fsencode(self.top.name)).hexdigest()[:32]
            name = f".{digest}.rosette-work"
        return self.top.parent / name


def find_target(out: Path) -> Target:
    """Where `out` leads, refused where a job folder can't be put there.

    Raises:
        InputError: it is a file, the current folder, a disk's root, or can't be written.
    """
    if "\x00" in str(out) or not str(out).strip():
        raise refused("out", out, "that is not a folder's name; choose another with --out")
    with disk_trouble(out):
        folder = Path(os.path.realpath(out))
        mode = _mode(folder)
        if mode is None:
            top = _first_missing(folder)
            _check_parent(out, top.parent)
            inside = PurePosixPath(*folder.relative_to(top).parts)
            return Target(folder=folder, top=top, inside=inside, exists=False)
        if not stat.S_ISDIR(mode):
            raise refused("out", out, "that is a file, not a folder; choose another with --out")
        _check_folder(out, folder)
        return Target(folder=folder, top=folder, inside=PurePosixPath(), exists=True)


def _mode(path: Path) -> int | None:
    try:
        return os.lstat(path).st_mode
    except FileNotFoundError:
        return None


def _first_missing(folder: Path) -> Path:
    while _mode(folder.parent) is None:
        folder = folder.parent
    return folder


def _check_folder(out: Path, folder: Path) -> None:
    if folder.parent == folder or os.path.ismount(folder):
        raise refused(
            "out", out, "that is a whole disk; name a folder inside it, such as --out DISK/job"
        )
    here = Path(os.path.realpath(os.curdir))
    if here == folder or folder in here.parents:
        raise refused(
            "out",
            out,
            "you are working inside that folder, and it is replaced as a whole; go to the folder"
            " above it first, or name a new one inside it, such as --out job",
        )
    if not os.access(folder, os.W_OK | os.X_OK | os.R_OK):
        raise refused("out", out, "that folder is write-protected; choose another with --out")
    _check_parent(out, folder.parent)


def _check_parent(out: Path, parent: Path) -> None:
    if not stat.S_ISDIR(os.stat(parent).st_mode):
        raise refused(
            "out", out, f"{parent.name} is a file, so no folder can be in it; choose another"
        )
    if not os.access(parent, os.W_OK | os.X_OK):
        raise refused(
            "out",
            out,
            "the folder it lies in is write-protected, and the job folder is put together"
            " beside its place; choose another with --out",
        )
