"""Straight pieces with mitred ends that a round band is glued up from (mm, degrees).

A side's outer edge touches the band's outer circle and its ends run along the joints, so its
rectangle is as long as the longer edge and as wide as the band's rise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.geometry.outline import polygon
from rosette.patterns.arcs_form import Arc
from rosette.patterns.base import CutBlank, Piece, Place, Stock, spares_for
from rosette.units import rounded
from rosette.words import Length, Saying, say


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """Sides alike: those at `places` (from 0, clockwise) of a band, each for an arc.

    `called` tells bands of one ring apart ("inner", or nothing).
    """

    called: str
    wood: str
    places: tuple[int, ...]
    arc: Arc

    @property
    def name(self) -> str:
        """What the steps call one."""
        return f"{self.called} side".strip()

    @property
    def length(self) -> float:
        """Along the grain, from point to point of the mitres; up to the next half millimetre."""
        arc = self.arc
        long = 2.0 * (
            arc.outer_radius * math.tan(arc.half_rad) + arc.extra / math.cos(arc.half_rad)
        )
        return math.ceil(long * 2.0 - 1e-9) / 2.0

    @property
    def width(self) -> float:
        """Across the grain; up to the next half millimetre."""
        return math.ceil(self.arc.rise * 2.0 - 1e-9) / 2.0

    @property
    def mitre(self) -> float:
        """Off square."""
        return math.degrees(self.arc.half_rad)

    def stock(self, thickness: float) -> Stock:
        """As wood to prepare."""
        return Stock(
            name=self.name,
            wood=self.wood,
            count=len(self.places),
            spares=spares_for(len(self.places)),
            length=self.length,
            width=self.width,
            thickness=thickness,
        )

    def blank(self, band: tuple[Piece, ...], thickness: float) -> CutBlank:
        """For the offcuts, each with its place; `band` is all pieces of the band."""
        return CutBlank(
            name=self.name,
            wood=self.wood,
            inner_width=self.width,
            outer_width=self.width,
            height=self.length,
            thickness=thickness,
            places=tuple(
                Place(label=p.label, position=p.position, visibility=p.visibility)
                for p in (band[place] for place in self.places)
            ),
        )

    def step(self, thickness: float) -> Saying:
        """How they are cut."""
        stock = self.stock(thickness)
        band = f"the {self.called} wood" if self.called else "the ring"
        return say(
            "Cut {count} of {wood} and {spares} to spare, {long} by {wide} and {thick} thick, the"
            " grain along them, for {band}; mitre their ends {mitre}° off square.",
            count="one side" if stock.count == 1 else f"{stock.count} sides",
            wood=stock.wood,
            spares=stock.spares,
            long=Length(stock.length, 1),
            wide=Length(stock.width, 1),
            thick=Length(thickness),
            band=band,
            mitre=rounded(self.mitre, 2),
        )

    def shape(self) -> Piece:
        """One with its ends mitred, its longer edge up."""
        slope = math.tan(self.arc.half_rad)
        half, wide = self.length / 2.0, self.width
        corners = [
            (-half + wide * slope, 0.0),
            (half - wide * slope, 0.0),
            (half, wide),
            (-half, wide),
        ]
        return Piece(
            label="1",
            position=1,
            wood=self.wood,
            kind="side",
            outline=polygon(corners),
            axis=0.0,
        )


def frame_words(count: int, *, alike: bool) -> Saying:
    """How sides are glued to a frame; `alike` where all have one length."""
    how = (
        "Glue up two halves, true them to a straight line, and glue them together."
        if alike and count % 2 == 0
        else "Glue up all but the last side, and fit that one to what is left."
    )
    return say(
        "Lay the sides dry on the full-size sheet, on clear film: a frame of {count}. " + how,
        count=count,
    )


def shared_out(whole: int, parts: int) -> tuple[int, ...]:
    """A count shared out as evenly as can be, no part empty.

    >>> shared_out(24, 8), shared_out(7, 3)
    ((3, 3, 3, 3, 3, 3, 3, 3), (3, 2, 2))
    """
    least, more = divmod(whole, min(parts, whole))
    return tuple(least + (1 if i < more else 0) for i in range(min(parts, whole)))


def usual_parts(whole: int) -> int:
    """How many sides a band is glued up from: as many as share a count out evenly, about eight.

    >>> usual_parts(24), usual_parts(30), usual_parts(31), usual_parts(5)
    (8, 10, 8, 5)
    """
    return next((parts for parts in (8, 10, 12, 14, 9, 7) if whole % parts == 0), min(8, whole))
