"""The petalled line: round petals and round valleys in turn, each running into the next.

A half period is h = 180°/n. The petal's centre stands c1 out along its middle, the valley's c2
along its own, h further on; the two arcs touch, so their centres are r1 + r2 apart:

    c1² + c2² − 2·c1·c2·cos h = (r1 + r2)²,  c1 = T − s·r1,  c2 = V + s·r2

with the tips' radius T, the valleys' V = T − s·depth, and s = 1 where petals point out, −1 where
they point in. With r2 given this is linear in r1; with r1 = r2 it is quadratic. (Derived.)

Moved sideways by half the glue, touching arcs still touch: one radius grows by what the other
loses. So both woods' edges are exact arcs, the glue's width apart everywhere.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from rosette.geometry.outline import Outline, Point, Vertex


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """The line between two woods (mm): n petals, tips at `tip_radius`, valleys at `valley_radius`.

    `sign` is 1 where petals point outward. `petal` and `valley` are the arcs' radii.
    """

    petals: int
    sign: int
    tip_radius: float
    valley_radius: float
    petal: float
    valley: float

    @property
    def half_period(self) -> float:
        """Half the angle (rad) from petal to petal."""
        return math.pi / self.petals

    @property
    def petal_centre(self) -> float:
        """How far out the petals' centres stand."""
        return self.tip_radius - self.sign * self.petal

    @property
    def valley_centre(self) -> float:
        """How far out the valleys' centres stand."""
        return self.valley_radius + self.sign * self.valley

    def lean(self) -> float:
        """The angle (rad) between the line and the ring where petal runs into valley.

        At a right angle the line goes straight outward; past it petals would have necks.
        """
        h, c2 = self.half_period, self.valley_centre
        dx, dy = c2 * math.cos(h) - self.petal_centre, c2 * math.sin(h)
        reach = math.hypot(dx, dy)
        x, y = self.petal_centre + self.petal * dx / reach, self.petal * dy / reach
        away = math.atan2(dy, dx) if self.sign > 0 else math.pi - math.atan2(dy, dx)
        return away - self.sign * math.atan2(y, x)

    def radii(self, side: int, glue: float) -> tuple[float, float]:
        """Petal's and valley's radius on a wood's edge: `side` −1 inside the line, 1 outside."""
        shift = self.sign * side * glue / 2.0
        return self.petal + shift, self.valley - shift

    def path(
        self, start: float, halves: int, *, side: int, glue: float, at_tip: bool
    ) -> list[Vertex]:
        """The line along `halves` half periods, counter-clockwise from `start` radians.

        It begins and ends at a petal's tip (`at_tip`) or in a valley, half the glue inside the
        radial planes there; the last vertex has no bulge.
        """
        radii = self.radii(side, glue)
        centres: list[tuple[Point, float, int]] = []
        for step in range(halves + 1):
            tip = at_tip == (step % 2 == 0)
            out = self.petal_centre if tip else self.valley_centre
            angle = start + step * self.half_period
            centre = out * math.cos(angle), out * math.sin(angle)
            centres.append((centre, radii[0 if tip else 1], self.sign if tip else -self.sign))
        stops = [self._beside(start, glue / 2.0, centres[0])]
        stops += [_touch(a, b) for a, b in pairwise(centres)]
        stops.append(self._beside(start + halves * self.half_period, -glue / 2.0, centres[-1]))
        return [
            *(
                Vertex(*p, math.tan(_sweep(centre, p, q, turn) / 4.0))
                for (centre, _, turn), p, q in zip(centres, stops[:-1], stops[1:], strict=True)
            ),
            Vertex(*stops[-1]),
        ]

    @staticmethod
    def _beside(angle: float, off: float, arc: tuple[Point, float, int]) -> Point:
        """Where a line beside the radius at `angle`, `off` mm to its left, meets an arc on it."""
        (x, y), radius, turn = arc
        out = math.hypot(x, y) + turn * math.sqrt(radius**2 - off**2)
        c, s = math.cos(angle), math.sin(angle)
        return out * c - off * s, out * s + off * c


def _touch(a: tuple[Point, float, int], b: tuple[Point, float, int]) -> Point:
    """Where two arcs that touch from outside do so."""
    (x, y), (u, v) = a[0], b[0]
    share = a[1] / (a[1] + b[1])
    return x + (u - x) * share, y + (v - y) * share


def _sweep(centre: Point, p: Point, q: Point, turn: int) -> float:
    """The angle (rad) from p to q about a centre, less than a full turn, in the sense of `turn`."""
    start = math.atan2(p[1] - centre[1], p[0] - centre[0])
    end = math.atan2(q[1] - centre[1], q[0] - centre[0])
    return turn * ((turn * (end - start)) % math.tau)


def scallop(petals: int, *, sign: int, middle: float, depth: float, valley: float) -> Edge | None:
    """The line with valleys of a given radius; None where no round petal fits between them.

    `middle` is half way between tips and valleys (mm). Centres stand the two radii apart:

    >>> edge = scallop(6, sign=1, middle=50.0, depth=8.0, valley=1.0)
    >>> x = edge.valley_centre * math.cos(math.pi / 6) - edge.petal_centre
    >>> y = edge.valley_centre * math.sin(math.pi / 6)
    >>> abs(math.hypot(x, y) - edge.petal - edge.valley) < 1e-9
    True
    """
    tip, low = middle + sign * depth / 2.0, middle - sign * depth / 2.0
    c2, cos = low + sign * valley, math.cos(math.pi / petals)
    below = 2.0 * (valley + sign * (tip - c2 * cos))
    if below <= 0.0:
        return None
    petal = (tip**2 + c2**2 - 2.0 * tip * c2 * cos - valley**2) / below
    return Edge(
        petals=petals,
        sign=sign,
        tip_radius=tip,
        valley_radius=low,
        petal=petal,
        valley=valley,
    )


def wave(petals: int, *, sign: int, middle: float, depth: float) -> Edge:
    """The line whose petals and valleys have one radius."""
    tip, low = middle + sign * depth / 2.0, middle - sign * depth / 2.0
    cos = math.cos(math.pi / petals)
    a, b = 1.0 - cos, (1.0 + cos) * depth
    c = -(tip**2 + low**2 - 2.0 * cos * tip * low) / 2.0
    radius = (-b + math.sqrt(b * b - 4.0 * a * c)) / (2.0 * a)
    return Edge(
        petals=petals,
        sign=sign,
        tip_radius=tip,
        valley_radius=low,
        petal=radius,
        valley=radius,
    )


def between(
    edge: Edge,
    base_radius: float,
    start: float,
    halves: int,
    *,
    side: int,
    glue: float,
    at_tip: bool,
) -> Outline:
    """One piece of a wood: from the ring's own edge at `base_radius` to the petalled line.

    Its ends stand half the glue inside the radial planes at `start` and `halves` half periods
    further counter-clockwise. The outline runs counter-clockwise.
    """
    line = edge.path(start, halves, side=side, glue=glue, at_tip=at_tip)
    off = math.asin(glue / 2.0 / base_radius)
    first, last = start + off, start + halves * edge.half_period - off
    bulge = math.tan((last - first) / 4.0)
    far, near = (
        (base_radius * math.cos(angle), base_radius * math.sin(angle)) for angle in (last, first)
    )
    if side < 0:
        return Outline((*line, Vertex(*far, -bulge), Vertex(*near)))
    back = [
        Vertex(p.x, p.y, -q.bulge)
        for p, q in zip(reversed(line), [*reversed(line[:-1]), Vertex(0.0, 0.0)], strict=True)
    ]
    return Outline((Vertex(*near, bulge), Vertex(*far), *back))
