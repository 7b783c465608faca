"""What a petalled ring takes and says: its sides, steps, stages, what to think over."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from rosette.errors import Finding, finding
from rosette.geometry.outline import polygon
from rosette.patterns.arcs_form import Arc
from rosette.patterns.base import CutBlank, Piece, Place, RingSite, Stage, Stock, spares_for
from rosette.patterns.petals_edge import Edge
from rosette.patterns.petals_form import left
from rosette.patterns.petals_keys import PetalsKeys
from rosette.patterns.petals_pieces import Half, mitred_length, rough_side
from rosette.patterns.radial_words import backing_steps
from rosette.units import rounded
from rosette.words import Length, Saying, say

SHORT_GRAIN = 25.0
"""Degrees between grain and edge at a side's ends from which they break (common practice)."""
THIN = 1.0
"""Wood left narrower than this (mm) between line and edge breaks at a touch (common practice)."""
SMALL_BIT = 1.0
"""A bit thinner than this (mm) breaks if it is pushed (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """Sides alike of one wood: straight pieces with mitred ends (mm, degrees)."""

    half: Half
    petals: int
    places: tuple[int, ...]
    arc: Arc

    @property
    def length(self) -> float:
        """Along the grain, from point to point of the mitres; up to the next half millimetre."""
        return math.ceil(mitred_length(self.arc) * 2.0 - 1e-9) / 2.0

    @property
    def width(self) -> float:
        """Across the grain; up to the next half millimetre."""
        return math.ceil(self.arc.rise * 2.0 - 1e-9) / 2.0

    @property
    def mitre(self) -> float:
        """Off square."""
        return math.degrees(self.arc.half_rad)


def sides_of(
    halves: tuple[Half, Half], edge: Edge, keys: PetalsKeys, site: RingSite
) -> tuple[Sides, ...]:
    """The sides of both woods, those that carry as many petals together."""
    return tuple(
        Sides(
            half=half,
            petals=petals,
            places=tuple(i for i, count in enumerate(half.petals) if count == petals),
            arc=rough_side(half, petals, edge, keys, site),
        )
        for half in halves
        for petals in dict.fromkeys(half.petals)
    )


def stock_of(sides: tuple[Sides, ...], thickness: float) -> tuple[Stock, ...]:
    """Every side as a rectangle."""
    return tuple(
        Stock(
            name=f"{one.half.called} side",
            wood=one.half.wood,
            count=len(one.places),
            spares=spares_for(len(one.places)),
            length=one.length,
            width=one.width,
            thickness=thickness,
        )
        for one in sides
    )


def blanks_of(
    sides: tuple[Sides, ...], pieces: tuple[Piece, ...], thickness: float
) -> Iterator[CutBlank]:
    """The same for the offcuts, each with its place in the ring."""
    for one in sides:
        first = 0 if one.half.side < 0 else len(pieces) - len(one.half.petals)
        mine = [pieces[first + place] for place in one.places]
        yield CutBlank(
            name=f"{one.half.called} side",
            wood=one.half.wood,
            inner_width=one.width,
            outer_width=one.width,
            height=one.length,
            thickness=thickness,
            places=tuple(
                Place(label=p.label, position=p.position, visibility=p.visibility) for p in mine
            ),
        )


def petals_steps(
    sides: tuple[Sides, ...], edge: Edge, keys: PetalsKeys, site: RingSite
) -> tuple[Saying, ...]:
    """From the sides to the ring."""
    return (
        *(_side_step(one, keys) for one in sides),
        say(
            "Lay each wood's sides dry on the full-size sheet, on clear film: a frame of {count}. "
            + (
                "Glue up two halves, true them to a straight line, and glue them together."
                if len(sides) == 2 and len(sides[0].half.petals) % 2 == 0
                else "Glue up all but the last side, and fit that one to what is left."
            ),
            count=len(sides[0].half.petals),
        ),
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


def _side_step(one: Sides, keys: PetalsKeys) -> Saying:
    stock = stock_of((one,), keys.tile_thickness)[0]
    return say(
        "Cut {count} of {wood} and {spares} to spare, {long} by {wide} and {thick} thick, the"
        " grain along them, for the {called} wood; mitre their ends {mitre}° off square.",
        count="one side" if stock.count == 1 else f"{stock.count} sides",
        wood=stock.wood,
        spares=stock.spares,
        long=Length(stock.length, 1),
        wide=Length(stock.width, 1),
        thick=Length(stock.thickness),
        called=one.half.called,
        mitre=rounded(one.mitre, 2),
    )


def petals_stages(
    sides: tuple[Sides, ...], pieces: tuple[Piece, ...], edge: Edge, keys: PetalsKeys
) -> tuple[Stage, ...]:
    """A side of each wood, both woods' edges, and how they meet."""
    inner = list(pieces[: len(sides[0].half.petals)])
    outer = list(pieces[len(inner) :])
    middle = _opposite(inner)
    beside = sorted(outer, key=lambda p: _away(p, middle))[:2]
    turn = 180.0 - (middle.axis or 0.0)
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
    slope = math.tan(one.arc.half_rad)
    half, wide = one.length / 2.0, one.width
    corners = [
        (-half + wide * slope, 0.0),
        (half - wide * slope, 0.0),
        (half, wide),
        (-half, wide),
    ]
    shape = Piece(
        label="1",
        position=1,
        wood=one.half.wood,
        kind="side",
        outline=polygon(corners),
        axis=0.0,
    )
    return Stage(
        title=f"A side of the {one.half.called} wood",
        saying=say(
            "{count} of {wood}, each for {petals}.",
            count=len(one.places),
            wood=one.half.wood,
            petals="one petal" if one.petals == 1 else f"{one.petals} petals",
        ),
        sizes=(("long, from point to point", one.length), ("wide", one.width)),
        shapes=(shape,),
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
