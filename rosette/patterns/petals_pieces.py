"""The pieces of a petalled ring: each wood glued up from sides, jointed where it is widest."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from rosette.geometry.hidden import Visibility
from rosette.patterns.arcs_form import Arc, rough_arc
from rosette.patterns.base import Piece, RingSite
from rosette.patterns.petals_edge import Edge, between
from rosette.patterns.petals_keys import PetalsKeys
from rosette.patterns.sides import Sides, shared_out, usual_parts

ROUTED = 1.5
"""Stock left where the petalled line is routed (mm; common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Half:
    """One of the two woods: `side` −1 inside the line, 1 outside it.

    `petals` is how many petals each of its pieces carries, clockwise; its joints stand at petals'
    tips (`at_tip`) or in valleys, the first at `start` radians.
    """

    side: int
    wood: str
    base_radius: float
    petals: tuple[int, ...]
    at_tip: bool
    start: float

    @property
    def called(self) -> str:
        """Inner or outer."""
        return "inner" if self.side < 0 else "outer"


def halves_of(edge: Edge, keys: PetalsKeys, site: RingSite) -> tuple[Half, Half]:
    """Both woods. A wood's joints stand where its own points or petals reach furthest."""
    tips_at = math.pi / 2.0 + (0.0 if keys.at_centreline == "petal" else edge.half_period)
    counts = shared_out(edge.petals, keys.segments or usual_parts(edge.petals))
    made = []
    for side, wood, base in (
        (-1, keys.inner_wood, site.inner_radius),
        (1, keys.outer_wood, site.outer_radius),
    ):
        at_tip = side == -edge.sign
        start = tips_at if at_tip else tips_at + edge.half_period
        # the first joint is the one at 12 o'clock or just before it
        if start - 2.0 * edge.half_period >= math.pi / 2.0 - 1e-9:
            start -= 2.0 * edge.half_period
        made.append(
            Half(side=side, wood=wood, base_radius=base, petals=counts, at_tip=at_tip, start=start)
        )
    return made[0], made[1]


def pieces_of(
    halves: tuple[Half, Half], edge: Edge, keys: PetalsKeys, site: RingSite
) -> tuple[Piece, ...]:
    """The inner wood's pieces clockwise from the seam, then the outer wood's."""
    count = sum(len(half.petals) for half in halves)
    digits = max(2, len(str(count)))
    made: list[Piece] = []
    for half in halves:
        for outline_piece in _pieces(half, edge, keys, site):
            number = len(made) + 1
            made.append(
                Piece(
                    label=f"{site.index}-{number:0{digits}d}",
                    position=number,
                    wood=half.wood,
                    kind="petalled",
                    outline=outline_piece.outline,
                    axis=outline_piece.axis,
                    visibility=outline_piece.visibility,
                )
            )
    return tuple(made)


def _pieces(half: Half, edge: Edge, keys: PetalsKeys, site: RingSite) -> Iterator[Piece]:
    end = half.start
    for number, petals in enumerate(half.petals, start=1):
        start = end - 2.0 * petals * edge.half_period
        outline = between(
            edge,
            half.base_radius,
            start,
            2 * petals,
            side=half.side,
            glue=keys.glue_line,
            at_tip=half.at_tip,
        )
        yield Piece(
            label=str(number),
            position=number,
            wood=half.wood,
            kind="petalled",
            outline=outline,
            axis=math.degrees((start + end) / 2.0) - 90.0,
            visibility=Visibility.SEEN if site.hidden is None else site.hidden.visibility(outline),
        )
        end = start


def rough_side(half: Half, petals: int, edge: Edge, keys: PetalsKeys, site: RingSite) -> Arc:
    """The band that a side of so many petals has to hold before it is routed and trimmed."""
    low, high = sorted((edge.tip_radius, edge.valley_radius))
    inner = site.inner_radius - site.inner_allowance if half.side < 0 else low - ROUTED
    outer = high + ROUTED if half.side < 0 else site.outer_radius + site.outer_allowance
    return rough_arc(
        max(inner, 1.0), outer, petals * edge.half_period, joint=keys.glue_line, trim=0.0
    )


def sides_of(
    halves: tuple[Half, Half], edge: Edge, keys: PetalsKeys, site: RingSite
) -> tuple[Sides, ...]:
    """The sides of both woods, those that carry as many petals together."""
    return tuple(
        Sides(
            called=half.called,
            wood=half.wood,
            places=tuple(i for i, count in enumerate(half.petals) if count == petals),
            arc=rough_side(half, petals, edge, keys, site),
        )
        for half in halves
        for petals in dict.fromkeys(half.petals)
    )
