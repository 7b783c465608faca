"""What a petalled ring takes and says: its sides, steps, stages, what to think over."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rosette.errors import Finding, finding
from rosette.patterns.base import Piece, RingSite, Stage
from rosette.patterns.petals_edge import Edge
from rosette.patterns.petals_form import left
from rosette.patterns.petals_keys import PetalsKeys
from rosette.patterns.radial_words import backing_steps
from rosette.patterns.sides import Sides, frame_words
from rosette.units import rounded
from rosette.words import Length, Saying, say

SHORT_GRAIN = 25.0
"""Degrees between grain and edge at a side's ends from which they break (common practice)."""
THIN = 1.0
"""Wood left narrower than this (mm) between line and edge breaks at a touch (common practice)."""
SMALL_BIT = 1.0
"""A bit thinner than this (mm) breaks if it is pushed (common practice)."""


def petals_steps(
    sides: tuple[Sides, ...], edge: Edge, keys: PetalsKeys, site: RingSite
) -> tuple[Saying, ...]:
    """From the sides to the ring."""
    return (
        *(one.step(keys.tile_thickness) for one in sides),
        *_frames(sides),
        say(
            "Cut the petalled line with a bit of {bit} and a template, or from the drawing's file"
            " on a CNC: the inner wood's outer edge and the outer wood's inner edge, both held on"
            " the ring's centre. The line's own radii are {petal} at petals, {valley} at valleys."
            " Take shallow passes; leave a little for a last pass all round.",
            bit=Length(keys.cutter),
            petal=Length(edge.petal),
            valley=Length(edge.valley),
        ),
        say(
            "Try the two woods dry: they slide together"
            + (", {glue} apart all along" if keys.glue_line else " without room to spare")
            + ". Ease what rubs with a fine file, glue them, and press them flat under a caul.",
            glue=Length(keys.glue_line),
        ),
        *backing_steps(keys.backing),
        say(
            "Trim the ring on its pivot to {inner} inside and {outer} outside radius.",
            inner=Length(site.inner_radius),
            outer=Length(site.outer_radius),
        ),
    )


def _frames(sides: tuple[Sides, ...]) -> Iterator[Saying]:
    """Both frames are alike, so one sentence tells of both."""
    inner = [one for one in sides if one.called == sides[0].called]
    yield frame_words(sum(len(one.places) for one in inner), alike=len(inner) == 1)
    yield say("Do the same with the sides of the other wood.")


def petals_stages(
    sides: tuple[Sides, ...], pieces: tuple[Piece, ...], edge: Edge, keys: PetalsKeys
) -> tuple[Stage, ...]:
    """A side of each wood, both woods' edges, and how they meet."""
    inner, outer = list(pieces[: len(pieces) // 2]), list(pieces[len(pieces) // 2 :])
    middle = _opposite(inner)
    beside = sorted(outer, key=lambda p: _away(p, middle))[:2]
    turn = -(middle.axis or 0.0)
    return (
        *(_side_stage(one) for one in sides),
        _edge_stage("The inner wood, routed", middle, turn, edge, keys, side=-1),
        _edge_stage("The outer wood, routed", beside[0], turn, edge, keys, side=1),
        Stage(
            title="Both woods together",
            saying=say("The joints of one wood stand clear of those of the other."),
            sizes=(("glue along the line", keys.glue_line),),
            shapes=tuple(_turned(p, turn) for p in (middle, *beside)),
        ),
    )


def _opposite(pieces: list[Piece]) -> Piece:
    return pieces[len(pieces) // 2]


def _away(piece: Piece, other: Piece) -> float:
    return abs(((piece.axis or 0.0) - (other.axis or 0.0) + 180.0) % 360.0 - 180.0)


def _turned(piece: Piece, degrees: float) -> Piece:
    return Piece(
        label=piece.label,
        position=piece.position,
        wood=piece.wood,
        kind=piece.kind,
        outline=piece.outline.mapped(math.radians(degrees)),
        axis=(piece.axis or 0.0) + degrees,
    )


def _side_stage(one: Sides) -> Stage:
    return Stage(
        title=f"A side of the {one.called} wood",
        saying=say("{count} of {wood}, mitred.", count=len(one.places), wood=one.wood),
        sizes=(("long, from point to point", one.length), ("wide", one.width)),
        shapes=(one.shape(),),
    )


def _edge_stage(
    title: str, piece: Piece, turn: float, edge: Edge, keys: PetalsKeys, *, side: int
) -> Stage:
    """The bit's middle runs half its width outside the wood's own edge."""
    petal, valley = edge.radii(side, keys.glue_line)
    off = keys.cutter / 2.0 * -side * edge.sign
    return Stage(
        title=title,
        saying=say("Cut along its {edge} edge.", edge="outer" if side < 0 else "inner"),
        sizes=(
            ("radius at petals", petal),
            ("radius at valleys", valley),
            ("petals' centres from the ring's", edge.petal_centre),
            ("valleys' centres from the ring's", edge.valley_centre),
            ("bit", keys.cutter),
            ("path of the bit's middle at petals, radius", petal + off),
            ("path of the bit's middle at valleys, radius", max(0.0, valley - off)),
        ),
        shapes=(_turned(piece, turn),),
    )


def petals_warnings(
    sides: tuple[Sides, ...], edge: Edge, keys: PetalsKeys, site: RingSite
) -> Iterator[Finding]:
    """What breaks: thin edges, long points, short grain, small bits."""
    for called, wood in zip(("inner", "outer"), left(keys, site), strict=True):
        if wood < THIN:
            yield finding(
                "thin-edge",
                f"{site.where}.depth",
                "between line and edge the {called} wood is only {left} wide; under {least} it"
                " breaks at a touch: rout the line first, glue the woods, and trim last",
                called=called,
                left=Length(wood),
                least=Length(THIN),
            )
    if keys.shape == "scallop" and keys.depth > 4.0 * edge.valley:
        yield finding(
            "long-points",
            f"{site.where}.depth",
            "the points between the petals are {deep} long and {wide} wide at their tips: soak them"
            " with thin glue before they are cut, and cut into them, not out; petals less deep, or"
            ' shape = "wave", break less',
            deep=Length(keys.depth),
            wide=Length(2.0 * edge.valley),
        )
    mitre = max(one.mitre for one in sides)
    if mitre > SHORT_GRAIN:
        yield finding(
            "short-grain",
            f"{site.where}.segments",
            "at a side's ends the grain runs out of the edge at {lean}°; {better} sides or more"
            " keep it under {most}°",
            lean=rounded(mitre, 1),
            better=math.ceil(180.0 / SHORT_GRAIN),
            most=rounded(SHORT_GRAIN, 0),
        )
    if keys.cutter < SMALL_BIT:
        yield finding(
            "small-bit",
            f"{site.where}.cutter",
            "a bit of {bit} breaks if it is pushed: passes no deeper than half its width, slow"
            " feed, no play in the collet",
            bit=Length(keys.cutter),
        )
