"""Lengths, angles and temperatures as makers write them, and back to words.

Inside the tool every length is a float in millimetres, every angle degrees and
every temperature °C. Units are read once, here, and written once, here.
"""

from __future__ import annotations

import math
import re
from typing import Literal

Units = Literal["mm", "in"]

MM_PER_INCH = 25.4
LONGEST_MM = 10_000.0
"""No length in a rosette job is longer than ten metres; a larger one is a slip of the pen."""

_NUMBER = r"(?P<whole>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_FRACTION = r"(?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
_LENGTH = re.compile(
    rf"^(?P<sign>[-−]?)(?:{_NUMBER}(?:(?P<join>[ -]){_FRACTION})?|(?P<top0>[0-9]+)/(?P<bottom0>[0-9]+))"
    r"\s*(?P<unit>mm|cm|in|inch|inches|\"|″|'')\.?$",
    re.ASCII,
)
_TEMPERATURE = re.compile(r"^(?P<value>[-−]?[0-9]+(?:\.[0-9]+)?)\s*°?\s*(?P<unit>[CF])$", re.ASCII)
_PER_UNIT = {"mm": 1.0, "cm": 10.0}

LENGTH_EXPECTED = 'a length such as 62, "62 mm", "6.2 cm", "2.44 in" or "3 3/4 in"'


class LengthError(ValueError):
    """A text or number that is not a usable length; its message says why."""


def parse_length(value: object, units: Units = "mm") -> float:
    """Read a length and give it in millimetres.

    Args:
        value: a number in `units`, or a string that carries its own unit.
        units: what a bare number means.

    Returns:
        Millimetres; may be negative (callers decide whether that makes sense).

    Raises:
        LengthError: with a sentence saying what is wrong.

    >>> parse_length("3 3/4 in"), parse_length('3-3/4"'), parse_length("6.2 cm"), parse_length(2, "in")
    (95.25, 95.25, 62.0, 50.8)
    """
    if isinstance(value, bool):
        raise LengthError(f"{str(value).lower()} is not a length")
    if isinstance(value, (int, float)):
        return _bounded(_scaled(value, units))
    if isinstance(value, str):
        return _bounded(_parse_text(value))
    raise LengthError(f"{type(value).__name__} is not a length")


def _scaled(value: float, units: Units) -> float:
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    return number * (MM_PER_INCH if units == "in" else 1.0)


def _bounded(length: float) -> float:
    if not math.isfinite(length):
        raise LengthError("it is not a finite number")
    if abs(length) > LONGEST_MM:
        raise LengthError(f"it is longer than {LONGEST_MM / 1000:g} m")
    return length


def _parse_text(text: str) -> float:
    match = _LENGTH.match(text.strip()) if len(text) <= 64 else None
    if match is None:
        raise LengthError("it can't be read as a length" + _hint(text))
    whole = float(match["whole"] or 0)
    top, bottom = match["top"] or match["top0"], match["bottom"] or match["bottom0"]
    if bottom is not None:
        if match["whole"] is not None and "." in match["whole"]:
            raise LengthError("a decimal and a fraction do not go together")
        if int(bottom) == 0:
            raise LengthError("a fraction can't have 0 below the line")
        whole += int(top) / int(bottom)
    sign = -1.0 if match["sign"] else 1.0
    return sign * whole * _PER_UNIT.get(match["unit"], MM_PER_INCH)


def _hint(text: str) -> str:
    if "," in text:
        return "; write decimals with a point, 2.5 and not 2,5"
    if re.fullmatch(r"\s*[-0-9./ ]+\s*", text, re.ASCII):
        return "; a length in quotes needs its unit, mm or in"
    return ""


def parse_temperature(value: object) -> float:
    """Read a temperature: a number is °C, a string may say "70 F". Gives °C.

    >>> parse_temperature(21), round(parse_temperature("70 F"), 3)
    (21.0, 21.111)
    """
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise ValueError(f"{type(value).__name__} is not a temperature")
    if isinstance(value, str):
        match = _TEMPERATURE.match(value.strip()) if len(value) <= 32 else None
        if match is None:
            raise ValueError("it can't be read as a temperature")
        number = float(match["value"].replace("−", "-"))
        return (number - 32.0) * 5.0 / 9.0 if match["unit"] == "F" else number
    if not math.isfinite(value):
        raise ValueError("it is not a finite number")
    return float(value)


def nearest_fraction(length: float, denominator: int = 64) -> str:
    """A length in millimetres as inches to the nearest 1/64, in lowest terms.

    >>> nearest_fraction(95.25), nearest_fraction(1.5875), nearest_fraction(50.8), nearest_fraction(0)
    ('3 3/4', '1/16', '2', '0')
    """
    parts = round(abs(length) / MM_PER_INCH * denominator)
    sign = "-" if length < 0 and parts else ""
    whole, rest = divmod(parts, denominator)
    if rest == 0:
        return f"{sign}{whole}"
    shared = math.gcd(rest, denominator)
    fraction = f"{rest // shared}/{denominator // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def format_length(length: float, units: Units = "mm", *, decimals: int = 2) -> str:
    """A length for people, with its unit; inches also as the nearest 1/64.

    >>> format_length(18.95796), format_length(95.25, "in")
    ('18.96 mm', '3.750 in (3 3/4)')
    """
    if units == "in":
        return f"{number_in(length, 'in', decimals=decimals)} in ({nearest_fraction(length)})"
    return f"{number_in(length, 'mm', decimals=decimals)} mm"


def number_in(length: float, units: Units, *, decimals: int = 2) -> str:
    """The bare number of `format_length`: inches carry one decimal more than millimetres.

    >>> number_in(25.4, "in"), number_in(25.4, "mm"), number_in(-0.0001, "mm")
    ('1.000', '25.40', '0.00')
    """
    places = decimals + 1 if units == "in" else decimals
    text = f"{length / MM_PER_INCH if units == 'in' else length:.{places}f}"
    return text.removeprefix("-") if float(text) == 0 else text
