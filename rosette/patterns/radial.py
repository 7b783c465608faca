"""The radial ring: wedges side by side, the grain of each running outward from the centre."""

from __future__ import annotations

import math
from collections import Counter
from typing import ClassVar, Literal

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry import closing, wedge
from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import Outline, Vertex
from rosette.keys import Keys, RingKeys, Rule, inner, key, table
from rosette.keys.kinds import LENGTH, NAME, POSITIVE_LENGTH, names, one_of, whole
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
from rosette.patterns.count import choose_count, chosen_words
from rosette.patterns.radial_words import radial_steps, radial_warnings
from rosette.words import Length


@table
class SpacerKeys(Keys):
    """A veneer that stands in every joint (mm)."""

    wood: str = key(NAME, "the veneer's wood", example="maple")
    thickness: float = key(POSITIVE_LENGTH, "the veneer's thickness: measure it", example=0.5)


@table
class RadialKeys(RingKeys):
    """The keys of a radial ring beside those of every ring. Lengths in mm."""

    rules: ClassVar[tuple[Rule, ...]] = (Rule(("segments", "segment_width"), (1,)),)

    segments: int | None = key(
        whole(least=3, most=wedge.MOST_SEGMENTS), "how many wedges", example=36, default=None
    )
    segment_width: float | None = key(
        POSITIVE_LENGTH,
        "about how wide a wedge may be at the rim, instead of segments: the tool chooses the count",
        example=9,
        default=None,
    )
    wood: tuple[str, ...] = key(
        names(most=wedge.MOST_SEGMENTS),
        "the wood of the wedges, or several that repeat round the ring",
        example=["walnut", "maple"],
    )
    spacer: SpacerKeys | None = key(
        inner(SpacerKeys),
        "a veneer in every joint",
        example={"wood": "maple", "thickness": "0.5 mm"},
        default=None,
    )
    glue_line: float = key(
        LENGTH, "thickness of the glue in every joint", example=0.05, default=0.0
    )
    at_centreline: Literal["joint", "wedge"] = key(
        one_of("joint", "wedge"),
        'what stands at 12 o\'clock, towards the neck: "joint" or "wedge"',
        example="joint",
        default="joint",
    )
    sawn: Literal["quartersawn", "flatsawn"] = key(
        one_of("quartersawn", "flatsawn"),
        'how the wedges\' boards are sawn, "quartersawn" or "flatsawn"; it tells how far the'
        " ring will move",
        example="flatsawn",
        default="quartersawn",
    )

    @property
    def joint(self) -> float:
        """Width in mm of each joint: spacer and glue line."""
        return (self.spacer.thickness if self.spacer else 0.0) + self.glue_line


def plan_radial(keys: RadialKeys, site: RingSite) -> RingPlan:
    """Work out a radial ring.

    Raises:
        CannotMakeError: where no wedge is left, with the largest count that works.
    """
    segments = _count(keys, site)
    blank = _blank(segments, keys, site)
    pieces = _pieces(segments, keys, site)
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
        spacers=_spacers(segments, keys, site),
        steps=radial_steps(wedges, site, tile_thickness=keys.tile_thickness, backing=keys.backing),
        warnings=radial_warnings(wedges, site, len(keys.wood)),
        wedges=wedges,
        across_grain=tuple(
            (one.wood, one.count * wedges.finished.outer_arc) for one in wedges.woods
        ),
        sawn=keys.sawn,
    )


def _trimmed_radius(site: RingSite) -> float:
    """Where the blanks' inner corners stand: the inner radius less its allowance."""
    radius = site.inner_radius - site.inner_allowance
    if radius <= 0:
        raise CannotMakeError(
            [
                finding(
                    "no-inner-edge",
                    "cutting.inner_allowance",
                    "{allowance} of trim reaches past the centre of ring {index}, whose inner"
                    " radius is {radius}; use less than that radius",
                    allowance=Length(site.inner_allowance),
                    index=site.index,
                    radius=Length(site.inner_radius),
                )
            ]
        )
    return radius


def _count(keys: RadialKeys, site: RingSite) -> int:
    radius = _trimmed_radius(site)
    most = wedge.most_segments(radius, joint=keys.joint)
    segments = keys.segments
    if segments is None:
        segments = choose_count(
            keys.segment_width or 0.0,
            outer_radius=site.outer_radius,
            joint=keys.joint,
            sequence=len(keys.wood),
            most=most,
        )
    if segments is None or segments > most:
        raise CannotMakeError([_no_inner_edge(segments, most, radius, keys, site)])
    return segments


def _no_inner_edge(
    segments: int | None, most: int, radius: float, keys: RadialKeys, site: RingSite
) -> Finding:
    joint = Length(keys.joint)
    if most == 0:
        return finding(
            "no-inner-edge",
            f"{site.where}.spacer" if keys.spacer else f"{site.where}.glue_line",
            "joints of {joint} leave no wedge at all at {radius} from the centre;"
            " use thinner joints or a larger inner radius",
            joint=joint,
            radius=Length(radius),
        )
    if segments is None:
        return finding(
            "no-inner-edge",
            f"{site.where}.wood",
            "a sequence of {sequence} woods with joints of {joint} needs more wedges than fit;"
            " at most {most} fit this ring",
            sequence=len(keys.wood),
            joint=joint,
            most=most,
        )
    return finding(
        "no-inner-edge",
        f"{site.where}.segments",
        "{segments} wedges with joints of {joint} leave no inner edge ({width});"
        " at most {most} fit this ring",
        segments=segments,
        joint=joint,
        width=Length(wedge.width_at(radius, segments=segments, joint=keys.joint), 3),
        most=most,
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


def seam_angle(segments: int, at_centreline: str) -> float:
    """Direction in degrees of the joint where the ring closes.

    12 o'clock where a joint stands there; else the joint just before the wedge at 12 o'clock,
    so that this wedge is number 1.
    """
    return 90.0 if at_centreline == "joint" else 90.0 + 180.0 / segments


def _pieces(segments: int, keys: RadialKeys, site: RingSite) -> tuple[Piece, ...]:
    inner_half = wedge.half_angle_rad(site.inner_radius, segments=segments, joint=keys.joint)
    outer_half = wedge.half_angle_rad(site.outer_radius, segments=segments, joint=keys.joint)
    seam, mitre = seam_angle(segments, keys.at_centreline), wedge.mitre_angle(segments)
    digits = max(2, len(str(segments)))
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
                wood=keys.wood[(position - 1) % len(keys.wood)],
                kind="wedge",
                outline=outline,
                axis=axis,
                visibility=_visibility(outline, axis, mitre, site),
            )
        )
    return tuple(pieces)


def _visibility(outline: Outline, axis: float, mitre: float, site: RingSite) -> Visibility:
    if site.hidden is None:
        return Visibility.SEEN
    reach = math.degrees(math.asin(min(1.0, site.hidden.width / 2.0 / site.inner_radius)))
    if abs((axis + 90.0) % 360.0 - 180.0) - mitre > reach:
        return Visibility.SEEN
    return site.hidden.visibility(outline)


def _spacers(segments: int, keys: RadialKeys, site: RingSite) -> tuple[Piece, ...]:
    if keys.spacer is None:
        return ()
    half = keys.spacer.thickness / 2.0
    seam = seam_angle(segments, keys.at_centreline)
    upright = _spacer_outline(site.inner_radius, site.outer_radius, half)
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
                visibility=_visibility(outline, angle, wedge.mitre_angle(segments), site),
            )
        )
    return tuple(spacers)


def _spacer_outline(inner_radius: float, outer_radius: float, half: float) -> Outline:
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


def _wedges(
    segments: int, blank: Blank, pieces: tuple[Piece, ...], keys: RadialKeys, site: RingSite
) -> Wedges:
    mitre = wedge.mitre_angle(segments)
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
        woods=_wood_counts(blank, mitre, pieces, site),
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
            sequence=len(keys.wood),
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
    blank: Blank, mitre: float, pieces: tuple[Piece, ...], site: RingSite
) -> tuple[WoodCount, ...]:
    counts = Counter(piece.wood for piece in pieces)
    shown = Counter(p.wood for p in pieces if p.visibility is not Visibility.HIDDEN)
    return tuple(
        WoodCount(
            wood=wood,
            count=count,
            visible=shown[wood],
            spares=spares_for(count),
            strip_length=_strip(count, blank, mitre, site),
            strip_with_spares=_strip(count + spares_for(count), blank, mitre, site),
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
)
