"""What the outer ends of a half ring's wedges stand against: a pad for each, or a round wall."""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.process import Process
from rosette.geometry.outline import Point, Vertex
from rosette.patterns.base import Wedges

RELIEF = 0.8
"""How far the wall stands back between its pads, so that squeezed-out glue finds room there."""
WIDEST_PAD = 12.0
"""On a wider pad a fat half, whose wedges stand a hair askew, would ride on the pad's ends."""
END_ROOM = 0.3
"""Between the last pad and the wall's end at the rail."""
BIT_ROOM = 1.03


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """The inside of the wall round a half ring (mm).

    The wedges bear on it: nothing binds in a tray that is open on one side, so there is no
    clearance. With `pad` above 0 every wedge has a pad of that half width at `distance` from the
    centre; with 0 the wall is round, of radius `distance`, and every wedge stands against it with
    its two corners. `front` is the y at which the wall ends.
    """

    segments: int
    distance: float
    pad: float
    front: float

    @property
    def reach(self) -> float:
        """The distance of its farthest point from the centre."""
        if not self.pad:
            return self.distance
        return (self.distance + RELIEF) / math.cos(math.pi / self.segments)

    def vertices(self) -> list[Vertex]:
        """Its inside from the left end over the top to the right end."""
        if not self.pad:
            half = math.asin(self.front / self.distance)
            x = self.distance * math.cos(half)
            bulge = -math.tan((math.pi - 2.0 * half) / 4.0)
            return [Vertex(-x, self.front, bulge), Vertex(x, self.front)]
        found = [Vertex(-self._end(), self.front)]
        pitch = 2.0 * math.pi / self.segments
        for i in range(self.segments // 2):
            axis = math.pi - pitch * (i + 0.5)
            if i:
                joint = axis + pitch / 2.0
                found.append(Vertex(self.reach * math.cos(joint), self.reach * math.sin(joint)))
            found += [Vertex(*_turned(point, axis)) for point in self._pad()]
        return [*found, Vertex(self._end(), self.front)]

    def _pad(self) -> tuple[Point, ...]:
        low, high = self.distance, self.distance + RELIEF
        return (high, self.pad), (low, self.pad), (low, -self.pad), (high, -self.pad)

    def _end(self) -> float:
        """Where along x the wall between the last pad and the rail ends."""
        angle = math.pi / self.segments
        return (self.distance + RELIEF - self.front * math.sin(angle)) / math.cos(angle)


def wall_for(wedges: Wedges, process: Process, *, front: float) -> Wall:
    """Pads where they, and the gaps between them, can be made; else a round wall."""
    blank = wedges.blank
    side = 2.0 * (blank.outer_distance + RELIEF) * math.tan(math.pi / wedges.segments)
    quarter = side / 4.0
    least = max(process.feature / 2.0, process.bit * BIT_ROOM / 2.0, front + END_ROOM)
    corner = math.hypot(blank.outer_distance, blank.outer_width / 2.0)
    pads = quarter >= least
    return Wall(
        segments=wedges.segments,
        distance=blank.outer_distance if pads else corner,
        pad=min(quarter, WIDEST_PAD / 2.0) if pads else 0.0,
        front=front,
    )


def _turned(point: Point, angle: float) -> Point:
    c, s = math.cos(angle), math.sin(angle)
    return c * point[0] - s * point[1], s * point[0] + c * point[1]
