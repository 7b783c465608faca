"""Where each wedge and veneer of a radial ring stands, and how much of it is seen."""

from __future__ import annotations

import math

from rosette.geometry import wedge
from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import Outline, Vertex
from rosette.patterns.base import Piece, RingSite
from rosette.patterns.radial_keys import RadialKeys
from rosette.patterns.radial_woods import wood_order


def seam_angle(segments: int, at_centreline: str) -> float:
    """Direction in degrees of the joint where the ring closes.

    12 o'clock where a joint stands there; else the joint just before the wedge at 12 o'clock,
    so that this wedge is number 1.
    """
    return 90.0 if at_centreline == "joint" else 90.0 + 180.0 / segments


def wedge_pieces(segments: int, keys: RadialKeys, site: RingSite) -> tuple[Piece, ...]:
    """The finished wedges, clockwise from the seam."""
    inner_half = wedge.half_angle_rad(site.inner_radius, segments=segments, joint=keys.joint)
    outer_half = wedge.half_angle_rad(site.outer_radius, segments=segments, joint=keys.joint)
    seam, mitre = seam_angle(segments, keys.at_centreline), wedge.mitre_angle(segments)
    digits = max(2, len(str(segments)))
    woods = wood_order(segments, keys)
    pieces = []
    for position in range(1, segments + 1):
        axis = seam - (2 * position - 1) * mitre
        outline = wedge.finished_outline(
            site.inner_radius,
            site.outer_radius,
            axis,
            inner_half=inner_half,
            outer_half=outer_half,
        )
        pieces.append(
            Piece(
                label=f"{site.index}-{position:0{digits}d}",
                position=position,
                wood=woods[position - 1],
                kind="wedge",
                outline=outline,
                axis=axis,
                visibility=visibility_of(outline, axis, mitre, site),
            )
        )
    return tuple(pieces)


def visibility_of(outline: Outline, axis: float, mitre: float, site: RingSite) -> Visibility:
    """How much shows of a piece that reaches `mitre` degrees to both sides of `axis`."""
    if site.hidden is None:
        return Visibility.SEEN
    reach = math.degrees(math.asin(min(1.0, site.hidden.width / 2.0 / site.inner_radius)))
    if abs((axis + 90.0) % 360.0 - 180.0) - mitre > reach:
        return Visibility.SEEN
    return site.hidden.visibility(outline)


def spacer_pieces(segments: int, keys: RadialKeys, site: RingSite) -> tuple[Piece, ...]:
    """The veneers in the joints, the seam's first; none where the ring has no spacer."""
    if keys.spacer is None:
        return ()
    half = keys.spacer.thickness / 2.0
    seam = seam_angle(segments, keys.at_centreline)
    upright = spacer_outline(site.inner_radius, site.outer_radius, half)
    digits = max(2, len(str(segments)))
    spacers = []
    for position in range(1, segments + 1):
        angle = seam - 2 * (position - 1) * wedge.mitre_angle(segments)
        outline = upright.mapped(math.radians(angle))
        spacers.append(
            Piece(
                label=f"{site.index}-{position:0{digits}d}s",
                position=position,
                wood=keys.spacer.wood,
                kind="spacer",
                outline=outline,
                axis=angle,
                visibility=visibility_of(outline, angle, wedge.mitre_angle(segments), site),
            )
        )
    return tuple(spacers)


def spacer_outline(inner_radius: float, outer_radius: float, half: float) -> Outline:
    """A veneer along +x between the two radii, its ends trimmed to them."""
    inner, outer = math.asin(half / inner_radius), math.asin(half / outer_radius)
    xi, xo = inner_radius * math.cos(inner), outer_radius * math.cos(outer)
    return Outline(
        (
            Vertex(xo, -half, math.tan(outer / 2.0)),
            Vertex(xo, half),
            Vertex(xi, half, -math.tan(inner / 2.0)),
            Vertex(xi, -half),
        )
    )
