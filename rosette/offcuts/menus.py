"""The ways to take wedges from each piece of wood: of one kind, or of two, one beyond the other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import permutations

import numpy as np
import shapely

from rosette.offcuts.allocate import Portion, Take
from rosette.offcuts.demand import Want
from rosette.offcuts.layouts import FoundOut
from rosette.offcuts.model import Layout, Offcut
from rosette.offcuts.options import CutOptions
from rosette.offcuts.poses import clipped
from rosette.offcuts.region import Region, RegionOf, usable_region
from rosette.offcuts.selection import Part
from rosette.offcuts.supply import Source

MOST_RESTS = 4
"""How many places to part a piece between two kinds are tried."""
_FAR = 1e6


@dataclass(slots=True, kw_only=True)
class Kitchen:
    """Makes menus out of what is found out about the wood."""

    wants: Sequence[Want]
    kerf: float
    options: CutOptions
    found_out: FoundOut

    def menu(self, source: Source, kinds: Sequence[int], least: int = 1) -> list[Take]:
        """Every number of wedges of one kind, from `least` to what the piece holds.

        `kinds` go by the numbers of the wants.
        """
        return [
            self._take(source, kinds, (portion,))
            for kind in kinds
            for portion in self._portions(source, kind, least)
        ]

    def shared(self, source: Source, kinds: Sequence[int]) -> list[Take]:
        """Two kinds out of one piece: whole bands of one, the other from the wood beyond them."""
        found = []
        for portion, other, rest in self._rests(source, kinds):
            want = self.wants[other]
            layout = self.found_out.layout(rest, want.size, kerf=self.kerf, options=self.options)
            for part in self._parts(rest, layout, other, want.count):
                more = Portion(want=other, wood=rest, layout=layout, part=part)
                found.append(self._take(source, kinds, (portion, more)))
        return found

    def counts(self, source: Source, kinds: Sequence[int]) -> list[Take]:
        """As `menu` gives them, but the numbers alone."""
        return [
            _numbers(kinds, {kind: count})
            for kind in kinds
            if (layout := source.layouts.get(kind)) is not None
            for count in range(1, min(layout.placed, self.wants[kind].count) + 1)
        ]

    def shared_counts(self, source: Source, kinds: Sequence[int]) -> list[Take]:
        """As `shared` gives them, but the numbers alone."""
        found = []
        for portion, other, rest in self._rests(source, kinds):
            want = self.wants[other]
            held = self.found_out.holds(rest, want.size, kerf=self.kerf, options=self.options)
            found += [
                _numbers(kinds, {portion.want: portion.part.count, other: count})
                for count in range(1, min(held, want.count) + 1)
            ]
        return found

    def full(self, source: Source, kind: int) -> Take | None:
        """All that the piece holds of one kind."""
        layout = source.layouts.get(kind)
        if layout is None or not layout.placements:
            return None
        (part,) = self._parts(source.wood, layout, kind, layout.placed, layout.placed)
        portion = Portion(want=kind, wood=source.wood, layout=layout, part=part)
        return self._take(source, range(len(self.wants)), (portion,))

    def filled(self, source: Source, take: Take) -> Take:
        """The same way to take wedges, with as many of the last kind as there is wood for."""
        *before, last = take.portions
        placed = last.layout.placed
        (part,) = self._parts(last.wood, last.layout, last.want, placed, placed)
        return self._take(source, range(len(self.wants)), (*before, replace(last, part=part)))

    def _portions(self, source: Source, kind: int, least: int = 1) -> list[Portion]:
        layout = source.layouts.get(kind)
        if layout is None:
            return []
        return [
            Portion(want=kind, wood=source.wood, layout=layout, part=part)
            for part in self._parts(source.wood, layout, kind, self.wants[kind].count, least)
        ]

    def _parts(
        self, wood: Offcut, layout: Layout, kind: int, most: int, least: int = 1
    ) -> tuple[Part, ...]:
        return self.found_out.parts(
            wood,
            layout,
            self.wants[kind].size,
            kerf=self.kerf,
            objectives=self.options.objectives,
            least=least,
            most=most,
        )

    def _rests(self, source: Source, kinds: Sequence[int]) -> Iterator[tuple[Portion, int, Offcut]]:
        """Whole bands of one kind, another kind, and the wood beyond them for it."""
        for kind, other in permutations(kinds, 2):
            if not (source.layouts.get(kind) and source.layouts.get(other)):
                continue
            for portion in _spread(_fullest_bands(self._portions(source, kind)), MOST_RESTS):
                rest = beyond(portion, self.kerf, self.found_out.region)
                if rest is not None:
                    yield portion, other, rest

    def _take(self, source: Source, kinds: Sequence[int], portions: tuple[Portion, ...]) -> Take:
        counts = {portion.want: portion.part.count for portion in portions}
        return Take(
            counts=tuple(counts.get(kind, 0) for kind in kinds),
            portions=portions,
            runs=sum(portion.part.runs for portion in portions),
            loss=math.ceil(max(0.0, source.area - portions[-1].part.whole)),
        )


def _numbers(kinds: Sequence[int], counts: dict[int, int]) -> Take:
    numbers = tuple(counts.get(kind, 0) for kind in kinds)
    return Take(counts=numbers, portions=(), runs=0, loss=0)


def _fullest_bands(portions: Sequence[Portion]) -> list[Portion]:
    """Of the numbers that reach into the same band the largest, which wastes least of it."""
    by_bands = {len({one.band for one in p.part.placements}): p for p in portions}
    return list(by_bands.values())[::-1]


def _spread(portions: Sequence[Portion], most: int) -> list[Portion]:
    """The first and some more, evenly spread."""
    step = max(1, -(-len(portions) // most))
    return list(portions[::step])


def beyond(portion: Portion, kerf: float, region_of: RegionOf = usable_region) -> Offcut | None:
    """The largest piece of the wood past a portion's last crosscut, as an offcut of its own."""
    region = region_of(portion.wood, tilt=portion.layout.tilt)
    corners = np.array([one.vertices for one in portion.part.placements]).reshape(-1, 2)
    along = region.frame.along_grain(corners)[:, 1]
    if portion.part.end == "low":
        window = (-_FAR, float(along.max()) + kerf, _FAR, _FAR)
    else:
        window = (-_FAR, -_FAR, _FAR, float(along.min()) - kerf)
    rest = clipped(_whole(portion.wood, region), window)
    pieces = [one for one in shapely.get_parts(rest) if isinstance(one, shapely.Polygon)]
    if not pieces:
        return None
    largest = max(pieces, key=lambda one: float(one.area))
    if largest.area < 1.0:
        return None
    outline, *holes = (
        tuple(region.frame.own(float(x), float(y)) for x, y in shapely.get_coordinates(ring)[:-1])
        for ring in (largest.exterior, *largest.interiors)
    )
    return replace(portion.wood, outline=outline, holes=tuple(holes))


def _whole(wood: Offcut, region: Region) -> shapely.Polygon:
    """The whole piece along the grain, defects and all: what the saw goes through."""
    whole = shapely.Polygon(wood.outline, wood.holes)
    turned: shapely.Polygon = shapely.transform(whole, region.frame.along_grain)
    return turned
