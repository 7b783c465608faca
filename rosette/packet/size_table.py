"""The table of a size range: one design a row, told apart by radii and counts."""

from __future__ import annotations

import copy
import csv
import hashlib
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from rosette.design.model import Design
from rosette.design.read import design_from
from rosette.design.source import read_bytes, read_tables, shown_path
from rosette.design.written import design_text
from rosette.errors import Finding, InputError, finding
from rosette.keys.show import show

MOST_ROWS = 2000
INSTEAD = {
    "inner_radius": ("space",),
    "space": ("inner_radius",),
    "width": ("outer_radius",),
    "outer_radius": ("width",),
    "segments": ("segment_width",),
    "segment_width": ("segments",),
}
"""Keys of the design that a column takes the place of, beside its own."""
OWN = ("name", "ring")
_NAME = re.compile(r"[^\W_][\w .+-]{0,58}[\w+-]|[^\W_]")
_RESERVED = {"con", "prn", "aux", "nul", *(f"{x}{i}" for x in ("com", "lpt") for i in range(10))}


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One size: the name of its folder, the line it stands on, its design or what is wrong.

    `record` is the design as a file, `design` None where `wrong` says why.
    """

    name: str
    line: int
    record: bytes = b""
    design: Design | None = None
    wrong: tuple[Finding, ...] = ()


def read_sizes(table: Path, design: Path) -> tuple[Row, ...]:
    """The rows of a table, each with the design that it makes of the design file.

    A row that makes no sound design is given back with what is wrong with it.

    Raises:
        InputError: the table as a whole can't be used: its heading, its names.
    """
    source = shown_path(table)
    tables = read_tables(read_bytes(design), shown_path(design))
    text = _text(read_bytes(table, called="table"), source)
    heading, *lines = _cells(text, source)
    _check_heading(heading, source)
    rows = [(n, dict(zip(heading, cells, strict=False))) for n, cells in lines_of(lines) if cells]
    if not rows:
        raise _refused("it has no rows below its heading", source)
    if len(rows) > MOST_ROWS:
        raise _refused(f"it has {len(rows)} rows; at most {MOST_ROWS} go at once", source)
    made = tuple(_row(n, cells, tables, source, design.parent) for n, cells in rows)
    _check_names(made, source)
    return made


def lines_of(lines: list[list[str]]) -> Iterator[tuple[int, list[str]]]:
    """Each row with its line's number, the heading being 1; blank lines are empty."""
    for number, cells in enumerate(lines, start=2):
        yield number, cells if any(cells) and not cells[0].startswith("#") else []


def _text(data: bytes, source: str) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise _refused("it is not UTF-8 text; save it as CSV in UTF-8", source) from None


def _cells(text: str, source: str) -> list[list[str]]:
    first = next(iter(text.splitlines()), "")
    if not first.strip():
        raise _refused("its first line is empty; the names of the columns belong there", source)
    mark = max(";\t,", key=first.count)
    try:
        found = list(csv.reader(io.StringIO(text), delimiter=mark, strict=True))
    except csv.Error as error:
        raise _refused(f"it can't be read as a table: {error}", source) from None
    decimal_comma = mark == ";"
    return [[_cell(cell, decimal_comma) for cell in row] for row in found]


def _cell(cell: str, decimal_comma: bool) -> str:
    cell = cell.strip()
    comma = decimal_comma and re.fullmatch(r"\d+,\d+( ?[a-z\"]+)?", cell)
    return cell.replace(",", ".") if comma else cell


def _check_heading(heading: list[str], source: str) -> None:
    twice = {name for name in heading if heading.count(name) > 1}
    if twice:
        raise _refused(f"two columns are called {min(twice)!r}", source)
    if not set(heading) - set(OWN):
        raise _refused(
            "its heading names no size; write columns such as inner_radius,width,segments", source
        )


def _row(
    line: int, cells: Mapping[str, str], tables: Mapping[str, Any], source: str, folder: Path
) -> Row:
    given = {name: cell for name, cell in cells.items() if name not in OWN and cell}
    name = cells.get("name") or _name_from(given)
    try:
        changed = _changed(tables, cells.get("ring", ""), given)
        design = design_from(changed, "", f"{source} line {line}", folder)
    except InputError as error:
        return Row(name=name, line=line, wrong=error.findings)
    record = design_text(design, head=f"{name}: one size of a range").encode()
    sha256 = hashlib.sha256(record).hexdigest()
    return Row(
        name=name,
        line=line,
        record=record,
        design=replace(design, sha256=sha256, source=f"{name}.toml"),
    )


def _name_from(given: Mapping[str, str]) -> str:
    """A folder's name from the sizes themselves: 52.5-70-30, 2_1-16in-18-36."""
    plain = "-".join(given.values()).replace('"', "in").replace("/", "-")
    return plain.replace(" in", "in").replace(" mm", "mm").replace(" ", "_")


def _changed(tables: Mapping[str, Any], ring: str, given: Mapping[str, str]) -> dict[str, Any]:
    """The design's tables with one ring's keys replaced."""
    changed = copy.deepcopy(dict(tables))
    rings = changed.get("ring")
    if not isinstance(rings, list) or not all(isinstance(one, dict) for one in rings):
        return changed  # reading it says what is wrong
    number = _which(ring, rings)
    target = rings[number]
    for name, cell in given.items():
        for other in INSTEAD.get(name, ()):
            target.pop(other, None)
        target[name] = _value(cell)
    return changed


def _which(ring: str, rings: list[dict[str, Any]]) -> int:
    if not ring:
        return next((i for i, one in enumerate(rings) if one.get("pattern") == "radial"), 0)
    if not ring.isascii() or not ring.isdigit() or not 1 <= int(ring) <= len(rings):
        told = f'"{ring[:20]}" is not a ring of the design; it has 1 to {len(rings)}'
        raise InputError([finding("wrong-value", "ring", "{it}", it=told)])
    return int(ring) - 1


def _value(cell: str) -> object:
    for kind in (int, float):
        try:
            return kind(cell)
        except ValueError:
            continue
    return cell


def _check_names(rows: tuple[Row, ...], source: str) -> None:
    seen: dict[str, int] = {}
    found = []
    for row in rows:
        known = row.name.casefold()
        if not _NAME.fullmatch(row.name) or known.partition(".")[0] in _RESERVED:
            told = f"line {row.line}: {show(row.name)} can't be a folder's name"
            found.append(finding("wrong-name", "", "{it}", it=f"{told}; use letters and digits"))
        elif known in seen:
            told = f"lines {seen[known]} and {row.line} both make the folder {row.name}"
            found.append(finding("same-name", "", "{it}", it=f"{told}; give them names"))
        seen.setdefault(known, row.line)
    if found:
        raise InputError(found, source=source)


def _refused(sentence: str, source: str) -> InputError:
    return InputError([finding("table", "", "{it}", it=sentence)], source=source)
