"""The strip that the fingerboard hides: as wide as the board, from its end outwards."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from rosette.geometry.outline import Outline, Point

TOUCH = 1e-9
"""Two lengths closer than this, in mm, are the same length."""


class Visibility(StrEnum):
    """How much of a piece shows beside the fingerboard."""

    SEEN = "seen"
    PARTLY = "partly hidden"
    HIDDEN = "hidden"


@dataclass(frozen=True, slots=True, kw_only=True)
class HiddenStrip:
    """Every point with |x| ≤ width/2 and y ≥ reach (mm)."""

    width: float
    reach: float

    def visibility(self, outline: Outline) -> Visibility:
        """Whether the strip hides all of a piece, some of it, or none."""
        _, bottom, _, top = outline.bounds()
        if top <= self.reach + TOUCH:
            return Visibility.SEEN
        half = self.width / 2.0
        points = outline.points()
        if bottom >= self.reach - TOUCH and all(abs(x) <= half + TOUCH for x, _ in points):
            return Visibility.HIDDEN
        clipped = _clip(_clip(_clip(points, 1, 0, half), -1, 0, half), 0, -1, -self.reach)
        return Visibility.PARTLY if abs(_area(clipped)) > 1e-6 else Visibility.SEEN

    def half_angle(self, radius: float) -> float:
        """Degrees to each side of 12 o'clock that it hides of a circle about the centre.

        At radius r the board's sides hide asin(w/2r) and its end acos(reach/r),
        whichever is less: 2·asin(57.15/(2·54)) is 63.9°, and 48.2° at r 70.

        >>> round(2 * HiddenStrip(width=57.15, reach=0).half_angle(54), 1)
        63.9
        """
        if radius <= self.reach:
            return 0.0
        sides = math.asin(min(1.0, self.width / 2.0 / radius))
        return math.degrees(min(sides, math.acos(self.reach / radius)))

    def hides_radial_line(self, angle: float, inner_radius: float, outer_radius: float) -> bool:
        """Whether it hides a whole joint, `angle` degrees from 12 o'clock."""
        off = math.radians(angle)
        return (
            abs(outer_radius * math.sin(off)) <= self.width / 2.0 + TOUCH
            and inner_radius * math.cos(off) >= self.reach - TOUCH
        )


def _clip(points: list[Point], a: float, b: float, c: float) -> list[Point]:
    """The part of a polygon where a·x + b·y ≤ c (Sutherland and Hodgman)."""
    kept: list[Point] = []
    for i, p in enumerate(points):
        q = points[i - 1]
        over_p, over_q = a * p[0] + b * p[1] - c, a * q[0] + b * q[1] - c
        if (over_p > 0) != (over_q > 0):
            t = over_q / (over_q - over_p)
            kept.append((q[0] + t * (p[0] - q[0]), q[1] + t * (p[1] - q[1])))
        if over_p <= 0:
            kept.append(p)
    return kept


def _area(points: list[Point]) -> float:
    return (
        sum(
            q[0] * p[1] - p[0] * q[1]
            for p, q in zip(points, [*points[-1:], *points[:-1]], strict=True)
        )
        / 2.0
    )
