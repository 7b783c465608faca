"""What a design says of a radial ring."""

from __future__ import annotations

from typing import ClassVar, Literal

from rosette.geometry import wedge
from rosette.keys import Keys, RingKeys, Rule, inner, key, table
from rosette.keys.kinds import FLAG, LENGTH, NAME, POSITIVE_LENGTH, names, one_of, whole
from rosette.keys.numbers import degrees, proportions

MOST_LEAN = 60.0
"""Degrees that the grain may lean off the radius: past this a wedge is all short grain."""


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

    mirrored_pairs: bool = key(
        FLAG,
        "neighbouring wedges come from one place in the wood, opened like a book at the joint"
        " between them",
        example=True,
        default=False,
    )
    mirrored_halves: bool = key(
        FLAG,
        "the woods run from 12 o'clock down both sides alike, so that the halves mirror each other",
        example=True,
        default=False,
    )
    gradient: bool = key(
        FLAG,
        "the woods are spread once over the ring (over each half with mirrored_halves), as many"
        " wedges of each as comes out, instead of repeating",
        example=True,
        default=False,
    )
    widths: tuple[float, float] | None = key(
        proportions(count=2, least=0.05, most=20.0),
        "wedges of two widths in turn: how their angles stand to each other, the first wedge's"
        " first",
        example=[2, 1],
        default=None,
    )
    skew: float = key(
        degrees(least=-MOST_LEAN, most=MOST_LEAN),
        "degrees that the grain of every wedge leans off the radius, clockwise as it runs outward;"
        " less than 0 leans it the other way",
        example=15,
        default=0.0,
    )

    @property
    def uneven(self) -> bool:
        """Whether its blanks are not all one trapezoid, alike to both sides."""
        return self.skew != 0.0 or (self.widths is not None and self.widths[0] != self.widths[1])

    @property
    def joint(self) -> float:
        """Width in mm of each joint: spacer and glue line."""
        return (self.spacer.thickness if self.spacer else 0.0) + self.glue_line
