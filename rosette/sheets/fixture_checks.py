"""The sizes to check by caliper, as dimensions on a plan or a section (mm on paper)."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from rosette.geometry.outline import Point, line
from rosette.sheets.block import text_corners
from rosette.sheets.clear import Taken, octagon
from rosette.sheets.dimension import (
    ARROW,
    SIZE,
    Place,
    aligned,
    arrow,
    letters,
    thin,
)
from rosette.sheets.drawing import Circle, Element, Stroke, Text
from rosette.sheets.fixture_measures import Numbered
from rosette.sheets.marks import Box, boxes_of, broken
from rosette.units import Units

FIRST = 9.0
"""From the work to the nearest dimension line."""
TIER = 6.5
"""From one dimension line to the next."""
MOST_TIERS = 14
CROWD, FIRST_OF_CROWD = 10, 2
"""Of more lengths than the one on one part, those from the other on are told by number alone."""
DOT = 0.35
FARTHEST = 60
"""How far (mm) a number may stand from what it means."""
PLACES: tuple[Place, ...] = ("end", "start")


@dataclass(slots=True)
class Sketch:
    """What is drawn so far, and where dimensions may still stand."""

    elements: list[Element]
    taken: Taken = field(default_factory=Taken)
    words: list[Box] = field(default_factory=list)
    lettered: Taken = field(default_factory=Taken)
    lines: Taken = field(default_factory=Taken)

    @classmethod
    def of(cls, elements: Sequence[Element]) -> Sketch:
        """A sketch with the work alone on it."""
        made = cls(list(elements))
        made.taken.add(elements)
        made.words += boxes_of(elements)
        return made

    def line_fits(self, along: tuple[Point, Point]) -> bool:
        """Whether a dimension line stands clear of words and of other such lines."""
        band = _band(*along)
        return self.lines.is_free(band, air=0.1) and self.lettered.is_free(band, air=0.1)

    def fits(self, group: Sequence[Element]) -> bool:
        """Whether a dimension's words stand clear of all, and its arrows too.

        Lines from the work to the dimension line may pass words: they are broken for them.
        """
        for one in group:
            if isinstance(one, Text) and not self.taken.is_free(text_corners(one), air=0.6):
                return False
            if isinstance(one, Stroke) and one.fill and self._touches(one):
                return False
        return True

    def fits_level(self, group: Sequence[Element], along: tuple[Point, Point]) -> bool:
        """The same for a height, whose arrows stand on the work."""
        band = _band(*along)
        return self.words_fit(group) and self.lines.is_free(band, air=0.1)

    def words_fit(self, group: Sequence[Element]) -> bool:
        """Whether words stand clear of all, and lines clear of words."""
        return all(
            self.taken.is_free(text_corners(one), air=0.6)
            if isinstance(one, Text)
            else not (isinstance(one, Stroke) and self._strikes(one))
            for one in group
        )

    def marks_fit(self, group: Sequence[Element]) -> bool:
        """Whether the letters and arrows of a mark stand clear of all."""
        for one in group:
            if isinstance(one, Text) and not self.taken.is_free(text_corners(one), air=0.6):
                return False
            if (
                isinstance(one, Stroke)
                and one.fill
                and not self.taken.is_free(one.outline.points(), air=0.1)
            ):
                return False
        return True

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
        """Put a dimension on the sketch, its lines broken for words that were there before."""
        kept = [part for one in group for part in self._broken(one)]
        self.elements += kept
        self.taken.add(kept)
        boxes = boxes_of(kept)
        self.words += boxes
        for box in boxes:
            self.lettered.add_box(box)
        if along is not None:
            self.lines.add_box(_band(*along))

    def _broken(self, one: Element) -> Iterator[Element]:
        points = one.outline.points() if isinstance(one, Stroke) else []
        if not isinstance(one, Stroke) or len(points) != 2 or math.dist(*points) == 0.0:
            yield one
            return
        for a, b in broken(points[0], points[1], self.words, air=0.5):
            yield replace(one, outline=line(a, b))


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
    lengths = [(math.dist(*one.ends), one.ends, one) for one in checks if one.ends is not None]
    crowd = lengths[FIRST_OF_CROWD:] if len(lengths) > CROWD else []
    for _, ends, one in sorted(lengths[: len(lengths) - len(crowd)], key=lambda each: each[0]):
        a, b = ((x * scale, y * scale) for x, y in ends)
        _add_length(sketch, a, b, hull, (one.text(units), f"{one.number})"))
    for _, (_, (x, y)), _ in crowd:
        sketch.taken.add_box(octagon((x * scale, y * scale), 2.0 * DOT))
    for _, (_, (x, y)), one in crowd:
        _add_number(sketch, (x * scale, y * scale), f"{one.number})")


def is_crowded(checks: Sequence[Numbered]) -> bool:
    """Whether some part has so many lengths that most are told by their numbers alone."""
    parts = Counter(one.check.part for one in checks if one.ends is not None)
    return any(count > CROWD for count in parts.values())


def _add_number(sketch: Sketch, tip: Point, text: str) -> None:
    """A number alone, led to the far end of what is measured, as near to it as there is room."""
    for far in range(3, FARTHEST):
        for step in range(24):
            angle = math.radians(15.0 * step)
            x, y = tip[0] + far * math.cos(angle), tip[1] + far * math.sin(angle)
            right = math.cos(angle) >= 0.0
            words = letters(text, (x, y - SIZE / 2.0), anchor="left" if right else "right")
            end = (x - 0.5 if right else x + 0.5, y)
            if sketch.words_fit([words, thin(tip, end)]):
                dot = Circle(centre=tip, radius=DOT, layer="dimension", colour=None, fill="#000000")
                sketch.add([words, thin(tip, end), dot], None)
                return


def _add_length(
    sketch: Sketch, a: Point, b: Point, hull: Sequence[Point], texts: Sequence[str]
) -> None:
    """The first of some wordings that has room, as near to the work as it goes.

    Where not even the last has room, the size stands in the table alone.
    """
    length = math.dist(a, b)
    nx, ny = -(b[1] - a[1]) / length, (b[0] - a[0]) / length
    here = a[0] * nx + a[1] * ny
    far = [x * nx + y * ny - here for x, y in hull]
    tries = sorted(
        (max(0.0, *(side * one for one in far)) + FIRST + tier * TIER, side)
        for side in (1.0, -1.0)
        for tier in range(MOST_TIERS)
    )
    for text in texts:
        for off, side in tries:
            dx, dy = side * off * nx, side * off * ny
            along = (a[0] + dx, a[1] + dy), (b[0] + dx, b[1] + dy)
            if not sketch.line_fits(along):
                continue
            for place in PLACES:
                group = aligned(a, b, side * off, text, place=place)
                if sketch.fits(group):
                    sketch.add(group, along)
                    return


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
    for one in sorted(heights, key=lambda each: (len(each.places), each.places[0])):
        low, high = sorted(z * scale for z in one.numbered.heights or (0.0, 0.0))
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
        clear = [each for each in made if sketch.words_fit(each[0])]
        best = next((each for each in clear if sketch.fits_level(*each)), (clear or made)[0])
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
