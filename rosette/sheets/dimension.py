"""Dimensions as plain lines, arrows and words on layer `dimension`, after the habits of ISO 129-1.

Thin lines, extension lines that stand off the work and run past the dimension line, filled
arrows, words above the line and read from below or from the right; where there is no room the
arrows go outside, and the words past one of them. Points in mm, angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from rosette.geometry.outline import Outline, Point, Vertex, line, polygon
from rosette.lettering import text_width
from rosette.sheets.drawing import THIN, Anchor, Element, Stroke, Text
from rosette.units import Units, nearest_fraction, number_in

SIZE = 2.5
"""Height of a capital in a dimension."""
ARROW = 2.5
"""Length of an arrowhead."""
GAP = 0.8
"""Clear space between the work and an extension line."""
OVERSHOOT = 1.5
"""How far an extension line runs past the dimension line."""
LIFT = 0.9
"""Clear space between a dimension line and the words above it."""
TIER = 6.0
"""Distance between dimension lines that stand one above the other."""

Place = Literal["start", "end"]
Head = Literal["filled", "open"]


def length_text(length: float, units: Units, *, decimals: int = 2, before: str = "") -> str:
    """A length as a drawing letters it: the bare number, inches also as the nearest 1/64.

    >>> length_text(18.958, "mm"), length_text(95.25, "in"), length_text(0.05, "in", before="gap ")
    ('18.96', '3.750 (3 3/4)', 'gap 0.002')
    """
    number = number_in(length, units, decimals=decimals)
    fraction = nearest_fraction(length)
    tail = f" ({fraction})" if units == "in" and fraction != "0" else ""
    return f"{before}{number}{tail}"


def long_text(length: float, units: Units) -> str:
    """A length of strip for a table: a tenth of a millimetre, or inches to the nearest 1/64.

    >>> long_text(404.93, "mm"), long_text(404.93, "in")
    ('404.9', '15 15/16')
    """
    return number_in(length, units, decimals=1) if units == "mm" else nearest_fraction(length)


def units_note(units: Units) -> str:
    """The sentence a sheet carries about its dimensions."""
    if units == "in":
        return "Dimensions in inches, the nearest 1/64 in brackets."
    return "Dimensions in millimetres."


def arrow(tip: Point, towards: float, *, head: Head = "filled", size: float = ARROW) -> Element:
    """An arrowhead at `tip` that points in the direction `towards` degrees."""
    back = math.radians(towards + 180.0)
    spread = math.radians(9.5)
    wings = [
        (tip[0] + size * math.cos(back + turn), tip[1] + size * math.sin(back + turn))
        for turn in (spread, -spread)
    ]
    if head == "open":
        chain = Outline((Vertex(*wings[0]), Vertex(*tip), Vertex(*wings[1])), closed=False)
        return Stroke(outline=chain, layer="dimension", weight=THIN)
    shape = polygon([tip, *wings])
    return Stroke(outline=shape, layer="dimension", weight=THIN, colour=None, fill="#000000")


def thin(a: Point, b: Point) -> Element:
    """A thin line of layer `dimension`."""
    return Stroke(outline=line(a, b), layer="dimension", weight=THIN)


def letters(
    text: str, at: Point, *, anchor: Anchor = "middle", turn: float = 0.0, size: float = SIZE
) -> Text:
    """Words of a dimension."""
    return Text(text=text, at=at, height=size, anchor=anchor, turn=turn, layer="dimension")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """A dimension line from `start` to `end`, told along the direction in which it is read."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        return math.dist(self.start, self.end)

    @property
    def turn(self) -> float:
        return math.degrees(math.atan2(self.end[1] - self.start[1], self.end[0] - self.start[0]))

    def point(self, along: float, above: float = 0.0) -> Point:
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return self.start[0] + c * along - s * above, self.start[1] + s * along + c * above


def _read(p: Point, q: Point) -> _Run:
    """The run between p and q, turned so that its words are read from below or from the right.

    A line that leans a little past upright still reads from the right, as its neighbours do.
    """
    run = _Run(start=p, end=q)
    return run if -75.0 < run.turn <= 105.0 else _Run(start=q, end=p)


def fits_along(length: float, text: str) -> bool:
    """Whether words fit between the ends of a line this long, arrows and air included."""
    return text_width(text, SIZE) + 3.0 <= length


def reading_turn(p: Point, q: Point) -> float:
    """Degrees by which words along the line from p to q are turned."""
    return _read(p, q).turn


def inside(length: float, text: str) -> bool:
    """Whether words stand above a dimension line this long, and not past one of its ends."""
    return text_width(text, SIZE) + 1.0 <= length


def overhang(length: float, text: str) -> float:
    """How far a dimension of this length reaches past its end: 0 where all of it fits inside."""
    if inside(length, text):
        return 0.0 if length >= 3.0 * ARROW else 2.0 * ARROW
    return 2.0 * ARROW + text_width(text, SIZE) + 0.5


def between(
    p: Point, q: Point, text: str, *, place: Place = "end", head: Head = "filled"
) -> tuple[Element, ...]:
    """A dimension line from p to q without extension lines.

    Words that don't fit go past the `place` of the line, start or end as it is read.
    """
    run = _read(p, q)
    tight = run.length < 3.0 * ARROW
    turn, size = run.turn, run.length
    outward = (turn + 180.0, turn) if not tight else (turn, turn + 180.0)
    parts = [
        arrow(run.start, outward[0], head=head),
        arrow(run.end, outward[1], head=head),
        thin(run.start, run.end),
    ]
    tails = [2.0 * ARROW if tight else 0.0, 2.0 * ARROW if tight else 0.0]
    if inside(size, text):
        parts.append(letters(text, run.point(size / 2.0, LIFT), turn=turn))
    else:
        reach = 2.0 * ARROW + text_width(text, SIZE)
        tails[place == "end"] = reach
        along, anchor = (size + reach, "right") if place == "end" else (-reach, "left")
        parts.append(letters(text, run.point(along, LIFT), anchor=_anchor(anchor), turn=turn))
    for tail, end, sign in ((tails[0], 0.0, -1.0), (tails[1], size, 1.0)):
        if tail:
            parts.append(thin(run.point(end), run.point(end + sign * tail)))
    return tuple(parts)


def _anchor(word: str) -> Anchor:
    return "right" if word == "right" else "left"


def extension(foot: Point, end: Point) -> tuple[Element, ...]:
    """The extension line from the work at `foot` to a dimension line that ends in `end`."""
    far = math.dist(foot, end)
    if far <= GAP:
        return ()
    ux, uy = (end[0] - foot[0]) / far, (end[1] - foot[1]) / far
    return (
        thin(
            (foot[0] + GAP * ux, foot[1] + GAP * uy),
            (end[0] + OVERSHOOT * ux, end[1] + OVERSHOOT * uy),
        ),
    )


def aligned(
    a: Point, b: Point, offset: float, text: str, *, place: Place = "end"
) -> tuple[Element, ...]:
    """The distance between a and b, on a line `offset` to the left of the way from a to b."""
    far = math.dist(a, b)
    nx, ny = -(b[1] - a[1]) / far, (b[0] - a[0]) / far
    p, q = (a[0] + offset * nx, a[1] + offset * ny), (b[0] + offset * nx, b[1] + offset * ny)
    return (*extension(a, p), *extension(b, q), *between(p, q, text, place=place))


def horizontal(
    a: Point, b: Point, y: float, text: str, *, place: Place = "end"
) -> tuple[Element, ...]:
    """How far apart a and b are along x, on a line at height `y`."""
    p, q = (a[0], y), (b[0], y)
    return (*extension(a, p), *extension(b, q), *between(p, q, text, place=place))


def vertical(
    a: Point, b: Point, x: float, text: str, *, place: Place = "end"
) -> tuple[Element, ...]:
    """How far apart a and b are along y, on a line at `x`; its words are read from the right."""
    p, q = (x, a[1]), (x, b[1])
    return (*extension(a, p), *extension(b, q), *between(p, q, text, place=place))


def upright(a: Point, b: Point, x: float, text: str) -> tuple[Element, ...]:
    """How far apart a and b are along y, on a line at `x`, with level words to its right.

    For heights too small to letter along: words stand beside the line where they fit between
    its ends, else past its far end from y = 0, the face that heights are measured from.
    """
    low, high = sorted((a[1], b[1]))
    tall = high - low
    tight = tall < 3.0 * ARROW
    tail = 2.0 * ARROW if tight else 0.0
    if tall >= SIZE + 1.2:
        y = (low + high - SIZE) / 2.0
    else:
        y = high + 1.0 if high > 0.0 else low - SIZE - 1.0
    return (
        *extension(a, (x, a[1])),
        *extension(b, (x, b[1])),
        thin((x, low - tail), (x, high + tail)),
        arrow((x, low), 90.0 if tight else 270.0),
        arrow((x, high), 270.0 if tight else 90.0),
        letters(text, (x + 1.5, y), anchor="left"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A distance to be dimensioned, between two points of the work."""

    a: Point
    b: Point
    text: str
    place: Place = "end"


def tiers(
    spans: Sequence[Span], *, axis: Literal["x", "y"], level: float, side: Literal[-1, 1]
) -> tuple[Element, ...]:
    """Dimensions stacked so that they don't collide, the shortest nearest to the work.

    `axis` x: lines above (`side` 1) or below (-1) starting at y = `level`; axis y: lines to
    the right (1) or left (-1) starting at x = `level`.
    """
    along = 0 if axis == "x" else 1
    draw = horizontal if axis == "x" else vertical
    taken: list[list[tuple[float, float]]] = []
    parts: list[Element] = []
    order = sorted(spans, key=lambda one: abs(one.b[along] - one.a[along]))
    for place, given in enumerate(order, start=1):
        # only lines that stand further out have extension lines that pass this one
        span = _clear(given, along, [p[along] for one in order[place:] for p in (one.a, one.b)])
        low, high = _room(span, along)
        tier = 0
        while tier < len(taken) and any(low < b + 1.5 and a - 1.5 < high for a, b in taken[tier]):
            tier += 1
        if tier == len(taken):
            taken.append([])
        taken[tier].append((low, high))
        parts.extend(draw(span.a, span.b, level + side * TIER * tier, span.text, place=span.place))
    return tuple(parts)


def _clear(span: Span, along: int, ends: Sequence[float]) -> Span:
    """The span with its outside words at the end where no extension line runs through them."""
    low, high = sorted((span.a[along], span.b[along]))

    def crossed(one: Span) -> bool:
        first, last = _room(one, along)
        return any(first < end < low - 1e-6 or high + 1e-6 < end < last for end in ends)

    other = replace(span, place="end" if span.place == "start" else "start")
    return other if crossed(span) and not crossed(other) else span


def _room(span: Span, along: int) -> tuple[float, float]:
    """What a dimension takes along its line, words and outside arrows included."""
    low, high = sorted((span.a[along], span.b[along]))
    length = high - low
    over = overhang(length, span.text)
    arrows = 2.0 * ARROW if length < 3.0 * ARROW else 0.0
    return (low - over, high + arrows) if span.place == "start" else (low - arrows, high + over)
