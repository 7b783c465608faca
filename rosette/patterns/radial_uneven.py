"""Radial rings whose blanks are not all one trapezoid: two widths in turn, a leaning grain."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

from rosette.errors import CannotMakeError, finding
from rosette.geometry.leaning import LeaningBlank, leaning_blank
from rosette.geometry.wedge import finished_outline
from rosette.patterns.base import CutBlank, Piece, Place, RingPlan, RingSite, Seam
from rosette.patterns.radial_keys import RadialKeys
from rosette.patterns.radial_pieces import spacer_outline, visibility_of
from rosette.patterns.radial_uneven_words import (
    Sort,
    uneven_stages,
    uneven_steps,
    uneven_stock,
    uneven_warnings,
)
from rosette.patterns.radial_woods import wood_order
from rosette.units import rounded
from rosette.words import say

STEEPEST = 75.0
"""Degrees off square past which no side of a wedge is sawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a wedge stands: the direction of its middle, in degrees, and half its angle."""

    position: int
    middle: float
    half: float


def plan_uneven(segments: int, keys: RadialKeys, site: RingSite) -> RingPlan:
    """Work out a ring of wedges of two widths, or of a leaning grain, or both.

    Raises:
        CannotMakeError: where a side would be steeper than any saw cuts.
    """
    _check_steepness(segments, keys, site)
    standing = standings(segments, keys)
    pieces = _pieces(standing, keys, site)
    sorts = _sorts(standing, pieces, keys, site)
    halves = segments % (2 if keys.widths is None else 4) == 0
    seam = _seam(standing[0], site)
    return RingPlan(
        index=site.index,
        pattern="radial",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=tuple(dict.fromkeys(keys.wood)),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=pieces,
        spacers=_spacers(standing, keys, site),
        steps=uneven_steps(sorts, segments, halves, keys, site),
        warnings=uneven_warnings(sorts, seam, halves, keys, site),
        across_grain=_across(standing, pieces, keys, site),
        sawn=keys.sawn,
        stock=tuple(uneven_stock(one, keys, site) for one in sorts),
        stages=uneven_stages(sorts, standing, pieces, keys, site),
        blanks=tuple(_cut_blank(one, pieces, keys) for one in sorts),
    )


def at_most(degrees: float) -> str:
    """An angle with one decimal, rounded down, so that what is named does work.

    >>> at_most(52.57)
    '52.5'
    """
    return rounded(math.floor(degrees * 10.0) / 10.0, 1)


def halves_of(segments: int, keys: RadialKeys) -> tuple[float, float]:
    """Half the angle of the first wedge and of the second, in degrees.

    Two neighbours take 720°/n between them, in proportion to their widths.

    >>> from rosette.patterns.radial_keys import RadialKeys
    >>> ring = dict(pattern="radial", tile_thickness=2.2, wood=("ash",))
    >>> halves_of(24, RadialKeys(**ring, widths=(2.0, 1.0)))
    (10.0, 5.0)
    """
    first, second = keys.widths or (1.0, 1.0)
    whole = 360.0 / segments
    return whole * first / (first + second), whole * second / (first + second)


def standings(segments: int, keys: RadialKeys) -> tuple[Standing, ...]:
    """Where each wedge stands, clockwise from the seam."""
    halves = halves_of(segments, keys)
    edge = 90.0 if keys.at_centreline == "joint" else 90.0 + halves[0]
    pair = 2.0 * (halves[0] + halves[1])
    return tuple(
        Standing(
            position=place + 1,
            middle=edge
            - place // 2 * pair
            - (halves[0] if place % 2 == 0 else 2 * halves[0] + halves[1]),
            half=halves[place % 2],
        )
        for place in range(segments)
    )


def _check_steepness(segments: int, keys: RadialKeys, site: RingSite) -> None:
    widest = max(halves_of(segments, keys))
    if widest + abs(keys.skew) <= STEEPEST:
        return
    most = STEEPEST - widest
    where, remedy = "skew", say("a skew of at most {most}° would do", most=at_most(most))
    if most <= 0:
        where, remedy = "segments", say("use more wedges, or widths that differ less")
    raise CannotMakeError(
        [
            finding(
                "too-steep",
                f"{site.where}.{where}",
                "a side of the wedges would stand {angle}° off square, more than the {most:g}°"
                " that can be sawn; {remedy}",
                angle=rounded(widest + abs(keys.skew), 1),
                most=STEEPEST,
                remedy=remedy.text(),
            )
        ]
    )


def _taken(radius: float, half: float, joint: float) -> float:
    """Half the angle in radians that a wedge takes of the circle at `radius`."""
    return math.radians(half) - math.asin(joint / (2.0 * radius))


def _digits(count: int) -> int:
    return max(2, len(str(count)))


def _pieces(standing: tuple[Standing, ...], keys: RadialKeys, site: RingSite) -> tuple[Piece, ...]:
    woods = wood_order(len(standing), keys)
    made = []
    for one, wood in zip(standing, woods, strict=True):
        outline = finished_outline(
            site.inner_radius,
            site.outer_radius,
            one.middle,
            inner_half=_taken(site.inner_radius, one.half, keys.joint),
            outer_half=_taken(site.outer_radius, one.half, keys.joint),
        )
        made.append(
            Piece(
                label=f"{site.index}-{one.position:0{_digits(len(standing))}d}",
                position=one.position,
                wood=wood,
                kind="wedge",
                outline=outline,
                axis=one.middle - keys.skew,
                visibility=visibility_of(outline, one.middle, one.half, site),
            )
        )
    return tuple(made)


def _spacers(standing: tuple[Standing, ...], keys: RadialKeys, site: RingSite) -> tuple[Piece, ...]:
    if keys.spacer is None:
        return ()
    upright = spacer_outline(site.inner_radius, site.outer_radius, keys.spacer.thickness / 2.0)
    made = []
    for one in standing:
        angle = one.middle + one.half
        outline = upright.mapped(math.radians(angle))
        made.append(
            Piece(
                label=f"{site.index}-{one.position:0{_digits(len(standing))}d}s",
                position=one.position,
                wood=keys.spacer.wood,
                kind="spacer",
                outline=outline,
                axis=angle,
                visibility=visibility_of(outline, angle, one.half, site),
            )
        )
    return tuple(made)


def _blank(half: float, keys: RadialKeys, site: RingSite) -> LeaningBlank:
    return leaning_blank(
        half=half,
        lean=-keys.skew,
        joint=keys.joint,
        inner_radius=site.inner_radius - site.inner_allowance,
        outer_radius=site.outer_radius + site.outer_allowance,
    )


def _sorts(
    standing: tuple[Standing, ...], pieces: tuple[Piece, ...], keys: RadialKeys, site: RingSite
) -> tuple[Sort, ...]:
    """Each kind of blank: of one wood and one width."""
    counts = Counter((one.half, p.wood) for one, p in zip(standing, pieces, strict=True))
    widest = max(one.half for one in standing)
    made = []
    for (half, wood), count in counts.items():
        if keys.widths is None or keys.widths[0] == keys.widths[1]:
            name = "wedge"
        else:
            name = "wide wedge" if half == widest else "narrow wedge"
        made.append(
            Sort(
                name=name,
                wood=wood,
                half=half,
                blank=_blank(half, keys, site),
                count=count,
                positions=tuple(
                    one.position
                    for one, p in zip(standing, pieces, strict=True)
                    if (one.half, p.wood) == (half, wood)
                ),
            )
        )
    return tuple(made)


def _cut_blank(sort: Sort, pieces: tuple[Piece, ...], keys: RadialKeys) -> CutBlank:
    mine = [pieces[position - 1] for position in sort.positions]
    return CutBlank(
        name=sort.name,
        wood=sort.wood,
        inner_width=sort.blank.inner_width,
        outer_width=sort.blank.outer_width,
        height=sort.blank.height,
        thickness=keys.tile_thickness,
        places=tuple(
            Place(label=p.label, position=p.position, visibility=p.visibility) for p in mine
        ),
        lean=sort.blank.slope,
    )


def _seam(first: Standing, site: RingSite) -> Seam:
    off = abs(first.middle + first.half - 90.0)
    return Seam(
        angle=off,
        hidden=site.hidden is not None
        and site.hidden.hides_radial_line(off, site.inner_radius, site.outer_radius),
    )


def _across(
    standing: tuple[Standing, ...], pieces: tuple[Piece, ...], keys: RadialKeys, site: RingSite
) -> tuple[tuple[str, float], ...]:
    """How much of the rim moves with the weather, by wood.

    A strain across the grain shows along a line at an angle ψ to it as its cos²ψ part (strain in
    a turned direction, any textbook of mechanics); along the grain wood hardly moves.
    """
    share = math.cos(math.radians(keys.skew)) ** 2
    lengths: dict[str, float] = {}
    for one, piece in zip(standing, pieces, strict=True):
        arc = 2.0 * site.outer_radius * _taken(site.outer_radius, one.half, keys.joint)
        lengths[piece.wood] = lengths.get(piece.wood, 0.0) + arc * share
    return tuple(lengths.items())
