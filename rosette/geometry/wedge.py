"""The wedge of a ring, exactly: its angles, its blank, its finished shape, its strip.

n wedges round the ring, α = 180°/n the mitre; joints of width d (spacer and glue
line) stand between them, so that a wedge's sides run parallel to the radial planes at
±α, each d/2 inside them. Derivations: docs/formulas.md.
"""

from __future__ import annotations

import math

from rosette.geometry.outline import Outline, Vertex

MOST_SEGMENTS = 720
"""More pieces than this go round no ring that a hand can glue up."""


def mitre_angle(segments: int) -> float:
    """Degrees off square that the saw is set to, 180/n (common table in segmented work).

    >>> mitre_angle(12), mitre_angle(24), round(mitre_angle(14), 2)
    (15.0, 7.5, 12.86)
    """
    return 180.0 / segments


def width_at(distance: float, *, segments: float, joint: float = 0.0) -> float:
    """Width in mm of the wedge at `distance` mm from the centre along its axis.

    w(x) = 2·(x·tan α − d/(2·cos α)); negative where the joints leave nothing.

    >>> round(width_at(72, segments=24), 5)
    18.95796
    """
    angle = math.pi / segments
    return 2.0 * (distance * math.tan(angle) - joint / (2.0 * math.cos(angle)))


def half_angle_rad(radius: float, *, segments: int, joint: float = 0.0) -> float:
    """Half the angle at the centre, in radians, that a wedge takes of the circle at `radius` mm.

    α − asin(d/2r): zero or less where the joints meet. Where they are wider than the whole
    circle (d > 2r) there is no wedge at all, told as −π/2.
    """
    if joint >= 2.0 * radius:
        return -math.pi / 2.0
    return math.pi / segments - math.asin(joint / (2.0 * radius))


def inner_distance(radius: float, *, segments: int, joint: float = 0.0) -> float:
    """Distance in mm from the centre, along the axis, of a chord whose corners stand at `radius`.

    >>> round(inner_distance(52, segments=24), 6)
    51.555133
    """
    return radius * math.cos(half_angle_rad(radius, segments=segments, joint=joint))


def most_segments(radius: float, *, joint: float = 0.0) -> int:
    """The largest count whose wedges still have an inner edge at `radius` mm.

    The edge is there while 180°/n > asin(d/2r). 0 where no count of three or more works.

    >>> most_segments(50.5, joint=0.5), most_segments(10, joint=25)
    (634, 0)
    """
    if joint >= 2.0 * radius:
        return 0
    if joint == 0:
        return MOST_SEGMENTS
    count = min(MOST_SEGMENTS, math.ceil(math.pi / math.asin(joint / (2.0 * radius))) - 1)
    while count >= 3 and half_angle_rad(radius, segments=count, joint=joint) <= 1e-12:
        count -= 1
    return count if count >= 3 else 0


def finished_area(
    inner_radius: float, outer_radius: float, *, segments: int, joint: float = 0.0
) -> float:
    """Area in mm² of a finished wedge: the annulus between its two sides, arcs as arcs.

    The sides meet on the axis at a = d/(2·sin α), so the part of a disc of radius R
    between them is R²θ − a·R·sin θ, with θ = α − asin(d/2R).

    >>> round(finished_area(50, 60, segments=36) * 36, 9) == round(math.pi * 1100, 9)
    True
    """
    apex = joint / (2.0 * math.sin(math.pi / segments))

    def within(radius: float) -> float:
        half = half_angle_rad(radius, segments=segments, joint=joint)
        return radius**2 * half - apex * radius * math.sin(half)

    return within(outer_radius) - within(inner_radius)


def strip_length(
    count: int, *, inner_width: float, outer_width: float, kerf: float, mitre: float
) -> float:
    """Length in mm of a parallel strip that gives `count` wedges cut head to tail.

    N·(wᵢ+wₒ)/2 + (N−1)·k/cos α + (wₒ−wᵢ)/2: every wedge takes its mean width, every cut its
    kerf along the strip, and the slanted ends half the taper.

    >>> round(strip_length(24, inner_width=13.57472, outer_width=18.95796, kerf=0.4, mitre=7.5), 4)
    402.3632
    """
    if count == 0:
        return 0.0
    cuts = (count - 1) * kerf / math.cos(math.radians(mitre))
    return count * (inner_width + outer_width) / 2.0 + cuts + (outer_width - inner_width) / 2.0


def finished_outline(
    inner_radius: float, outer_radius: float, axis: float, *, inner_half: float, outer_half: float
) -> Outline:
    """A finished wedge about `axis` degrees, counter-clockwise, its arcs exact.

    `inner_half` and `outer_half` are half the angles (radians) its ends take at the two radii.
    """
    middle = math.radians(axis)

    def corner(radius: float, off: float, bulge: float = 0.0) -> Vertex:
        angle = middle + off
        return Vertex(radius * math.cos(angle), radius * math.sin(angle), bulge)

    return Outline(
        (
            corner(outer_radius, -outer_half, math.tan(outer_half / 2.0)),
            corner(outer_radius, outer_half),
            corner(inner_radius, inner_half, -math.tan(inner_half / 2.0)),
            corner(inner_radius, -inner_half),
        )
    )
