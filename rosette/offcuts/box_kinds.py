"""The kinds of values that only an offcuts file has: ids, points, outlines, knots."""

from __future__ import annotations

import math
import unicodedata
from typing import Any

from rosette.keys import At, Keys, Kind, key, read_table, table
from rosette.keys.kinds import NAME, POSITIVE_LENGTH
from rosette.keys.show import show
from rosette.offcuts.knots import around
from rosette.offcuts.model import Point, Ring
from rosette.units import (
    LENGTH_EXPECTED,
    LONGEST_MM,
    MM_PER_INCH,
    LengthError,
    parse_length,
)

LONGEST_ID = 32
MOST_POINTS = 20_000
"""Points of one offcut, its defects included; a tracing has some hundred."""
MOST_DEFECTS = 200
ENOUGH_POINTS = 5
"""Points told of one outline; more would hide what else is wrong."""

_NOT_IN_FILE_NAMES = '/\\:*?"<>|'
_RESERVED = {"con", "prn", "aux", "nul"} | {f"{a}{n}" for a in ("com", "lpt") for n in range(1, 10)}
LENGTH_SCHEMA = {"type": ["number", "string"]}
_POINT_SCHEMA = {"type": "array", "items": LENGTH_SCHEMA, "minItems": 2, "maxItems": 2}
_RING_SCHEMA = {"type": "array", "items": _POINT_SCHEMA, "minItems": 3, "maxItems": MOST_POINTS}


def _signed(value: object, at: At) -> float | None:
    try:
        return parse_length(value, at.units)
    except LengthError as error:
        at.tell("wrong-value", f"{show(value)} {error}; expected {LENGTH_EXPECTED}")
        return None


SIGNED_LENGTH = Kind(
    read=_signed, called="length, below 0 too", schema=LENGTH_SCHEMA, is_length=True
)
"""A length of either sign, in mm once read."""


def _id(value: object, at: At) -> str | None:
    name = NAME.read(value, at)
    if name is None:
        return None
    bad = next((c for c in name if c in _NOT_IN_FILE_NAMES), None)
    if bad is not None:
        at.refuse(f"{show(name)} can't name a file, as an offcut's id does: it has a {bad} in it")
    elif name != name.strip() or name.startswith((".", "-")) or name.endswith("."):
        at.refuse(
            f"{show(name)} can't name a file, as an offcut's id does: no blank or dot at an end,"
            " no dash at the start"
        )
    elif name.split(".")[0].lower() in _RESERVED:
        at.refuse(f"{show(name)} can't name a file on every computer, as an offcut's id does")
    elif len(name) > LONGEST_ID:
        at.refuse(f"{show(name)} is {len(name)} characters long; at most {LONGEST_ID} do")
    else:
        return unicodedata.normalize("NFC", name)
    return None


ID = Kind(
    read=_id,
    called="short name",
    schema={
        "type": "string",
        "minLength": 1,
        "maxLength": LONGEST_ID,
        "pattern": r'^[^/\\:*?"<>|.\s-]([^/\\:*?"<>|]*[^/\\:*?"<>|.\s])?$',
    },
)
"""A name that sheets, labels and files go by."""


def _grain(value: object, at: At) -> float | None:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or math.isnan(value):
        at.refuse(f"{show(value)} is not a number of degrees")
    elif not -360 <= value <= 360:
        at.tell("wrong-value", f"{show(value)} is not between -360 and 360 degrees")
    else:
        return float(value)
    return None


ANGLE = Kind(
    read=_grain, called="degrees", schema={"type": "number", "minimum": -360, "maximum": 360}
)
"""Degrees counter-clockwise."""


def _pair(value: object, at: At, kind: Kind) -> Point | None:
    if not isinstance(value, list) or len(value) != 2:
        at.refuse(f"{_sized(value)} is not two lengths in brackets")
        return None
    x, y = (kind.read(one, at.below(i)) for i, one in enumerate(value))
    return None if x is None or y is None else (x, y)


def _sized(value: object) -> str:
    return f"a list of {len(value)}" if isinstance(value, list) and value else show(value)


POINT = Kind(
    read=lambda value, at: _pair(value, at, SIGNED_LENGTH), called="point", schema=_POINT_SCHEMA
)
"""Along x and along y, in mm once read."""

RECTANGLE = Kind(
    read=lambda value, at: _pair(value, at, POSITIVE_LENGTH),
    called="two lengths",
    schema={"type": "array", "items": POSITIVE_LENGTH.schema, "minItems": 2, "maxItems": 2},
)
"""Along x and along y, both above 0, in mm once read."""


def _ends(value: object, at: At) -> Point | None:
    if not isinstance(value, list):
        one = POSITIVE_LENGTH.read(value, at)
        return None if one is None else (one, one)
    ends = _pair(value, at, SIGNED_LENGTH)
    if ends is not None and (min(ends) < 0 or max(ends) == 0):
        at.refuse("neither end can be narrower than 0, and one must be wider")
        return None
    return ends


ENDS = Kind(
    read=_ends,
    called="length, or two",
    schema={"anyOf": [POSITIVE_LENGTH.schema, {**RECTANGLE.schema, "items": LENGTH_SCHEMA}]},
)
"""The widths at the left and the right end; one length where they are the same."""


def _plain(point: object, per: float) -> Point | None:
    """A point of two sound numbers, read at once, since a tracing has thousands; else None."""
    if not isinstance(point, list) or len(point) != 2:
        return None
    x, y = point
    if type(x) not in (int, float) or type(y) not in (int, float):
        return None
    near = LONGEST_MM / per
    return (x * per + 0.0, y * per + 0.0) if abs(x) <= near and abs(y) <= near else None


def _points(value: object, at: At) -> Ring | None:
    if not isinstance(value, list) or not all(isinstance(one, list) for one in value[:1]):
        at.refuse(f"{_sized(value)} is not a list of points")
        return None
    if len(value) > MOST_POINTS:
        at.tell("too-many", f"it has {len(value)} points; at most {MOST_POINTS} do")
        return None
    before = len(at.findings)
    points = []
    per = MM_PER_INCH if at.units == "in" else 1.0
    for i, one in enumerate(value):
        points.append(_plain(one, per) or POINT.read(one, at.below(i)))
        if len(at.findings) - before >= ENOUGH_POINTS:
            return None
    return tuple(point for point in points if point is not None) if None not in points else None


OUTLINE = Kind(read=_points, called="list of points", schema=_RING_SCHEMA)
"""Points round an edge, in order; open or closed by its first point again."""


@table
class KnotKeys(Keys):
    """A round defect: where its middle is, and how far it reaches across."""

    at: Point = key(POINT, "where the middle is, along x and along y", example=[40, 16])
    across: float = key(POSITIVE_LENGTH, "its diameter", example=12)


def _defect(value: object, at: At) -> Ring | None:
    if not isinstance(value, dict):
        return _points(value, at)
    knot = read_table(KnotKeys, value, at)
    return None if knot is None else around(knot.at, knot.across / 2.0)


def _defects(value: object, at: At) -> tuple[Ring, ...] | None:
    if isinstance(value, dict) or (
        isinstance(value, list) and value and _is_ring(value) and not isinstance(value[0], dict)
    ):
        at.refuse("it is one defect where a list of them belongs")
    elif not isinstance(value, list):
        at.refuse(f"{show(value)} is not a list of defects")
    elif len(value) > MOST_DEFECTS:
        at.tell("too-many", f"it has {len(value)} entries; at most {MOST_DEFECTS} do")
    else:
        read = [_defect(one, at.below(i)) for i, one in enumerate(value)]
        return None if None in read else tuple(one for one in read if one is not None)
    return None


def _is_ring(value: list[Any]) -> bool:
    """Whether a list holds points, not lists of them."""
    first = value[0]
    return isinstance(first, list) and not any(isinstance(one, (list, dict)) for one in first)


DEFECTS = Kind(
    read=_defects,
    called="list of outlines and knots",
    schema={
        "type": "array",
        "maxItems": MOST_DEFECTS,
        "items": {"anyOf": [_RING_SCHEMA, {"$ref": "#/$defs/knot"}]},
    },
)
"""Outlines, or tables with a knot's `at` and `across`."""
