"""Lengths as a maker types them at a prompt, kept as typed where they go into a design file."""

from __future__ import annotations

import re

from rosette.keys.show import toml_value
from rosette.units import MM_PER_INCH, LengthError, Units, nearest_fraction, parse_length, rounded

_PLAIN = re.compile(r"0*(?P<whole>[0-9]*)(?:\.(?P<rest>[0-9]*))?", re.ASCII)
_INCH_MARK = re.compile(r"\s*(?:\"|″|”|'')$")
CLOSE_ENOUGH = 0.06
"""A habit is written as a fraction of an inch where that is nearer to it than this share."""


def as_toml(text: str, units: Units) -> str:
    """A typed length as it goes into a design file of these units.

    A plain number stays a number; whatever else was typed stays as typed, with its unit.

    Raises:
        LengthError: where it is not a length, with the rest of a sentence.

    >>> [as_toml(text, "in") for text in (".5", "3 3/4", '3-3/4"', "94 mm", "0")]
    ['0.5', '"3 3/4 in"', '"3-3/4 in"', '"94 mm"', '0']
    """
    text = _INCH_MARK.sub(" in", text.strip())
    plain = _PLAIN.fullmatch(text)
    if plain and text.strip("."):
        number = (plain["whole"] or "0") + (f".{plain['rest']}" if plain["rest"] else "")
        parse_length(float(number), units)
        return number
    try:
        parse_length(text)
    except LengthError as unclear:
        with_unit = f"{text} {units}"
        try:
            parse_length(with_unit)
        except LengthError:
            raise unclear from None
        text = with_unit
    return toml_value(text)


def typed_length(text: str, units: Units) -> float:
    """The same in millimetres.

    >>> typed_length("3 3/4", "in")
    95.25
    """
    value = as_toml(text, units)
    return parse_length(value.strip('"') if value.startswith('"') else float(value), units)


def habit(length: float, units: Units, decimals: int = 4) -> str:
    """A usual length (mm) as a maker would write it: a fraction where that is close enough.

    >>> habit(1.5, "mm"), habit(1.5, "in"), habit(0.2, "in")
    ('1.5', '1/16 in', '0.008')
    """
    if units == "mm" or length == 0:
        text = rounded(length, decimals)
        return text.rstrip("0").rstrip(".") if "." in text else text
    fraction = nearest_fraction(length)
    if abs(parse_length(f"{fraction} in") - length) <= CLOSE_ENOUGH * length:
        return f"{fraction} in"
    return rounded(length / MM_PER_INCH, 3)
