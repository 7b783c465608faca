"""The blanks that a ring of arcs takes, and what of it offcuts can give."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from rosette.patterns.arcs_form import Arc, across_share
from rosette.patterns.arcs_keys import ArcsKeys
from rosette.patterns.arcs_layout import Layout, arc_of
from rosette.patterns.base import CutBlank, Piece, Place, RingSite, Stock, spares_for
from rosette.wood.shell import is_shell


@dataclass(frozen=True, slots=True, kw_only=True)
class Blanks:
    """The blanks of one wood: each `length` by `width` mm and giving `rows` by `columns` arcs."""

    wood: str
    arc: Arc
    arcs: int
    spare_arcs: int
    length: float
    width: float
    rows: int = 1
    columns: int = 1
    name: str = "blank"

    @property
    def per_blank(self) -> int:
        """Arcs out of one blank."""
        return self.rows * self.columns

    @property
    def count(self) -> int:
        """Blanks for the arcs of the ring."""
        return math.ceil(self.arcs / self.per_blank)

    @property
    def spares(self) -> int:
        """Blanks beside them, for the spare arcs."""
        return math.ceil((self.arcs + self.spare_arcs) / self.per_blank) - self.count

    def stock(self, thickness: float) -> Stock:
        """As wood to prepare."""
        return Stock(
            name=self.name,
            wood=self.wood,
            count=self.count,
            spares=self.spares,
            length=self.length,
            width=self.width,
            thickness=thickness,
        )


def saw_kerf(keys: ArcsKeys, site: RingSite) -> float:
    """The cut of the saw that the arcs are cut out with (mm)."""
    return site.kerf if keys.saw_kerf is None else keys.saw_kerf


def blanks_of(layout: Layout, keys: ArcsKeys, site: RingSite) -> tuple[Blanks, ...]:
    """The blanks of each wood, a filler's last."""
    arc = arc_of(layout.half_rad, keys, site)
    made = [_blanks(wood, count, arc, keys, site) for wood, count in layout.counts().items()]
    if layout.fillers:
        filler = arc_of(layout.filler_half_rad, keys, site)
        made.append(
            Blanks(
                wood=layout.filler,
                arc=filler,
                arcs=layout.fillers,
                spare_arcs=0,
                length=_up(filler.chord),
                width=_up(filler.rise),
                name="filler",
            )
        )
    return tuple(made)


def _blanks(wood: str, count: int, arc: Arc, keys: ArcsKeys, site: RingSite) -> Blanks:
    if keys.blank_length is None or keys.blank_width is None:
        size, rows, columns = (_up(arc.chord), _up(arc.rise)), 1, 1
    else:
        size = keys.blank_length, keys.blank_width
        rows, columns = arc.per_blank(*size, saw_kerf(keys, site))
    return Blanks(
        wood=wood,
        arc=arc,
        arcs=count,
        spare_arcs=spares_for(count),
        length=size[0],
        width=size[1],
        rows=rows,
        columns=columns,
    )


def _up(size: float) -> float:
    """A size (mm) to cut a blank to, so that a rounded figure never falls short."""
    return math.ceil(size * 2.0 - 1e-9) / 2.0


def cut_blanks(
    blanks: tuple[Blanks, ...], pieces: tuple[Piece, ...], thickness: float
) -> Iterator[CutBlank]:
    """Each arc's own rectangle, its grain along the chord, for offcuts of any shape."""
    for one in blanks:
        filler = one.name == "filler"
        mine = [p for p in pieces if p.wood == one.wood]
        mine = mine[-one.arcs :] if filler else mine[: one.arcs]
        yield CutBlank(
            name="filler" if filler else "arc",
            wood=one.wood,
            inner_width=one.arc.rise,
            outer_width=one.arc.rise,
            height=one.arc.chord,
            thickness=thickness,
            places=tuple(
                Place(label=p.label, position=p.position, visibility=p.visibility) for p in mine
            ),
        )


def across(layout: Layout, site: RingSite) -> tuple[tuple[str, float], ...]:
    """How much of the rim moves with the weather, by wood (mm): neither shell nor a filler."""
    one = 2.0 * layout.half_rad * site.outer_radius * across_share(layout.half_rad)
    counts = layout.counts().items()
    return tuple((wood, count * one) for wood, count in counts if not is_shell(wood))
