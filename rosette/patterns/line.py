"""The plain line: one strip of wood bent round, its grain following the ring."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator

from rosette.keys import LengthKey, Name, RingKeys


def _single(value: object) -> object:
    """A list of one wood is that wood."""
    return value[0] if isinstance(value, list) and len(value) == 1 else value


class LineKeys(RingKeys):
    """The keys of a line beside those of every ring."""

    pattern: Literal["line"] = "line"
    wood: Annotated[Name, BeforeValidator(_single, json_schema_input_type=str | list[str])]
    overlap: LengthKey = 10.0
