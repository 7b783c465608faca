"""Types of the keys in a design file: what a length, an angle, a wood's name may be.

Values are read in the file's own units, passed as `context={"units": ...}`, and are
millimetres, degrees, °C and percent from here on.
"""

from __future__ import annotations

from typing import Annotated, Any, cast

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    ValidationInfo,
)
from pydantic_core import PydanticCustomError

from rosette.units import LENGTH_EXPECTED, LengthError, Units, parse_length, parse_temperature


def units_of(info: ValidationInfo) -> Units:
    """The units of the file being read."""
    return cast(Units, (info.context or {}).get("units", "mm"))


def _length(value: Any, info: ValidationInfo) -> float:
    try:
        length = parse_length(value, units_of(info))
    except LengthError as error:
        raise _refused(str(error), LENGTH_EXPECTED) from None
    if length < 0:
        raise _refused("it is negative", LENGTH_EXPECTED)
    return length


def _positive(value: Any, info: ValidationInfo) -> float:
    length = _length(value, info)
    if length == 0:
        raise _refused("it is zero", "a length above zero")
    return length


def _temperature(value: Any) -> float:
    try:
        return parse_temperature(value)
    except ValueError as error:
        raise _refused(str(error), 'a temperature such as 21 or "70 F"') from None


def _refused(problem: str, expected: str) -> PydanticCustomError:
    return PydanticCustomError(
        "rosette", "{problem}; expected {expected}", {"problem": problem, "expected": expected}
    )


_SCHEMA = {"anyOf": [{"type": "number"}, {"type": "string"}]}
LengthKey = Annotated[float, BeforeValidator(_length, json_schema_input_type=float | str)]
"""A length of zero or more, in mm once read."""
PositiveLength = Annotated[float, BeforeValidator(_positive, json_schema_input_type=float | str)]
"""A length above zero, in mm once read."""
Temperature = Annotated[float, BeforeValidator(_temperature, json_schema_input_type=float | str)]
"""°C once read."""
Name = Annotated[
    str,
    StringConstraints(
        min_length=1, max_length=80, pattern=r"^[^\x00-\x1f\x7f]*\S[^\x00-\x1f\x7f]*$"
    ),
]
"""Words on one line."""


class Keys(BaseModel):
    """One table of the design file; unknown keys are refused, values can't change."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class RingKeys(Keys):
    """The keys that every kind of ring has; each pattern adds its own."""

    pattern: str
    inner_radius: PositiveLength | None = None
    space: LengthKey | None = None
    width: PositiveLength | None = None
    outer_radius: PositiveLength | None = None
    tile_thickness: PositiveLength
    backing: LengthKey = 0.0
    bit_diameter: PositiveLength | None = None


Count = Annotated[int, Field(ge=3, le=720)]
"""Pieces round a ring."""
