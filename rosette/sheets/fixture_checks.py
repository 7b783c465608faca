"""The sizes to check by caliper, as dimensions on a plan or a section (mm on paper)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from rosette.geometry.outline import Point
from rosette.sheets.block import text_corners
from rosette.sheets.clear import Taken
from rosette.sheets.dimension import (
    ARROW,
    SIZE,
    Place,
    aligned,
    arrow,
    length_text,
    letters,
    thin,
)
from rosette.sheets.drawing import Element, Stroke, Text
from rosette.sheets.fixture_views import CheckView
from rosette.sheets.marks import Box, broken
from rosette.units import Units, number_in

FIRST = 9.0
"""From the work to the nearest dimension line."""
TIER = 6.5
"""From one dimension line to the next."""
MOST_TIERS = 14
PLACES: tuple[Place, ...] = ("end", "start")


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """A check and its number in the table."""

    number: int
    check: CheckView

    def text(self, units: Units) -> str:
        """What its dimension says: number, size, and how far it may be off."""
        return f"{self.number}) {length_text(self.check.size, units)} {off_text(self.check, units)}"


def off_text(check: CheckView, units: Units) -> str:
    """How far a size may be off: the same both ways, or up and down.

    Inches carry as many decimals as the size does.
    """
    up, down = number_in(check.plus, units), number_in(check.minus, units)
    return f"±{up}" if up == down else f"+{up} −{down}"


@dataclass(slots=True)
class Sketch:
    """What is drawn so far, and where dimensions may still stand."""

    elements: list[Element]
    taken: Taken = field(default_factory=Taken)
    words: list[Box] = field(default_factory=list)
    lines: Taken = field(default_factory=Taken)

    @classmethod
    def of(cls, elements: Sequence[Element]) -> Sketch:
        """A sketch with the work alone on it."""
        made = cls(list(elements))
        made.taken.add(elements)
        made.words += [text_corners(one) for one in elements if isinstance(one, Text)]
        return made

    def fits(self, group: Sequence[Element], along: tuple[Point, Point] | None) -> bool:
        """Whether words stand clear of all, lines clear of words, the dimension line of others."""
        for one in group:
            if isinstance(one, Text) and not self.taken.is_free(text_corners(one), air=0.6):
                return False
            if isinstance(one, Stroke) and self._strikes(one):
                return False
            if along and isinstance(one, Stroke) and one.fill and self._touches(one):
                return False
        return along is None or self.lines.is_free(_band(*along), air=0.1)

    def fits_level(self, group: Sequence[Element], along: tuple[Point, Point]) -> bool:
        """The same for a height, whose arrows stand on the work."""
        return self.fits(group, None) and self.lines.is_free(_band(*along), air=0.1)

    def _strikes(self, line: Stroke) -> bool:
        points = line.outline.points()
        return any(
            broken(a, b, self.words, air=0.3) != ((a, b),)
            for a, b in pairwise(points)
            if math.dist(a, b) > 0.0
        )

    def _touches(self, head: Stroke) -> bool:
        """Whether an arrowhead stands on something else, smaller by a little than it is."""
        points = head.outline.points()
        x, y = (sum(p[i] for p in points) / len(points) for i in (0, 1))
        inner = [(x + 0.7 * (px - x), y + 0.7 * (py - y)) for px, py in points]
        return not self.taken.is_free(inner, air=0.0)

    def add(self, group: Iterable[Element], along: tuple[Point, Point] | None) -> None:
        """Put a dimension on the sketch."""
        kept = list(group)
        self.elements += kept
        self.taken.add(kept)
        self.words += [text_corners(one) for one in kept if isinstance(one, Text)]
        if along is not None:
            self.lines.add_box(_band(*along))


def _band(a: Point, b: Point) -> list[Point]:
    """A dimension line as a band that holds its arrows."""
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    half, past = 1.2, 2.0 * ARROW if length < 3.0 * ARROW else 0.0
    (ax, ay), (bx, by) = (
        (a[0] - past * ux, a[1] - past * uy),
        (b[0] + past * ux, b[1] + past * uy),
    )
    return [
        (ax + half * uy, ay - half * ux),
        (bx + half * uy, by - half * ux),
        (bx - half * uy, by + half * ux),
        (ax - half * uy, ay + half * ux),
    ]


def add_lengths(
    sketch: Sketch, checks: Sequence[Numbered], hull: Sequence[Point], scale: float, units: Units
) -> None:
    """Dimension every size between two ends outside the work, the shortest nearest to it.

    `hull` are points of the work's outline on paper.
    """
    lengths = [one for one in checks if one.check.ends is not None]
    for one in sorted(lengths, key=lambda each: _length(each.check)):
        ends = one.check.ends
        assert ends is not None
        a, b = ((x * scale, y * scale) for x, y in ends)
        _add_length(sketch, a, b, hull, one.text(units))


def _length(check: CheckView) -> float:
    return math.dist(*check.ends) if check.ends else 0.0


def _add_length(sketch: Sketch, a: Point, b: Point, hull: Sequence[Point], text: str) -> None:
    length = math.dist(a, b)
    nx, ny = -(b[1] - a[1]) / length, (b[0] - a[0]) / length
    here = a[0] * nx + a[1] * ny
    far = [x * nx + y * ny - here for x, y in hull]
    reach = {1.0: max(0.0, *far), -1.0: max(0.0, *(-one for one in far))}
    tries = sorted(
        (reach[side] + tier * TIER * 1.01, side, tier)
        for side in (1.0, -1.0)
        for tier in range(MOST_TIERS)
    )
    last: tuple[list[Element], tuple[Point, Point]] | None = None
    for _, side, tier in tries:
        off = side * (reach[side] + FIRST + tier * TIER)
        along = (a[0] + off * nx, a[1] + off * ny), (b[0] + off * nx, b[1] + off * ny)
        for place in PLACES:
            group = list(aligned(a, b, off, text, place=place))
            last = group, along
            if sketch.fits(group, along):
                sketch.add(group, along)
                return
    assert last is not None
    sketch.add(*last)


@dataclass(frozen=True, slots=True, kw_only=True)
class Height:
    """A height to check, and the places along the section where it can be taken, best first."""

    numbered: Numbered
    places: tuple[float, ...]


def add_heights(
    sketch: Sketch, heights: Sequence[Height], top: float, scale: float, units: Units
) -> None:
    """Dimension heights on a section where they are taken; their words stand above it.

    Places are in mm along the section, `top` is the section's height on paper.
    """
    for one in sorted(heights, key=lambda each: each.places[0]):
        check = one.numbered.check
        assert check.heights is not None
        low, high = sorted(z * scale for z in check.heights)
        text = one.numbered.text(units)
        options = [
            (x * scale, top + 4.0 + tier * TIER, right)
            for tier in range(MOST_TIERS)
            for x in one.places
            for right in (True, False)
        ]
        made = [
            (_height(x, low, high, level, text, right=right), ((x, low - ARROW), (x, level)))
            for x, level, right in options
        ]
        best = next((each for each in made if sketch.fits_level(*each)), made[0])
        sketch.add(*best)


def _height(
    x: float, low: float, high: float, level: float, text: str, *, right: bool
) -> list[Element]:
    """A height at x, its line carried up to `level` and its words beside it there."""
    tight = high - low < 3.0 * ARROW
    return [
        arrow((x, low), 90.0 if tight else 270.0),
        arrow((x, high), 270.0 if tight else 90.0),
        thin((x, low - (2.0 * ARROW if tight else 0.0)), (x, level + SIZE)),
        letters(text, (x + 1.2, level), anchor="left")
        if right
        else letters(text, (x - 1.2, level), anchor="right"),
    ]
