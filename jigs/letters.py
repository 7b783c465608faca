"""Words as engraved outlines, taken exactly from the font that the project ships.

The letters are parabolas and lines in the font and stay so in the solid; the kernel's own
text would come from whatever font it finds, and only nearly in the same shape. They are bold,
so that a 0.4 mm nozzle still draws the strokes of 3 mm capitals.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from itertools import combinations_with_replacement
from typing import Any
from unicodedata import combining

from jigs.terrace import Contour, Step
from rosette.geometry.outline import Point
from rosette.lettering import font_path, font_size, missing_glyphs

Glyph = tuple[float, tuple[Contour, ...]]
"""Advance width and contours, for a type size of 1."""


LEAST_GAP = 0.05
"""Letters stand at least this apart, in type sizes, even where the font lets them overlap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """What a line of engraved words takes up, from its start on the baseline."""

    left: float
    low: float
    right: float
    high: float

    @property
    def width(self) -> float:
        """Right less left."""
        return self.right - self.left


def engraving(
    text: str, *, middle: float, baseline: float, height: float, top: float, depth: float
) -> tuple[Step, ...]:
    """A line of words sunk `depth` mm into a face at `top`, centred on x = `middle`.

    `height` is that of a capital in mm; `baseline` the y it stands on.
    """
    size, extent = font_size(height), extent_of(text, height)
    start = middle - (extent.left + extent.right) / 2.0
    steps: list[Step] = []
    for contours, x in _set(text):
        placed = [_placed(one, size, (start + x * size, baseline)) for one in contours]
        steps += _nested(placed, top - depth, top)
    return tuple(steps)


def extent_of(text: str, height: float) -> Extent:
    """How far a line in capitals of `height` mm reaches, by the letters' own outlines.

    >>> round(extent_of("HH", 5).high, 2), extent_of("g", 5).low < 0
    (5.0, True)
    """
    size = font_size(height)
    boxes = [(_box(contours), x) for contours, x in _set(text) if contours]
    return Extent(
        left=size * min((box.left + x for box, x in boxes), default=0.0),
        low=size * min((box.low for box, _ in boxes), default=0.0),
        right=size * max((box.right + x for box, x in boxes), default=0.0),
        high=size * max((box.high for box, _ in boxes), default=0.0),
    )


def can_engrave(text: str) -> str:
    """The letters of `text` that can't be engraved.

    Those unknown to the font, marks that sit on the letter before them, and letters drawn with
    crossing outlines.

    >>> can_engrave("Damson parlour no. 3"), can_engrave("Smørrebrød")
    ('', 'ø')
    """
    missing = missing_glyphs(text)
    letters = dict.fromkeys(text)
    return "".join(one for one in letters if one in missing or combining(one) or _crosses(one))


def _set(text: str) -> list[tuple[tuple[Contour, ...], float]]:
    """Each letter's contours and where it stands along the line, for a type size of 1."""
    found: list[tuple[tuple[Contour, ...], float]] = []
    x, free = 0.0, -math.inf
    for letter in text:
        advance, contours = _glyph(letter)
        if contours:
            box = _box(contours)
            x = max(x, free + LEAST_GAP - box.left)
            free = x + box.right
        found.append((contours, x))
        x += advance
    return found


@cache
def _box(contours: tuple[Contour, ...]) -> Extent:
    points = [point for contour in contours for point in contour.points(0.001)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Extent(left=min(xs), low=min(ys), right=max(xs), high=max(ys))


@cache
def _font() -> tuple[Any, dict[int, str], float]:
    from fontTools.ttLib import TTFont

    font = TTFont(font_path(bold=True))
    return font.getGlyphSet(), font.getBestCmap(), 1.0 / font["head"].unitsPerEm


@cache
def _glyph(letter: str) -> Glyph:
    from fontTools.pens.recordingPen import DecomposingRecordingPen

    glyphs, names, scale = _font()
    glyph = glyphs[names[ord(letter)]]
    pen = DecomposingRecordingPen(glyphs)
    glyph.draw(pen)
    return glyph.width * scale, tuple(_contours(pen.value, scale))


def _contours(drawn: list[tuple[str, tuple[Point, ...]]], scale: float) -> list[Contour]:
    from fontTools.pens.basePen import decomposeQuadraticSegment

    found: list[Contour] = []
    segments: list[tuple[Point, Point | None]] = []
    at: Point = (0.0, 0.0)
    for kind, points in drawn:
        scaled = [(x * scale, y * scale) for x, y in points]
        if kind == "moveTo":
            start = at = scaled[0]
            segments = []
        elif kind == "lineTo":
            segments.append((at, None))
            at = scaled[0]
        elif kind == "qCurveTo":
            for control, end in decomposeQuadraticSegment(scaled):
                segments.append((at, control))
                at = end
        elif kind == "closePath":
            if at != start:
                segments.append((at, None))
            found.append(Contour(tuple(segments)))
        else:
            raise ValueError(f"{kind}: the shipped font holds only lines and parabolas")
    return found


def _placed(contour: Contour, size: float, shift: Point) -> Contour:
    def moved(point: Point) -> Point:
        return point[0] * size + shift[0], point[1] * size + shift[1]

    return Contour(tuple((moved(a), None if c is None else moved(c)) for a, c in contour.segments))


def _nested(contours: list[Contour], floor: float, top: float) -> list[Step]:
    """Contours as sunk steps; those inside another stand up to `top` again.

    TrueType draws outer edges clockwise and inner ones counter-clockwise.
    """
    outer = [one for one in contours if one.area() < 0]
    inner = [one for one in contours if one.area() > 0]
    return [
        Step(
            outline=edge,
            top=floor,
            steps=tuple(
                Step(outline=one, top=top)
                for one in inner
                if inside(one.segments[0][0], edge.points())
            ),
        )
        for edge in outer
    ]


@cache
def _crosses(letter: str) -> bool:
    polygons = [contour.points(0.005) for contour in _glyph(letter)[1]]
    return any(_cross(p, q) for p, q in combinations_with_replacement(polygons, 2))


def _cross(p: list[Point], q: list[Point]) -> bool:
    return any(
        _meet(a, b, c, d)
        for a, b in zip(p, p[1:] + p[:1], strict=True)
        for c, d in zip(q, q[1:] + q[:1], strict=True)
    )


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _left(a, b, c) * _left(a, b, d) < 0 and _left(c, d, a) * _left(c, d, b) < 0


def _left(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])


def inside(point: Point, polygon: list[Point]) -> bool:
    """Whether a point lies inside a polygon (even-odd rule).

    >>> inside((1, 1), [(0, 0), (2, 0), (2, 2), (0, 2)]), inside((3, 1), [(0, 0), (2, 0), (2, 2)])
    (True, False)
    """
    x, y = point
    within = False
    for (ax, ay), (bx, by) in zip(polygon, polygon[1:] + polygon[:1], strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            within = not within
    return within
