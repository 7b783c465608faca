"""Measures as they are typed at the command line, as values of an offcuts file."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from rosette.design.typed import as_toml
from rosette.errors import Finding, InputError, finding
from rosette.keys.show import show, toml_value
from rosette.offcuts.box import read_box
from rosette.units import LENGTH_EXPECTED, LengthError, Units, parse_length


def typed_values(
    box: Path,
    units: Units | None,
    *,
    thickness: str,
    shape: str,
    measures: Sequence[str],
    sits: str | None = None,
    knots: Sequence[Sequence[str]] = (),
) -> Mapping[str, str]:
    """Thickness, shape and knots as TOML, in the units of the box or of one to be begun.

    `measures` are those of the shape in the order of the command line: along and across; length
    and both ends; length, both ends and rise; or a tracing's path.

    Raises:
        InputError: with every measure that is no length.
    """
    typed = _Typed(read_box(box).units if os.path.lexists(box) else units or "mm")
    values = {"thickness": typed.length("--thickness", thickness)}
    lengths = [] if shape == "file" else [typed.length(f"--{shape}", one) for one in measures]
    if shape == "file":
        values["file"] = toml_value(measures[0])
    elif shape == "rectangle":
        values["rectangle"] = f"[{', '.join(lengths)}]"
    else:
        length, left, right, *rest = lengths
        ends = left if left == right else f"[{left}, {right}]"
        inside = f"length = {length}, ends = {ends}"
        if rest:
            inside += f", rise = {rest[0]}"
        if sits is not None:
            word = sits in ("bottom", "middle", "top")
            inside += f", sits = {toml_value(sits) if word else typed.length('--sits', sits)}"
        values[shape] = f"{{ {inside} }}"
    if knots:
        told = [[typed.length("--knot", one) for one in knot] for knot in knots]
        listed = [f"{{ at = [{x}, {y}], across = {across} }}" for x, y, across in told]
        values["defects"] = f"[{', '.join(listed)}]"
    if typed.findings:
        raise InputError(typed.findings, units=typed.units)
    return values


class _Typed:
    """Reads lengths, and gathers what is none."""

    def __init__(self, units: Units) -> None:
        self.units = units
        self.findings: list[Finding] = []

    def length(self, where: str, text: str) -> str:
        sign = "-" if text.strip().startswith(("-", "−")) else ""
        plain = text.strip()[1:] if sign else text
        try:
            if self.units == "mm" and "/" in plain and not any(c.isalpha() for c in plain):
                parse_length(plain)  # a fraction is of an inch: its mark or unit has to be there
            value = as_toml(plain, self.units)
        except LengthError as error:
            sentence = f"{show(text)} {error}; expected {LENGTH_EXPECTED}"
            self.findings.append(finding("wrong-value", where, "{it}", it=sentence))
            return "0"
        return f'"{sign}{value[1:]}' if value.startswith('"') else f"{sign}{value}"
