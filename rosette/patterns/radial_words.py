"""What a radial ring says: the steps of its making in order, and its warnings."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.errors import Finding, finding
from rosette.patterns.base import RingSite, Wedges
from rosette.patterns.count import counts_beside
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
        *_closing_steps(wedges),
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
    blank = wedges.blank
    yield say(
        "Thickness the stock to {thick} and cut it into strips {wide} wide, the grain running"
        " straight across each strip from edge to edge.",
        thick=Length(tile_thickness),
        wide=Length(blank.height),
    )
    yield say(
        "Set the saw {mitre} off square. Cut {half} wedges of scrap and stand them {against}:"
        " they must make {angle} before good wood is cut.",
        mitre=f"{rounded(wedges.mitre_angle, 2)}°",
        half=wedges.half_set,
        against="on the half-set gauge" if wedges.segments % 2 else "against a straight edge",
        angle=format_angle(wedges.half_set * wedges.included_angle),
    )
    for wood in wedges.woods:
        yield say(
            "Cut {count} wedges of {wood} and {spares} to spare, head to tail, out of {length} of"
            " strip: {outer} at the wide end, {inner} at the narrow end.",
            count=wood.count,
            wood=wood.wood,
            spares=wood.spares,
            length=Length(wood.strip_with_spares, 1),
            outer=Length(blank.outer_width),
            inner=Length(blank.inner_width),
        )
    yield say(
        "Mark the show face all along each strip before you cut it. Number each wedge on that face"
        " as it leaves the saw, with an arrow to its wide end; every second one lay the other way"
        " round in the strip and is turned end for end."
    )
    if wedges.spacer_wood is not None:
        yield say(
            "Glue a veneer of {wood}, {thick} thick, to the same side of every wedge but the last"
            " of {whole}: there the wood is sanded first, and the veneer goes in with the joint.",
            wood=wedges.spacer_wood,
            thick=Length(wedges.spacer_thickness),
            whole="the ring" if wedges.segments % 2 else "each half",
        )


def _closing_steps(wedges: Wedges) -> Iterator[Saying]:
    if wedges.segments % 2 == 0:
        yield say(
            "Lay all {count} dry, in the tray or on the full-size sheet, then glue up two halves"
            " of {half}: a hair fat rather than short of 180°. Sand the ends of each half true to"
            " a straight line {where} the centre.",
            count=wedges.segments,
            half=wedges.half_set,
            where="half a joint short of" if wedges.joint else "through",
        )
        yield say("Glue the two halves together, one joint at 12 o'clock or beside it: the seam.")
    else:
        yield say(
            "Lay all {count} dry, in the tray or on the full-size sheet, then glue up all but the"
            " last. Sand the last wedge to the opening that is left, and glue it in: its joint is"
            " the seam.",
            count=wedges.segments,
        )


def radial_warnings(wedges: Wedges, site: RingSite, sequence: int) -> tuple[Finding, ...]:
    """What to think over before this ring is cut."""
    return tuple(_warnings(wedges, site, sequence))


def _warnings(wedges: Wedges, site: RingSite, sequence: int) -> Iterator[Finding]:
    where, segments = site.where, wedges.segments
    if segments % sequence:
        yield finding(
            "broken-sequence",
            f"{where}.segments",
            "the sequence of {sequence} woods does not divide {segments} wedges, so it breaks off"
            " at the seam; {better} would close it",
            sequence=sequence,
            segments=segments,
            better=counts_beside(segments, sequence),
        )
    if segments % 2:
        yield finding(
            "odd-count",
            f"{where}.segments",
            "{segments} wedges make no two equal halves: the last wedge has to be fitted to its"
            " opening; {fewer} or {more} close from two halves",
            segments=segments,
            fewer=segments - 1 if segments > 3 else 4,
            more=segments + 1,
        )
    if site.hidden is not None and not wedges.seam.hidden:
        yield finding(
            "seam-seen",
            where,
            "the fingerboard does not hide all of the seam, {angle}° from 12 o'clock:"
            " make that joint your best one",
            angle=rounded(wedges.seam.angle, 1),
        )
    yield from _delicate(wedges, site)


def _delicate(wedges: Wedges, site: RingSite) -> Iterator[Finding]:
    where = site.where
    if wedges.finished.inner_chord < THINNEST_INNER_EDGE:
        yield finding(
            "narrow-inner-edge",
            f"{where}.segments",
            "the wedges come to {width} at the inner edge; under {least} they crumble:"
            " fewer wedges or a larger inner radius",
            width=Length(wedges.finished.inner_chord),
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
    closing, trim = wedges.closing, min(wedges.inner_allowance, wedges.outer_allowance)
    if wedges.segments % 2 == 0 and trim < closing.squash:
        yield finding(
            "little-trim",
            "cutting",
            "a half ring of ring {index} that comes out half a degree short pulls the ring {squash}"
            " out of round, more than the {trim} left for trimming; leave at least that much",
            index=site.index,
            squash=Length(closing.squash),
            trim=Length(trim),
        )
