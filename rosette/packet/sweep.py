"""Looking through a replaced folder before it goes, so that nothing of the maker's is lost."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from rosette.packet.manifest import FILE, LARGEST, ManifestError, read_manifest
from rosette.packet.tree import Found, before_name, file_sha256, walk


def sweep(old: Path, new: Path) -> tuple[str, ...]:
    """Move out of `old` whatever `new` does not have and the tool did not write.

    Everything was taken along before the two changed places; this is for what came in
    or changed in between. Gives the names in `new` under which such things stand now.
    """
    written = _written(old)
    kept = tuple(walk(new)) if new.is_dir() else ()
    identities = {one.identity for one in kept if not one.is_folder}
    contents: set[str] = set()
    rescued: list[str] = []
    for found in tuple(walk(old)):
        if found.is_folder:
            if not os.path.lexists(new / found.file) and not os.listdir(old / found.file):
                (new / found.file).mkdir(parents=True)
            continue
        if found.identity in identities or _is_same_link(found, old, new):
            continue
        if found.is_file:
            digest = file_sha256(old / found.file)
            if found.file in written and written[found.file] in (digest, ""):
                continue
            contents = contents or {file_sha256(new / one.file) for one in kept if one.is_file}
            if digest in contents:
                continue
        rescued.append(_move(found.file, old, new))
    return tuple(rescued)


def _written(old: Path) -> dict[str, str]:
    """Hash by path of what the tool wrote into the older folder; "" where any will do."""
    with suppress(OSError, ManifestError), (old / FILE).open("rb") as stream:
        return read_manifest(stream.read(LARGEST + 1)).written() | {FILE: ""}
    return {}


def _is_same_link(found: Found, old: Path, new: Path) -> bool:
    a, b = old / found.file, new / found.file
    return a.is_symlink() and b.is_symlink() and os.readlink(a) == os.readlink(b)


def _move(file: str, old: Path, new: Path) -> str:
    place = file
    if _blocked(new, file) or os.path.lexists(new / file):
        flat = file.replace("/", "-") if _blocked(new, file) else file
        place = before_name(flat, {one.file for one in walk(new)})
    (new / place).parent.mkdir(parents=True, exist_ok=True)
    os.rename(old / file, new / place)
    return place


def _blocked(new: Path, file: str) -> bool:
    """Whether a folder on the way to `file` is something other than a folder."""
    return any(
        os.path.lexists(parent) and (parent.is_symlink() or not parent.is_dir())
        for parent in _parents(new, file)
    )


def _parents(new: Path, file: str) -> Iterator[Path]:
    path = new
    for part in file.split("/")[:-1]:
        path /= part
        yield path
