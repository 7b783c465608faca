"""Small job folders to put in place, and what stands in a folder."""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Mapping
from pathlib import Path

from rosette.packet.entry import Entry
from rosette.packet.folder import Placed, put
from rosette.packet.manifest import Listed, Manifest, manifest_bytes

FIRST = {"plan.json": b"{1}", "packet.pdf": b"pages 1", "sheets/ring.svg": b"<svg 1>"}
SECOND = {"plan.json": b"{2}", "packet.pdf": b"pages 2", "sheets/ring.svg": b"<svg 2>"}


def put_files(out: Path, files: Mapping[str, bytes], *, replace: bool = False) -> Placed:
    """Put a small job folder in place, with its manifest."""
    entries = [Entry(file=file, what=f"what {file} is", data=data) for file, data in files.items()]

    def finish(yours: frozenset[str]) -> Entry:
        manifest = Manifest(
            version="0",
            design_name="Test",
            design_file="design.toml",
            design_sha256="0" * 64,
            files=tuple(
                Listed(file=e.file, what=e.what, sha256=e.sha256, yours=e.file in yours)
                for e in entries
            ),
        )
        return Entry(file="manifest.json", what="list", data=manifest_bytes(manifest))

    return put(out, entries, finish, replace=replace)


def contents(folder: Path) -> dict[str, bytes | str]:
    """Path → bytes of every file, "folder" for a folder, "-> target" for a link."""
    found: dict[str, bytes | str] = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        mode = path.lstat().st_mode
        if stat.S_ISLNK(mode):
            found[name] = f"-> {os.readlink(path)}"
        elif stat.S_ISDIR(mode):
            found[name] = "folder"
        elif stat.S_ISREG(mode):
            found[name] = path.read_bytes()
        else:
            found[name] = stat.filemode(mode)
    return found


def files(folder: Path) -> dict[str, bytes | str]:
    """Path → bytes of every file but the manifest; folders left out."""
    return {
        name: what
        for name, what in contents(folder).items()
        if what != "folder" and name != "manifest.json"
    }


def listed(folder: Path) -> dict[str, str]:
    """Hash by path as the manifest has it."""
    document = json.loads((folder / "manifest.json").read_text("utf-8"))
    return {one["file"]: one["sha256"] for one in document["files"]}


def leftovers(folder: Path) -> list[str]:
    """Whatever stands beside a job folder under a hidden name."""
    return [name for name in os.listdir(folder.parent) if name.startswith(".")]
