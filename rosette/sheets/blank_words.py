"""A blank's words where it lies in the wood: its label, and an arrow to its wide end (mm).

One way of setting them is taken for all blanks of a picture, the largest that fits the narrowest.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rosette.geometry.outline import Point
from rosette.lettering import text_width
from rosette.sheets.drawing import HAIR, THIN, Element, Text
from rosette.sheets.marks import SMALLEST, arrow, centred, upright

HEIGHTS = (3.0, 2.6, 2.2, 2.0, SMALLEST)
FINE = (1.4, 1.1)
"""Capital heights that a laser still engraves, for files alone and not for paper (mm)."""
SIDE, FINE_SIDE = 0.45, 0.25
"""Clear space in mm between words and the blank's sides; fine letters have less."""
END = 0.7
"""Clear space in mm between words and the blank's ends."""
BETWEEN = 0.7
LONGEST = 8.0

Corners = tuple[Point, Point, Point, Point]
"""Inner left, inner right, outer right, outer left."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A blank as it is drawn: corners, its label in full and its bare number."""

    corners: Corners
    text: str
    short: str

    @property
    def foot(self) -> Point:
        """The middle of its narrow end."""
        return _middle(self.corners[0], self.corners[1])

    @property
    def height(self) -> float:
        """Along its axis."""
        return math.dist(self.foot, _middle(self.corners[2], self.corners[3]))

    @property
    def turn(self) -> float:
        """The direction of its axis, narrow end to wide end, in degrees."""
        (x, y), (u, v) = self.foot, _middle(self.corners[2], self.corners[3])
        return math.degrees(math.atan2(v - y, u - x))

    def half(self, along: float) -> float:
        """Half its width `along` mm from the narrow end."""
        a = math.dist(self.corners[0], self.corners[1]) / 2.0
        b = math.dist(self.corners[3], self.corners[2]) / 2.0
        return a + (b - a) * along / self.height

    def at(self, along: float) -> Point:
        """The point on its axis `along` mm from the narrow end."""
        angle = math.radians(self.turn)
        return self.foot[0] + along * math.cos(angle), self.foot[1] + along * math.sin(angle)


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One way of setting the words: capital height, along the blank or across it, short or full."""

    height: float
    along: bool
    short: bool

    def words(self, blank: Blank) -> str:
        """What is written on a blank."""
        return blank.short if self.short else blank.text

    def foot(self, blank: Blank) -> float:
        """How far from the narrow end the words begin, their far side at the wide end."""
        length = text_width(self.words(blank), self.height, True) if self.along else self.height
        return blank.height - END - length

    def fits(self, blank: Blank) -> bool:
        """Whether words and arrow lie clear inside a blank."""
        foot = self.foot(blank)
        wide = self.height if self.along else text_width(self.words(blank), self.height, True)
        least = 1.4 if self.height <= SMALLEST else 3.0
        side = SIDE if self.height >= SMALLEST else FINE_SIDE
        return foot - BETWEEN - END >= least and wide / 2.0 + side <= blank.half(foot)


def _settings(heights: Sequence[float], *, short: bool) -> tuple[Setting, ...]:
    """The largest first, across before along."""
    return tuple(
        Setting(height=height, along=along, short=short)
        for height in heights
        for along in (False, True)
    )


SETTINGS = (*_settings(HEIGHTS, short=False), *_settings(HEIGHTS, short=True))
FINE_SETTINGS = (*SETTINGS, *_settings(FINE, short=False), *_settings(FINE, short=True))


def setting_for(blanks: Sequence[Blank], *, fine: bool = False) -> Setting | None:
    """The first setting that fits every blank, full labels before bare numbers; or None.

    `fine` also tries letters as small as a laser engraves.
    """
    tries = FINE_SETTINGS if fine else SETTINGS
    return next((one for one in tries if all(one.fits(blank) for blank in blanks)), None)


def blank_words(blank: Blank, setting: Setting) -> list[Element]:
    """A blank's label at its wide end and the arrow towards it."""
    foot = setting.foot(blank)
    middle = (foot + blank.height - END) / 2.0
    turn = blank.turn if setting.along else blank.turn - 90.0
    label: Text = centred(
        setting.words(blank), blank.at(middle), height=setting.height, turn=upright(turn),
        layer="engrave", bold=True,
    )  # fmt: skip
    return [label, *way_up(blank, END, foot - BETWEEN)]


def way_up(blank: Blank, low: float, high: float) -> list[Element]:
    """An arrow to the wide end, between two distances from the narrow end."""
    length = min(LONGEST, high - low)
    start = (low + high - length) / 2.0
    head = min(2.0, 0.5 * length, 3.0 * blank.half(start))
    weight = THIN if head > 0.8 else HAIR
    return list(
        arrow(blank.at(start), blank.at(start + length), layer="grain", head=head, weight=weight)
    )


def _middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0
