"""Where a part is cut in two: a straight line with dovetail tongues along it.

A seam has its own coordinates: `t` along it, `s` square to it, to the left of its direction. The
piece on the side of s < 0 is the low one, the other the high one. A tongue has one square flank
and one that leans out: it holds, and it is not its own mirror image.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from rosette.geometry.outline import Point

ROOT = 3.0
"""Solid wood, so to speak, that a tongue keeps round it on every side (mm), for a scale of 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tongue:
    """A tongue of one piece that goes into the other (mm).

    Its neck is `neck` wide with its middle at `at`, it is `reach` long and `lean` wider at its
    tip. `up` tells that it is the low piece's and points to s > 0; otherwise it is the same,
    turned half round. `root` is what must be solid round it.
    """

    at: float
    neck: float
    lean: float
    reach: float
    root: float
    up: bool

    def points(self) -> list[Point]:
        """Its four corners in seam coordinates, in the order of growing `t` at the neck."""
        half, way = self.neck / 2.0, 1.0 if self.up else -1.0
        square = [(-half, 0.0), (-half, self.reach)]
        leaning = [(half + self.lean, self.reach), (half, 0.0)]
        found = [(self.at + way * t, way * s) for t, s in square + leaning]
        return found if self.up else found[::-1]

    def room(self) -> tuple[float, float, float, float]:
        """Left, low, right, high of what must be solid, in seam coordinates."""
        ts, ss = zip(*self.points(), strict=True)
        root = self.root
        return min(ts) - root, min(ss) - root, max(ts) + root, max(ss) + root


def wide(at: float, scale: float) -> Tongue:
    """The tongue of a low piece: too wide for the other kind's socket.

    >>> wide(0, 1).neck > narrow(0, 1).neck + narrow(0, 1).lean
    True
    """
    return _tongue(at, scale, neck=9.0, reach=5.0, up=True)


def narrow(at: float, scale: float) -> Tongue:
    """The tongue of a high piece: too long for the other kind's socket.

    >>> narrow(0, 1).reach > wide(0, 1).reach
    True
    """
    return _tongue(at, scale, neck=5.0, reach=7.5, up=False)


def _tongue(at: float, scale: float, *, neck: float, reach: float, up: bool) -> Tongue:
    return Tongue(
        at=at, neck=neck * scale, lean=2.5 * scale, reach=reach * scale, root=ROOT * scale, up=up
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """A seam at x = `at` or at y = `at` (`along` is "y" or "x": what it runs along), in mm.

    It runs from `start` to `end` in its own `t`, which is -y or x: each where it ends on another
    seam or well past the part.
    """

    along: str
    at: float
    start: float
    end: float
    tongues: tuple[Tongue, ...] = ()

    def point(self, t: float, s: float) -> Point:
        """A point of the seam in the part's coordinates."""
        return (t, self.at + s) if self.along == "x" else (self.at + s, -t)

    def line(self, offset: float = 0.0) -> list[Point]:
        """Its course in its own coordinates, `offset` mm to the left of it all along."""
        course = [(self.start, 0.0)]
        for tongue in self.tongues:
            course += tongue.points()
        return shifted([*course, (self.end, 0.0)], offset)

    def strip(self, gap: float) -> list[Point]:
        """What is cut away, `gap` wide, as a polygon in the part's coordinates."""
        there, back = self.line(gap / 2.0), self.line(-gap / 2.0)
        return [self.point(*one) for one in there + back[::-1]]


def shifted(course: list[Point], offset: float) -> list[Point]:
    """A course moved to its left by `offset`, corners mitred.

    >>> shifted([(0, 0), (2, 0), (2, 2)], 0.5)
    [(0.0, 0.5), (1.5, 0.5), (1.5, 2.0)]
    """
    ways = [_way(a, b) for a, b in pairwise(course)]
    befores, afters = [ways[0], *ways], [*ways, ways[-1]]
    found: list[Point] = []
    for (x, y), (ax, ay), (bx, by) in zip(course, befores, afters, strict=True):
        scale = offset / (1.0 + ax * bx + ay * by)
        found.append((x - scale * (ay + by), y + scale * (ax + bx)))
    return found


def _way(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length
