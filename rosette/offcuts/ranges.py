"""Ranges as makers type them: counts "12-48", lengths "14 to 18 mm", spares "0, usual"."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from rosette.design.typed import typed_length
from rosette.geometry.wedge import MOST_SEGMENTS
from rosette.keys.show import show
from rosette.offcuts.explored import Spares
from rosette.units import LENGTH_EXPECTED, LengthError, Units

LEAST_SEGMENTS = 3
MOST_SPARES = 100
_RANGE = re.compile(r"\s*(?P<low>.+?)\s*(?:\.\.|…|–|—|\bto\b)\s*(?P<high>.+?)\s*")
_UNIT = re.compile(r"[a-zA-Z\"″”']+$")
_DASH = re.compile(r"\s*(?P<low>[0-9.]+)\s*-\s*(?P<high>[0-9.]+)(?P<unit>[^/0-9]*)")


class RangeError(ValueError):
    """What is wrong with a range, as a sentence."""


def counts(text: str) -> tuple[int, ...]:
    """Counts of wedges; a range takes the even ones, which close from two equal halves.

    Raises:
        RangeError: where it can't be read.

    >>> counts("24, 36"), counts("12-18"), counts("15,20 to 24")
    ((24, 36), (12, 14, 16, 18), (15, 20, 22, 24))
    """
    found: list[int] = []
    for part in text.split(","):
        ends = [_count(end) for end in _ends(part)]
        if len(ends) == 1:
            found += ends
            continue
        low, high = ends
        _forwards(low, high, part)
        even = [one for one in range(low, high + 1) if one % 2 == 0]
        if not even:
            raise RangeError(f"{show(part.strip())} holds no even count")
        found += even
    return tuple(sorted(set(found)))


def _count(text: str) -> int:
    plain = text.strip()
    if not (plain.isascii() and plain.isdigit()) or len(plain) > 9:
        raise RangeError(f'{show(plain)} is not a count; expected "24", "24,36" or "12-48"')
    if not LEAST_SEGMENTS <= int(plain) <= MOST_SEGMENTS:
        raise RangeError(f"{plain} is not between {LEAST_SEGMENTS} and {MOST_SEGMENTS} wedges")
    return int(plain)


def lengths(text: str, units: Units) -> tuple[float, float]:
    """The two ends of a range of lengths in mm, or one length twice.

    A dash stands between plain numbers only: in "3-3/4" it belongs to the fraction.

    Raises:
        RangeError: where it can't be read.

    >>> lengths("14-18", "mm"), lengths("1/2 to 1", "in"), lengths("3-3/4", "in")
    ((14.0, 18.0), (12.7, 25.4), (95.25, 95.25))
    """
    ends = [_length(end, units) for end in _ends(text)]
    _forwards(ends[0], ends[-1], text)
    return ends[0], ends[-1]


def length_list(text: str, units: Units, step: float) -> tuple[float, ...]:
    """Lengths in mm: those named, and of a range those every `step` mm, its end as well.

    Raises:
        RangeError: where it can't be read.

    >>> length_list("48, 52-54", "mm", 1.0), length_list("50-51.5", "mm", 1.0)
    ((48.0, 52.0, 53.0, 54.0), (50.0, 51.0, 51.5))
    """
    found: list[float] = []
    for part in text.split(","):
        low, high = lengths(part, units)
        number = math.floor((high - low) / step + 1e-9)
        if number > 1000:
            raise RangeError(f"{show(part.strip())} is too wide a range to go through")
        found += [low + step * i for i in range(number + 1)]
        if high - found[-1] > 1e-9:
            found.append(high)
    return tuple(sorted(set(found)))


def spares(text: str) -> tuple[Spares, ...]:
    """Numbers of spares, "usual" among them.

    Raises:
        RangeError: where it can't be read.

    >>> spares("0,usual"), spares("2-4")
    ((0, 'usual'), (2, 3, 4))
    """
    found: list[Spares] = []
    for part in text.split(","):
        if part.strip().lower() == "usual":
            found.append("usual")
            continue
        ends = [_spare(end) for end in _ends(part)]
        _forwards(ends[0], ends[-1], part)
        found += range(ends[0], ends[-1] + 1)
    return tuple(dict.fromkeys(found))


def _spare(text: str) -> int:
    plain = text.strip()
    if not (plain.isascii() and plain.isdigit()) or len(plain) > 9:
        raise RangeError(f'{show(plain)} is not a number of spares; expected "2", "0-4" or "usual"')
    if int(plain) > MOST_SPARES:
        raise RangeError(f"{plain} spares are more than anybody cuts; at most {MOST_SPARES} do")
    return int(plain)


def _ends(text: str) -> Sequence[str]:
    worded = _RANGE.fullmatch(text)
    if worded:
        low, high = worded["low"], worded["high"]
        unit = _UNIT.search(high)
        # "1/2 to 3/4 in" means inches at both ends
        return (f"{low} {unit[0]}" if unit and low[-1:].isdigit() else low), high
    dashed = _DASH.fullmatch(text)
    if dashed:
        return dashed["low"] + dashed["unit"], dashed["high"] + dashed["unit"]
    return (text,)


def _length(text: str, units: Units) -> float:
    try:
        length = typed_length(text, units)
    except LengthError as error:
        raise RangeError(
            f"{show(text.strip())} {error}; expected {LENGTH_EXPECTED}, or two of them with"
            ' "to" between'
        ) from None
    if length <= 0.0:
        raise RangeError(f"{show(text.strip())} is not more than zero")
    return length


def _forwards(low: float, high: float, text: str) -> None:
    if low > high:
        raise RangeError(f"{show(text.strip())} runs backwards; write the smaller one first")
