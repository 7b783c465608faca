"""What a design says of a chevron ring."""

from __future__ import annotations

from typing import ClassVar, Literal

from rosette.geometry import wedge
from rosette.keys import RingKeys, Rule, inner, key, table
from rosette.keys.kinds import LENGTH, ONE_NAME, POSITIVE_LENGTH, one_of, whole
from rosette.keys.numbers import degrees
from rosette.patterns.laminate_keys import PLIES, PlyKeys
from rosette.patterns.radial_keys import RadialKeys, SpacerKeys

MOST_ANGLE = 70.0
"""Degrees that stripes may lean off the radius."""


@table
class ChevronKeys(RingKeys):
    """The keys of a chevron ring beside those of every ring. Lengths in mm."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("segments", "segment_width"), (1,)),
        Rule(("wood", "plies"), (1,)),
    )

    segments: int | None = key(
        whole(least=4, most=wedge.MOST_SEGMENTS),
        "how many wedges, an even count",
        example=24,
        default=None,
    )
    segment_width: float | None = key(
        POSITIVE_LENGTH,
        "about how wide a wedge may be at the rim, instead of segments: the tool chooses the count",
        example=9,
        default=None,
    )
    angle: float = key(
        degrees(least=-MOST_ANGLE, most=MOST_ANGLE),
        "degrees that the stripes lean off the radius: the first wedge's clockwise as they run"
        " outward, the next one's the other way, and so on; less than 0 begins the other way",
        example=35,
    )
    wood: str | None = key(
        ONE_NAME, "one striped wood that the wedges are cut from", example="zebrano", default=None
    )
    plies: tuple[PlyKeys, ...] | None = key(
        PLIES,
        "or the plies of a laminate, in their order, repeated as often as a wedge is wide",
        example=[{"wood": "walnut", "thickness": 1.5}, {"wood": "maple", "thickness": 0.6}],
        default=None,
    )
    block_height: float = key(
        POSITIVE_LENGTH,
        "how high the laminate may be glued up, across the plies' width: wedges are sliced off it",
        example=25,
        default=25.0,
    )
    grip: float = key(
        LENGTH,
        "what of a laminate stays in the clamp and is lost",
        example=6,
        default=6.0,
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
        'what stands at 12 o\'clock: a "joint", with a point of the chevron, or a "wedge"',
        example="joint",
        default="joint",
    )
    sawn: Literal["quartersawn", "flatsawn"] = key(
        one_of("quartersawn", "flatsawn"),
        'how the boards or plies are sawn, "quartersawn" or "flatsawn"; it tells how far the'
        " ring will move",
        example="flatsawn",
        default="quartersawn",
    )

    def as_radial(self) -> RadialKeys:
        """The same ring with its grain straight outward: its wedges are the same."""
        return RadialKeys(
            pattern="radial",
            segments=self.segments,
            segment_width=self.segment_width,
            wood=("wedge",) if self.wood is None else (self.wood,),
            spacer=self.spacer,
            glue_line=self.glue_line,
            at_centreline=self.at_centreline,
            tile_thickness=self.tile_thickness,
            backing=self.backing,
            sawn=self.sawn,
        )
