"""Whether a band is bent round the ring or set as straight pieces, and how many of those."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry import wedge
from rosette.patterns.base import RingSite
from rosette.patterns.laminate_keys import LaminateKeys
from rosette.patterns.laminate_ring import SEAM, Facets
from rosette.units import rounded
from rosette.words import Length

FEWEST, MOST = 8, 180
"""Straight pieces round a ring, where the tool chooses."""
MOST_PIECES = 4000
"""More pieces than this are no band that anybody glues up."""
NEAR = 0.75
"""The share of the bending limit from which on care is told."""


def strain_percent(width: float, middle_radius: float) -> float:
    """How far the outer edge of a strip `width` mm wide is stretched, bent to a middle radius.

    The middle keeps its length, so b/2R, in percent (derived).

    >>> round(strain_percent(2.0, 50.0), 9)
    2.0
    """
    return 100.0 * width / (2.0 * middle_radius)


def is_bent(keys: LaminateKeys, bands: Sequence[tuple[float, float]], site: RingSite) -> bool:
    """Whether the strips are bent; `bands` are the (inner, outer) radii of each.

    Raises:
        CannotMakeError: where they are to be bent and would break.
    """
    strain = max(strain_percent(b - a, (a + b) / 2.0) for a, b in bands)
    if keys.form == "auto":
        return keys.segments is None and strain <= keys.bend_limit
    if keys.form == "straight":
        return False
    if keys.segments is not None:
        raise CannotMakeError(
            [
                finding(
                    "clash",
                    f"{site.where}.segments",
                    "a bent band has no straight pieces to count; leave segments out, or use form ="
                    ' "straight"',
                )
            ]
        )
    if strain > keys.bend_limit:
        raise CannotMakeError([_would_break(strain, keys, bands, site)])
    return True


def _would_break(
    strain: float, keys: LaminateKeys, bands: Sequence[tuple[float, float]], site: RingSite
) -> Finding:
    inner = min(a for a, _ in bands)
    share = keys.bend_limit / 100.0
    # b/2R with R = inner + b/2 is the limit at this width
    widest = 2.0 * inner * share / (1.0 - share)
    return finding(
        "would-break",
        f"{site.where}.form",
        "bent to this radius a strip {width} wide is stretched by {strain} % at its edge, more than"
        ' the {limit} % allowed; use form = "straight", or strips no wider than {widest}',
        width=Length(max(b - a for a, b in bands)),
        strain=rounded(strain, 2),
        limit=rounded(keys.bend_limit, 2),
        widest=Length(math.floor(widest * 100.0) / 100.0),
    )


def facets_of(
    keys: LaminateKeys,
    site: RingSite,
    *,
    largest_sagitta: float,
    largest_mitre: float,
    repeat: float,
) -> Facets:
    """The straight pieces: as many as asked for, else an even number that does.

    A piece's outer arc may rise `largest_sagitta` mm over its chord, so that no row of the band
    is trimmed away, and its mitre be `largest_mitre` degrees. Where the tool chooses, the arc
    rises half that much at the most, so that the band does not look like a polygon, and of the
    counts from there on that are up to half as large again, that one is taken whose pieces hold
    most nearly a whole number of `repeat` mm.

    Raises:
        CannotMakeError: where the count asked for is too small, with the least that does.
    """

    def made(count: int) -> Facets:
        return Facets(
            count=count,
            inner_radius=site.inner_radius,
            outer_radius=site.outer_radius,
            joint=keys.glue_line,
        )

    def does(count: int, share: float = 1.0) -> bool:
        one = made(count)
        return one.sagitta <= largest_sagitta * share and one.mitre <= largest_mitre + 1e-9

    counts = range(FEWEST, MOST + 1, 2)
    least = next((count for count in counts if does(count)), None)
    if least is None or (keys.segments is not None and not does(keys.segments)):
        raise CannotMakeError([_too_few(keys, site, least)])
    count = keys.segments or _best(
        [made(count) for count in counts if does(count, 0.5)] or [made(least)], repeat
    )
    if keys.glue_line >= 2.0 * site.inner_radius * math.sin(math.pi / count) * 0.5:
        raise CannotMakeError([_thick_glue(keys, site)])
    return made(count)


def _best(ones: Sequence[Facets], repeat: float) -> int:
    """The count whose pieces hold most nearly whole repeats, none half as many again as the first.

    Misfits are told apart by whole percents, so that more pieces must be worth their joints.
    """

    def misfit(one: Facets) -> float:
        times = one.length / repeat
        return round(abs(times / max(1, round(times)) - 1.0), 2)

    near = [one for one in ones if one.count <= 1.5 * ones[0].count]
    return min(near, key=misfit).count


def _too_few(keys: LaminateKeys, site: RingSite, least: int | None) -> Finding:
    return finding(
        "too-few-segments",
        f"{site.where}.segments",
        "{given} would be trimmed through its rows, or across its plies, before it is round; {use}",
        given="a ring of straight pieces"
        if keys.segments is None
        else f"a ring of {keys.segments} straight pieces",
        use="make the ring wider" if least is None else f"use {least} or more",
    )


def _thick_glue(keys: LaminateKeys, site: RingSite) -> Finding:
    return finding(
        "no-inner-edge",
        f"{site.where}.glue_line",
        "joints of {glue} leave hardly any wood between them; use a thinner glue line",
        glue=Length(keys.glue_line),
    )


def refuse_too_many(count: int, site: RingSite, key: str) -> None:
    """Stop before a ring of countless crumbs is worked out.

    Raises:
        CannotMakeError: where there are more than `MOST_PIECES`.
    """
    if count > MOST_PIECES:
        raise CannotMakeError(
            [
                finding(
                    "too-many-pieces",
                    f"{site.where}.{key}",
                    "the band would have {count} pieces; at most {most} can be worked out: make"
                    " them larger",
                    count=count,
                    most=MOST_PIECES,
                )
            ]
        )


def form_warnings(
    keys: LaminateKeys,
    bands: Sequence[tuple[float, float]],
    site: RingSite,
    *,
    bent: bool,
    reach: float = 0.0,
) -> list[Finding]:
    """What to think over about bending, and about the seam.

    `reach` is how far the seam's ends stand to either side of 12 o'clock, in mm.
    """
    found = []
    strain = max(strain_percent(b - a, (a + b) / 2.0) for a, b in bands)
    if bent and strain > NEAR * keys.bend_limit:
        found.append(
            finding(
                "tight-bend",
                f"{site.where}.form",
                "bending stretches the strip's outer edge by {strain} %, near the {limit} % it is"
                " taken to stand: bend a spare first, hot and backed by a metal strap",
                strain=rounded(strain, 2),
                limit=rounded(keys.bend_limit, 2),
            )
        )
    if site.hidden is not None and not _seam_hidden(site, reach):
        found.append(
            finding(
                "seam-seen",
                site.where,
                "the fingerboard does not hide all of the seam, {angle}° from 12 o'clock:"
                " make that joint your best one",
                angle=rounded(abs(SEAM - 90.0), 1),
            )
        )
    return found


def _seam_hidden(site: RingSite, reach: float) -> bool:
    strip = site.hidden
    if strip is None or reach > strip.width / 2.0:
        return False
    return math.sqrt(max(0.0, site.inner_radius**2 - reach**2)) >= strip.reach - 1e-9


def refuse_no_inner(site: RingSite) -> None:
    """Stop where the trimming reaches the centre.

    Raises:
        CannotMakeError: where nothing is left of the inner radius.
    """
    if site.inner_allowance >= site.inner_radius:
        raise CannotMakeError(
            [
                finding(
                    "no-inner-edge",
                    "cutting.inner_allowance",
                    "the trim reaches past the centre of ring {index}; use less than its inner"
                    " radius",
                    index=site.index,
                )
            ]
        )


def untrimmed_width(facets: Facets, site: RingSite) -> float:
    """From edge to edge of a straight piece before the ring is trimmed (mm)."""
    inner = wedge.inner_distance(
        site.inner_radius - site.inner_allowance, segments=facets.count, joint=facets.joint
    )
    return site.outer_radius + site.outer_allowance - inner
