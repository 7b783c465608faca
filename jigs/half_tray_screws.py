"""Where the half tray's cap is screwed down, and how large that makes its bed."""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.hardware import CLEARANCE_HOLES, NUTS
from jigs.process import Process
from rosette.geometry.outline import Point

SCREW = 4
"""Thread of the screws that hold the cap."""
ALONG = 2.4
"""From the middle of a head's slot to the middles of its round ends."""
LEDGE = 1.0
"""The bed reaches so far past its wall."""
HOLE = CLEARANCE_HOLES[SCREW][1]
FROM_12 = 30.0
"""Degrees off 12 o'clock of the screws at the back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The bed's half width and back edge, the screws, and the `span` from one to the next (mm)."""

    half_width: float
    back: float
    screws: tuple[Point, ...]
    span: float


def slot_radius(process: Process) -> float:
    """Half the width of the slot that keeps a screw's head from turning."""
    return NUTS[SCREW][0] / 2.0 + process.slide


def frame_for(reach: float, post: float, process: Process, *, rail: float, front: float) -> Frame:
    """Screws beside the wall's ends, behind it, and in the post where that is large enough.

    `reach` is how far the wall's inside reaches from the centre, `front` the y where it ends.
    """
    leg = HOLE + 2.0 * process.wall
    middle = reach + leg / 2.0
    slot = slot_radius(process)
    beside = (middle, rail + slot + ALONG + process.wall)
    turn = math.radians(FROM_12)
    behind = (middle * math.sin(turn), middle * math.cos(turn))
    pair = 2.0 * behind[0] > 2.0 * (slot + ALONG) + process.wall
    pair = pair and math.dist(beside, behind) > 2.0 * (slot + ALONG) + process.wall
    at_back = (behind, (-behind[0], behind[1])) if pair else ((0.0, middle),)
    back = max(reach + process.wall, at_back[0][1] + slot + process.wall)
    return Frame(
        half_width=reach + leg + LEDGE,
        back=back + LEDGE,
        screws=(beside, (-beside[0], beside[1]), *at_back, *_in_post(post, process, front, slot)),
        span=math.dist(beside, at_back[0]),
    )


def _in_post(post: float, process: Process, front: float, slot: float) -> tuple[Point, ...]:
    """Two screws in a large post, one in a small one, none in one that would split."""
    y, around = front + slot + process.wall, HOLE / 2.0 + process.wall
    x = 0.6 * post
    if x >= slot + ALONG + process.wall / 2.0 and math.hypot(x, y) + around <= post:
        return (x, y), (-x, y)
    return ((0.0, y),) if y + around <= post else ()
