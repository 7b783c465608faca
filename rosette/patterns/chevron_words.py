"""What a chevron ring says: its steps, what each stage of the work looks like, its warnings."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from rosette.errors import Finding, finding
from rosette.geometry import wedge
from rosette.geometry.outline import Outline, polygon
from rosette.patterns.base import Blank, Piece, RingSite, Seam, Stage
from rosette.patterns.chevron_keys import ChevronKeys
from rosette.patterns.chevron_stripes import shown
from rosette.patterns.chevron_work import SANDED, Board, Laminate, lie_of
from rosette.patterns.count import chosen_words
from rosette.patterns.radial_words import (
    delicate_warnings,
    last_steps,
    seam_warnings,
    spacer_step,
)
from rosette.units import rounded
from rosette.words import Length, Saying, Word, listed, say

SHORT_GRAIN = 45.0
"""Degrees between grain and joint from which a wedge's corners break out (common practice)."""


def laminate_steps(
    laminate: Laminate, blank: Blank, segments: int, keys: ChevronKeys, site: RingSite
) -> tuple[Saying, ...]:
    """From the plies to the ring."""
    mitre = wedge.mitre_angle(segments)
    plies = keys.plies or ()
    words: dict[str, Word] = {}
    for number, ply in enumerate(plies):
        words |= {f"thick{number}": Length(ply.thickness), f"wood{number}": ply.wood}
    order = listed([f"{{thick{number}}} {{wood{number}}}" for number in range(len(plies))])
    return (
        *_chosen(segments, keys, site),
        say(
            "Cut {count} plies {long} long and {wide} wide, the grain along them, and glue them"
            f" face to face in their order ({order}, over and over) into a laminate"
            " {across} across: straight, without a gap, and square to the face that will show.",
            count=len(laminate.plies),
            long=Length(laminate.length, 1),
            wide=Length(laminate.height, 1),
            **words,
            across=Length(laminate.width),
        ),
        say(
            "Mark one face all along as the show face. Cut the laminate across into {count}"
            " billets, the saw {lean}° off square: trim the end first, then {high} from cut to"
            " cut.",
            count=laminate.billets,
            lean=rounded(laminate.lean, 1),
            high=Length(blank.height),
        ),
        say(
            "Saw each billet into a wedge, {mitre}° off square on both sides, {outer} at the wide"
            " end and {inner} at the narrow end. Let one and the same edge of the laminate touch"
            " the stop every time, so that all wedges have their stripes at the same place. Stick"
            " the billet to a longer carrier for it.",
            mitre=rounded(mitre, 2),
            outer=Length(blank.outer_width),
            inner=Length(blank.inner_width),
        ),
        say(
            "Slice {leaves} leaves {leaf} thick off each, {total} in all with the spares, and sand"
            " them to {thick}. Mark on each the face that was up and an arrow to its wide end.",
            leaves=laminate.leaves,
            leaf=Length(laminate.leaf),
            total=laminate.leaves * laminate.billets,
            thick=Length(keys.tile_thickness),
        ),
        *_turned(segments, keys, site),
    )


def board_steps(
    board: Board, blank: Blank, segments: int, keys: ChevronKeys, site: RingSite
) -> tuple[Saying, ...]:
    """From the board to the ring."""
    return (
        *_chosen(segments, keys, site),
        say(
            "Thickness a board of {wood}, its stripes straight and along it, to {thick}; it takes"
            " {long} along the grain and {wide} across.",
            wood=keys.wood or "",
            thick=Length(keys.tile_thickness),
            long=Length(board.length, 1),
            wide=Length(board.width, 1),
        ),
        say(
            "Mark one face all over as the show face. Cut the board across into {count} strips"
            " {high} wide, the saw {lean}° off square.",
            count=board.strips,
            high=Length(board.strip_width),
            lean=rounded(abs(keys.angle), 1),
        ),
        say(
            "Set the saw {mitre}° off square and cut the strips into wedges, head to tail, {outer}"
            " at the wide end and {inner} at the narrow end; every second one is turned end for"
            " end, and its stripes lean the same way. Stick short strips to a longer carrier.",
            mitre=rounded(wedge.mitre_angle(segments), 2),
            outer=Length(blank.outer_width),
            inner=Length(blank.inner_width),
        ),
        *_turned(segments, keys, site),
    )


def _chosen(segments: int, keys: ChevronKeys, site: RingSite) -> Iterator[Saying]:
    if keys.segment_width is not None:
        yield chosen_words(
            segments,
            keys.segment_width,
            outer_radius=site.outer_radius,
            joint=keys.as_radial().joint,
            sequence=1,
            reason="even",
        )


def _turned(segments: int, keys: ChevronKeys, site: RingSite) -> tuple[Saying, ...]:
    first = "right" if keys.angle > 0 else "left"
    return (
        say(
            "Lay the wedges out, wide ends outward: number 1 with its stripes leaning {first} as"
            " they run outward, number 2 turned over, and so on in turn. Shift each until its"
            " stripes meet its neighbour's at the joint.",
            first=first,
        ),
        *(
            [spacer_step(keys.spacer.wood, keys.spacer.thickness, whole=False)]
            if keys.spacer
            else []
        ),
        *last_steps(
            site,
            segments=segments,
            whole=False,
            joint=keys.as_radial().joint,
            backing=keys.backing,
        ),
    )


def laminate_stages(
    laminate: Laminate, blank: Blank, segments: int, keys: ChevronKeys, site: RingSite
) -> tuple[Stage, ...]:
    """The laminate, its billets, a wedge, a pair with one leaf turned over."""
    sheet = _sheet(laminate)
    return (
        Stage(
            title="The laminate",
            saying=say(
                "{count} plies face to face, {high} high: the face that will show.",
                count=len(laminate.plies),
                high=Length(laminate.height, 1),
            ),
            sizes=(
                ("along the plies", laminate.length),
                ("across the plies", laminate.width),
                ("high", laminate.height),
            ),
            shapes=_labelled(sheet, "ply", 0.0),
        ),
        Stage(
            title="Billets",
            saying=say(
                "Cut across {lean}° off square; all billets show the same stripes.",
                lean=rounded(laminate.lean, 1),
            ),
            sizes=(
                ("billet, wide", blank.height),
                ("from billet to billet along the plies", laminate.pitch),
            ),
            shapes=_labelled(_billets(laminate), "ply", 0.0),
        ),
        Stage(
            title="A wedge, and its leaves",
            saying=say(
                "Each billet becomes a wedge, and each wedge {leaves} leaves, {leaf} thick off the"
                " saw and {thick} sanded.",
                leaves=laminate.leaves,
                leaf=Length(laminate.leaf),
                thick=Length(keys.tile_thickness),
            ),
            sizes=(
                ("wide end", blank.outer_width),
                ("narrow end", blank.inner_width),
                ("from end to end", blank.height),
                ("leaf off the saw", laminate.leaf),
                ("sanding", SANDED),
            ),
            shapes=_wedge_shapes((90.0,), laminate, blank, keys, site),
        ),
        Stage(
            title="Two neighbours, the second turned over",
            saying=say("The stripes of one go on in the other at the joint."),
            shapes=_wedge_shapes(_pair(segments), laminate, blank, keys, site),
        ),
    )


def _pair(segments: int) -> tuple[float, float]:
    mitre = wedge.mitre_angle(segments)
    return 90.0 + mitre, 90.0 - mitre


def _sheet(laminate: Laminate) -> list[tuple[str, Outline]]:
    base = laminate.plies[0].low
    return [
        (
            ply.wood,
            polygon(
                [
                    (0.0, ply.low - base),
                    (laminate.length, ply.low - base),
                    (laminate.length, ply.high - base),
                    (0.0, ply.high - base),
                ]
            ),
        )
        for ply in laminate.plies
    ]


def _billets(laminate: Laminate) -> Iterable[tuple[str, Outline]]:
    """Each billet where it lies in the laminate, ply by ply; cuts stand square to the wedge."""
    slope, base = math.tan(math.radians(laminate.angle)), laminate.plies[0].low
    along = laminate.blank_height / math.cos(math.radians(laminate.lean))
    kerf = laminate.kerf / math.cos(math.radians(laminate.lean))
    for number in range(laminate.billets):
        start = laminate.width * max(slope, 0.0) + kerf + number * laminate.pitch
        for ply in laminate.plies:
            low, high = ply.low - base, ply.high - base
            yield (
                ply.wood,
                polygon(
                    [
                        (start - low * slope, low),
                        (start + along - low * slope, low),
                        (start + along - high * slope, high),
                        (start - high * slope, high),
                    ]
                ),
            )


def _labelled(shapes: Iterable[tuple[str, Outline]], kind: str, axis: float) -> tuple[Piece, ...]:
    return tuple(
        Piece(label=str(number), position=number, wood=wood, kind=kind, outline=outline, axis=axis)
        for number, (wood, outline) in enumerate(shapes, start=1)
    )


def _wedge_shapes(
    middles: tuple[float, ...],
    laminate: Laminate,
    blank: Blank,
    keys: ChevronKeys,
    site: RingSite,
) -> tuple[Piece, ...]:
    """Blanks in ring coordinates, their stripes in place."""
    made: list[Piece] = []
    for position, middle in enumerate(middles, start=1):
        lie = lie_of(position, middle, keys, site)
        outline = blank.outline().mapped(math.radians(middle))
        parts = list(shown(outline, lie, laminate.plies))
        made += [
            Piece(
                label=f"{position}.{number}",
                position=position,
                wood=stripe.wood,
                kind="stripe",
                outline=part,
                axis=lie.direction,
            )
            for number, (stripe, part) in enumerate(parts, start=1)
        ]
    return tuple(made)


def board_stages(
    board: Board, blank: Blank, segments: int, keys: ChevronKeys, site: RingSite
) -> tuple[Stage, ...]:
    """The strips in the board, and two neighbours."""
    wood = keys.wood or ""
    lean = math.radians(abs(keys.angle))
    slant = board.width * math.tan(lean)
    along = (board.strip_width + site.kerf) / math.cos(lean)
    wide, kerf = board.strip_width / math.cos(lean), site.kerf / math.cos(lean)
    strips = [
        (
            wood,
            polygon(
                [
                    (slant + start, 0.0),
                    (slant + start + wide, 0.0),
                    (start + wide, board.width),
                    (start, board.width),
                ]
            ),
        )
        for start in (kerf + number * along for number in range(board.strips))
    ]
    pair = [
        Piece(
            label=str(position),
            position=position,
            wood=wood,
            kind="blank",
            outline=blank.outline().mapped(math.radians(middle)),
            axis=lie_of(position, middle, keys, site).direction,
        )
        for position, middle in enumerate(_pair(segments), start=1)
    ]
    return (
        Stage(
            title="Strips across the board",
            saying=say(
                "{count} strips, cut {lean}° off square across a board whose grain runs along it.",
                count=board.strips,
                lean=rounded(abs(keys.angle), 1),
            ),
            sizes=(
                ("board, along the grain", board.length),
                ("board, across the grain", board.width),
                ("strip, wide", board.strip_width),
                ("strip, long", board.strip_length),
            ),
            shapes=_labelled(strips, "strip", 0.0),
        ),
        Stage(
            title="Two neighbours, the second turned over",
            saying=say("The stripes of one lean as the other's do, mirrored at the joint."),
            sizes=(
                ("wide end", blank.outer_width),
                ("narrow end", blank.inner_width),
                ("from end to end", blank.height),
            ),
            shapes=tuple(pair),
        ),
    )


def chevron_warnings(
    segments: int, seam: Seam, keys: ChevronKeys, site: RingSite
) -> tuple[Finding, ...]:
    """What to think over before this ring is cut."""
    inner = wedge.half_angle_rad(site.inner_radius, segments=segments, joint=keys.as_radial().joint)
    return (
        *seam_warnings(seam, site),
        *delicate_warnings(
            site, inner_chord=2.0 * site.inner_radius * math.sin(inner), halves=True
        ),
        *_own(segments, keys, site),
    )


def _own(segments: int, keys: ChevronKeys, site: RingSite) -> Iterator[Finding]:
    steepest = abs(keys.angle) + wedge.mitre_angle(segments)
    if steepest > SHORT_GRAIN:
        yield finding(
            "short-grain",
            f"{site.where}.angle",
            "the grain meets one joint of each wedge at {angle}°: its corners are short grain and"
            " break out, and the joint is half end grain; size it with thin glue first, and handle"
            " the wedges by their middles, or lean the stripes less",
            angle=rounded(steepest, 1),
        )
    if keys.wood is not None:
        yield finding(
            "stripes-by-chance",
            f"{site.where}.wood",
            "stripes of solid wood lean alike on both sides of a joint but meet there only where"
            " you find wedges that match: choose neighbours by eye, or use plies, whose stripes"
            " all meet",
        )
