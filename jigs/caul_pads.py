"""Pads that press on wedges one by one, with relief over every joint and round both rims."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from jigs.terrace import Step
from jigs.tray_floor import END_RELIEF, LEAST_LAND, LEAST_LENGTH, floor_for
from rosette.geometry.outline import Outline, polygon
from rosette.patterns.base import Wedges

HEIGHT = 1.0
"""How far pads stand out of what carries them: room for squeezed-out glue (mm)."""
BIT_ROOM = 1.03
"""A groove is this much wider than the bit that cuts it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pads:
    """Pads on the wedges of a ring (mm).

    Each is a trapezoid from `start` to `end` along its wedge's axis, its sides parallel to the
    joints and half a `groove` from them. `narrow` tells that the bit does not go into the groove.
    """

    segments: int
    groove: float
    start: float
    end: float
    narrow: bool = False

    @property
    def mitre_rad(self) -> float:
        """Half the angle from wedge to wedge, in radians."""
        return math.pi / self.segments

    def half_width(self, distance: float, off: float | None = None) -> float:
        """From the axis to a pad's side at `distance` mm from the centre.

        `off` is how far that side stands off the joint's middle, half a groove where not told.
        """
        angle = self.mitre_rad
        off = self.groove / 2.0 if off is None else off
        return distance * math.tan(angle) - off / math.cos(angle)

    def area(self) -> float:
        """What one pad presses on, in mm²."""
        return (self.half_width(self.start) + self.half_width(self.end)) * (self.end - self.start)

    def outline(
        self, axis: float, *, left: float | None = None, right: float | None = None
    ) -> Outline | None:
        """One pad, its wedge's axis pointing to `axis` degrees; None where nothing is left of it.

        `left` and `right` are how far its sides, seen from the centre, stand off the joints'
        middles; half a groove where not told.
        """
        offs = [self.groove / 2.0 if one is None else one for one in (left, right)]
        width = LEAST_LAND + sum(offs) / math.cos(self.mitre_rad)
        start = max(self.start, width / (2.0 * math.tan(self.mitre_rad)))
        if self.end - start < LEAST_LENGTH:
            return None
        (a, c), (b, d) = ([self.half_width(x, off) for x in (start, self.end)] for off in offs)
        corners = [(start, a), (start, -b), (self.end, -d), (self.end, c)]
        return polygon(corners).mapped(math.radians(axis))

    def steps(self, axes: Iterable[float], top: float) -> Iterator[Step]:
        """A step at `top` for the wedge of every axis."""
        outlines = (self.outline(axis) for axis in axes)
        return (Step(outline=one, top=top) for one in outlines if one is not None)


def pads_for(wedges: Wedges, *, rim: float, bit: float = 0.0) -> Pads | None:
    """Pads that end `rim` mm inside both ends of the wedges; None where wedges are too fine.

    On short wedges the rim is at most a fifth of their height. Grooves are as wide as those of
    the glue-up tray, or as `bit` (mm) where pads as wide as half their wedge are left.
    """
    blank, floor = wedges.blank, floor_for(wedges)
    if floor is None:
        return None
    rim = min(rim, blank.height * END_RELIEF)
    angle = math.pi / wedges.segments
    inner, end = blank.inner_distance + rim, blank.outer_distance - rim
    width = blank.inner_width + 2.0 * rim * math.tan(angle)
    wide = max(floor.groove, bit * BIT_ROOM)
    left = width - (wide - wedges.joint) / math.cos(angle)
    groove = wide if left >= max(LEAST_LAND, width / 2.0) else floor.groove
    # where the inner end is too narrow for a pad, it begins further out
    start = max(inner, (LEAST_LAND + groove / math.cos(angle)) / (2.0 * math.tan(angle)))
    if end - start < LEAST_LENGTH:
        return None
    return Pads(segments=wedges.segments, groove=groove, start=start, end=end, narrow=groove < bit)
