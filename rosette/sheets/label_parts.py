"""What one label says, and the room that it has: for the ways of setting its words.

A label stands with its outer end up: width across the wedge, height along its grain (mm).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from rosette.lettering import text_width
from rosette.patterns.base import Blank
from rosette.sheets.drawing import Element
from rosette.sheets.marks import SMALLEST

NUMBER_HEIGHTS = (3.4, 3.0, 2.6, 2.2, 2.0, SMALLEST)
SHOW = "show"
"""What stands on the face that will be seen."""
MARKED, BACK = "marked", "back"
"""The same where it is known which face that is: the one marked before sawing, or its back."""
WIDEST, TALLEST = 32.0, 20.0
"""No label needs to be larger, in mm."""
INSET = 0.4
"""How far in mm a label stays within its blank, at the sides and at the ends."""
PAD = 0.6
"""Clear space in mm between words and a label's edge."""

Kind = Literal["across", "short", "along", "line", "strip"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Where a wedge was cut: offcut, band and place ("2/5"), and the face that shows.

    The face is `MARKED` or `BACK`.
    """

    offcut: str
    place: str
    face: str
    wood: str
    ring: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What one label says; `position` is the bare number, empty where it is left to write in.

    `offcut` and `place` say where the wedge comes from, empty where nobody knows; `face` which
    face of the wood the label is stuck on.
    """

    name: str
    text: str
    position: str
    wood: str
    letter: str
    offcut: str = ""
    place: str = ""
    face: str = SHOW


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """A size in mm and how the words of every label are set in it."""

    kind: Kind
    width: float
    height: float
    words: Callable[[Label], list[Element]]


def width_at_end(blank: Blank, height: float) -> float:
    """How wide a label of that height may be at the blank's outer end."""
    taper = (blank.outer_width - blank.inner_width) / blank.height
    return blank.outer_width - taper * (height + INSET) - 2.0 * INSET


def longest(words: Sequence[str], height: float, *, bold: bool = False) -> float:
    """How wide the widest of some words is (mm)."""
    return max(text_width(one, height, bold) for one in words)
