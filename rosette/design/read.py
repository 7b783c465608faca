"""From a design file to a Design, with everything that is wrong in it told at once."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Mapping
from pathlib import PurePath
from typing import Any, TypeVar, cast

from pydantic import ValidationError

from rosette.design.complaints import broken_rules, complaint
from rosette.design.model import Design, DesignKeys, PlacedRing
from rosette.design.names import fields_of, nearest, table_in
from rosette.design.placement import Radii, place
from rosette.design.show import key_path, show
from rosette.design.source import read_bytes, read_tables, shown_path
from rosette.errors import Finding, InputError, finding
from rosette.keys import Keys, RingKeys
from rosette.patterns import patterns
from rosette.units import LengthError, Units, parse_length

MOST_RINGS = 24
MOST_FINDINGS = 60
"""Findings told of one file; with more than these it is not the file that was meant."""

Table = Mapping[str, Any]
AnyKeys = TypeVar("AnyKeys", bound=Keys)


def read_design(path: str | os.PathLike[str]) -> Design:
    """Read a design file.

    Raises:
        InputError: with every finding of the file.
    """
    return read_design_text(read_bytes(path), shown_path(path))


def read_design_text(text: bytes, source: str = "") -> Design:
    """Read a design from the bytes of its file; `source` is the file's name, for messages.

    Raises:
        InputError: with every finding of the file.
    """
    tables = read_tables(text, source)
    units: Units = "in" if tables.get("units") == "in" else "mm"
    reader = _Reader(units)
    body = {name: value for name, value in tables.items() if name != "ring"}
    keys = reader.validated(DesignKeys, body, ())
    reader.rules_of_tables(body)
    rings = reader.rings(tables)
    placed = reader.placed(rings, body)
    if reader.findings:
        raise InputError(reader.told(), source=source, units=units)
    return _design(cast(DesignKeys, keys), rings, placed, text, source)


def _design(
    keys: DesignKeys,
    rings: list[tuple[Table, RingKeys | None]],
    placed: list[Radii],
    text: bytes,
    source: str,
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
                keys=cast(RingKeys, ring),
                inner_radius=cast(float, radii.inner),
                outer_radius=cast(float, radii.outer),
            )
            for index, ((_, ring), radii) in enumerate(zip(rings, placed, strict=True), start=1)
        ),
        source=PurePath(source).name,
        sha256=hashlib.sha256(text).hexdigest(),
    )


class _Reader:
    """Gathers what is found while the parts of one file are read."""

    def __init__(self, units: Units) -> None:
        self.units = units
        self.findings: list[Finding] = []

    def told(self) -> list[Finding]:
        """The findings, cut off where a file has more than anybody would read."""
        more = len(self.findings) - MOST_FINDINGS
        if more <= 0:
            return self.findings
        last = finding("more", "", "and {more} more like these", more=more)
        return [*self.findings[:MOST_FINDINGS], last]

    def validated(
        self, model: type[AnyKeys], table: Table, prefix: tuple[str | int, ...]
    ) -> AnyKeys | None:
        """A table read by its model, or None and the findings."""
        try:
            return model.model_validate(table, context={"units": self.units})
        except ValidationError as error:
            errors = error.errors(include_url=False)
        for one in errors[: MOST_FINDINGS + 1]:
            self.findings.append(complaint(one, model, prefix, self.units))
        self.findings.extend(self.findings[-1:] * (len(errors) - MOST_FINDINGS - 1))
        return None

    def rules_of_tables(self, body: Table) -> None:
        """The rules that tables other than rings have of their own."""
        for name, field in fields_of(DesignKeys).items():
            model, table = table_in(field), body.get(name)
            if model is not None and isinstance(table, dict):
                self.findings.extend(broken_rules(table, model, (name,), self.units))

    def rings(self, tables: Table) -> list[tuple[Table, RingKeys | None]]:
        """Every ring as it stands in the file, and read by its pattern (None with findings)."""
        listed = self._listed(tables)
        return [(ring, self._ring(ring, index)) for index, ring in enumerate(listed)]

    def _listed(self, tables: Table) -> list[Table]:
        rings = tables.get("ring")
        problem = None
        if not isinstance(rings, list) or not all(isinstance(ring, dict) for ring in rings):
            if rings is None:
                problem = "a design needs at least one ring; write [[ring]] and its keys below"
            elif isinstance(rings, dict):
                problem = "write [[ring]] in double brackets, for there can be several rings"
            else:
                problem = f"{show(rings)} is not a ring; write [[ring]] and its keys below"
        elif not rings:
            problem = "the list of rings is empty; write [[ring]] and its keys below"
        elif len(rings) > MOST_RINGS:
            problem = f"{len(rings)} rings are more than a top can hold; at most {MOST_RINGS} do"
        if problem is None:
            return cast(list[Table], rings)
        self.findings.append(finding("rings", "ring", "{it}", it=problem))
        return [rings] if isinstance(rings, dict) else []

    def _ring(self, ring: Table, index: int) -> RingKeys | None:
        prefix = ("ring", index)
        pattern = self._pattern(ring, index)
        if pattern is None:
            self._common_keys(ring, prefix)
            return None
        model = patterns()[pattern].keys
        read = self.validated(model, {**ring, "pattern": pattern}, prefix)
        self.findings.extend(broken_rules(ring, model, prefix, self.units))
        return read

    def _pattern(self, ring: Table, index: int) -> str | None:
        """The ring's pattern; where it is misspelt the nearest, so that its keys are read too."""
        name, known = ring.get("pattern"), list(patterns())
        if isinstance(name, str) and name in known:
            return name
        near = nearest(name, known) if isinstance(name, str) else None
        offered = " or ".join(show(one) for one in known)
        if name is None:
            template = "is missing: {offered}"
        elif near:
            template = f'{{shown}} is not a known pattern; did you mean "{near}"?'
        else:
            template = "{shown} is not a known pattern; there are {offered}"
        where = key_path(("ring", index, "pattern"))
        self.findings.append(
            finding("unknown-pattern", where, template, shown=show(name), offered=offered)
        )
        return near

    def _common_keys(self, ring: Table, prefix: tuple[str | int, ...]) -> None:
        """What can be said of a ring whose pattern is not known: the keys every ring has."""
        of_some_pattern = {name for p in patterns().values() for name in fields_of(p.keys)}
        maybe = of_some_pattern - fields_of(RingKeys).keys()
        common = {name: value for name, value in ring.items() if name not in maybe}
        self.validated(RingKeys, {**common, "pattern": ""}, prefix)
        self.findings.extend(broken_rules(ring, RingKeys, prefix, self.units))

    def placed(self, rings: list[tuple[Table, RingKeys | None]], body: Table) -> list[Radii]:
        """Every ring's radii."""
        radii, findings = place((ring for ring, _ in rings), self._hole(body), self.units)
        self.findings.extend(findings)
        return radii

    def _hole(self, body: Table) -> float | None:
        instrument = body.get("instrument")
        if not isinstance(instrument, dict):
            return None
        try:
            return parse_length(instrument.get("soundhole_diameter"), self.units) / 2.0
        except LengthError:
            return None
