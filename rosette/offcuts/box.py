"""The box of offcuts: from its file to pieces of wood, everything that is wrong told at once."""

from __future__ import annotations

import hashlib
import os
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path, PurePath
from typing import Any, Literal, cast

from rosette.design.names import nearest
from rosette.design.read import MOST_FINDINGS
from rosette.design.source import read_bytes, read_tables, shown_path
from rosette.errors import Finding, InputError, finding
from rosette.keys import At, Keys, read_table
from rosette.keys.show import key_path, show
from rosette.offcuts.box_keys import BoxKeys, OffcutKeys, TakenKeys
from rosette.offcuts.box_kinds import MOST_POINTS
from rosette.offcuts.box_shapes import Shape, Tracings, shape_of
from rosette.offcuts.fingerprint import fingerprint
from rosette.offcuts.model import Offcut, Ring
from rosette.units import Units
from rosette.words import plain

MOST_BYTES = 4 * 1024 * 1024
MOST_OFFCUTS = 2000
MOST_PIECES = 10_000
MOST_POINTS_IN_ALL = 20 * MOST_POINTS
MOST_TAKEN = 2000

FORMS = ("outline", "rectangle", "taper", "curved", "file")
"""The keys of which every offcut has one, and which say what shape it is."""

Form = Literal["outline", "rectangle", "taper", "curved", "file"]
Table = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxOffcut:
    """One entry of the box: `count` pieces of wood of the same shape (mm, degrees).

    `form` is the key that gave the shape, `file` the tracing where it is that.
    """

    id: str
    wood: str
    thickness: float
    outline: Ring
    holes: tuple[Ring, ...] = ()
    defects: tuple[Ring, ...] = ()
    grain: float = 0.0
    count: int = 1
    note: str = ""
    form: Form = "outline"
    file: str = ""

    def pieces(self) -> Offcut:
        """What each of its pieces is, as the solvers take it."""
        return Offcut(
            id=self.id,
            outline=self.outline,
            holes=self.holes,
            defects=self.defects,
            grain=self.grain,
            wood=self.wood,
            thickness=self.thickness,
        )

    @property
    def sha256(self) -> str:
        """The fingerprint of its wood; count and note don't matter for it."""
        return fingerprint(self.pieces())


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A job whose cuts were made: their fingerprint, its name, what it used and gave back."""

    cuts: str
    job: str
    used: tuple[str, ...]
    back: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """The whole box, every length in mm; `units` is what its maker writes and reads in.

    `source` is the file's name, `sha256` the hash of its bytes alone: a tracing that changes
    shows in its offcut's own fingerprint.
    """

    units: Units
    offcuts: tuple[BoxOffcut, ...]
    taken: tuple[Taken, ...] = ()
    source: str = ""
    sha256: str = ""

    def find(self, name: str) -> BoxOffcut | None:
        """The offcut with this id."""
        return next((one for one in self.offcuts if one.id == name), None)


def read_box(path: str | os.PathLike[str]) -> Box:
    """Read an offcuts file; tracings are looked for beside it.

    Raises:
        InputError: with every finding of the file and of the tracings that it names.
    """
    return read_box_text(
        read_bytes(path, most=MOST_BYTES, called="box's"),
        shown_path(path),
        folder=Path(os.path.realpath(path)).parent,
    )


def read_box_text(text: bytes, source: str = "", *, folder: Path | None = None) -> Box:
    """Read a box from the bytes of its file; `source` is the file's name, for messages.

    Tracings are read from `folder`; without one an offcut can't have any.

    Raises:
        InputError: with every finding.
    """
    tables = read_tables(text, source, start='"rosette offcuts add" writes a first offcut')
    units: Units = "in" if tables.get("units") == "in" else "mm"
    at = At(units=units, findings=[], remedy=_remedy)
    body = {name: value for name, value in tables.items() if name not in ("offcut", "taken")}
    read_table(BoxKeys, body, at)
    listed = _listed(tables, "offcut", MOST_OFFCUTS, at)
    tracings = Tracings(folder)
    offcuts = [
        _offcut(one, at.below("offcut").below(index), tracings) for index, one in enumerate(listed)
    ]
    taken = [
        read_table(TakenKeys, one, at.below("taken").below(index))
        for index, one in enumerate(_listed(tables, "taken", MOST_TAKEN, at))
    ]
    _check_ids(listed, at)
    _check_sum(offcuts, at)
    if at.findings:
        raise InputError(_told(at.findings), source=source, units=units)
    return Box(
        units=units,
        offcuts=tuple(cast(list[BoxOffcut], offcuts)),
        taken=tuple(
            Taken(cuts=one.cuts, job=one.job, used=one.used, back=one.back)
            for one in cast(list[TakenKeys], taken)
        ),
        source=PurePath(source).name,
        sha256=hashlib.sha256(text).hexdigest(),
    )


def _offcut(one: Table, at: At, tracings: Tracings) -> BoxOffcut | None:
    before = len(at.findings)
    keys = read_table(OffcutKeys, one, at)
    drawn = keys or _shape_alone(one, at)
    shape = shape_of(drawn, at, tracings) if drawn is not None else None
    named = one.get("id")
    if isinstance(named, str) and named.strip():
        for i in range(before, len(at.findings)):
            at.findings[i] = _with_id(at.findings[i], named)
    return None if keys is None or shape is None else _made(keys, shape, one)


def _shape_alone(one: Table, at: At) -> OffcutKeys | None:
    """The keys that say the shape, where they are sound, so that it is checked beside others."""
    names = (*FORMS, "holes", "defects")
    shape = {name: one[name] for name in names if name in one}
    known: Table = {"id": "x", "wood": "x", "thickness": 1, **shape}
    return read_table(OffcutKeys, known, replace(at, findings=[]))


def _made(keys: OffcutKeys, shape: Shape, one: Table) -> BoxOffcut:
    return BoxOffcut(
        id=keys.id,
        wood=keys.wood,
        thickness=keys.thickness,
        outline=shape.outline,
        holes=shape.holes,
        defects=shape.defects,
        grain=keys.grain,
        count=keys.count,
        note=keys.note or "",
        form=cast(Form, next(form for form in FORMS if form in one)),
        file=keys.file or "",
    )


def _with_id(found: Finding, name: str) -> Finding:
    """The same with the offcut's own name beside its number in the file."""
    return replace(found, where=f"{found.where} ({plain(name, 40)})")


def _listed(tables: Table, name: str, most: int, at: At) -> list[Table]:
    """The entries of [[name]] as they stand in the file."""
    found = tables.get(name, [])
    if isinstance(found, dict):
        problem = f"write [[{name}]] in double brackets, for there can be several"
    elif not isinstance(found, list) or not all(isinstance(one, dict) for one in found):
        problem = f"{show(found)} stands here; write [[{name}]] and its keys below"
    elif len(found) > most:
        problem = f"{len(found)} are more than a box can hold; at most {most} do"
    else:
        return found
    at.below(name).tell(name, problem)
    return [found] if isinstance(found, dict) else []


def _check_ids(listed: list[Table], at: At) -> None:
    first: dict[str, int] = {}
    for index, one in enumerate(listed):
        name = one.get("id")
        if not isinstance(name, str) or not name.strip():
            continue
        # on many disks S2 and s2 are the same file
        before = first.setdefault(name.casefold(), index)
        if before != index:
            other = listed[before].get("id")
            alike = "" if other == name else f" {show(other)}, the same but for capitals,"
            at.below("offcut").below(index).below("id").tell(
                "duplicate-id",
                f"{show(name)} is taken:{alike} {key_path(('offcut', before))} has it already; give"
                " every offcut an id of its own",
            )


def _check_sum(offcuts: Iterable[BoxOffcut | None], at: At) -> None:
    sums: Counter[str] = Counter()
    for one in offcuts:
        if one is not None:
            sums["pieces"] += one.count
            sums["points"] += sum(map(len, (one.outline, *one.holes, *one.defects)))
    for what, most in (("pieces", MOST_PIECES), ("points", MOST_POINTS_IN_ALL)):
        if sums[what] > most:
            at.below("offcut").tell(
                "too-many", f"there are {sums[what]} {what} of wood in all; at most {most} do"
                if what == "pieces"
                else f"their outlines have {sums[what]} points in all; at most {most} do",
            )  # fmt: skip


def _told(findings: list[Finding]) -> list[Finding]:
    more = len(findings) - MOST_FINDINGS
    if more <= 0:
        return findings
    return [*findings[:MOST_FINDINGS], finding("more", "", "and {more} more like these", more=more)]


def _remedy(name: str, model: type[Keys]) -> str:
    """What to do about a key that a table does not know."""
    here = [*model.known, *(("offcut",) if model is BoxKeys else ())]
    if model is BoxKeys and name in OffcutKeys.known:
        return "it belongs in an [[offcut]]"
    if model is OffcutKeys and name in BoxKeys.known:
        return "it belongs at the top of the file"
    near = nearest(name, here)
    return f"did you mean {near}?" if near else f"known here: {', '.join(here)}"
