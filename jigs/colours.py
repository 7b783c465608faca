"""The colours that parts are told apart by: Okabe and Ito's, which colour-blind eyes tell too.

As red, green and blue from 0 to 1, in the percentages of their table (Color Universal Design,
2008), black left out.
"""

from __future__ import annotations

Colour = tuple[float, float, float]

SKY_BLUE = (0.35, 0.7, 0.9)
ORANGE = (0.9, 0.6, 0.0)
BLUISH_GREEN = (0.0, 0.6, 0.5)
YELLOW = (0.95, 0.9, 0.25)
REDDISH_PURPLE = (0.8, 0.6, 0.7)
VERMILION = (0.8, 0.4, 0.0)
BLUE = (0.0, 0.45, 0.7)
COLOURS: tuple[Colour, ...] = (
    SKY_BLUE,
    ORANGE,
    BLUISH_GREEN,
    YELLOW,
    REDDISH_PURPLE,
    VERMILION,
    BLUE,
)


def colour_of(number: int) -> Colour:
    """The colour that a part's number counts through to, starting again after the last."""
    return COLOURS[number % len(COLOURS)]
