"""One station of a shooting block: a wedge between fence and working edge, against its stop.

Station coordinates in mm: the sides of the true wedge meet at 0, 0; the side that is trued lies
along +x, on the working edge; the side that lies on the fence runs off at twice the mitre. The
plane or disc works in y < 0.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from jigs.process import Process
from rosette.geometry.outline import Outline, Point, polygon
from rosette.patterns.base import Blank

INSET = 0.6
"""How far the table stands back from the rail, so that no iron or abrasive reaches it."""
STOP = 12.0
"""Side of the stop that is against the wedge while its first side is trued."""
FENCE_AHEAD = 4.0
"""How far the fence runs on past the wedge's narrow end, where there is room."""
GROOVE = 0.8
"""Width of the dust groove round a printed fence; a cutter is too thick for it."""
LEAST_CONTACT = 0.4
"""The part of a side that must lie on the fence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """Where fence, stop and wedge stand (mm, radians).

    `near` and `far` are the distances of the true wedge's ends from the point where its sides
    meet, along its axis; `outer_width` is that of its outer end. `fat` is what is trued off each
    side. The fence runs from `fence_start` to `fence_end` along the side that lies on it. The
    stop reaches from `stop_low` mm across the axis, away from the working edge.
    """

    mitre_rad: float
    near: float
    far: float
    inner_width: float
    outer_width: float
    fat: float
    fence_start: float
    fence_end: float
    fence_thick: float
    groove: float
    stop_low: float
    slide: float
    loose: float

    @property
    def shift(self) -> float:
        """How much further out the stop stands while the first side is trued: f/(2·sin α).

        The side on the fence is still fat by f then, so that the sides meet that much further
        back along the axis.
        """
        return self.fat / (2.0 * math.sin(self.mitre_rad))

    @property
    def stop_sides(self) -> tuple[float, float]:
        """The two sides of the stop: along the axis for the first side, and for the second."""
        return STOP, STOP + self.shift

    @property
    def fence_direction(self) -> Point:
        """Along the fence, outwards."""
        return math.cos(2.0 * self.mitre_rad), math.sin(2.0 * self.mitre_rad)

    def at(self, along: float, across: float) -> Point:
        """The point `along` the wedge's axis and `across` it, towards the fence."""
        c, s = math.cos(self.mitre_rad), math.sin(self.mitre_rad)
        return along * c - across * s, along * s + across * c

    def wedge(self, side: int) -> Outline:
        """The wedge as it is laid in to have its first or second side trued.

        Before the first both its sides are fat; before the second one is.
        """
        out = self.shift if side == 1 else 0.0
        top = (self.far + out) * math.tan(self.mitre_rad)
        more = (3 - side) * self.fat / math.cos(self.mitre_rad)
        return self._trapezoid(self.far + out, top, more)

    def true_wedge(self) -> Outline:
        """The wedge with both sides true."""
        return self._trapezoid(self.far, self.outer_width / 2.0, 0.0)

    def _trapezoid(self, far: float, top: float, more: float) -> Outline:
        near, slope = far - (self.far - self.near), math.tan(self.mitre_rad)
        taper = (self.far - self.near) * slope
        low = top - self.outer_width - more
        corners = [(near, top - taper), (near, low + taper), (far, low), (far, top)]
        return polygon(self.at(*corner) for corner in corners)

    def fence(self, grown: float = 0.0) -> Outline:
        """The fence, or with `grown` the groove round it."""
        (c, s), g = self.fence_direction, grown
        corners = [
            (self.fence_start - g, -g),
            (self.fence_end + g, -g),
            (self.fence_end + g, self.fence_thick + g),
            (self.fence_start - g, self.fence_thick + g),
        ]
        return polygon((x * c - y * s, x * s + y * c) for x, y in corners)

    def pocket_corners(self) -> list[Point]:
        """The pocket that the stop stands in, counter-clockwise; its outer wall bears the stop."""
        second = self.stop_sides[1]
        low, high = self.stop_low - self.slide, self.stop_low + second + self.slide
        inner, outer = self.far - self.loose, self.far + second
        return [self.at(*one) for one in [(inner, low), (outer, low), (outer, high), (inner, high)]]

    def stop_middle(self, side: int) -> Point:
        """The middle of the stop, pushed against the outer wall of its pocket."""
        first, second = self.stop_sides
        along, across = (first, second) if side == 1 else (second, first)
        return self.at(self.far + second - along / 2.0, self.stop_low + across / 2.0)


def station_for(blank: Blank, mitre: float, *, fat: float, process: Process) -> Station:
    """The station for a blank, whether or not it holds it."""
    a, b, angle = blank.inner_width, blank.outer_width, math.radians(mitre)
    near, far = a / (2.0 * math.tan(angle)), b / (2.0 * math.tan(angle))
    groove = GROOVE if process.bit == 0.0 else 0.0
    edge = INSET + process.feature
    low = edge + groove
    turn = 2.0 * angle
    back = min(0.0, (process.wall + groove) * math.cos(turn))
    first = (low - back) / math.sin(turn) + groove
    apart = process.loose + process.feature + groove + dog_bone_reach(process.bit)
    reach = edge + process.loose * math.sin(angle) + dog_bone_reach(process.bit)
    return Station(
        mitre_rad=angle,
        near=near,
        far=far,
        inner_width=a,
        outer_width=b,
        fat=fat,
        fence_start=max(near / math.cos(angle) - FENCE_AHEAD, first),
        fence_end=(far - apart) / math.cos(angle),
        fence_thick=process.wall,
        groove=groove,
        stop_low=-b / 2.0 + process.slide + reach / math.cos(angle),
        slide=process.slide,
        loose=process.loose,
    )


def dog_bone_reach(bit: float) -> float:
    """How far a dog-bone stands out past the walls of its corner, for a cutter of `bit` mm.

    >>> round(dog_bone_reach(2.0), 6)
    0.292893
    """
    return bit / 2.0 * (1.0 - math.sqrt(0.5))


def on_fence(station: Station) -> float:
    """How much of the shorter hold of a side, first or second, lies on the fence (mm)."""
    start = (station.near + station.shift) / math.cos(station.mitre_rad)
    return station.fence_end - max(station.fence_start, start)


def highest_between(outlines: Iterable[Outline], left: float, right: float) -> float:
    """The greatest y of straight-sided outlines between two values of x; -inf where none is."""
    found = -math.inf
    for outline in outlines:
        for a, b in outline.edges():
            for x in (a.x, b.x, left, right):
                low, high = min(a.x, b.x), max(a.x, b.x)
                if not (max(low, left) <= x <= min(high, right)):
                    continue
                part = (x - a.x) / (b.x - a.x) if b.x != a.x else 0.0
                found = max(found, a.y + part * (b.y - a.y), b.y if b.x == a.x else -math.inf)
    return found
