"""What readers of drawings share: lines of points, limits, and what is wrong with a drawing.

Drawings come from strangers. They are read with limits on size, depth and points, never lead
anywhere else, and whatever is wrong with them ends in a `TracingError`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rosette.geometry.outline import Point
from rosette.units import LONGEST_MM
from rosette.words import Length, Saying, Word, say

Ring = tuple[Point, ...]

ERROR = 0.02
"""How far in mm the straight lines may stand off a curve."""
MOST_POINTS = 20_000
MOST_LINES = 5_000
"""Lines, arcs and curves of one drawing, before they are joined."""


class TracingError(ValueError):
    """A drawing that no outline can be read from; `saying` is the end of a sentence about it."""

    def __init__(self, template: str | Saying, **words: Word) -> None:
        self.saying = template if isinstance(template, Saying) else say(template, **words)
        super().__init__(self.saying.text())


@dataclass(frozen=True, slots=True)
class Chain:
    """Points along a line of a drawing; `closed` where the last leads back to the first."""

    points: Ring
    closed: bool


def kept(points: Iterable[Point], total: int) -> Ring:
    """Points that are not too many with those already read, nor too far away, as a ring.

    Raises:
        TracingError: saying which limit they pass.
    """
    ring: list[Point] = []
    for x, y in points:
        if not (abs(x) <= LONGEST_MM and abs(y) <= LONGEST_MM):
            raise TracingError("has a point that lies farther away than 10 m, or nowhere at all")
        ring.append((x, y))
        if total + len(ring) > MOST_POINTS:
            raise TracingError(
                "has curves that come to more than {most} points; simplify it", most=MOST_POINTS
            )
    return tuple(ring)


def place(point: Point) -> dict[str, Length]:
    """A point as two lengths for the gaps {x} and {y} of a sentence."""
    return {"x": Length(point[0]), "y": Length(point[1])}
