"""What stands in an existing job folder, and what becomes of each file in it."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from rosette.errors import Finding, InputError, finding
from rosette.packet.manifest import FILE, LARGEST, ManifestError, read_manifest
from rosette.packet.tree import Found, before_name, file_sha256, listed
from rosette.packet.trouble import shown

REMEDY = "move it elsewhere, or run again with --replace, which keeps it as {before}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """How an existing folder goes into the new one.

    `carried` maps the path of each file and folder that is not the tool's (or no longer) to
    its path in the new folder; `replaced` are those of them that make room, `kept` the files
    written earlier, changed since and no longer written; `yours` are files of the maker's
    that already are, byte for byte, what would be written.
    """

    carried: Mapping[str, str] = field(default_factory=dict)
    replaced: tuple[tuple[str, str], ...] = ()
    kept: tuple[str, ...] = ()
    yours: frozenset[str] = frozenset()


def survey(folder: Path, wanted: Mapping[str, str], *, replace: bool) -> Survey:
    """Decide for everything in `folder`, given hash by path of what will be written.

    Raises:
        InputError: naming every file in the way, unless `replace` lets them make room.
    """
    found = listed(folder)
    written, damage = _written(folder, found)
    fates = _Fates(folder, wanted, written, bool(damage))
    for one in found:
        fates.judge(one)
    renamed = _renamed(fates.in_the_way, {one.file for one in found} | set(wanted))
    if renamed and not replace:
        raise InputError(
            [_in_the_way(folder, file, renamed[file], damage, written) for file in renamed]
        )
    return Survey(
        carried={file: _moved(file, renamed) for file in _carried(found, fates)},
        replaced=tuple(renamed.items()),
        kept=tuple(fates.kept),
        yours=frozenset(fates.yours),
    )


class _Fates:
    """Sorts what is found, one thing at a time, folders before what is in them."""

    def __init__(
        self, folder: Path, wanted: Mapping[str, str], written: Mapping[str, str], damaged: bool
    ) -> None:
        self.folder, self.wanted, self.written, self.damaged = folder, wanted, written, damaged
        self.folders = {
            str(parent) for file in wanted for parent in PurePosixPath(file).parents[:-1]
        }
        self.dropped: set[str] = set()
        self.in_the_way: list[str] = []
        self.kept: list[str] = []
        self.yours: list[str] = []

    def judge(self, one: Found) -> None:
        """Put one thing where it belongs; what is in no list is simply carried over."""
        file = one.file
        if one.is_folder:
            if file in self.wanted or file == FILE:
                self.in_the_way.append(file)
        elif file in self.folders or (file == FILE and self.damaged):
            self.in_the_way.append(file)
        elif file == FILE:
            self.dropped.add(file)
        elif file in self.wanted or file in self.written:
            self._judge_known(one)

    def _judge_known(self, one: Found) -> None:
        digest = file_sha256(self.folder / one.file) if one.is_file else ""
        if digest and digest == self.written.get(one.file):
            self.dropped.add(one.file)
        elif one.file not in self.wanted:
            self.kept.append(one.file)
        elif digest == self.wanted[one.file]:
            self.yours.append(one.file)
        else:
            self.in_the_way.append(one.file)


def _written(folder: Path, found: tuple[Found, ...]) -> tuple[dict[str, str], str]:
    """Hash by path of what the tool wrote, and what is wrong with its manifest if anything."""
    manifest = next((one for one in found if one.file == FILE), None)
    if manifest is None:
        return {}, ""
    if not manifest.is_file:
        return {}, "is not a plain file"
    try:
        with (folder / FILE).open("rb") as stream:
            return read_manifest(stream.read(LARGEST + 1)).written(), ""
    except ManifestError as error:
        return {}, str(error)


def _carried(found: tuple[Found, ...], fates: _Fates) -> list[str]:
    """Everything but the dropped files, and the folders that held nothing else."""
    left: list[str] = []
    held, holding = set[str](), set[str]()
    for one in reversed(found):
        parent = str(PurePosixPath(one.file).parent)
        held.add(parent)
        emptied = one.is_folder and one.file in held and one.file not in holding
        if one.file not in fates.dropped and not emptied:
            left.append(one.file)
            holding.add(parent)
    return left[::-1]


def _renamed(in_the_way: list[str], taken: set[str]) -> dict[str, str]:
    renamed: dict[str, str] = {}
    for file in in_the_way:
        renamed[file] = before_name(file, taken | set(renamed.values()))
    return renamed


def _moved(file: str, renamed: Mapping[str, str]) -> str:
    """Where a path goes when it, or a folder it lies in, makes room."""
    for old, new in renamed.items():
        if file == old or file.startswith(old + "/"):
            return new + file[len(old) :]
    return file


def _in_the_way(
    folder: Path, file: str, before: str, damage: str, written: Mapping[str, str]
) -> Finding:
    if file == FILE:
        why = f"{damage or 'is a folder'}, so which files are the tool's own can't be known"
    elif file in written:
        why = "has been changed since it was made, and would be overwritten"
    else:
        why = "was not made by this tool, and stands where a file of the job goes"
    return finding(
        "in-the-way",
        shown(os.path.join(folder, file)),
        f"{{why}}; {REMEDY}",
        why=why,
        before=before,
    )
