"""Files that a design names: looked for beside the design or below it, read with a limit."""

from __future__ import annotations

import os
import stat
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from rosette.keys.declare import At
from rosette.keys.kinds import NAME
from rosette.keys.show import show


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedFile:
    """A file as the design names it, and the bytes that were in it when the design was read."""

    name: str
    data: bytes = field(repr=False)


def read_named(value: object, at: At, *, ending: str, most: int) -> NamedFile | None:
    """The file that a key names, by its path from the design's folder; it stays in that folder.

    Links are followed; what they lead to must be an ordinary file of at most `most` bytes.
    """
    name = NAME.read(value, at)
    if name is None:
        return None
    if "\\" in name or ":" in name or any(part in ("", ".", "..") for part in name.split("/")):
        at.tell(
            "wrong-value",
            f"{show(name)} is not a file in the design's folder or below it; copy it there and"
            " name it with / between folders",
        )
    elif PurePosixPath(name).suffix.lower() != ending:
        at.refuse(f"{show(name)} does not end in {ending}")
    elif at.folder is None:
        at.tell(
            "missing-file",
            f"{show(name)} can't be looked for, since this design is in no file of its own",
        )
    else:
        data = _bytes(at.folder / PurePosixPath(name), show(name), at, most)
        return None if data is None else NamedFile(name=name, data=data)
    return None


def _bytes(path: Path, name: str, at: At, most: int) -> bytes | None:
    try:
        # without O_NONBLOCK a named pipe would keep us waiting for ever
        number = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(number, "rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                at.tell("wrong-value", f"{name} is not an ordinary file")
                return None
            data = file.read(most + 1)
    except FileNotFoundError:
        at.tell("missing-file", f"{name} is not there; it is looked for beside the design")
        return None
    except IsADirectoryError:
        at.tell("wrong-value", f"{name} is a folder; name the file in it")
        return None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name can't be used"
        at.tell("unreadable", f"{name} can't be read: {reason}")
        return None
    if len(data) > most:
        at.tell("too-large", f"{name} is larger than {most // 1024} kB")
        return None
    return data
