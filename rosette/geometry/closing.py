"""How small angle errors add up round a ring, and what truing half rings costs."""

from __future__ import annotations

import math


def ring_error(face_error: float, segments: int) -> float:
    """Degrees that the ring is off in all where every cut face is off by `face_error` degrees.

    Each wedge has two faces, so 2·n·e.

    >>> round(ring_error(0.1, 24), 9)
    4.8
    """
    return 2.0 * segments * face_error


def gap_at(radius: float, angle: float) -> float:
    """The opening in mm at `radius` that an error of `angle` degrees leaves, along the arc.

    >>> round(gap_at(70, 4.8), 1)
    5.9
    """
    return radius * math.radians(angle)


def face_error_for(gap: float, radius: float, segments: int) -> float:
    """The error in degrees that each face may have for the ring to close within `gap` mm.

    >>> round(face_error_for(0.1, 70, 24), 4)
    0.0017
    """
    return math.degrees(gap / radius) / (2.0 * segments)


def sanded_off(outer_radius: float, excess: float) -> float:
    """What comes off each half at its outer end (mm) when a half is `excess` degrees fat.

    Ro·sin(δ/2): the half is sanded to its diameter and stays concentric.

    >>> round(sanded_off(72, 0.5), 3), round(sanded_off(72, 1), 3)
    (0.314, 0.628)
    """
    return outer_radius * math.sin(math.radians(excess) / 2.0)


def squash(outer_radius: float, shortfall: float) -> float:
    """How far out of round (mm) truing pulls a ring whose halves are `shortfall` degrees short.

    2·Ro·sin(δ/2); it has to come out of the trim allowance.
    """
    return 2.0 * sanded_off(outer_radius, shortfall)


def tolerated_shortfall(outer_radius: float, allowance: float) -> float:
    """The degrees a half may be short before the ring is out of round by more than `allowance` mm.

    >>> round(squash(72, tolerated_shortfall(72, 1.5)), 9)
    1.5
    """
    return math.degrees(2.0 * math.asin(min(1.0, allowance / (2.0 * outer_radius))))
