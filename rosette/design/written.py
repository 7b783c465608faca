"""A design as the text of a design file: the same design when it is read again."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterator

from rosette.design.model import Design, DesignKeys
from rosette.design.starter import header_line, key_lines
from rosette.keys import Key, Keys
from rosette.keys.files import NamedFile
from rosette.keys.kinds import TEMPERATURE
from rosette.keys.show import toml_value
from rosette.units import MM_PER_INCH, Units, nearest_fraction, parse_length

_SAME = 1e-9


def design_text(design: Design, *, head: str = "", assumed: Collection[str] = ()) -> str:
    """A design file with every key that the design settles, each explained.

    `head` is what stands above it; `assumed` names keys whose values nobody measured, which the
    file then says. Comments of a file that the design was read from are not in it.
    """
    lines = [f"# {line}".rstrip() for line in head.splitlines()]
    for name, key in DesignKeys.known.items():
        if key.kind.table is None:
            value = {"schema": 1, "units": design.units}[name]
            lines += key_lines(key, toml_value(value), on=True)
            continue
        record = getattr(design, name)
        body = [] if record is None else list(_table(record, design.units, assumed))
        if body:
            lines += ["", *header_line(f"[{name}]", key.about, on=True), *body]
    for number, ring in enumerate(design.rings, start=1):
        about = "one for each ring, from the inside out" if number == 1 else f"ring {number}"
        lines += ["", *header_line("[[ring]]", about, on=True)]
        lines += _table(ring.keys, design.units, assumed)
    return "\n".join(lines) + "\n"


def _table(record: Keys, units: Units, assumed: Collection[str]) -> Iterator[str]:
    for name, key in record.known.items():
        value = getattr(record, name)
        if value is not None:
            yield from key_lines(key, _value(key, value, units), on=True, assumed=name in assumed)


def _value(key: Key, value: object, units: Units) -> str:
    if isinstance(value, Keys):
        inner = (
            f"{name} = {_value(one, getattr(value, name), units)}"
            for name, one in value.known.items()
            if getattr(value, name) is not None
        )
        return "{ " + ", ".join(inner) + " }"
    if key.kind.is_length and isinstance(value, float | int):
        return length_text(float(value), units)
    if isinstance(value, tuple) and value and isinstance(value[0], Keys):
        return f"[{', '.join(_value(key, one, units) for one in value)}]"
    if isinstance(value, tuple):
        return toml_value(value[0] if len(value) == 1 else list(value))
    return _plain_value(key, value)


def _plain_value(key: Key, value: object) -> str:
    if isinstance(value, NamedFile):
        return toml_value(value.name)
    if isinstance(value, datetime.date):
        return value.isoformat()
    if key.kind is TEMPERATURE and isinstance(value, float):
        return _temperature(value)
    return f"{value:.9g}" if isinstance(value, float) else toml_value(value)


def _temperature(celsius: float) -> str:
    fahrenheit = celsius * 9.0 / 5.0 + 32.0
    odd = abs(celsius - round(celsius, 3)) > _SAME
    if odd and abs(fahrenheit - round(fahrenheit)) < _SAME:
        return toml_value(f"{round(fahrenheit)} F")
    return f"{celsius:.12g}"


def length_text(length: float, units: Units) -> str:
    """A length (mm) as a design file of these units has it, exact to a millionth.

    >>> [length_text(mm, "in") for mm in (95.25, 17.8816, 94.0, 0.0)], length_text(3.175, "mm")
    (['"3 3/4 in"', '0.704', '"94 mm"', '0'], '3.175')
    """
    if units == "mm":
        return _plain(length)
    fraction = f"{nearest_fraction(length)} in"
    if "/" in fraction and abs(parse_length(fraction) - length) < _SAME:
        return toml_value(fraction)
    inches = _plain(length / MM_PER_INCH)
    if abs(float(inches) * MM_PER_INCH - length) > _SAME and abs(round(length, 3) - length) < _SAME:
        return toml_value(f"{_plain(length)} mm")
    return inches


def _plain(number: float) -> str:
    return f"{number:.6f}".rstrip("0").rstrip(".")
