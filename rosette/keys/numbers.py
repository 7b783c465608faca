"""What a key of numbers may hold: an angle, proportions, a length or several."""

from __future__ import annotations

import math

from rosette.keys.declare import At, Kind
from rosette.keys.kinds import POSITIVE_LENGTH
from rosette.keys.show import show


def _number(value: object, at: At, *, least: float, most: float) -> float | None:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or math.isnan(value):
        at.refuse(f"{show(value)} is not a number")
    elif not least <= value <= most:
        at.tell("wrong-value", f"{show(value)} is not between {least:g} and {most:g}")
    else:
        return float(value)
    return None


def degrees(*, least: float, most: float) -> Kind:
    """An angle in degrees from `least` to `most`."""
    return Kind(
        read=lambda value, at: _number(value, at, least=least, most=most),
        called=f"degrees, {least:g} to {most:g}",
        schema={"type": "number", "minimum": least, "maximum": most},
    )


def proportions(*, count: int, least: float, most: float) -> Kind:
    """A list of `count` numbers that stand in proportion to one another; a tuple once read."""

    def read(value: object, at: At) -> tuple[float, ...] | None:
        if not isinstance(value, list) or len(value) != count:
            at.refuse(f"{show(value)} is not a list of {count} numbers")
            return None
        read = [_number(item, at.below(i), least=least, most=most) for i, item in enumerate(value)]
        return tuple(item for item in read if item is not None)

    number = {"type": "number", "minimum": least, "maximum": most}
    return Kind(
        read=read,
        called=f"list of {count} numbers, {least:g} to {most:g}",
        schema={"type": "array", "items": number, "minItems": count, "maxItems": count},
    )


def lengths(*, most: int) -> Kind:
    """A length above 0, or a list of 1 to `most` of them; a tuple of mm once read."""

    def read(value: object, at: At) -> tuple[float, ...] | None:
        if not isinstance(value, list):
            only = POSITIVE_LENGTH.read(value, at)
            return None if only is None else (only,)
        if not 1 <= len(value) <= most:
            at.refuse(f"the list has {len(value)} items; 1 to {most} do")
            return None
        read = [POSITIVE_LENGTH.read(item, at.below(i)) for i, item in enumerate(value)]
        return tuple(item for item in read if item is not None)

    one = POSITIVE_LENGTH.schema
    several = {"type": "array", "items": one, "minItems": 1, "maxItems": most}
    return Kind(
        read=read,
        called="length above 0, or a list of them",
        schema={"anyOf": [one, several]},
        is_length=True,
    )
