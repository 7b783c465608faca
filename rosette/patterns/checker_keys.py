"""What a design says of a checker."""

from __future__ import annotations

from rosette.keys import At, Kind, key, table
from rosette.keys.kinds import NAME, POSITIVE_LENGTH, names, whole
from rosette.patterns.laminate_keys import LaminateKeys

_NAMES = names(most=2)


def _two(value: object, at: At) -> tuple[str, ...] | None:
    read: tuple[str, ...] | None = _NAMES.read(value, at)
    if read is not None and len(read) == 1 and not (isinstance(value, list) and len(value) > 1):
        at.refuse("squares take turns between two woods, and here is one")
        return None
    return read


TWO_NAMES = Kind(
    read=_two,
    called="list of two woods",
    schema={"type": "array", "items": NAME.schema, "minItems": 2, "maxItems": 2},
)
"""Two woods, that take turns."""


@table
class CheckerKeys(LaminateKeys):
    """The keys of a checker. Lengths in mm."""

    wood: tuple[str, ...] = key(
        TWO_NAMES,
        "the two woods of the squares, that at the seam's inside first",
        example=["maple", "walnut"],
    )
    rows: int = key(whole(least=2, most=12), "rows of squares side by side", example=3, default=2)
    square_length: float | None = key(
        POSITIVE_LENGTH,
        "about how long a square is along the band; left out, as long as it is wide",
        example=3,
        default=None,
    )
