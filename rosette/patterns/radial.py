"""The radial ring: wedges side by side, the grain of each running outward from the centre."""

from __future__ import annotations

import math
from collections import Counter

from rosette.geometry import closing, wedge
from rosette.geometry.hidden import Visibility
from rosette.patterns.base import (
    Blank,
    Closing,
    FinishedWedge,
    GlueUp,
    Pattern,
    Piece,
    RingPlan,
    RingSite,
    Seam,
    Wedges,
    WoodCount,
    spares_for,
)
from rosette.patterns.count import chosen_words
from rosette.patterns.radial_count import count_of
from rosette.patterns.radial_keys import RadialKeys
from rosette.patterns.radial_pairs import pair_blanks, pair_stages, pair_stock
from rosette.patterns.radial_pieces import seam_angle, spacer_pieces, wedge_pieces
from rosette.patterns.radial_uneven import plan_uneven
from rosette.patterns.radial_woods import broken_sequence, check_form, counted_by, repeat
from rosette.patterns.radial_words import radial_steps, radial_warnings


def plan_radial(keys: RadialKeys, site: RingSite) -> RingPlan:
    """Work out a radial ring.

    Raises:
        CannotMakeError: where no wedge is left, with the largest count that works.
    """
    segments = count_of(keys, site)
    check_form(segments, keys, site)
    if keys.uneven:
        return plan_uneven(segments, keys, site)
    blank = _blank(segments, keys, site)
    pieces = wedge_pieces(segments, keys, site)
    wedges = _wedges(segments, blank, pieces, keys, site)
    woods = tuple(dict.fromkeys(keys.wood))
    return RingPlan(
        index=site.index,
        pattern="radial",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=woods,
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=pieces,
        spacers=spacer_pieces(segments, keys, site),
        steps=radial_steps(wedges, site, tile_thickness=keys.tile_thickness, backing=keys.backing),
        warnings=radial_warnings(wedges, site, tuple(broken_sequence(segments, keys, site))),
        wedges=wedges,
        across_grain=tuple(
            (one.wood, one.count * wedges.finished.outer_arc) for one in wedges.woods
        ),
        sawn=keys.sawn,
        stock=pair_stock(wedges, keys.tile_thickness),
        stages=pair_stages(wedges, pieces, keys.tile_thickness),
        blanks=pair_blanks(wedges, pieces, keys.tile_thickness),
    )


def _blank(segments: int, keys: RadialKeys, site: RingSite) -> Blank:
    return blank_for(
        segments,
        joint=keys.joint,
        inner_radius=site.inner_radius - site.inner_allowance,
        outer_radius=site.outer_radius + site.outer_allowance,
    )


def blank_for(segments: int, *, joint: float, inner_radius: float, outer_radius: float) -> Blank:
    """The blank of a ring whose radii (mm) have their allowances on already."""
    inner = wedge.inner_distance(inner_radius, segments=segments, joint=joint)
    return Blank(
        inner_width=wedge.width_at(inner, segments=segments, joint=joint),
        outer_width=wedge.width_at(outer_radius, segments=segments, joint=joint),
        height=outer_radius - inner,
        inner_distance=inner,
        outer_distance=outer_radius,
    )


def _wedges(
    segments: int, blank: Blank, pieces: tuple[Piece, ...], keys: RadialKeys, site: RingSite
) -> Wedges:
    mitre, leaves = wedge.mitre_angle(segments), 2 if keys.mirrored_pairs else 1
    seam = abs(seam_angle(segments, keys.at_centreline) - 90.0)
    hidden = site.hidden is not None and site.hidden.hides_radial_line(
        seam, site.inner_radius, site.outer_radius
    )
    return Wedges(
        segments=segments,
        visible_segments=sum(p.visibility is not Visibility.HIDDEN for p in pieces),
        included_angle=2.0 * mitre,
        mitre_angle=mitre,
        joint=keys.joint,
        spacer_wood=keys.spacer.wood if keys.spacer else None,
        spacer_thickness=keys.spacer.thickness if keys.spacer else 0.0,
        glue_line=keys.glue_line,
        at_centreline=keys.at_centreline,
        woods=_wood_counts(blank, mitre, pieces, site, leaves),
        leaves=leaves,
        blank=blank,
        finished=_finished(segments, keys, site),
        glue_up=GlueUp(
            strip_length=_strip(segments, blank, mitre, site),
            strip_width=blank.height,
            across_flats=2.0 * blank.outer_distance,
            across_corners=2.0 * math.hypot(blank.outer_distance, blank.outer_width / 2.0),
        ),
        closing=_closing(segments, site),
        seam=Seam(angle=seam, hidden=hidden),
        kerf=site.kerf,
        inner_allowance=site.inner_allowance,
        outer_allowance=site.outer_allowance,
        chosen=None
        if keys.segment_width is None
        else chosen_words(
            segments,
            keys.segment_width,
            outer_radius=site.outer_radius,
            joint=keys.joint,
            sequence=repeat(keys),
            reason=counted_by(keys),
        ),
    )


def _strip(count: int, blank: Blank, mitre: float, site: RingSite) -> float:
    return wedge.strip_length(
        count,
        inner_width=blank.inner_width,
        outer_width=blank.outer_width,
        kerf=site.kerf,
        mitre=mitre,
    )


def _wood_counts(
    blank: Blank, mitre: float, pieces: tuple[Piece, ...], site: RingSite, leaves: int
) -> tuple[WoodCount, ...]:
    counts = Counter(piece.wood for piece in pieces)
    shown = Counter(p.wood for p in pieces if p.visibility is not Visibility.HIDDEN)
    spares = {wood: math.ceil(spares_for(n) / leaves) * leaves for wood, n in counts.items()}
    return tuple(
        WoodCount(
            wood=wood,
            count=count,
            visible=shown[wood],
            spares=spares[wood],
            strip_length=_strip(count // leaves, blank, mitre, site),
            strip_with_spares=_strip((count + spares[wood]) // leaves, blank, mitre, site),
        )
        for wood, count in counts.items()
    )


def _finished(segments: int, keys: RadialKeys, site: RingSite) -> FinishedWedge:
    inner = wedge.half_angle_rad(site.inner_radius, segments=segments, joint=keys.joint)
    outer = wedge.half_angle_rad(site.outer_radius, segments=segments, joint=keys.joint)
    return FinishedWedge(
        inner_arc=2.0 * site.inner_radius * inner,
        outer_arc=2.0 * site.outer_radius * outer,
        inner_chord=2.0 * site.inner_radius * math.sin(inner),
        outer_chord=2.0 * site.outer_radius * math.sin(outer),
        area=wedge.finished_area(
            site.inner_radius, site.outer_radius, segments=segments, joint=keys.joint
        ),
    )


FACE_ERROR = 0.1
"""The saw error, in degrees a face, that reports are told for."""
WANTED_GAP = 0.1
"""The opening in mm at the rim that a ring may close with."""


def _closing(segments: int, site: RingSite) -> Closing:
    off = closing.ring_error(FACE_ERROR, segments)
    allowance = min(site.inner_allowance, site.outer_allowance)
    untrimmed = site.outer_radius + site.outer_allowance
    return Closing(
        face_error=FACE_ERROR,
        ring_error=off,
        gap=closing.gap_at(site.outer_radius, off),
        wanted_gap=WANTED_GAP,
        face_error_for_gap=closing.face_error_for(WANTED_GAP, site.outer_radius, segments),
        squash=closing.squash(untrimmed, 0.5),
        half_tolerance=closing.tolerated_shortfall(untrimmed, allowance),
    )


PATTERN = Pattern(
    name="radial",
    summary="wedges side by side, the grain running outward from the centre all round",
    keys=RadialKeys,
    plan=plan_radial,  # type: ignore[arg-type]
    example={"wood": ["walnut", "maple"], "segments": 24},
)
