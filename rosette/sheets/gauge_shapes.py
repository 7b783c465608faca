"""The outlines of gauges to cut out of card or ply: exact shapes, no words (mm)."""

from __future__ import annotations

import math

from rosette.geometry.outline import Outline, Point, Vertex, polygon
from rosette.patterns.base import Wedges

BOSS_CLEARANCE = 0.5
"""How much smaller than the blanks' inner edges the half-set gauge's boss is, so that only
its straight edges bear."""
LONGEST_ARM = 88.0
"""How far from the ring's centre the half-set gauge's straight edges need to reach."""
ARM = 14.0
"""Depth of the half-set gauge below its straight edges."""
TEMPLATE = 17.0
"""Depth of a radius template between its two arcs."""
LEAST_SLACK = 0.1
"""The no-go end of a channel gauge is at least this much wider than the channel."""


def half_set(wedges: Wedges) -> Outline:
    """Straight edges with a boss between them, the ring's centre at 0, 0.

    Half the wedges, spacers between them, stand round the boss; their two end faces must lie
    on the straight edges. Half of an even count makes 180°, so that the edges are one line;
    the smaller half of an odd count makes less. The end faces stand half a joint inside the
    radial planes, and so do the edges. Where the blanks are wide the edges stop short of their
    outer corners, so that the gauge stands on a page.
    """
    low = math.radians(90.0 - wedges.half_set * wedges.mitre_angle)
    blank, off = wedges.blank, wedges.joint / 2.0
    corner = math.hypot(blank.outer_distance, blank.outer_width / 2.0)
    reach = min(corner + 4.0, max(blank.outer_distance + 4.0, LONGEST_ARM))
    boss = blank.inner_distance - BOSS_CLEARANCE
    along = math.sqrt(boss**2 - off**2)

    def right(far: float, above: float) -> Point:
        c, s = math.cos(low), math.sin(low)
        return far * c - above * s, far * s + above * c

    foot = right(along, off)
    sweep = math.pi - 2.0 * math.atan2(foot[1], foot[0])
    end, under = right(reach, off), right(reach, off - ARM)
    middle = (0.0, (off - ARM) / math.cos(low))
    return Outline(
        (
            Vertex(*end),
            Vertex(*foot, math.tan(sweep / 4.0)),
            Vertex(-foot[0], foot[1]),
            Vertex(-end[0], end[1]),
            Vertex(-under[0], under[1]),
            Vertex(*middle),
            Vertex(*under),
        )
    )


def wedge_notch(wedges: Wedges, *, widest: float = 150.0) -> Outline:
    """A plate with a notch of the blank's own shape, open at its wide end, axis along +y.

    The blank slid in, narrow end first, must touch along both sides; its wide edge then lies
    flush with the plate's. The notch runs on past the narrow end, so that only the sides
    bear. A blank wider than `widest` is gauged by its narrower part.
    """
    blank, slope = wedges.blank, math.tan(math.radians(wedges.mitre_angle))
    spare = min(3.0, 0.9 * blank.inner_width / (2.0 * slope))
    bottom = blank.inner_distance - spare
    top = min(
        blank.outer_distance,
        blank.inner_distance + max(0.0, (widest - blank.inner_width) / (2.0 * slope)),
    )
    mouth = blank.inner_width / 2.0 + (top - blank.inner_distance) * slope
    narrow = blank.inner_width / 2.0 - spare * slope
    side, foot = max(mouth + 10.0, 24.0), bottom - 13.0
    return polygon(
        [
            (-side, top),
            (-side, foot),
            (side, foot),
            (side, top),
            (mouth, top),
            (narrow, bottom),
            (-narrow, bottom),
            (-mouth, top),
        ]
    )


def mitre_plate(mitre: float) -> Outline:
    """A plate whose lower edge lies at the fence and whose right edge lies along the blade.

    Its left edge is square to the lower one, its right edge `mitre` degrees off square.
    """
    tall = 56.0 if mitre <= 36.0 else 36.0
    shift = tall * math.tan(math.radians(mitre))
    wide = max(36.0, shift + 24.0)
    return polygon([(0.0, 0.0), (wide, 0.0), (wide - shift, tall), (0.0, tall)])


def radius_template(size: float) -> Outline:
    """A strip whose upper edge is convex and whose lower edge is concave, both of one radius.

    The convex edge's centre is 0, 0; the concave one's stands `TEMPLATE` lower. Up to 86 mm
    long, and never more than seven tenths of the diameter.
    """
    half = min(0.7 * size, 43.0)
    angle = math.asin(half / size)
    high, low = size * math.cos(angle), size * math.cos(angle) - TEMPLATE
    bulge = math.tan(angle / 2.0)
    return Outline(
        (
            Vertex(half, high, bulge),
            Vertex(-half, high),
            Vertex(-half, low, -bulge),
            Vertex(half, low),
        )
    )


def channel_tongues(*, go: float, no_go: float, depth: float) -> Outline:
    """A plate with a tongue at each end: left goes into the channel, right does not.

    The left tongue is as long as the channel is deep, so that the shoulders beside it touch
    the top when the depth is right.
    """
    length, body = 44.0, max(go, no_go) / 2.0 + 7.0
    a, b, far = go / 2.0, no_go / 2.0, 6.0
    return polygon(
        [
            (0.0, -body),
            (length, -body),
            (length, -b),
            (length + far, -b),
            (length + far, b),
            (length, b),
            (length, body),
            (0.0, body),
            (0.0, a),
            (-depth, a),
            (-depth, -a),
            (0.0, -a),
        ]
    )


def channel_limits(*, width: float, gap: float) -> tuple[float, float]:
    """What must go into a channel of `width`, and what must not: the ring, and twice the gap.

    >>> go, no_go = channel_limits(width=18.1, gap=0.05)
    >>> round(go, 9), round(no_go, 9)
    (18.0, 18.2)
    """
    return width - 2.0 * gap, width + max(2.0 * gap, LEAST_SLACK)
