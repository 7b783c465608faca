"""What a design says of bands whose plies cross them: rope, herringbone, ladder."""

from __future__ import annotations

from typing import Literal

from rosette.keys import key, table
from rosette.keys.kinds import POSITIVE_LENGTH, one_of
from rosette.keys.numbers import degrees
from rosette.patterns.laminate_keys import PLIES, LaminateKeys, PlyKeys

EXAMPLE = [{"wood": "maple", "thickness": "0.6 mm"}, {"wood": "walnut", "thickness": "0.6 mm"}]
THICK = [{"wood": "maple", "thickness": "1.2 mm"}, {"wood": "walnut", "thickness": "1.2 mm"}]


@table
class StackKeys(LaminateKeys):
    """The keys of a band cut from a stack of plies. Lengths in mm."""

    plies: tuple[PlyKeys, ...] = key(
        PLIES, "the plies of one repeat, in their order clockwise", example=EXAMPLE
    )
    block_height: float = key(
        POSITIVE_LENGTH,
        "about how high the plies are stacked to a block: as many whole repeats as fit",
        example=20,
        default=20.0,
    )


@table
class SlantKeys(StackKeys):
    """The keys of a band whose plies cross it at an angle."""

    angle: float = key(
        degrees(least=15.0, most=80.0),
        "between the plies and the band's edge",
        example=45,
        default=45.0,
    )
    twist: Literal["clockwise", "counter-clockwise"] = key(
        one_of("clockwise", "counter-clockwise"),
        "which way the plies lean on their way outward",
        example="clockwise",
        default="clockwise",
    )
    adjust: Literal["angle", "plies"] = key(
        one_of("angle", "plies"),
        'what is changed a little so that the repeat closes: the "angle", or the thickness of the'
        ' "plies"',
        example="plies",
        default="angle",
    )

    @property
    def sign(self) -> float:
        """1 where the plies lean clockwise on their way outward, else -1."""
        return 1.0 if self.twist == "clockwise" else -1.0
