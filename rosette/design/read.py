"""From a design file to a Design, with everything that is wrong in it told at once."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Mapping
from pathlib import Path, PurePath
from typing import Any, cast

from rosette.design.model import Design, DesignKeys, PlacedRing
from rosette.design.names import nearest, remedy
from rosette.design.placement import Radii, place
from rosette.design.source import read_bytes, read_tables, shown_path
from rosette.errors import Finding, InputError, finding
from rosette.keys import At, RingKeys, read_table
from rosette.keys.kinds import LONGEST_NAME
from rosette.keys.show import show
from rosette.patterns import every_pattern, pattern
from rosette.patterns.base import Pattern
from rosette.units import LengthError, Units, parse_length

MOST_RINGS = 24
MOST_FINDINGS = 60
"""Findings told of one file; with more than these it is not the file that was meant."""

Table = Mapping[str, Any]


def read_design(path: str | os.PathLike[str]) -> Design:
    """Read a design file.

    Raises:
        InputError: with every finding of the file.
    """
    return read_design_text(read_bytes(path), shown_path(path), Path(path).parent)


def read_design_text(text: bytes, source: str = "", folder: Path | None = None) -> Design:
    """Read a design from the bytes of its file; `source` is the file's name, for messages.

    `folder` is where the files lie that the design names.

    Raises:
        InputError: with every finding of the file.
    """
    return design_from(read_tables(text, source), hashlib.sha256(text).hexdigest(), source, folder)


def design_from(tables: Table, sha256: str, source: str = "", folder: Path | None = None) -> Design:
    """A design from the tables of its file; `sha256` is what it is told from others by.

    `folder` is where the files lie that the design names.

    Raises:
        InputError: with every finding.
    """
    units: Units = "in" if tables.get("units") == "in" else "mm"
    at = At(units=units, findings=[], remedy=remedy, folder=folder)
    body = {name: value for name, value in tables.items() if name != "ring"}
    keys = read_table(DesignKeys, body, at)
    listed = _listed(tables, at)
    rings = [_ring(ring, at.below("ring").below(index)) for index, ring in enumerate(listed)]
    placed, misplaced = place(listed, _hole(body, units), units)
    at.findings.extend(misplaced)
    if at.findings:
        raise InputError(_told(at.findings), source=source, units=units)
    return _design(cast(DesignKeys, keys), cast(list[RingKeys], rings), placed, sha256, source)


def _design(
    keys: DesignKeys, rings: list[RingKeys], placed: list[Radii], sha256: str, source: str
) -> Design:
    return Design(
        units=keys.units,
        job=keys.job,
        instrument=keys.instrument,
        cutting=keys.cutting,
        channel=keys.channel,
        climate=keys.climate,
        fixtures=keys.fixtures,
        rings=tuple(
            PlacedRing(
                index=index,
                keys=ring,
                inner_radius=cast(float, radii.inner),
                outer_radius=cast(float, radii.outer),
            )
            for index, (ring, radii) in enumerate(zip(rings, placed, strict=True), start=1)
        ),
        source=PurePath(source).name,
        sha256=sha256,
    )


def _told(findings: list[Finding]) -> list[Finding]:
    """The findings, cut off where a file has more than anybody would read."""
    more = len(findings) - MOST_FINDINGS
    if more <= 0:
        return findings
    return [*findings[:MOST_FINDINGS], finding("more", "", "and {more} more like these", more=more)]


def _listed(tables: Table, at: At) -> list[Table]:
    """The rings as they stand in the file."""
    rings = tables.get("ring")
    if rings is None:
        problem = "a design needs at least one ring; write [[ring]] and its keys below"
    elif isinstance(rings, dict):
        problem = "write [[ring]] in double brackets, for there can be several rings"
    elif not isinstance(rings, list) or not all(isinstance(ring, dict) for ring in rings):
        problem = f"{show(rings)} is not a ring; write [[ring]] and its keys below"
    elif not rings:
        problem = "the list of rings is empty; write [[ring]] and its keys below"
    elif len(rings) > MOST_RINGS:
        problem = f"{len(rings)} rings are more than a top can hold; at most {MOST_RINGS} do"
    else:
        return rings
    at.below("ring").tell("rings", problem)
    return [rings] if isinstance(rings, dict) else []


def _ring(ring: Table, at: At) -> RingKeys | None:
    found = _pattern(ring.get("pattern"), at.below("pattern"))
    if found is not None:
        return read_table(found.keys, {**ring, "pattern": found.name}, at)
    of_some_pattern = {name for one in every_pattern().values() for name in one.keys.known}
    unsure = of_some_pattern - RingKeys.known.keys()
    read_table(RingKeys, {k: v for k, v in ring.items() if k not in unsure} | {"pattern": "?"}, at)
    return None


def _pattern(name: object, at: At) -> Pattern | None:
    """The ring's pattern; where it is misspelt the nearest, so that its keys are read too."""
    if isinstance(name, str) and len(name) <= LONGEST_NAME:
        found = pattern(name)
        if found is not None:
            return found
    known = every_pattern()
    near = nearest(name, list(known)) if isinstance(name, str) else None
    offered = " or ".join(show(one) for one in known)
    if name is None:
        at.tell("missing-key", f"is missing: {offered}")
    elif near:
        at.tell("unknown-pattern", f'{show(name)} is not a known pattern; did you mean "{near}"?')
    else:
        at.tell("unknown-pattern", f"{show(name)} is not a known pattern; there are {offered}")
    return known[near] if near else None


def _hole(body: Table, units: Units) -> float | None:
    instrument = body.get("instrument")
    if not isinstance(instrument, dict):
        return None
    try:
        return parse_length(instrument.get("soundhole_diameter"), units) / 2.0
    except LengthError:
        return None
