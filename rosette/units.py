"""Lengths, angles and temperatures as makers write them, and back to words.

Inside the tool every length is a float in millimetres, every angle degrees and
every temperature °C. Units are read once, here, and written once, here.
"""

from __future__ import annotations

import math
import re
import sys
from typing import Literal

Units = Literal["mm", "in"]

MM_PER_INCH = 25.4
DECIMALS_KEPT = 12
"""Lengths read are rounded to this many decimals of a millimetre, so that 3/4 in is 19.05 mm."""
LONGEST_MM = 10_000.0
"""No length in a rosette job is longer than ten metres; a larger one is a slip of the pen."""

_LENGTH = re.compile(
    r"(?P<sign>[-−]?)"
    r"(?:(?P<number>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:(?:\s+|-)(?P<top>[0-9]+)/(?P<bottom>[0-9]+))?"
    r"|(?P<lone_top>[0-9]+)/(?P<lone_bottom>[0-9]+))"
    r"\s*(?P<unit>mm|cm|in|inch|inches|\"|″|”|'')?\.?",
    re.ASCII | re.IGNORECASE,
)
_TEMPERATURE = re.compile(
    r"(?P<value>[-−]?[0-9]+(?:\.[0-9]+)?)\s*°?\s*(?P<unit>[CF])", re.ASCII | re.IGNORECASE
)
_PER_UNIT = {"mm": 1.0, "cm": 10.0}
_TYPED_OTHERWISE = str.maketrans(
    {"\u00a0": " ", "\u2009": " ", "\u202f": " ", "⁄": "/"}
    | {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
)
_LONGEST_TEXT = 64

LENGTH_EXPECTED = 'a length such as 62, "62 mm", "6.2 cm", "2.44 in" or "3 3/4 in"'


class LengthError(ValueError):
    """A text or number that is not a usable length; its message says what about it is wrong."""


def parse_length(value: object, units: Units = "mm") -> float:
    """Read a length and give it in millimetres.

    Args:
        value: a number in `units`, or a string that carries its own unit.
        units: what a bare number means.

    Returns:
        Millimetres; may be negative (callers decide whether that makes sense).

    Raises:
        LengthError: with the rest of a sentence that starts with the value.

    >>> [parse_length(text) for text in ("3 3/4 in", '3-3/4"', "6.2 cm")], parse_length(2, "in")
    ([95.25, 95.25, 62.0], 50.8)
    """
    if isinstance(value, str):
        return _bounded(_parse_text(value))
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise LengthError("is not a length")
    return _bounded(_finite(value) * (MM_PER_INCH if units == "in" else 1.0))


def _finite(value: float) -> float:
    """As a float; an integer too large for one becomes the largest there is."""
    try:
        number = float(value)
    except OverflowError:
        return sys.float_info.max if value > 0 else -sys.float_info.max
    if not math.isfinite(number):
        raise LengthError("is not a finite number")
    return number


def _bounded(length: float) -> float:
    if abs(length) > LONGEST_MM:
        raise LengthError(f"is longer than {LONGEST_MM / 1000:g} m")
    return round(length, DECIMALS_KEPT) + 0.0  # -0.0 becomes 0.0


def _parse_text(text: str) -> float:
    plain = text.translate(_TYPED_OTHERWISE).strip() if len(text) <= _LONGEST_TEXT else ""
    match = _LENGTH.fullmatch(plain)
    if match is None:
        raise LengthError("can't be read as a length" + _hint(text))
    if match["unit"] is None:
        raise LengthError("lacks its unit, mm or in")
    value = float(match["number"] or 0)
    top, bottom = match["top"] or match["lone_top"], match["bottom"] or match["lone_bottom"]
    if bottom is not None:
        value += _fraction(top, bottom, match["number"])
    sign = -1.0 if match["sign"] else 1.0
    return sign * value * _PER_UNIT.get(match["unit"].lower(), MM_PER_INCH)


def _fraction(top: str, bottom: str, whole: str | None) -> float:
    if int(bottom) == 0:
        raise LengthError("has a fraction with 0 below the line")
    if whole is not None and "." in whole:
        raise LengthError("mixes a decimal with a fraction")
    if whole is not None and int(top) >= int(bottom):
        raise LengthError("has a fraction of one or more behind a whole number")
    return int(top) / int(bottom)


def _hint(text: str) -> str:
    if "," in text:
        return "; write decimals with a point, 2.5 and not 2,5"
    if any(c.isdigit() and not c.isascii() for c in text):
        return "; write it with the digits 0 to 9"
    return ""


def parse_temperature(value: object) -> float:
    """Read a temperature: a number is °C, a string may say "70 F". Gives °C.

    Raises:
        ValueError: with the rest of a sentence that starts with the value.

    >>> parse_temperature(21), round(parse_temperature("70 F"), 3)
    (21.0, 21.111)
    """
    if isinstance(value, str):
        plain = value.translate(_TYPED_OTHERWISE).strip() if len(value) <= _LONGEST_TEXT else ""
        match = _TEMPERATURE.fullmatch(plain)
        if match is None:
            raise ValueError("can't be read as a temperature")
        number = float(match["value"].replace("−", "-"))
        return (number - 32.0) * 5.0 / 9.0 if match["unit"] in "fF" else number
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise ValueError("is not a temperature")
    return _finite(value)


def nearest_fraction(length: float, denominator: int = 64) -> str:
    """A length in millimetres as inches to the nearest 1/64, in lowest terms.

    >>> [nearest_fraction(length) for length in (95.25, 1.5875, 50.8, 0)]
    ['3 3/4', '1/16', '2', '0']
    """
    parts = int(rounded(abs(length) / MM_PER_INCH * denominator, 0))
    sign = "-" if length < 0 and parts else ""
    whole, rest = divmod(parts, denominator)
    if rest == 0:
        return f"{sign}{whole}"
    shared = math.gcd(rest, denominator)
    fraction = f"{rest // shared}/{denominator // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def format_length(length: float, units: Units = "mm", *, decimals: int = 2) -> str:
    """A length for people, with its unit; inches also as the nearest 1/64 unless that is nothing.

    >>> format_length(18.95796), format_length(95.25, "in")
    ('18.96 mm', '3.750 in (3 3/4)')
    """
    if units == "in":
        fraction = nearest_fraction(length)
        exact = f"{number_in(length, 'in', decimals=decimals)} in"
        return exact if fraction == "0" else f"{exact} ({fraction})"
    return f"{number_in(length, 'mm', decimals=decimals)} mm"


def number_in(length: float, units: Units, *, decimals: int = 2) -> str:
    """The bare number of `format_length`: inches carry one decimal more than millimetres.

    >>> number_in(25.4, "in"), number_in(25.4, "mm"), number_in(-0.0001, "mm")
    ('1.000', '25.40', '0.00')
    """
    places = decimals + 1 if units == "in" else decimals
    return rounded(length / MM_PER_INCH if units == "in" else length, places)


def rounded(number: float, places: int, *, plus: bool = False) -> str:
    """A number as people round it: half way goes away from zero, and nothing is minus nothing.

    A billionth more or less, which is the arithmetic's and not the job's, still counts as half way.
    `plus` puts a sign before what is above nothing.

    >>> rounded(5.625, 2), rounded(0.0625, 3), rounded(-2.5, 0), rounded(-0.001, 2)
    ('5.63', '0.063', '-3', '0.00')
    >>> rounded(1.5, 0, plus=True), rounded(0.1, 0, plus=True)
    ('+2', '0')
    """
    text = f"{number + math.copysign(1e-9, number):.{places}f}"
    if float(text) == 0:
        return text.removeprefix("-")
    return f"+{text}" if plus and number > 0 else text


def format_angle(angle: float) -> str:
    """An angle in degrees as a drawing letters it.

    >>> format_angle(7.5), format_angle(12.857142857), format_angle(180.0)
    ('7.5°', '12.86°', '180°')
    """
    return rounded(angle, 2).rstrip("0").rstrip(".") + "°"
