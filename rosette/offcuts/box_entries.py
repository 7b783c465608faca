"""Entries of an offcuts file as text, in its own units."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rosette.keys.show import toml_value
from rosette.offcuts.knots import knot_of
from rosette.offcuts.model import Ring
from rosette.units import MM_PER_INCH, Units

START = """\
# The box of offcuts: one [[offcut]] for each piece, or for each few that are alike.
# docs/offcuts-file.md tells of every key. Lengths are in {words}.
schema = 1
units = "{units}"
"""
WIDTH = 96


def start(units: Units) -> str:
    """The top of a new file."""
    return START.format(units=units, words="millimetres" if units == "mm" else "inches")


def entry(name: str, values: Mapping[str, str], *, remark: str = "") -> str:
    """A table of a list: a remark, its head, and keys whose values are TOML already."""
    head = f"# {remark}\n" if remark else ""
    return head + f"[[{name}]]\n" + "".join(f"{key} = {value}\n" for key, value in values.items())


def number(length: float, units: Units) -> str:
    """A length (mm) as a bare number of the file, to 0.01 mm or 0.0001 in.

    >>> number(310.0, "mm"), number(12.3456, "mm"), number(25.4, "in")
    ('310', '12.35', '1')
    """
    text = f"{length / MM_PER_INCH:.4f}" if units == "in" else f"{length:.2f}"
    text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def points(ring: Ring, units: Units, indent: str = "") -> str:
    """An outline as TOML, broken into lines where it is long."""
    return _wrapped([f"[{number(x, units)}, {number(y, units)}]" for x, y in ring], indent)


def outlines(rings: Sequence[Ring], units: Units) -> str:
    """A list of outlines and knots as TOML."""
    items = [_defect(ring, units) for ring in rings]
    if sum(map(len, items)) < WIDTH and not any("\n" in item for item in items):
        return "[" + ", ".join(items) + "]"
    return "[\n" + "".join(f"  {item},\n" for item in items) + "]"


def _defect(ring: Ring, units: Units) -> str:
    knot = knot_of(ring)
    if knot is None:
        return points(ring, units, "  ")
    (x, y), radius = knot
    across = number(2.0 * radius, units)
    return f"{{ at = [{number(x, units)}, {number(y, units)}], across = {across} }}"


def words(text: str) -> str:
    """Words as a TOML string."""
    return toml_value(text)


def names(all_names: Sequence[str]) -> str:
    """A list of names as TOML."""
    return _wrapped([toml_value(name) for name in all_names], "")


def _wrapped(items: Sequence[str], indent: str) -> str:
    flat = "[" + ", ".join(items) + "]"
    if len(flat) <= WIDTH - 10:
        return flat
    lines, line = [], ""
    for item in items:
        if line and len(line) + len(item) + 3 > WIDTH:
            lines.append(line)
            line = ""
        line += f" {item}," if line else f"  {indent}{item},"
    return "[\n" + "\n".join([*lines, line]) + f"\n{indent}]"
