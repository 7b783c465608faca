"""Types of the keys in a design file: what a length, an angle, a wood's name may be.

Values are read in the file's own units, passed as `context={"units": ...}`, and are
millimetres, degrees, °C and percent from here on.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, NamedTuple, cast

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

REFUSED = "refused"
"""The type of errors whose context has `problem`, what is wrong with the value, and `expected`."""


def units_of(info: ValidationInfo) -> Units:
    """The units of the file being read."""
    return cast(Units, (info.context or {}).get("units", "mm"))


def _length(value: Any, info: ValidationInfo) -> float:
    try:
        length = parse_length(value, units_of(info))
    except LengthError as error:
        raise refused(str(error), LENGTH_EXPECTED) from None
    if length < 0:
        raise refused("is negative", "a length of zero or more")
    return length


def _positive(value: Any, info: ValidationInfo) -> float:
    length = _length(value, info)
    if length == 0:
        raise refused("is too small", "a length above zero")
    return length


def _temperature(value: Any) -> float:
    try:
        return parse_temperature(value)
    except ValueError as error:
        raise refused(str(error), 'a temperature such as 21 or "70 F"') from None


def refused(problem: str, expected: str) -> PydanticCustomError:
    """An error for a validator to raise: the rest of a sentence that starts with the value."""
    return PydanticCustomError(
        REFUSED, "{problem}; expected {expected}", {"problem": problem, "expected": expected}
    )


LENGTH_READERS = (_length, _positive)
"""The functions that read lengths, by which a length's key can be told from others."""

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


class Rule(NamedTuple):
    """How many of these keys may stand in one table; each pattern can add its own rules."""

    names: tuple[str, ...]
    counts: tuple[int, ...]


class Keys(BaseModel):
    """One table of the design file; unknown keys are refused, values can't change.

    `rules` are those that a class adds to its base's. Each key has a description, which the
    docs, the schema and the findings repeat, and an example as it would stand in a file.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)
    rules: ClassVar[tuple[Rule, ...]] = ()


class RingKeys(Keys):
    """The keys that every kind of ring has; each pattern adds its own."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("inner_radius", "space"), (0, 1)),
        Rule(("width", "outer_radius"), (1, 2)),
    )

    pattern: str = Field(description="the kind of ring", examples=["radial"])
    inner_radius: PositiveLength | None = Field(
        None,
        description="from the soundhole's centre to the ring's inner edge; without it the ring"
        " starts where the one before ends",
        examples=[52],
    )
    space: LengthKey | None = Field(
        None,
        description="soundboard left between this ring and the one before (for the first ring:"
        " the soundhole's edge)",
        examples=[3],
    )
    width: PositiveLength | None = Field(
        None,
        description="from the inner edge to the outer edge of the finished ring",
        examples=[18],
    )
    outer_radius: PositiveLength | None = Field(
        None,
        description="from the soundhole's centre to the ring's outer edge, instead of width",
        examples=[70],
    )
    tile_thickness: PositiveLength = Field(
        description="thickness of the ring's wood as it goes in, before levelling: measure it",
        examples=[2.2],
    )
    backing: LengthKey = Field(
        0.0,
        description="thickness of a veneer glued under the ring; it counts towards the depth",
        examples=[0.5],
    )
    bit_diameter: PositiveLength | None = Field(
        None,
        description="the bit for this ring's channel, where it is not that of [channel]",
        examples=[1.6],
    )


Count = Annotated[int, Field(ge=3, le=720)]
"""Pieces round a ring."""
