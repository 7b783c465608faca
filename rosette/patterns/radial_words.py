"""What a radial ring says: the steps of its making in order, and its warnings."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.errors import Finding, finding
from rosette.geometry import closing
from rosette.patterns.base import RingSite, Seam, Wedges
from rosette.units import format_angle, rounded
from rosette.words import Length, Saying, say

THINNEST_INNER_EDGE = 0.8
"""A wedge narrower than this (mm) at its inner edge crumbles in the hand (common practice)."""
NARROWEST_RING = 2.0
"""A ring of wedges narrower than this (mm) is short grain all round (common practice)."""


def radial_steps(
    wedges: Wedges, site: RingSite, *, tile_thickness: float, backing: float
) -> tuple[Saying, ...]:
    """The making of a radial ring, one sentence a step, in the order of work.

    `tile_thickness` and `backing` in mm; no backing is 0.
    """
    return (
        *_steps(wedges, tile_thickness),
        *last_steps(
            site,
            segments=wedges.segments,
            whole=wedges.segments % 2 == 1,
            joint=wedges.joint,
            backing=backing,
        ),
    )


def last_steps(
    site: RingSite, *, segments: int, whole: bool, joint: float, backing: float
) -> tuple[Saying, ...]:
    """From the wedges to the ring: laid out, glued, backed, trimmed.

    `whole`: the ring is glued up at one go, since no halves of it are alike.
    """
    return (
        *_closing_steps(segments, whole, joint),
        *backing_steps(backing),
        say(
            "Trim the ring on its pivot to {inner} inside and {outer} outside radius.",
            inner=Length(site.inner_radius),
            outer=Length(site.outer_radius),
        ),
    )


def backing_steps(backing: float) -> tuple[Saying, ...]:
    """How a ring gets the veneer under it, where it has one (mm; 0 is none)."""
    if not backing:
        return ()
    return (
        say(
            "Glue a veneer {thick} thick under the ring, clamped flat, and cut it flush with the"
            " ring's edges.",
            thick=Length(backing),
        ),
    )


def _steps(wedges: Wedges, tile_thickness: float) -> Iterator[Saying]:
    yield _strips_step(wedges, tile_thickness)
    yield say(
        "Set the saw {mitre} off square. Cut {half} wedges of scrap and stand them {against}:"
        " they must make {angle} before good wood is cut.",
        mitre=f"{rounded(wedges.mitre_angle, 2)}°",
        half=wedges.half_set,
        against="on the half-set gauge" if wedges.segments % 2 else "against a straight edge",
        angle=format_angle(wedges.half_set * wedges.included_angle),
    )
    yield from _cut_steps(wedges)
    yield _mark_step(wedges)
    if wedges.spacer_wood is not None:
        yield spacer_step(
            wedges.spacer_wood, wedges.spacer_thickness, whole=wedges.segments % 2 == 1
        )


def _strips_step(wedges: Wedges, tile_thickness: float) -> Saying:
    if wedges.leaves == 1:
        return say(
            "Thickness the stock to {thick} and cut it into strips {wide} wide, the grain running"
            " straight across each strip from edge to edge.",
            thick=Length(tile_thickness),
            wide=Length(wedges.blank.height),
        )
    return say(
        "Cut strips {wide} wide, the grain running straight across each from edge to edge. Saw"
        " each through its thickness into two leaves, plane both to {thick}, and stick the two"
        " together as they lay in the wood, the sawn faces in: these are the show faces, and"
        " both leaves are cut as one.",
        thick=Length(tile_thickness),
        wide=Length(wedges.blank.height),
    )


def _cut_steps(wedges: Wedges) -> Iterator[Saying]:
    blank = wedges.blank
    sentence = (
        "Cut {count} wedges of {wood} and {spares} to spare, head to tail, out of {length} of"
        " strip: {outer} at the wide end, {inner} at the narrow end."
    )
    if wedges.leaves == 2:
        sentence = (
            "Cut {count} pairs of wedges of {wood} and {spares} to spare, head to tail, out of"
            " {length} of doubled strip: {outer} at the wide end, {inner} at the narrow end."
        )
    for wood in wedges.woods:
        yield say(
            sentence,
            count=wood.count // wedges.leaves,
            wood=wood.wood,
            spares=wood.spares // wedges.leaves,
            length=Length(wood.strip_with_spares, 1),
            outer=Length(blank.outer_width),
            inner=Length(blank.inner_width),
        )


def _mark_step(wedges: Wedges) -> Saying:
    if wedges.leaves == 2:
        return say(
            "Number each pair as it leaves the saw, both leaves, with an arrow to the wide end."
            " Part the leaves and open them like a book, the hinge at the joint between them: the"
            " sawn faces are up, and their figure mirrors."
        )
    return say(
        "Mark the show face all along each strip before you cut it. Number each wedge on that face"
        " as it leaves the saw, with an arrow to its wide end; every second one lay the other way"
        " round in the strip and is turned end for end."
    )


def spacer_step(wood: str, thickness: float, *, whole: bool) -> Saying:
    """How the veneers get into the joints (`thickness` mm)."""
    return say(
        "Glue a veneer of {wood}, {thick} thick, to the same side of every wedge but the last"
        " of {whole}: there the wood is sanded first, and the veneer goes in with the joint.",
        wood=wood,
        thick=Length(thickness),
        whole="the ring" if whole else "each half",
    )


def _closing_steps(segments: int, whole: bool, joint: float) -> Iterator[Saying]:
    if not whole:
        yield say(
            "Lay all {count} dry, in the tray or on the full-size sheet, then glue up two halves"
            " of {half}: a hair fat rather than short of 180°. Sand the ends of each half true to"
            " a straight line {where} the centre.",
            count=segments,
            half=segments // 2,
            where="half a joint short of" if joint else "through",
        )
        yield say("Glue the two halves together, one joint at 12 o'clock or beside it: the seam.")
    else:
        yield say(
            "Lay all {count} dry, in the tray or on the full-size sheet, then glue up all but the"
            " last. Sand the last wedge to the opening that is left, and glue it in: its joint is"
            " the seam.",
            count=segments,
        )


def radial_warnings(
    wedges: Wedges, site: RingSite, broken: tuple[Finding, ...]
) -> tuple[Finding, ...]:
    """What to think over before this ring is cut; `broken` tells of its order of woods."""
    odd = tuple(odd_warnings(wedges.segments, site))
    seen = seam_warnings(wedges.seam, site)
    delicate = delicate_warnings(
        site, inner_chord=wedges.finished.inner_chord, halves=wedges.segments % 2 == 0
    )
    return (*broken, *odd, *seen, *delicate)


def odd_warnings(segments: int, site: RingSite) -> Iterator[Finding]:
    """An odd ring has no halves."""
    if segments % 2:
        yield finding(
            "odd-count",
            f"{site.where}.segments",
            "{segments} wedges make no two equal halves: the last wedge has to be fitted to its"
            " opening; {fewer} or {more} close from two halves",
            segments=segments,
            fewer=segments - 1 if segments > 3 else 4,
            more=segments + 1,
        )


def seam_warnings(seam: Seam, site: RingSite) -> Iterator[Finding]:
    """Whether the joint where the ring closes shows beside the fingerboard."""
    if site.hidden is not None and not seam.hidden:
        yield finding(
            "seam-seen",
            site.where,
            "the fingerboard does not hide all of the seam, {angle}° from 12 o'clock:"
            " make that joint your best one",
            angle=rounded(seam.angle, 1),
        )


def delicate_warnings(site: RingSite, *, inner_chord: float, halves: bool) -> Iterator[Finding]:
    """What breaks: narrow inner edges (mm), narrow rings; and halves with little to trim."""
    where = site.where
    if inner_chord < THINNEST_INNER_EDGE:
        yield finding(
            "narrow-inner-edge",
            f"{where}.segments",
            "the wedges come to {width} at the inner edge; under {least} they crumble:"
            " fewer wedges or a larger inner radius",
            width=Length(inner_chord),
            least=Length(THINNEST_INNER_EDGE),
        )
    if site.outer_radius - site.inner_radius < NARROWEST_RING:
        yield finding(
            "narrow-ring",
            f"{where}.width",
            "the ring is {width} wide, with the grain across it: under {least} it breaks at a"
            " touch; glue it to a backing veneer before trimming",
            width=Length(site.outer_radius - site.inner_radius),
            least=Length(NARROWEST_RING),
        )
    trim = min(site.inner_allowance, site.outer_allowance)
    squash = closing.squash(site.outer_radius + site.outer_allowance, 0.5)
    if halves and trim < squash:
        yield finding(
            "little-trim",
            "cutting",
            "a half ring of ring {index} that comes out half a degree short pulls the ring {squash}"
            " out of round, more than the {trim} left for trimming; leave at least that much",
            index=site.index,
            squash=Length(squash),
            trim=Length(trim),
        )
