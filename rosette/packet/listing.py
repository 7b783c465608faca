"""The manifest of a folder that is about to be put in place."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePosixPath

from rosette import __version__
from rosette.design.model import Design
from rosette.packet.entry import Entry, Missing
from rosette.packet.manifest import FILE, Listed, Manifest, manifest_bytes


def manifest_entry(
    design: Design,
    entries: Sequence[Entry],
    missing: Sequence[Missing],
    yours: frozenset[str],
) -> Entry:
    """manifest.json for `entries`; `yours` are those that lie there already as the maker's own."""
    manifest = Manifest(
        version=__version__,
        design_name=design.instrument.name,
        design_file=PurePosixPath(design.source.replace("\\", "/")).name,
        design_sha256=design.sha256,
        files=tuple(
            Listed(file=one.file, what=one.what, sha256=one.sha256, yours=one.file in yours)
            for one in entries
        ),
        missing=tuple(missing),
    )
    return Entry(
        file=FILE,
        what="Every file here, what it is for, and its hash.",
        data=manifest_bytes(manifest),
    )
