"""Numbers as engraved outlines of straight strokes, for plates that carry many of them.

Letters of the shipped font are curves: a plate full of radii in them took 6.5 s to make and 2.2 MB,
where these digits, a few corners each, take 1.7 s and 0.9 MB.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.terrace import Step
from rosette.geometry.outline import Outline, Point, polygon

WIDE, STROKE, GAP = 0.62, 0.18, 0.26
"""Width of a digit, of its strokes, and from one to the next, in heights."""
_LEVELS = {"0": 0.0, "a": STROKE, "m": 0.5 - STROKE / 2, "n": 0.5 + STROKE / 2}
_LEVELS |= {"z": 1.0 - STROKE, "1": 1.0}
_PLACES = {"0": 0.0, "a": STROKE, "z": WIDE - STROKE, "1": WIDE}
_WHOLE = "00 10 11 01"
_EDGES = {
    "0": (_WHOLE, "aa za zz az"),
    "1": ("00 a0 a1 01",),
    "2": ("00 10 1a aa am 1m 11 01 0z zz zn 0n",),
    "3": ("00 10 11 01 0z zz zn 0n 0m zm za 0a",),
    "4": ("z0 10 11 z1 zn an a1 01 0m zm",),
    "5": ("00 10 1n an az 1z 11 01 0m zm za 0a",),
    "6": ("00 10 1n an az 1z 11 01", "aa za zm am"),
    "7": ("z0 10 11 01 0z zz",),
    "8": (_WHOLE, "aa za zm am", "an zn zz az"),
    "9": ("00 10 11 01 0m zm za 0a", "an zn zz az"),
    ".": ("00 a0 aa 0a",),
}
"""Corners of each outline, place and level, the outer one first, the others inside it."""


def number_width(text: str, height: float) -> float:
    """How wide a number of digits `height` mm high is (mm).

    >>> round(number_width("10", 10), 2)
    10.6
    """
    return height * (sum(map(_width, text)) + GAP * (len(text) - 1))


def number_steps(
    text: str, *, middle: float, baseline: float, height: float, top: float, depth: float
) -> Iterator[Step]:
    """A number sunk `depth` mm into a face at `top`, centred on x = `middle`.

    Raises:
        KeyError: there is more in it than digits and a point.
    """
    x = middle - number_width(text, height) / 2.0
    for digit in text:
        outer, *inner = (_outline(edge, height, (x, baseline)) for edge in _EDGES[digit])
        islands = tuple(Step(outline=one, top=top) for one in inner)
        yield Step(outline=outer, top=top - depth, steps=islands)
        x += height * (_width(digit) + GAP)


def _width(digit: str) -> float:
    return STROKE if digit in "1." else WIDE


def _outline(edge: str, height: float, start: Point) -> Outline:
    corners = [(_PLACES[one[0]], _LEVELS[one[1]]) for one in edge.split()]
    return polygon([(start[0] + height * x, start[1] + height * y) for x, y in corners])
