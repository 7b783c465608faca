"""The stripes of a chevron's laminate, and what of them an outline shows."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from rosette.geometry.clip import kept_beside
from rosette.geometry.outline import Outline, Point
from rosette.patterns.laminate_keys import PlyKeys


@dataclass(frozen=True, slots=True, kw_only=True)
class Stripe:
    """One ply of a laminate: it lies from `low` to `high` mm to the left of the middle line."""

    wood: str
    low: float
    high: float

    @property
    def thickness(self) -> float:
        """The ply's thickness."""
        return self.high - self.low


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """How stripes lie: the middle line runs through `through` in `direction` degrees.

    `turned`: seen from the other face, so that what lay left of the middle line lies right of it.
    """

    through: Point
    direction: float
    turned: bool = False

    def band(self, stripe: Stripe) -> tuple[float, float]:
        """A stripe's edges, to the left of the line through the origin in this direction."""
        angle = math.radians(self.direction)
        base = -math.sin(angle) * self.through[0] + math.cos(angle) * self.through[1]
        low, high = (-stripe.high, -stripe.low) if self.turned else (stripe.low, stripe.high)
        return base + low, base + high

    def offsets(self, points: list[Point]) -> tuple[float, float]:
        """Least and most distance of points from the middle line, as stripes count it."""
        angle = math.radians(self.direction)
        found = [
            -math.sin(angle) * (x - self.through[0]) + math.cos(angle) * (y - self.through[1])
            for x, y in points
        ]
        return (-max(found), -min(found)) if self.turned else (min(found), max(found))


def stripes(plies: tuple[PlyKeys, ...], low: float, high: float) -> tuple[Stripe, ...]:
    """The whole plies that cover `low` to `high`, in order; the first ply's middle lies at 0.

    >>> walnut = PlyKeys(wood="walnut", thickness=2.0)
    >>> maple = PlyKeys(wood="maple", thickness=1.0)
    >>> [(one.wood, one.low, one.high) for one in stripes((walnut, maple), -1.5, 1.5)]
    [('maple', -2.0, -1.0), ('walnut', -1.0, 1.0), ('maple', 1.0, 2.0)]
    """
    at, number = -plies[0].thickness / 2.0, 0
    while at > low:
        number -= 1
        at -= plies[number % len(plies)].thickness
    found = []
    while at < high:
        ply = plies[number % len(plies)]
        if at + ply.thickness > low:
            found.append(Stripe(wood=ply.wood, low=at, high=at + ply.thickness))
        at, number = at + ply.thickness, number + 1
    return tuple(found)


def shown(
    outline: Outline, lie: Lie, laminate: tuple[Stripe, ...]
) -> Iterator[tuple[Stripe, Outline]]:
    """The part of each stripe that an outline shows; no edge of it runs along a stripe."""
    for stripe in laminate:
        least, most = lie.band(stripe)
        part = kept_beside(outline, direction=math.radians(lie.direction), least=least, most=most)
        if part is not None:
            yield stripe, part
