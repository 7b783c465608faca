"""The wedge gauge: a notch of the wedge's angle between a high shoulder and a low one."""

from __future__ import annotations

import math

from jigs.base import Check
from jigs.gauges import LEAST_FOOT, WedgeGauge
from jigs.terrace import Block
from rosette.geometry.outline import Outline, Vertex

SPARE = 3.0
"""How far the notch's sides run on past the wedge's narrow end, where there is room."""
SIDE, FOOT = 12.0, 12.0
"""Width of the plate beside the notch's mouth, and below the notch."""


def plate(gauge: WedgeGauge) -> Block:
    """The plate, the notch open upwards."""
    low = foot(gauge)
    words = gauge.title.rsplit(", ", 1)[-1].upper()
    steps = gauge.marker.line(words, (0.0, low + FOOT / 2.0), room=2.0 * half_width(gauge) - 4.0)
    return Block(outline=outline(gauge), top=gauge.thick, steps=tuple(steps))


def outline(gauge: WedgeGauge) -> Outline:
    """Counter-clockwise from the low shoulder; the notch's foot is half a circle."""
    slope = math.tan(gauge.mitre_rad)
    side, low = half_width(gauge), foot(gauge)
    bottom = notch_bottom(gauge)
    high, less = gauge.far + gauge.step, gauge.far - gauge.step
    return Outline(
        (
            Vertex(side, less),
            Vertex(less * slope, less),
            Vertex(bottom * slope, bottom, -1.0),
            Vertex(-bottom * slope, bottom),
            Vertex(-high * slope, high),
            Vertex(-side, high),
            Vertex(-side, low),
            Vertex(side, low),
        )
    )


def notch_bottom(gauge: WedgeGauge) -> float:
    """Where the sides end, below the narrow end of the narrowest wedge."""
    least = max(LEAST_FOOT, gauge.process.bit) / 2.0 / math.tan(gauge.mitre_rad)
    return max(gauge.near - max(SPARE, gauge.step + 1.0), least)


def half_width(gauge: WedgeGauge) -> float:
    """Half the width of the plate."""
    return (gauge.far + gauge.step) * math.tan(gauge.mitre_rad) + SIDE


def foot(gauge: WedgeGauge) -> float:
    """The y of the plate's lower edge."""
    bottom = notch_bottom(gauge)
    return bottom - bottom * math.tan(gauge.mitre_rad) - FOOT


def checks(gauge: WedgeGauge) -> tuple[Check, ...]:
    """Across the mouth at the low shoulder; from shoulder to shoulder."""
    slope, less = math.tan(gauge.mitre_rad), gauge.far - gauge.step
    x, side = less * slope, half_width(gauge)
    return (
        Check(
            part="plate",
            what="across the notch, level with the low shoulder",
            size=2.0 * x,
            ends=((-x, less), (x, less)),
            minus=0.05,
            plus=0.05,
        ),
        Check(
            part="plate",
            what="from the lower edge to the low shoulder",
            size=less - foot(gauge),
            ends=((side - 2.0, foot(gauge)), (side - 2.0, less)),
        ),
        Check(
            part="plate",
            what="from the lower edge to the high shoulder",
            size=gauge.far + gauge.step - foot(gauge),
            ends=((2.0 - side, foot(gauge)), (2.0 - side, gauge.far + gauge.step)),
        ),
    )
