"""The radial ring: wedges side by side, the grain of each running outward from the centre."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from rosette.keys import Count, Keys, LengthKey, Name, PositiveLength, RingKeys


class SpacerKeys(Keys):
    """A veneer that stands in every joint."""

    wood: Name
    thickness: PositiveLength


def _listed(value: object) -> object:
    """One wood may stand without brackets."""
    return [value] if isinstance(value, str) else value


Woods = Annotated[
    list[Name], BeforeValidator(_listed, json_schema_input_type=str | list[str]), Field(min_length=1, max_length=720)
]


class RadialKeys(RingKeys):
    """The keys of a radial ring beside those of every ring."""

    pattern: Literal["radial"] = "radial"
    segments: Count | None = None
    segment_width: PositiveLength | None = None
    wood: Woods
    spacer: SpacerKeys | None = None
    glue_line: LengthKey = 0.0
    at_centreline: Literal["joint", "wedge"] = "joint"
    sawn: Literal["quartersawn", "flatsawn"] = "quartersawn"
