"""What a design says of a radial ring."""

from __future__ import annotations

from typing import ClassVar, Literal

from rosette.geometry import wedge
from rosette.keys import Keys, RingKeys, Rule, inner, key, table
from rosette.keys.kinds import LENGTH, NAME, POSITIVE_LENGTH, names, one_of, whole


@table
class SpacerKeys(Keys):
    """A veneer that stands in every joint (mm)."""

    wood: str = key(NAME, "the veneer's wood", example="maple")
    thickness: float = key(POSITIVE_LENGTH, "the veneer's thickness: measure it", example=0.5)


@table
class RadialKeys(RingKeys):
    """The keys of a radial ring beside those of every ring. Lengths in mm."""

    rules: ClassVar[tuple[Rule, ...]] = (Rule(("segments", "segment_width"), (1,)),)

    segments: int | None = key(
        whole(least=3, most=wedge.MOST_SEGMENTS), "how many wedges", example=36, default=None
    )
    segment_width: float | None = key(
        POSITIVE_LENGTH,
        "about how wide a wedge may be at the rim, instead of segments: the tool chooses the count",
        example=9,
        default=None,
    )
    wood: tuple[str, ...] = key(
        names(most=wedge.MOST_SEGMENTS),
        "the wood of the wedges, or several that repeat round the ring",
        example=["walnut", "maple"],
    )
    spacer: SpacerKeys | None = key(
        inner(SpacerKeys),
        "a veneer in every joint",
        example={"wood": "maple", "thickness": "0.5 mm"},
        default=None,
    )
    glue_line: float = key(
        LENGTH, "thickness of the glue in every joint", example=0.05, default=0.0
    )
    at_centreline: Literal["joint", "wedge"] = key(
        one_of("joint", "wedge"),
        'what stands at 12 o\'clock, towards the neck: "joint" or "wedge"',
        example="joint",
        default="joint",
    )
    sawn: Literal["quartersawn", "flatsawn"] = key(
        one_of("quartersawn", "flatsawn"),
        'how the wedges\' boards are sawn, "quartersawn" or "flatsawn"; it tells how far the'
        " ring will move",
        example="flatsawn",
        default="quartersawn",
    )

    @property
    def joint(self) -> float:
        """Width in mm of each joint: spacer and glue line."""
        return (self.spacer.thickness if self.spacer else 0.0) + self.glue_line
