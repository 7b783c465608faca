"""Reading back what a job cuts, out of its cuts.json."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rosette.design.source import read_bytes, shown_path
from rosette.errors import InputError, finding
from rosette.offcuts.model import Point, Ring

SCHEMA = "rosette.cut/1"
FILE = "cuts.json"
MOST_BYTES = 32 * 1024 * 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceCut:
    """What is cut from one piece of wood: the wedges' corners and the saw's lines (mm)."""

    offcut: str
    piece: int
    wedges: tuple[Ring, ...]
    cuts: tuple[tuple[Point, Point], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JobCuts:
    """The cuts of one job, as `rosette cut` planned them.

    `box_sha256` is the hash of the offcuts file that they were planned with, `woods` the
    fingerprint of each offcut by its id; `sha256` is that of the cuts themselves.
    """

    job: str
    method: str
    kerf: float
    pieces: tuple[PieceCut, ...]
    box_sha256: str
    woods: Mapping[str, str]
    sha256: str
    source: str

    @property
    def free(self) -> bool:
        """Whether each wedge is cut round its own edge."""
        return self.method == "free"


def read_cuts(path: Path) -> JobCuts:
    """The cuts in a cuts.json, or in that of a job folder.

    Raises:
        InputError: there is none, or it can't be read.
    """
    file = path / FILE if path.is_dir() else path
    data = read_bytes(file, most=MOST_BYTES, called="cuts.json")
    source = shown_path(file)
    try:
        document = json.loads(data)
    except (ValueError, RecursionError):
        raise _refused(source, "it can't be read as JSON; make the job again") from None
    if not isinstance(document, dict) or document.get("schema") != SCHEMA:
        raise _refused(
            source,
            f"it holds no cuts (its schema is not {SCHEMA}); name the cuts.json of a job, or the"
            " job's folder",
        )
    try:
        return _cuts(document, source)
    except InputError:
        raise
    except (KeyError, TypeError, ValueError, OverflowError):
        raise _refused(source, "parts of it are missing or damaged; make the job again") from None


def _cuts(document: Mapping[str, Any], source: str) -> JobCuts:
    wedges: dict[tuple[str, int], list[Ring]] = {}
    lines: dict[tuple[str, int], list[tuple[Point, Point]]] = {}
    for one in document["placements"]:
        corners = tuple(_point(corner) for corner in one["vertices"])
        if len(corners) != 4:
            raise ValueError
        wedges.setdefault(_piece(one), []).append(corners)
    for one in document["cuts"]:
        lines.setdefault(_piece(one), []).append((_point(one["from"]), _point(one["to"])))
    box = document.get("box")
    if not isinstance(box, dict) or not isinstance(box.get("sha256"), str):
        raise _refused(source, "it does not say which box it was cut from; make the job again")
    identity = [document[key] for key in ("placements", "cuts")] + [box["sha256"]]
    return JobCuts(
        job=_name(document),
        method=_text(document["method"]),
        kerf=_number(document["kerf"]),
        pieces=tuple(
            PieceCut(
                offcut=offcut,
                piece=piece,
                wedges=tuple(wedges[offcut, piece]),
                cuts=tuple(lines.get((offcut, piece), ())),
            )
            for offcut, piece in wedges
        ),
        box_sha256=box["sha256"],
        woods=_woods(document),
        sha256=hashlib.sha256(json.dumps(identity, sort_keys=True).encode()).hexdigest(),
        source=source,
    )


def _name(document: Mapping[str, Any]) -> str:
    """The job's name, as words on one line."""
    name = document.get("name")
    words = "".join(c if c.isprintable() else " " for c in name) if isinstance(name, str) else ""
    return words.strip()[:80].strip() or "a job without a name"


def _woods(document: Mapping[str, Any]) -> dict[str, str]:
    return {
        one["id"]: one["sha256"]
        for one in document.get("offcuts", [])
        if isinstance(one.get("id"), str) and isinstance(one.get("sha256"), str)
    }


def _piece(one: Mapping[str, Any]) -> tuple[str, int]:
    piece = one.get("piece", 1)
    if isinstance(piece, bool) or not isinstance(piece, int) or piece < 1:
        raise ValueError
    return _text(one["offcut"]), piece


def _point(value: Any) -> Point:
    x, y = value
    return _number(x), _number(y)


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise TypeError
    if not math.isfinite(value) or abs(value) > 1e6:
        raise ValueError
    return float(value)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value


def _refused(source: str, sentence: str) -> InputError:
    return InputError([finding("cuts", "", "{it}", it=sentence)], source=source)
