"""What the wedges stand on: a land under each, relief round it, finger holes to push them out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.geometry import wedge
from rosette.patterns.base import Wedges

OVERHANG, END_OVERHANG = 1.0, 0.8
"""How far wedges reach over the relief at sides and ends, where they are large enough."""
LEAST_OVERHANG = 0.3
END_RELIEF = 0.2
"""The most of a wedge's height that the relief takes at each end."""
LEAST_LAND = 0.8
"""Width of the narrowest land: two lines of a 0.4 mm nozzle."""
LEAST_LENGTH = 0.6
FINGER = 12.0
"""Diameter of a hole that a finger goes into."""
PENCIL, LARGEST_PENCIL, SMALLEST_PENCIL = 5.0, 8.0, 3.0
"""Diameters of holes for a dowel or the end of a pencil."""
LAND_BESIDE_HOLE, LAND_BEYOND_HOLE = 0.8, 1.0
"""Land left beside a finger hole, and between it and each end."""
HOLE_TO_REST, LEAST_REST = 0.3, 0.6
"""From a hole that spans joints to what is left of the lands, and the least of that at each end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """Lands and finger holes (mm).

    A land is a trapezoid from `start` to `end` along its wedge's axis, its sides parallel to
    the joints and half a `groove` from them. Finger holes stand at `hole_distance` on the axes
    of the wedges in `holes`, by their positions (1 first, clockwise from the seam). A hole that
    does not fit between two joints (`spans` is true) interrupts every land that it comes near.
    """

    groove: float
    start: float
    end: float
    holes: tuple[int, ...]
    hole: float
    hole_distance: float
    spans: bool


def floor_for(wedges: Wedges) -> Floor | None:
    """The floor under a ring, or None where its wedges leave no land to stand on."""
    blank = wedges.blank
    lands = _lands(
        wedges.segments, wedges.joint, inner=blank.inner_distance, outer=blank.outer_distance
    )
    if lands is None:
        return None
    groove, start, end = lands
    middle = (start + end) / 2.0
    hole, spans = _finger_hole(wedges.mitre_angle, groove, start, end)
    return Floor(
        groove=groove,
        start=start,
        end=end,
        holes=_places(wedges.segments, wedges.at_centreline) if hole else (),
        hole=hole,
        hole_distance=middle,
        spans=spans,
    )


def most_wedges(wedges: Wedges, inner_corner: float) -> int:
    """The largest count below this ring's own that leaves lands; 0 where none does."""
    for count in range(wedges.segments - 1, 2, -1):
        inner = wedge.inner_distance(inner_corner, segments=count, joint=wedges.joint)
        if _lands(count, wedges.joint, inner=inner, outer=wedges.blank.outer_distance):
            return count
    return 0


def _lands(
    segments: int, joint: float, *, inner: float, outer: float
) -> tuple[float, float, float] | None:
    """Groove, start and end of the lands.

    At least half of a wedge's width at the land's start is supported, and half of its height.
    """
    angle = math.pi / segments
    rim = min(END_OVERHANG, (outer - inner) * END_RELIEF)
    start, end = inner + rim, outer - rim
    width = wedge.width_at(start, segments=segments, joint=joint)
    spare = (width - max(LEAST_LAND, width / 2.0)) * math.cos(angle) / 2.0
    groove = joint + 2.0 * min(OVERHANG, max(LEAST_OVERHANG, spare))
    # where the inner end is too narrow for a land, it begins further out
    start = max(start, (LEAST_LAND + groove / math.cos(angle)) / (2.0 * math.tan(angle)))
    if end - start < max(LEAST_LENGTH, (outer - inner) / 2.0):
        return None
    return groove, start, end


def _finger_hole(mitre: float, groove: float, start: float, end: float) -> tuple[float, bool]:
    """Diameter of the finger holes, and whether they span joints; 0 where there is no room."""
    middle, length = (start + end) / 2.0, end - start
    beside = middle * math.sin(math.radians(mitre)) - groove / 2.0 - LAND_BESIDE_HOLE
    between = min(FINGER, 2.0 * beside, length - 2.0 * LAND_BEYOND_HOLE)
    if between >= PENCIL:
        return between, False
    room = length - 2.0 * (LEAST_REST + HOLE_TO_REST)
    spanning = min(LARGEST_PENCIL, max(SMALLEST_PENCIL, length / 2.0))
    return (spanning, True) if spanning <= room else (0.0, False)


def _places(segments: int, at_centreline: str) -> tuple[int, ...]:
    """Wedges to push at: nearest to half past one and half past four, and their mirror images.

    Wedges are numbered clockwise from the seam, so that with a joint at 12 o'clock the first
    is half a wedge past it, and with a wedge there the first is at it.

    >>> _places(36, "joint"), _places(6, "wedge"), _places(3, "joint")
    ((5, 14, 23, 32), (2, 3, 5, 6), (1, 3))
    """
    pitch = 360.0 / segments
    first = pitch / 2.0 if at_centreline == "joint" else 0.0
    clock = {number: first + pitch * (number - 1) for number in range(1, segments + 1)}
    right = [number for number, angle in clock.items() if 1e-9 < angle < 180.0 - 1e-9]
    chosen = {min(right, key=lambda one: abs(clock[one] - angle)) for angle in (45.0, 135.0)}
    mirror = {
        segments + 1 - one if at_centreline == "joint" else segments + 2 - one for one in chosen
    }
    return tuple(sorted(chosen | mirror))
