"""The chevron: wedges whose stripes lean to one side and the other in turn and meet at the joints.

Two neighbours are each other's mirror image about the joint's plane: any stripe that ends on one
side of the joint goes on from the same place on the other. So all wedges are alike, cut at the
same place of the stripes, and every second one is turned over.
"""

from __future__ import annotations

import math
from dataclasses import replace

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry import wedge
from rosette.geometry.outline import Outline
from rosette.patterns.base import (
    Blank,
    CutBlank,
    Pattern,
    Piece,
    Place,
    RingPlan,
    RingSite,
    Seam,
    Stage,
    Stock,
)
from rosette.patterns.chevron_keys import ChevronKeys
from rosette.patterns.chevron_stripes import shown, stripes
from rosette.patterns.chevron_words import (
    board_stages,
    board_steps,
    chevron_warnings,
    laminate_stages,
    laminate_steps,
)
from rosette.patterns.chevron_work import (
    EDGE,
    board_for,
    board_stock,
    laminate_for,
    laminate_stock,
    lie_of,
)
from rosette.patterns.count import counts_beside
from rosette.patterns.radial import blank_for
from rosette.patterns.radial_count import count_of
from rosette.patterns.radial_pieces import (
    seam_angle,
    spacer_pieces,
    visibility_of,
    wedge_pieces,
)
from rosette.patterns.radial_uneven import at_most
from rosette.units import rounded
from rosette.words import Saying

LEAST_ANGLE = 5.0
"""Degrees: stripes that lean less do not read as a chevron."""
STEEPEST = 75.0
"""Degrees between stripe and joint past which a wedge is nothing but short grain."""


def plan_chevron(keys: ChevronKeys, site: RingSite) -> RingPlan:
    """Work out a chevron ring.

    Raises:
        CannotMakeError: with every reason, each naming what would work.
    """
    segments = count_of(keys.as_radial(), site)
    reasons = _reasons(segments, keys, site)
    if reasons:
        raise CannotMakeError(reasons)
    blank = blank_for(
        segments,
        joint=keys.as_radial().joint,
        inner_radius=site.inner_radius - site.inner_allowance,
        outer_radius=site.outer_radius + site.outer_allowance,
    )
    wedges = wedge_pieces(segments, keys.as_radial(), site)
    pieces = _stripes(wedges, keys, site) if keys.plies else _leaning(wedges, keys)
    work = _of_plies if keys.plies else _solid
    stock, stages, steps, blanks = work(segments, blank, wedges, keys, site)
    return RingPlan(
        index=site.index,
        pattern="chevron",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=tuple(dict.fromkeys(piece.wood for piece in pieces)),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=pieces,
        spacers=spacer_pieces(segments, keys.as_radial(), site),
        steps=steps,
        warnings=chevron_warnings(segments, _seam(segments, keys, site), keys, site),
        across_grain=_across(pieces, keys, site),
        sawn=keys.sawn,
        stock=stock,
        stages=stages,
        blanks=blanks,
    )


Work = tuple[tuple[Stock, ...], tuple[Stage, ...], tuple[Saying, ...], tuple[CutBlank, ...]]


def _of_plies(
    segments: int, blank: Blank, _wedges: tuple[Piece, ...], keys: ChevronKeys, site: RingSite
) -> Work:
    laminate = laminate_for(segments, blank, lie_of(1, 0.0, keys, site), keys, site)
    stock = laminate_stock(laminate)
    blanks = tuple(
        CutBlank(
            name=one.name,
            wood=one.wood,
            inner_width=one.width,
            outer_width=one.width,
            height=one.length,
            thickness=one.thickness,
            places=tuple(
                Place(label=f"{site.index}-ply-{kind}-{number:02d}", position=number)
                for number in range(1, one.count + 1)
            ),
        )
        for kind, one in enumerate(stock, start=1)
    )
    stages = laminate_stages(laminate, blank, segments, keys, site)
    return stock, stages, laminate_steps(laminate, blank, segments, keys, site), blanks


def _solid(
    segments: int, blank: Blank, wedges: tuple[Piece, ...], keys: ChevronKeys, site: RingSite
) -> Work:
    board = board_for(segments, blank, keys, site)
    blanks = tuple(
        CutBlank(
            name="wedge, leaning right" if grain < 0 else "wedge, leaning left",
            wood=keys.wood or "",
            inner_width=blank.inner_width,
            outer_width=blank.outer_width,
            height=blank.height,
            thickness=keys.tile_thickness,
            places=tuple(
                Place(label=p.label, position=p.position, visibility=p.visibility)
                for p in wedges[first::2]
            ),
            grain=grain,
        )
        for first, grain in ((0, -keys.angle), (1, keys.angle))
    )
    stages = board_stages(board, blank, segments, keys, site)
    steps = board_steps(board, blank, segments, keys, site)
    return board_stock(board, keys), stages, steps, blanks


def _reasons(segments: int, keys: ChevronKeys, site: RingSite) -> list[Finding]:
    found = []
    if segments % 2:
        found.append(
            finding(
                "odd-count",
                f"{site.where}.segments",
                "a chevron takes an even count of wedges, every second one turned over, and"
                " {segments} is odd; {better} would do",
                segments=segments,
                better=counts_beside(segments, 2),
            )
        )
    if abs(keys.angle) < LEAST_ANGLE:
        found.append(
            finding(
                "flat-chevron",
                f"{site.where}.angle",
                "stripes that lean {angle:g}° make no chevron; lean them {least:g}° or more, or"
                ' write pattern = "radial" for stripes straight outward',
                angle=keys.angle,
                least=LEAST_ANGLE,
            )
        )
    most = STEEPEST - wedge.mitre_angle(segments)
    if abs(keys.angle) > most:
        remedy = f"an angle of at most {at_most(most)}° would do" if most > 0 else "use more wedges"
        found.append(
            finding(
                "too-steep",
                f"{site.where}.angle",
                "the stripes would meet a joint at {angle}°, more than {most:g}°, and the"
                " wedges be short grain from end to end; {remedy}",
                angle=rounded(abs(keys.angle) + wedge.mitre_angle(segments), 1),
                most=STEEPEST,
                remedy=remedy,
            )
        )
    return found


def _leaning(wedges: tuple[Piece, ...], keys: ChevronKeys) -> tuple[Piece, ...]:
    """The wedges of solid wood, their grain leaning to one side and the other."""
    lean = {1: -keys.angle, 0: keys.angle}
    return tuple(replace(one, axis=(one.axis or 0.0) + lean[one.position % 2]) for one in wedges)


def _stripes(wedges: tuple[Piece, ...], keys: ChevronKeys, site: RingSite) -> tuple[Piece, ...]:
    """What each wedge shows of each ply: the first two wedges' stripes, turned into every place."""
    mitre = wedge.mitre_angle(len(wedges))
    first = [_in_place(one, keys, site) for one in wedges[:2]]
    made = []
    for one in wedges:
        model, middle = wedges[(one.position - 1) % 2], one.axis or 0.0
        turn = middle - (model.axis or 0.0)
        direction = lie_of(one.position, middle, keys, site).direction
        for number, (wood, cut) in enumerate(first[(one.position - 1) % 2], start=1):
            outline = cut.mapped(math.radians(turn))
            made.append(
                Piece(
                    label=f"{one.label}.{number}",
                    position=one.position,
                    wood=wood,
                    kind="stripe",
                    outline=outline,
                    axis=direction,
                    visibility=visibility_of(outline, middle, mitre, site),
                )
            )
    return tuple(made)


def _in_place(one: Piece, keys: ChevronKeys, site: RingSite) -> list[tuple[str, Outline]]:
    lie = lie_of(one.position, one.axis or 0.0, keys, site)
    low, high = lie.offsets(one.outline.points())
    laminate = stripes(keys.plies or (), low - EDGE, high + EDGE)
    return [(stripe.wood, cut) for stripe, cut in shown(one.outline, lie, laminate)]


def _seam(segments: int, keys: ChevronKeys, site: RingSite) -> Seam:
    off = abs(seam_angle(segments, keys.at_centreline) - 90.0)
    return Seam(
        angle=off,
        hidden=site.hidden is not None
        and site.hidden.hides_radial_line(off, site.inner_radius, site.outer_radius),
    )


def _across(
    pieces: tuple[Piece, ...], keys: ChevronKeys, site: RingSite
) -> tuple[tuple[str, float], ...]:
    """How much of the rim moves with the weather, by wood.

    A strain across the grain shows along a line at an angle ψ to it as its cos²ψ part (strain in
    a turned direction, any textbook of mechanics); along the grain wood hardly moves.
    """
    share = math.cos(math.radians(keys.angle)) ** 2
    lengths: dict[str, float] = {}
    for piece in pieces:
        rim = sum(4.0 * math.atan(v.bulge) for v in piece.outline.vertices if v.bulge > 0.0)
        if rim:
            lengths[piece.wood] = lengths.get(piece.wood, 0.0) + rim * site.outer_radius * share
    return tuple(lengths.items())


PATTERN = Pattern(
    name="chevron",
    summary="wedges whose stripes lean to one side and the other in turn, meeting at every joint",
    keys=ChevronKeys,
    plan=plan_chevron,  # type: ignore[arg-type]
    example={
        "segments": 20,
        "angle": 35,
        "plies": [
            {"wood": "walnut", "thickness": 1.6},
            {"wood": "maple", "thickness": 0.8},
        ],
    },
)
