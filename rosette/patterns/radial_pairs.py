"""Mirrored pairs: two strips sawn from one place in the wood, cut as one, opened like a book."""

from __future__ import annotations

import math

from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import Outline, polygon
from rosette.patterns.base import CutBlank, Piece, Place, Stage, Stock, Wedges
from rosette.words import Length, say

PLANED = 0.5
"""What planing takes off a sawn leaf, in mm (common practice; a rough saw takes more)."""
GRIP = 150.0
"""Strip in mm to hold while the last wedges are cut (common practice; the saw's manual rules)."""


def doubled(tile_thickness: float, kerf: float) -> float:
    """Thickness in mm of wood that gives two leaves, each planed to `tile_thickness`.

    >>> round(doubled(2.2, 0.9), 9)
    6.3
    """
    return 2.0 * (tile_thickness + PLANED) + kerf


def pair_stock(wedges: Wedges, tile_thickness: float) -> tuple[Stock, ...]:
    """The strips to saw in two; none where the ring has no pairs."""
    if wedges.leaves == 1:
        return ()
    ends = 2.0 * wedges.kerf / math.cos(math.radians(wedges.mitre_angle))
    return tuple(
        Stock(
            name="strip, to be sawn into two leaves",
            wood=wood.wood,
            count=1,
            length=wedges.blank.height,
            width=wood.strip_with_spares + ends + GRIP,
            thickness=doubled(tile_thickness, wedges.kerf),
        )
        for wood in wedges.woods
    )


def pair_blanks(
    wedges: Wedges, pieces: tuple[Piece, ...], tile_thickness: float
) -> tuple[CutBlank, ...]:
    """One blank a pair, thick enough for both leaves; none where the ring has no pairs."""
    if wedges.leaves == 1:
        return ()
    return tuple(
        CutBlank(
            name="pair of wedges",
            wood=wood.wood,
            inner_width=wedges.blank.inner_width,
            outer_width=wedges.blank.outer_width,
            height=wedges.blank.height,
            thickness=doubled(tile_thickness, wedges.kerf),
            places=tuple(
                Place(
                    label=f"{first.label}+{second.label.split('-')[1]}",
                    position=first.position,
                    visibility=_both(first.visibility, second.visibility),
                )
                for first, second in zip(pieces[::2], pieces[1::2], strict=True)
                if first.wood == wood.wood
            ),
        )
        for wood in wedges.woods
    )


def _both(one: Visibility, other: Visibility) -> Visibility:
    return one if one is other else Visibility.PARTLY


def pair_stages(
    wedges: Wedges, pieces: tuple[Piece, ...], tile_thickness: float
) -> tuple[Stage, ...]:
    """The strip sawn in two, and a pair opened; none where the ring has no pairs."""
    if wedges.leaves == 1:
        return ()
    wood, height = pieces[0].wood, wedges.blank.height
    thick = doubled(tile_thickness, wedges.kerf)
    leaf = tile_thickness + PLANED
    return (
        Stage(
            title="Two leaves from one strip",
            saying=say(
                "Saw each strip, {thick} thick, into two leaves and plane the sawn faces: the"
                " strip seen on its end.",
                thick=Length(thick),
            ),
            sizes=(
                ("strip, thick", thick),
                ("leaf off the saw", leaf),
                ("leaf planed", tile_thickness),
                ("strip, wide", height),
            ),
            shapes=tuple(
                _shape(number, wood, "leaf", _box(height, low, low + leaf), 0.0)
                for number, low in ((1, 0.0), (2, leaf + wedges.kerf))
            ),
        ),
        Stage(
            title="A pair, opened like a book",
            saying=say(
                "Both leaves cut as one and opened at the joint between them, sawn faces up: the"
                " figure of one mirrors the other's."
            ),
            sizes=(
                ("wide end of each", wedges.blank.outer_width),
                ("narrow end of each", wedges.blank.inner_width),
                ("along the grain", height),
            ),
            shapes=tuple(
                _shape(
                    number,
                    wood,
                    "blank",
                    wedges.blank.outline().mapped(math.radians(axis)),
                    axis,
                )
                for number, axis in (
                    (1, 90.0 + wedges.mitre_angle),
                    (2, 90.0 - wedges.mitre_angle),
                )
            ),
        ),
    )


def _box(width: float, low: float, high: float) -> Outline:
    return polygon([(0.0, low), (width, low), (width, high), (0.0, high)])


def _shape(number: int, wood: str, kind: str, outline: Outline, axis: float) -> Piece:
    return Piece(
        label=str(number), position=number, wood=wood, kind=kind, outline=outline, axis=axis
    )
