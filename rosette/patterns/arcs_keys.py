"""What a design says of a ring of arcs."""

from __future__ import annotations

from typing import ClassVar, Literal

from rosette.keys import RingKeys, Rule, key, table
from rosette.keys.kinds import LENGTH, ONE_NAME, POSITIVE_LENGTH, names, one_of, whole

MOST_ARCS = 180
"""More arcs than this go round no ring that a hand can lay."""
MOST_WOODS = 24


@table
class ArcsKeys(RingKeys):
    """The keys of a ring of arcs beside those of every ring. Lengths in mm."""

    rules: ClassVar[tuple[Rule, ...]] = (
        Rule(("blank_length", "blank_width"), (0, 2)),
        Rule(("segments", "blank_length"), (1, 2)),
    )

    wood: tuple[str, ...] = key(
        names(most=MOST_WOODS),
        "what the arcs are cut from, shell or wood, or several that repeat round the ring",
        example="abalone",
    )
    segments: int | None = key(
        whole(least=3, most=MOST_ARCS),
        "how many arcs (with a filler: how many that show); left out, the fewest that the blanks"
        " yield",
        example=12,
        default=None,
    )
    blank_length: float | None = key(
        POSITIVE_LENGTH,
        "length of the flat blanks at hand, along the arcs (and along the grain of wood)",
        example=40,
        default=None,
    )
    blank_width: float | None = key(
        POSITIVE_LENGTH, "width of the flat blanks at hand", example=20, default=None
    )
    saw_kerf: float | None = key(
        LENGTH,
        "width of the cut of the saw that the arcs are cut out with; left out, that of [cutting]",
        example=0.3,
        default=None,
    )
    trim: float = key(
        LENGTH,
        "stock left on every edge of an arc, to file or trim to the line",
        example=0.2,
        default=0.2,
    )
    glue_line: float = key(
        LENGTH, "thickness of the glue in every joint", example=0.05, default=0.0
    )
    at_centreline: Literal["joint", "arc"] = key(
        one_of("joint", "arc"),
        'what stands at 12 o\'clock, a "joint" or the middle of an "arc"; with a filler there, at'
        " 6 o'clock",
        example="joint",
        default="joint",
    )
    filler: str | None = key(
        ONE_NAME,
        "a wood for the part that the fingerboard hides, in as few pieces as can be; left out,"
        " the arcs go all the way round",
        example="maple",
        default=None,
    )
