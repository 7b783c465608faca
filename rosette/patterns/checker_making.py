"""How a checker is made: sticks, panel, slices, bar, strips, and the wood they take (mm).

Sticks as wide as a row are glued side by side to a panel and the panel is cut square across into
slices, each a column of squares. Glued side by side they are a bar, which is sliced into strips as
thick as the ring. With an even number of rows every second slice is turned end for end, which
moves its squares on by one; with an odd number that changes nothing, so there are two sorts of
panel, each beginning with the other wood, and their slices come in turn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.errors import CannotMakeError, finding
from rosette.patterns.base import RingSite, Stock, spares_for
from rosette.patterns.checker_keys import CheckerKeys
from rosette.patterns.laminate_making import FACE_TRIM, Slicing, bars_for, piece_width
from rosette.patterns.laminate_ring import Facets
from rosette.words import Length

FITTING = 2
"""Columns to spare for fitting the seam."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Squares:
    """The squares of a band: how many round it, and their size along it and across it.

    `along` is a square's length, `pitch` with its glue; `rows` are the sticks' widths, from the
    inside out; `columns` go round the ring, `each` of them to a straight piece (0: it is bent).
    """

    columns: int
    along: float
    glue: float
    rows: tuple[float, ...]
    each: int = 0

    @property
    def pitch(self) -> float:
        """From square to square along the band."""
        return self.along + self.glue

    @property
    def width(self) -> float:
        """The panel, and so the bar, from edge to edge."""
        return sum(self.rows) + (len(self.rows) - 1) * self.glue


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckerMaking:
    """The sizes of every stage: `sorts` of panel, `panels` of each sort, `slices` out of each.

    `slabs` slices make a bar; `strips` are needed in all; `pieces` straight pieces come out of a
    strip (0: it is bent), each taking `taken` columns of it.
    """

    squares: Squares
    sorts: int
    panels: int
    slices: int
    slabs: int
    strips: int
    slicing: Slicing
    pieces: int = 0
    taken: int = 0

    @property
    def panel_length(self) -> float:
        """A panel along the grain: slices, a cut beside each and at the start, what is held."""
        cut = self.slicing.kerf
        return self.slices * (self.squares.along + cut) + cut + self.slicing.grip


def checker_making(
    squares: Squares, keys: CheckerKeys, site: RingSite, facets: Facets | None = None
) -> CheckerMaking:
    """Work the stages out.

    Raises:
        CannotMakeError: where bar or panel would have to be longer than it may be.
    """
    taken = 0 if facets is None else _taken(squares, facets, site)
    slabs = int((keys.bar_length + squares.glue) / squares.pitch + 1e-9) // 2 * 2
    if facets is None:
        wanted = squares.columns + FITTING
        slabs = min(slabs, math.ceil(wanted / 2) * 2)
        pieces = 0
        least = 2.0 * squares.pitch
        strips = math.ceil(wanted / slabs) + 1 if slabs else 0
    else:
        long = piece_width(facets, site)
        count = facets.count + spares_for(facets.count)
        whole = math.ceil(((count - 1) * taken * squares.pitch + long) / squares.pitch / 2 + 1) * 2
        slabs = min(slabs, whole)
        # up to two squares are lost before the first piece, which begins with a joint and its wood
        usable = (slabs - 2) * squares.pitch - squares.glue - long
        pieces = int(usable / (taken * squares.pitch) + 1e-9) + 1 if usable >= -1e-9 else 0
        least = long + 4.0 * squares.pitch
        strips = math.ceil(count / pieces) if pieces else 0
    if not strips:
        raise CannotMakeError(
            [
                finding(
                    "short-bar",
                    f"{site.where}.bar_length",
                    "so short a bar holds too little of the band to be of use; use {least} or more,"
                    " or smaller squares",
                    least=Length(math.ceil(least)),
                )
            ]
        )
    thick = keys.tile_thickness + 2.0 * keys.trim
    bars, sliced = bars_for(strips, thick, kerf=site.kerf, grip=keys.grip)
    sorts = len(keys.wood) if keys.rows % 2 else 1
    panels, slices = _panels(squares, keys, site, bars * slabs // sorts)
    return CheckerMaking(
        squares=squares,
        sorts=sorts,
        panels=panels,
        slices=slices,
        slabs=slabs,
        strips=strips,
        slicing=Slicing(
            bars=bars,
            sliced=sliced,
            bar_length=slabs * squares.pitch - squares.glue,
            strip_width=squares.width,
            strip_thickness=thick,
            kerf=site.kerf,
            grip=keys.grip,
            wood=keys.wood[0],
        ),
        pieces=pieces,
        taken=taken,
    )


def _taken(squares: Squares, facets: Facets, site: RingSite) -> int:
    """Columns that one straight piece takes of a strip, so that the next begins with its wood."""
    cut = site.kerf / math.cos(math.radians(facets.mitre))
    taken = math.ceil((piece_width(facets, site) + cut) / squares.pitch - 1e-9)
    return taken + (taken - squares.each) % 2


def _panels(squares: Squares, keys: CheckerKeys, site: RingSite, slices: int) -> tuple[int, int]:
    """How many panels of a sort, and how many slices come out of each."""
    each = squares.along + site.kerf
    ends = site.kerf + keys.grip
    most = int((keys.block_length - ends) / each + 1e-9)
    if most < 1:
        raise CannotMakeError(
            [
                finding(
                    "short-block",
                    f"{site.where}.block_length",
                    "a panel of {length} gives no slice {along} long; use {least} or more",
                    length=Length(keys.block_length),
                    along=Length(squares.along),
                    least=Length(math.ceil(ends + each)),
                )
            ]
        )
    panels = math.ceil(slices / most)
    return panels, math.ceil(slices / panels)


def stick_stock(made: CheckerMaking, keys: CheckerKeys) -> tuple[Stock, ...]:
    """The sticks to prepare, those alike together."""
    counts: dict[tuple[str, float], int] = {}
    for sort in range(made.sorts):
        for row, wide in enumerate(made.squares.rows):
            at = (keys.wood[(row + sort) % 2], wide)
            counts[at] = counts.get(at, 0) + made.panels
    edge = made.squares.rows[0]
    return tuple(
        Stock(
            name="edge stick" if wide == edge and keys.rows > 2 else "stick",
            wood=wood,
            count=count,
            length=made.panel_length,
            width=wide,
            thickness=made.slicing.depth + 2.0 * FACE_TRIM,
        )
        for (wood, wide), count in counts.items()
    )
