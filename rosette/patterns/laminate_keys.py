"""What a design says of bands that are sliced from a block glued up of plies or strips."""

from __future__ import annotations

from typing import Literal

from rosette.keys import At, Keys, Kind, RingKeys, key, read_table, table
from rosette.keys.kinds import LENGTH, NAME, POSITIVE_LENGTH, one_of, whole
from rosette.keys.numbers import degrees
from rosette.keys.schema import table_schema
from rosette.keys.show import show

MOST_PLIES = 24
"""Plies in one repeat, at the most."""
BEND_LIMIT = 2.0
"""Percent that wood may be stretched when it is bent hot (docs/patterns/rope.md has the source)."""


@table
class PlyKeys(Keys):
    """One ply of a laminate (mm)."""

    wood: str = key(NAME, "the ply's wood", example="maple")
    thickness: float = key(POSITIVE_LENGTH, "the ply's thickness: measure it", example=0.6)


def _plies(value: object, at: At) -> tuple[PlyKeys, ...] | None:
    if not isinstance(value, list):
        at.refuse(f"{show(value)} is not a list of plies")
    elif not 2 <= len(value) <= MOST_PLIES:
        at.refuse(f"the list has {len(value)} plies; 2 to {MOST_PLIES} do")
    else:
        read = [read_table(PlyKeys, item, at.below(i)) for i, item in enumerate(value)]
        return tuple(ply for ply in read if ply is not None)
    return None


PLIES = Kind(
    read=_plies,
    called="list of plies, each with `wood` and `thickness`",
    schema={
        "type": "array",
        "items": table_schema(PlyKeys),
        "minItems": 2,
        "maxItems": MOST_PLIES,
    },
)
"""The plies of one repeat in their order."""

_PERCENT = degrees(least=0.1, most=10.0)
PERCENT = Kind(read=_PERCENT.read, called="percent, 0.1 to 10", schema=_PERCENT.schema)
"""A small share in percent."""


@table
class LaminateKeys(RingKeys):
    """The keys of every band that is sliced from a glued-up bar. Lengths in mm."""

    glue_line: float = key(
        LENGTH, "thickness of the glue in every joint", example=0.02, default=0.0
    )
    form: Literal["auto", "bent", "straight"] = key(
        one_of("auto", "bent", "straight"),
        'whether the strips are "bent" round the ring or set as "straight" pieces with mitred'
        ' joints; "auto" bends where the wood stands it',
        example="straight",
        default="auto",
    )
    bend_limit: float = key(
        PERCENT,
        "how far the wood may be stretched at the outer edge when it is bent, in percent",
        example=1.5,
        default=BEND_LIMIT,
    )
    segments: int | None = key(
        whole(least=6, most=180),
        "how many straight pieces, where they are straight; left out, the tool chooses",
        example=18,
        default=None,
    )
    trim: float = key(
        LENGTH, "stock left on each sawn face of a strip, to scrape off", example=0.2, default=0.2
    )
    bar_length: float = key(
        POSITIVE_LENGTH,
        "the longest bar that is glued up and sliced",
        example=200,
        default=200.0,
    )
    block_length: float = key(
        POSITIVE_LENGTH,
        "the longest block that is glued up and cut across",
        example=250,
        default=250.0,
    )
    grip: float = key(
        LENGTH,
        "what of a block or bar stays in the clamp and is lost",
        example=6,
        default=6.0,
    )
