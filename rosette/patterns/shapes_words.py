"""What a ring with inlaid shapes takes and says."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from rosette.errors import Finding, finding
from rosette.geometry.outline import Outline
from rosette.patterns.base import CutBlank, Piece, Place, RingSite, Stage, Stock, spares_for
from rosette.patterns.petals_words import SMALL_BIT
from rosette.patterns.radial_words import backing_steps
from rosette.patterns.shapes_form import Inlay
from rosette.patterns.shapes_keys import ShapesKeys
from rosette.patterns.shapes_ring import Reach, Round
from rosette.patterns.sides import Sides, frame_words
from rosette.wood.shell import is_shell
from rosette.words import Length, Saying, listed, runs, say

BESIDE = 1.0
"""Stock on every side of a shape in the blank that it is cut from (mm; common practice)."""
THIN = 0.8
"""Ground left narrower than this (mm) breaks out (common practice)."""


def blank_size(inlay: Inlay) -> tuple[float, float]:
    """Length along the grain and width of a shape's blank (mm), up to the next half millimetre."""
    return tuple(  # type: ignore[return-value]
        math.ceil((size + 2.0 * BESIDE) * 2.0 - 1e-9) / 2.0
        for size in (inlay.length, inlay.breadth)
    )


def shape_stock(inlay: Inlay, shapes: tuple[Piece, ...], thickness: float) -> Iterator[Stock]:
    """A blank for every shape, by wood."""
    long, wide = blank_size(inlay)
    for wood in dict.fromkeys(piece.wood for piece in shapes):
        count = sum(piece.wood == wood for piece in shapes)
        yield Stock(
            name="shape",
            wood=wood,
            count=count,
            spares=spares_for(count),
            length=long,
            width=wide,
            thickness=thickness,
        )


def shape_blanks(inlay: Inlay, shapes: tuple[Piece, ...], thickness: float) -> Iterator[CutBlank]:
    """The same for the offcuts, each with its place."""
    long, wide = blank_size(inlay)
    for wood in dict.fromkeys(piece.wood for piece in shapes):
        yield CutBlank(
            name="shape",
            wood=wood,
            inner_width=wide,
            outer_width=wide,
            height=long,
            thickness=thickness,
            places=tuple(
                Place(label=p.label, position=p.position, visibility=p.visibility)
                for p in shapes
                if p.wood == wood
            ),
        )


def shapes_steps(
    around: Round,
    sides: tuple[Sides, ...],
    skipped: tuple[int, ...],
    keys: ShapesKeys,
    site: RingSite,
) -> tuple[Saying, ...]:
    """From the ground's sides to the ring."""
    return (
        *_chosen(around, keys),
        *(one.step(keys.tile_thickness) for one in sides),
        frame_words(sum(len(one.places) for one in sides), alike=len(sides) == 1),
        *_inlaying(around, skipped, keys),
        *backing_steps(keys.backing),
        say(
            "Trim the ring on its pivot to {inner} inside and {outer} outside radius.",
            inner=Length(site.inner_radius),
            outer=Length(site.outer_radius),
        ),
    )


def _chosen(around: Round, keys: ShapesKeys) -> Iterator[Saying]:
    if keys.spacing is not None:
        apart = 2.0 * math.pi * around.centre_radius / around.count
        yield say(
            "{count} places chosen: {apart} from middle to middle, nearest to the {asked} asked"
            " for that goes round evenly.",
            count=around.count,
            apart=Length(apart),
            asked=Length(keys.spacing),
        )


def _inlaying(around: Round, skipped: tuple[int, ...], keys: ShapesKeys) -> Iterator[Saying]:
    inlay, count = around.inlay, around.count - len(skipped)
    thick = keys.shape_thickness or keys.tile_thickness
    shell = [wood for wood in keys.wood if is_shell(wood)]
    yield say(
        "Cut {count} shapes"
        + (" and the spares" if count else "")
        + " from {woods}, {thick} thick, each {long} long and {wide} wide, along the outlines on"
        " the full-size sheet"
        + (", wet" if shell else "")
        + ": their grain along their length, no inward corner sharper than a bit of {bit}.",
        count=count,
        woods=listed(list(dict.fromkeys(keys.wood))),
        thick=Length(thick),
        long=Length(inlay.length),
        wide=Length(inlay.breadth),
        bit=Length(keys.cutter),
    )
    through = thick >= keys.tile_thickness - 1e-9
    yield say(
        "Stick the ground flat to a board. Rout the pockets with the bit of {bit}, "
        + ("right through" if through else "{deep} deep")
        + (", {glue} outside" if keys.glue_line else ", along")
        + " each shape's outline, with a template or from the drawing's file on a CNC. Try each"
        " shape in its pocket; ease the shape, not the pocket.",
        bit=Length(keys.cutter),
        deep=Length(thick),
        glue=Length(keys.glue_line),
    )
    if skipped:
        yield say(
            "Leave out places {skipped} of {count}, clockwise from the seam: the fingerboard hides"
            " them, wholly or in part.",
            skipped=runs(skipped),
            count=around.count,
        )
    yield say("Glue the shapes in, a hair proud, and level them with the ground when it is hard.")


def shapes_stages(
    around: Round,
    sides: tuple[Sides, ...],
    ground: tuple[Piece, ...],
    shapes: tuple[Piece, ...],
    keys: ShapesKeys,
) -> tuple[Stage, ...]:
    """A side, a shape, its pocket in the ground, and both together."""
    inlay = around.inlay
    shown = max(ground, key=lambda piece: len(piece.holes))
    turn = -(shown.axis or 0.0)
    mine = [p for p in shapes if _within(p, shown)]
    return (
        *(
            Stage(
                title="A side of the ground",
                saying=say("{count} of {wood}, mitred.", count=len(one.places), wood=one.wood),
                sizes=(("long, from point to point", one.length), ("wide", one.width)),
                shapes=(one.shape(),),
            )
            for one in sides
        ),
        Stage(
            title="A shape",
            saying=say("Its outer end up."),
            sizes=(
                ("long", inlay.length),
                ("wide", inlay.breadth),
                ("least radius of a corner", keys.cutter / 2.0),
            ),
            shapes=(_alone(inlay.shape, keys.wood[0]),),
        ),
        Stage(
            title="Pockets in a piece of the ground",
            saying=say("Cut with a bit of {bit}.", bit=Length(keys.cutter)),
            sizes=(
                ("bit", keys.cutter),
                ("deep", keys.shape_thickness or keys.tile_thickness),
                ("room for glue", keys.glue_line),
                ("from middle to middle", math.tau * around.centre_radius / around.count),
            ),
            shapes=(_turned(shown, turn),),
        ),
        Stage(
            title="The shapes let in",
            saying=say("Levelled with the ground."),
            shapes=(_turned(shown, turn), *(_turned(p, turn) for p in mine)),
        ),
    )


def _alone(outline: Outline, wood: str) -> Piece:
    return Piece(label="1", position=1, wood=wood, kind="shape", outline=outline, axis=90.0)


def _within(shape: Piece, ground: Piece) -> bool:
    """Whether a shape lies in one of a ground piece's pockets."""
    x, y = _middle(shape.outline)
    return any(math.dist((x, y), _middle(hole)) < 1e-3 for hole in ground.holes)


def _middle(outline: Outline) -> tuple[float, float]:
    count = len(outline.vertices)
    return sum(v.x for v in outline.vertices) / count, sum(v.y for v in outline.vertices) / count


def _turned(piece: Piece, degrees: float) -> Piece:
    turn = math.radians(degrees)
    return replace(
        piece,
        outline=piece.outline.mapped(turn),
        holes=tuple(hole.mapped(turn) for hole in piece.holes),
        axis=(piece.axis or 0.0) + degrees,
    )


def shapes_warnings(
    around: Round, skipped: tuple[int, ...], keys: ShapesKeys, site: RingSite
) -> Iterator[Finding]:
    """Which shapes are left out; thin ground, small bits, shell."""
    if skipped:
        yield finding(
            "hidden-shapes",
            f"{site.where}.hidden_shapes",
            "the fingerboard hides {hidden} of {count} shapes wholly or in part, and they are left"
            ' out: places {places}; hidden_shapes = "keep" lets them in',
            hidden=len(skipped),
            count=around.count,
            places=runs(skipped),
        )
    reach = Reach.of(around.inlay, around.centre_radius, around.turn)
    thinnest = min(
        reach.inside - site.inner_radius,
        site.outer_radius - reach.outside,
        reach.between(around.count),
    )
    if thinnest < THIN:
        yield finding(
            "thin-ground",
            f"{site.where}.width",
            "between the pockets, or between a pocket and the ring's edge, only {left} of ground is"
            " left; under {least} it breaks out: smaller shapes, a wider ring, or fewer of them",
            left=Length(thinnest),
            least=Length(THIN),
        )
    if keys.cutter < SMALL_BIT:
        yield finding(
            "small-bit",
            f"{site.where}.cutter",
            "a bit of {bit} breaks if it is pushed: passes no deeper than half its width, slow"
            " feed, no play in the collet",
            bit=Length(keys.cutter),
        )
    shells = [wood for wood in dict.fromkeys(keys.wood) if is_shell(wood)]
    if shells:
        yield finding(
            "shell-dust",
            f"{site.where}.wood",
            "the dust of {shells} irritates the lungs, and its edges cut: saw, file and sand it"
            " wet, with extraction and a mask, and keep to your local limits",
            shells=listed(shells),
        )
    yield from _of_sequence(around, keys, site)


def _of_sequence(around: Round, keys: ShapesKeys, site: RingSite) -> Iterator[Finding]:
    if around.count % len(keys.wood):
        below = around.count // len(keys.wood) * len(keys.wood)
        better = [n for n in (below, below + len(keys.wood)) if n >= 3]
        yield finding(
            "broken-sequence",
            f"{site.where}.wood",
            "{count} places do not end a sequence of {woods} woods, which breaks at the seam;"
            " {better} would",
            count=around.count,
            woods=len(keys.wood),
            better=listed(better, "or"),
        )
