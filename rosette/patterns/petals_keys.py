"""What a design says of two woods that meet in a petalled line."""

from __future__ import annotations

from typing import Literal

from rosette.keys import RingKeys, key, table
from rosette.keys.kinds import LENGTH, ONE_NAME, POSITIVE_LENGTH, one_of, whole

MOST_PETALS = 180


@table
class PetalsKeys(RingKeys):
    """The keys of a petalled ring beside those of every ring. Lengths in mm."""

    inner_wood: str = key(ONE_NAME, "the wood inside the line", example="walnut")
    outer_wood: str = key(ONE_NAME, "the wood outside the line", example="maple")
    petals: int = key(whole(least=3, most=MOST_PETALS), "how many petals go round", example=24)
    depth: float = key(
        POSITIVE_LENGTH,
        "from the petals' tips to the valleys between them, along the radius",
        example=4,
    )
    cutter: float = key(
        POSITIVE_LENGTH,
        "diameter of the bit that the line is cut with: measure it; no inside corner is sharper",
        example=1.6,
    )
    shape: Literal["scallop", "wave"] = key(
        one_of("scallop", "wave"),
        'round petals with valleys as narrow as the bit ("scallop"), or petals and valleys alike'
        ' ("wave")',
        example="scallop",
        default="scallop",
    )
    toward: Literal["out", "in"] = key(
        one_of("out", "in"),
        'which way the petals point, "out" (they are of the inner wood) or "in"',
        example="out",
        default="out",
    )
    edge_radius: float | None = key(
        POSITIVE_LENGTH,
        "from the soundhole's centre to the middle between tips and valleys; left out, the middle"
        " of the ring",
        example=58,
        default=None,
    )
    segments: int | None = key(
        whole(least=3, most=MOST_PETALS),
        "how many pieces each wood is glued up from; left out, about 8, so that"
        " each has as many petals",
        example=8,
        default=None,
    )
    glue_line: float = key(
        LENGTH,
        "thickness of the glue in every joint, that of the petalled line too",
        example=0.05,
        default=0.0,
    )
    at_centreline: Literal["petal", "valley"] = key(
        one_of("petal", "valley"),
        'what stands at 12 o\'clock, the tip of a "petal" or a "valley"',
        example="petal",
        default="petal",
    )
