"""The keys that every [[ring]] has, whatever its pattern."""

from __future__ import annotations

from typing import ClassVar

from rosette.keys.declare import Keys, Rule, key, table
from rosette.keys.kinds import LENGTH, NAME, POSITIVE_LENGTH


@table
class RingKeys(Keys):
    """The keys that every kind of ring has; each pattern adds its own. Lengths in mm."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("inner_radius", "space"), (0, 1)),
        Rule(("width", "outer_radius"), (1, 2)),
    )

    pattern: str = key(NAME, "the kind of ring", example="radial")
    inner_radius: float | None = key(
        POSITIVE_LENGTH,
        "from the soundhole's centre to the ring's inner edge; without it the ring starts where"
        " the one before ends",
        example=52,
        default=None,
    )
    space: float | None = key(
        LENGTH,
        "soundboard left between this ring and the one before (for the first ring: the"
        " soundhole's edge)",
        example=3,
        default=None,
    )
    width: float | None = key(
        POSITIVE_LENGTH,
        "from the inner edge to the outer edge of the finished ring",
        example=18,
        default=None,
    )
    outer_radius: float | None = key(
        POSITIVE_LENGTH,
        "from the soundhole's centre to the ring's outer edge, instead of width",
        example=70,
        default=None,
    )
    tile_thickness: float = key(
        POSITIVE_LENGTH,
        "thickness of the ring's wood as it goes in, before levelling: measure it",
        example=2.2,
    )
    backing: float = key(
        LENGTH,
        "thickness of a veneer glued under the ring; it counts towards the depth",
        example=0.5,
        default=0.0,
    )
    bit_diameter: float | None = key(
        POSITIVE_LENGTH,
        "the bit for this ring's channel, where it is not that of [channel]",
        example=1.6,
        default=None,
    )
