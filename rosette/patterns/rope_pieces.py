"""The plies of slanted bands in the ring."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rosette.geometry.outline import Outline
from rosette.patterns.laminate import Lay
from rosette.patterns.laminate_ring import Facets, Shape, Sweep, slanted, stations


def bent_plies(
    lay: Lay, *, inner_radius: float, outer_radius: float, repeats: int, sign: float, anchor: float
) -> Iterator[Shape]:
    """The plies of a bent band: `repeats` of them close it, leaning by `sign`.

    The first begins at the seam at the radius `anchor`.
    """
    middle = (inner_radius + outer_radius) / 2.0
    sweep = Sweep(
        inner_radius=inner_radius,
        outer_radius=outer_radius,
        lead=sign * lay.cotangent / middle,
        anchor=anchor,
    )
    # from repeat to repeat by whole shares of the turn, so that the last meets the first
    turn = math.tau / repeats
    scale = turn / lay.pitch
    for number in range(repeats):
        placed = stations(lay.widths(), lay.gap, 0.0)
        for order, (ply, (start, end)) in enumerate(zip(lay.plies, placed, strict=True)):
            from_ = turn * number + start * scale
            to = (
                turn * (number + 1)
                if order == len(placed) - 1 and not lay.gap
                else (turn * number + end * scale)
            )
            along, axis = sweep.middle(from_, to)
            yield Shape(
                outline=sweep.piece(from_, to),
                wood=ply.wood,
                kind="ply",
                axis=axis,
                along=along,
                order=round(inner_radius * 1000.0),
            )


def straight_plies(
    lay: Lay, facets: Facets, part: Outline, *, sign: float, level: float, band: int = 0
) -> Iterator[Shape]:
    """The plies of a ring of straight pieces; `part` is what the band takes of one piece.

    Its edges stand at the height y = `level` as they do along the middle line, a whole number of
    repeats from joint to joint.
    """
    lean = sign * math.radians(90.0 - lay.angle)
    low, high = part.bounds()[1], part.bounds()[3]
    reach = facets.length / 2.0 + (high - low) * (
        lay.cotangent + math.tan(math.radians(facets.mitre))
    )
    before = math.ceil((reach - facets.length / 2.0) / lay.pitch) + 1
    repeats = round(facets.length / lay.pitch) + 2 * before
    start = -facets.length / 2.0 - before * lay.pitch
    edges = stations(lay.widths() * repeats, lay.gap, start)
    shapes = list(slanted(part, edges, lean=lean, at=level))
    for piece in range(facets.count):
        for number, outline in shapes:
            placed = facets.turned(outline, piece)
            yield Shape(
                outline=placed,
                wood=lay.plies[number % len(lay.plies)].wood,
                kind="ply",
                axis=facets.axis(piece) - math.degrees(lean),
                along=facets.along(outline, piece),
                order=band,
            )
