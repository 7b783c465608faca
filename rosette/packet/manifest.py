"""manifest.json: every file of a job folder, what it is for, and its hash.

The hashes are also how the next run knows which files are still as the tool left them.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from rosette.packet.entry import Missing

SCHEMA = "rosette.manifest/1"
FILE = "manifest.json"
LARGEST = 4 * 1024 * 1024
"""Bytes; a larger manifest.json was not written here."""

_SHA256 = re.compile(r"[0-9a-f]{64}")
_CONTROL = re.compile(r"[\x00-\x1f\x7f]")


class ManifestError(ValueError):
    """A manifest.json that can't be trusted; its message ends the sentence "manifest.json ..."."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """One file as the manifest lists it; `yours` where it is the maker's own and only agrees."""

    file: str
    what: str
    sha256: str
    yours: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """The whole list, with the version that wrote it and the design it was made from."""

    version: str
    design_name: str
    design_file: str
    design_sha256: str
    files: tuple[Listed, ...]
    missing: tuple[Missing, ...] = ()

    def written(self) -> dict[str, str]:
        """Hash by path of every file that the tool wrote."""
        return {one.file: one.sha256 for one in self.files if not one.yours}


def manifest_bytes(manifest: Manifest) -> bytes:
    """The manifest as JSON, the same bytes for the same manifest."""
    design = {
        "name": manifest.design_name,
        "file": manifest.design_file,
        "sha256": manifest.design_sha256,
    }
    document = {
        "schema": SCHEMA,
        "version": manifest.version,
        "design": design,
        "files": [_listed(one) for one in manifest.files],
        "missing": [
            {"file": one.file, "what": one.what, "why": one.why} for one in manifest.missing
        ],
    }
    return (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode()


def _listed(one: Listed) -> dict[str, object]:
    listed: dict[str, object] = {"file": one.file, "what": one.what, "sha256": one.sha256}
    return listed | ({"yours": True} if one.yours else {})


def read_manifest(data: bytes) -> Manifest:
    """Read a manifest back, trusting nothing in it.

    Raises:
        ManifestError: it is damaged, of another kind, or names a path outside its folder.
    """
    if len(data) > LARGEST:
        raise ManifestError("is far larger than any that this tool writes")
    try:
        document = json.loads(data)
    except (ValueError, RecursionError):
        raise ManifestError("is damaged: it can't be read as JSON") from None
    if not isinstance(document, dict) or document.get("schema") != SCHEMA:
        raise ManifestError(f"is not one of this version's own (its schema is not {SCHEMA})")
    try:
        return Manifest(
            version=_text(document["version"]),
            design_name=_text(document["design"]["name"]),
            design_file=_text(document["design"]["file"]),
            design_sha256=_hash(document["design"]["sha256"]),
            files=tuple(_read_listed(one) for one in _rows(document["files"])),
            missing=tuple(
                Missing(**{key: _text(one[key]) for key in ("file", "what", "why")})
                for one in _rows(document.get("missing", []))
            ),
        )
    except (KeyError, TypeError):
        raise ManifestError("is damaged: parts of it are missing") from None


def _read_listed(one: dict[str, Any]) -> Listed:
    file = _text(one["file"])
    if not is_inside(file):
        raise ManifestError("names a path that does not stay inside its folder")
    return Listed(
        file=file,
        what=_text(one["what"]),
        sha256=_hash(one["sha256"]),
        yours=one.get("yours", False) is True,
    )


def is_inside(file: str) -> bool:
    """Whether a path with `/` plainly stays inside the folder it is relative to.

    >>> is_inside("sheets/ring.svg"), is_inside("../x"), is_inside("/etc/x"), is_inside("a//b")
    (True, False, False, False)
    """
    plain = not _CONTROL.search(file) and "\\" not in file and ":" not in file
    return plain and not any(part in ("", ".", "..") for part in file.split("/"))


def _rows(value: object) -> Iterable[dict[str, Any]]:
    if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
        raise TypeError
    return value


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value


def _hash(value: object) -> str:
    if not _SHA256.fullmatch(_text(value)):
        raise TypeError
    return str(value)
