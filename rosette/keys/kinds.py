"""What a key may hold: a length, a count, a wood's name, a date."""

from __future__ import annotations

import datetime
import math
from difflib import get_close_matches

from rosette.keys.declare import At, Kind
from rosette.keys.show import show
from rosette.units import LENGTH_EXPECTED, LengthError, parse_length, parse_temperature

LONGEST_NAME = 80
_UNSEEN_BUT_USED = "\u00a0\u2009\u202f\u200c\u200d"
COLDEST, HOTTEST = -20.0, 60.0
"""No shop or guitar is colder or hotter than this (°C)."""


def _length(value: object, at: At, *, least: str = "zero or more") -> float | None:
    try:
        length = parse_length(value, at.units)
    except LengthError as error:
        at.tell("wrong-value", f"{show(value)} {error}; expected {LENGTH_EXPECTED}")
        return None
    if length < 0:
        at.tell("wrong-value", f"{show(value)} is negative; expected a length of {least}")
        return None
    return length


def _positive(value: object, at: At) -> float | None:
    length = _length(value, at, least="more than zero")
    if length == 0:
        at.tell("wrong-value", f"{show(value)} is too small; expected a length of more than zero")
        return None
    return length


_TEXT = {"type": "string"}
LENGTH = Kind(
    read=_length,
    called="length",
    schema={"anyOf": [{"type": "number", "minimum": 0}, _TEXT]},
    is_length=True,
)
"""A length of zero or more, in mm once read."""
POSITIVE_LENGTH = Kind(
    read=_positive,
    called="length above 0",
    schema={"anyOf": [{"type": "number", "exclusiveMinimum": 0}, _TEXT]},
    is_length=True,
)
"""A length of more than zero, in mm once read."""


def _temperature(value: object, at: At) -> float | None:
    try:
        temperature = parse_temperature(value)
    except ValueError as error:
        expected = 'a temperature such as 21 or "70 F"'
        at.tell("wrong-value", f"{show(value)} {error}; expected {expected}")
        return None
    if not COLDEST <= temperature <= HOTTEST:
        at.tell("wrong-value", f"{show(value)} is not between {COLDEST:g} °C and {HOTTEST:g} °C")
        return None
    return temperature


TEMPERATURE = Kind(
    read=_temperature,
    called='°C, or "70 F"',
    schema={"anyOf": [{"type": "number", "minimum": COLDEST, "maximum": HOTTEST}, _TEXT]},
)
"""°C once read."""


def _humidity(value: object, at: At) -> float | None:
    not_a_number = isinstance(value, float) and math.isnan(value)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not_a_number:
        at.refuse(f"{show(value)} is not a number")
    elif not 0 < value < 100:
        at.tell("wrong-value", f"{show(value)} is not between 0 and 100 percent")
    else:
        return float(value)
    return None


HUMIDITY = Kind(
    read=_humidity,
    called="percent",
    schema={"type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 100},
)
"""Relative humidity in percent, neither bone dry nor dripping."""


def _name(value: object, at: At) -> str | None:
    if isinstance(value, (dict, list)):
        at.refuse(f"{show(value)} stands where words belong")
    elif not isinstance(value, str):
        at.refuse(f"{show(value)} is not words in quotes")
    elif not value.strip():
        at.refuse("it is blank")
    elif len(value) > LONGEST_NAME:
        long = f"{show(value)} is {len(value)} characters long; at most {LONGEST_NAME} do"
        at.tell("wrong-value", long)
    elif not all(c.isprintable() or c in _UNSEEN_BUT_USED for c in value):
        at.tell("wrong-value", f"{show(value)} holds a character that can't be printed")
    else:
        return value
    return None


NAME = Kind(
    read=_name, called="words", schema={"type": "string", "minLength": 1, "maxLength": LONGEST_NAME}
)
"""Words on one line."""


def _name_or_list_of_one(value: object, at: At) -> str | None:
    return _name(value[0] if isinstance(value, list) and len(value) == 1 else value, at)


ONE_NAME = Kind(
    read=_name_or_list_of_one,
    called="words",
    schema={"anyOf": [NAME.schema, {"type": "array", "items": NAME.schema, "maxItems": 1}]},
)
"""Words on one line, or a list with nothing else in it."""


def names(*, most: int) -> Kind:
    """Words, or a list of 1 to `most` of them; a tuple once read."""

    def read(value: object, at: At) -> tuple[str, ...] | None:
        if isinstance(value, str):
            value = [value]
        if not isinstance(value, list):
            at.refuse(f"{show(value)} is neither words in quotes nor a list of them")
        elif not value:
            at.refuse("the list is empty")
        elif len(value) > most:
            at.tell("wrong-value", f"the list has {len(value)} items; at most {most} do")
        else:
            read = [_name(item, at.below(i)) for i, item in enumerate(value)]
            return tuple(item for item in read if item is not None)
        return None

    items = {"type": "array", "items": NAME.schema, "minItems": 1, "maxItems": most}
    return Kind(
        read=read, called="words, or a list of them", schema={"anyOf": [NAME.schema, items]}
    )


def whole(*, least: int, most: int) -> Kind:
    """A whole number from `least` to `most`."""

    def read(value: object, at: At) -> int | None:
        if isinstance(value, bool) or not isinstance(value, int):
            at.refuse(_not_whole(value))
        elif not least <= value <= most:
            at.tell("wrong-value", f"{show(value)} is not between {least} and {most}")
        else:
            return value
        return None

    schema = {"type": "integer", "minimum": least, "maximum": most}
    return Kind(read=read, called=f"whole number, {least} to {most}", schema=schema)


def _not_whole(value: object) -> str:
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e6:
        return f"{show(value)} has a decimal point, {int(value)} has none"
    if isinstance(value, str) and value.isascii() and value.isdigit():
        return f"{show(value)} stands in quotes, a count does not"
    return f"{show(value)} is not a whole number"


def one_of(*words: str) -> Kind:
    """One of a few words."""
    offered = " or ".join(f'"{word}"' for word in words)

    def read(value: object, at: At) -> str | None:
        if isinstance(value, str) and value in words:
            return value
        near = get_close_matches(value[:40], words, n=1) if isinstance(value, str) else []
        meant = f'; did you mean "{near[0]}"?' if near else ""
        at.tell("wrong-value", f"{show(value)} is not {offered}{meant}")
        return None

    return Kind(read=read, called=offered, schema={"enum": list(words)})


def one_number(*numbers: int) -> Kind:
    """One of a few whole numbers."""
    offered = ", ".join(map(str, numbers[:-1])) + f" or {numbers[-1]}"

    def read(value: object, at: At) -> int | None:
        if isinstance(value, int) and not isinstance(value, bool) and value in numbers:
            return value
        at.tell("wrong-value", f"{show(value)} is not {offered}")
        return None

    return Kind(read=read, called=offered, schema={"enum": list(numbers)})


def format_number(number: int) -> Kind:
    """The number of the format that the file is written in."""

    def read(value: object, at: At) -> int | None:
        if isinstance(value, int) and not isinstance(value, bool) and value == number:
            return value
        at.tell(
            "wrong-value",
            f"{show(value)} is not a format that this version reads; write schema = {number}",
        )
        return None

    return Kind(read=read, called=str(number), schema={"const": number})


def _flag(value: object, at: At) -> bool | None:
    if isinstance(value, bool):
        return value
    at.tell("wrong-value", f"{show(value)} is neither true nor false, without quotes")
    return None


FLAG = Kind(read=_flag, called="true or false", schema={"type": "boolean"})
"""true or false."""


def _date(value: object, at: At) -> datetime.date | None:
    if isinstance(value, datetime.datetime):
        return value.date()
    if isinstance(value, datetime.date):
        return value
    try:
        return datetime.date.fromisoformat(value if isinstance(value, str) else "")
    except ValueError:
        at.refuse(f"{show(value)} is not a date")
        return None


DATE = Kind(read=_date, called="date", schema={"type": "string", "format": "date"})
"""A TOML date, with or without a time of day, or the same in quotes."""
