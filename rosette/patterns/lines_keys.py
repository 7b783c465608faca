"""What a design says of a stack of lines."""

from __future__ import annotations

from typing import Literal

from rosette.keys import RingKeys, key, table
from rosette.keys.kinds import LENGTH, one_of
from rosette.patterns.laminate_keys import PERCENT, PLIES, PlyKeys


@table
class LinesKeys(RingKeys):
    """The keys of a stack of lines beside those of every ring. Lengths in mm."""

    plies: tuple[PlyKeys, ...] = key(
        PLIES,
        "the plies from the inside out; with their glue they are as thick as the ring is wide",
        example=[
            {"wood": "walnut", "thickness": 0.6},
            {"wood": "maple", "thickness": 0.8},
            {"wood": "walnut", "thickness": 0.6},
        ],
    )
    glue_line: float = key(
        LENGTH, "thickness of the glue between two plies", example=0.02, default=0.0
    )
    glued: Literal["together", "one by one", "flat"] = key(
        one_of("together", "one by one", "flat"),
        'how the stack is made: "together", all plies bent round a form while the glue is wet;'
        ' "one by one", each bent and glued to the one before; "flat", glued flat and then bent'
        " as one strip",
        example="together",
        default="together",
    )
    overlap: float = key(
        LENGTH,
        "how far each end of the stack runs on under the fingerboard, or past the other end where"
        " no fingerboard hides them",
        example=10,
        default=10.0,
    )
    bend_limit: float | None = key(
        PERCENT,
        "how far your wood may be stretched at its outer face when it is bent hot, in percent;"
        " left out, the usual for each wood",
        example=1.5,
        default=None,
    )
