"""Outlines from a few measures taken with a ruler."""

from __future__ import annotations

import math

from rosette.geometry.outline import Outline, Vertex
from rosette.geometry.tracing import ERROR
from rosette.offcuts.model import Ring


def rectangle(along: float, across: float) -> Ring:
    """`along` x and `across` it, its lower left corner at 0,0 (mm)."""
    return ((0.0, 0.0), (along, 0.0), (along, across), (0.0, across))


def taper(*, length: float, left: float, right: float, sits: str | float = "middle") -> Ring:
    """A strip `length` mm long along x, `left` and `right` mm wide at its ends.

    `sits` says where the right end's lower corner is: level with the left one's ("bottom"), so
    high that the upper ones are level ("top"), midway ("middle"), or so many mm above it.

    >>> taper(length=310, left=60, right=44, sits="top")
    ((0.0, 0.0), (310, 16.0), (310, 60.0), (0.0, 60))
    """
    spare = float(left - right)
    named = {"bottom": 0.0, "middle": spare / 2.0, "top": spare}
    low = named[sits] if isinstance(sits, str) else sits
    return ((0.0, 0.0), (length, low), (length, low + right), (0.0, left))


def curved(*, length: float, left: float, right: float, rise: float) -> Ring:
    """A rectangle whose upper edge is an arc, flattened to within 0.02 mm.

    Halfway along it is `rise` mm wider than the mean of its ends; the arc is the circle through
    that point and the two upper corners. With ends alike `rise` is the arc's rise over its chord.

    Raises:
        ValueError: with the rest of a sentence about `rise`.
    """
    middle = (left + right) / 2.0 + rise
    if middle <= 0.0:
        raise ValueError("is hollower than the piece is wide; measure the width in the middle")
    start, top, end = (length, right), (length / 2.0, middle), (0.0, left)
    a, b = math.dist(top, start), math.dist(top, end)
    chord = math.dist(start, end)
    # the angle under which the chord is seen from the middle is half of what the arc leaves out
    cosine = (a * a + b * b - chord * chord) / (2.0 * a * b)
    sweep = 2.0 * (math.pi - math.acos(max(-1.0, min(1.0, cosine))))
    if sweep > math.pi + 1e-9:
        raise ValueError("is more than half the length; a bow that round has to be traced")
    bulge = math.copysign(math.tan(sweep / 4.0), rise) if rise else 0.0
    corners = (Vertex(0.0, 0.0), Vertex(length, 0.0), Vertex(length, right, bulge))
    return tuple(Outline((*corners, Vertex(0.0, left))).points(ERROR))
