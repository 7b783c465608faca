"""Where everything on a sawing carrier stands (mm): the strip's frame, extents and screws.

The strip's own coordinates: u along the fence from the cut, v away from it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.geometry.outline import Point

FACING, BODY = 13.0, 22.0
"""Depth of the fence's facing and of the fence behind it."""
FENCE = FACING + BODY
HANDS = 75.0
"""Hands stay so far from the cut."""
RAIL = 36.0
"""Length of the rail that the left hand holds."""
GUARD = 34.0
"""The guard reaches so far to either side of the cut."""
BEHIND = 50.0
"""How far the guard reaches behind the fence: the blade comes out there."""
CLEAR = 20.0
"""No metal is nearer to the cut."""
SCREW = 28.0
"""How far from the cut the nearest screws stand."""
EDGE = 12.0
TIE = 24.0
"""Depth of the tie across the far end."""
NEAR, FAR = 70.0, 150.0
"""From the blade to the middle of the mitre slot, least and greatest."""
STAND_OFF = 15.0
"""The stop stands so far off the wedge once the set block is drawn."""
STOP = 32.0
"""Length of the stop."""
STOP_PLAY = 6.0
"""How far the stop is shifted either way to set it."""
NUT_END = 2.5
"""A track's round ends go so far beyond the nut's last place, to let its corners in."""
TRACK_END = 6.0
"""How far the stop's track reaches towards the cut beyond the stop's face."""
TO_CUT = 6.0
"""From the kerf to the holder."""
HEEL = 25.0
"""How far the holder reaches beyond the strip."""
GRIP_FROM, GRIP_TO, GRIP = 80.0, 104.0, 46.0
"""Where the grip for the right hand stands, left and right, and how long it is."""
OFF = 1.0
"""Holder, set block and stop stand so far off the fence's face."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The strip against the fence, and how far the carrier reaches.

    `mitre` degrees; `width` is the wedge's wide edge, `height` the strip's width. `left` and
    `right` are how far the fence reaches from the cut, `end` is where the strip's end meets the
    fence, `stand_off` how far the stop is from it, `stop_width` its width.
    """

    mitre: float
    kerf: float
    width: float
    height: float
    left: float
    right: float
    end: float
    stand_off: float
    stop_width: float
    x_left: float
    x_right: float
    y_front: float
    y_back: float
    y_tie: float
    y_guard: float

    @property
    def mitre_rad(self) -> float:
        """The mitre in radians."""
        return math.radians(self.mitre)

    def at(self, u: float, v: float) -> Point:
        """A point of the strip's coordinates in the carrier's."""
        c, s = math.cos(self.mitre_rad), math.sin(self.mitre_rad)
        return c * u - s * v, s * u + c * v

    def u_at(self, x: float, v: float) -> float:
        """Where, `v` from the fence, the line at `x` beside the cut runs."""
        return (x + v * math.sin(self.mitre_rad)) / math.cos(self.mitre_rad)

    def end_at(self, v: float) -> float:
        """Where the strip's end is, `v` from the fence: it leans back by the mitre."""
        return self.end - v * math.tan(self.mitre_rad)

    def behind(self, x: float) -> float:
        """The y of the fence's back at a place x."""
        return x * math.tan(self.mitre_rad) - FENCE / math.cos(self.mitre_rad)

    @property
    def bar_tracks(self) -> tuple[float, float]:
        """The y of the two tracks that the bar's screws slide in."""
        return self.y_front + EDGE, self.y_tie + TIE / 2.0

    def holder_screws(self) -> tuple[Point, ...]:
        """In the strip's coordinates, beyond the strip."""
        v = self.height + 8.0
        near = self.u_at(-SCREW - self.kerf / 2.0, v)
        return (near, v), (near - 45.0, v)

    def holder_end(self) -> float:
        """The u of the holder's left end."""
        return self.holder_screws()[1][0] - 12.0

    def stop_screws(self) -> tuple[Point, ...]:
        """In the strip's coordinates."""
        v = OFF + self.stop_width / 2.0
        face = self.end + self.stand_off
        return (face + 7.0, v), (face + 23.0, v)

    def fence_screws(self) -> tuple[Point, ...]:
        """Those through the fence alone, in the strip's coordinates."""
        v = -FACING - BODY / 2.0
        return (self.u_at(-SCREW, v), v), *((u, v) for u in self._right())

    def rail_screws(self) -> tuple[Point, ...]:
        """Those through the rail and the fence, in the strip's coordinates."""
        v = -FACING - BODY / 2.0
        return (9.0 - self.left, v), (27.0 - self.left, v)

    def facing_screws(self) -> tuple[Point, ...]:
        """In the strip's coordinates."""
        v = -FACING / 2.0
        return (10.0 - self.left, v), (self.u_at(-SCREW, v), v), *((u, v) for u in self._right())

    def _right(self) -> tuple[float, float]:
        return SCREW / math.cos(self.mitre_rad), self.right - 10.0

    def guard_screws(self) -> tuple[Point, ...]:
        """In the carrier's coordinates, as those that follow."""
        return (8.0 - GUARD, self.y_guard + 12.0), (GUARD - 8.0, self.y_guard + 12.0)

    def tie_screws(self) -> tuple[Point, ...]:
        """Through the tie."""
        y = self.y_tie + TIE / 2.0
        return (-52.0, y), (-SCREW - 2.0, y), (SCREW + 2.0, y), (self.x_right - 20.0, y)

    def grip_box(self) -> tuple[float, float, float, float]:
        """Left, front, right, back of the right hand's grip."""
        low = self.y_front + 6.0
        return GRIP_FROM, low, GRIP_TO, min(low + GRIP, self.behind(GRIP_FROM) - 1.0)

    def grip_screws(self) -> tuple[Point, ...]:
        """Through the grip."""
        left, low, right, high = self.grip_box()
        x = (left + right) / 2.0
        return (x, low + 9.0), (x, high - 9.0)


def frame_for(*, mitre: float, kerf: float, width: float, height: float) -> Frame:
    """How large a carrier is for a strip `height` wide and wedges `width` wide at the fence."""
    alpha = math.radians(mitre)
    c, s, t = math.cos(alpha), math.sin(alpha), math.tan(alpha)
    left = max(115.0, RAIL + (HANDS + FENCE * s) / c)
    right = max(width + kerf + 8.0, SCREW / c + 26.0)
    end = kerf / (2.0 * c) + width
    stop_width = max(18.0, min(height, 40.0))
    stand_off = max(
        STAND_OFF,
        (16.0 + 2.0 * (stop_width + OFF) * s) / c - end,
        (CLEAR + 0.5 + (stop_width / 2.0 + OFF) * s) / c + TRACK_END - end,
    )
    guard = min(-FENCE / c - BEHIND, -GUARD * t - FENCE / c - 24.0)
    stop_end = end + stand_off + STOP + STOP_PLAY
    far_holder = height + HEEL
    y_tie = 6.0 + max(
        far_holder / c,
        stop_end * s + (stop_width + OFF) * c,
        right * s,
    )
    return Frame(
        mitre=mitre,
        kerf=kerf,
        width=width,
        height=height,
        left=left,
        right=right,
        end=end,
        stand_off=stand_off,
        stop_width=stop_width,
        x_left=-max(FAR + EDGE, left * c + 4.0),
        x_right=max(GRIP_TO + 8.0, stop_end * c + 6.0, right * c + FENCE * s + 4.0),
        y_front=min(guard - 4.0, -left * s - FENCE * c - 14.0),
        y_back=y_tie + TIE + 6.0,
        y_tie=y_tie,
        y_guard=guard,
    )
