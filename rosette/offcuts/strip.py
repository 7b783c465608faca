"""The saw's method: parallel crosscuts make bands, slanted cuts make wedges of them.

Exact for its class at the tilts tried: `rosette.offcuts.bands` has the proof.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from rosette.offcuts.bands import NODE_LIMIT, Bands, best_bands
from rosette.offcuts.bounds import free_bound
from rosette.offcuts.centres import FIT, feasible_centres
from rosette.offcuts.cuts import Band, cuts_for
from rosette.offcuts.model import Cut, Layout, Offcut, Placement, Ways, WedgeSize
from rosette.offcuts.region import Edges, Floats, Frame, Region, RegionOf, usable_region
from rosette.offcuts.rows import Apart, Counts, Seat, most_in_rows, row_layout
from rosette.offcuts.settle import settled

_TILTS = (0.0, 1.0, -1.0, 0.5, -0.5)
"""Shares of the grain tolerance that are tried; the first wins among equals."""

WAYS: dict[Ways, tuple[tuple[int, ...], ...]] = {"both": ((0, 1),), "one": ((0,), (1,))}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """The best bands so far, and the wood and ways up that they were found with."""

    region: Region
    ways: tuple[int, ...]
    bands: Bands
    tilt: float


def strip_layout(
    offcut: Offcut,
    size: WedgeSize,
    *,
    kerf: float,
    ways: Ways = "both",
    grain_tolerance: float = 0.0,
    simplify: float = 0.0,
    node_limit: int = NODE_LIMIT,
    region_of: RegionOf = usable_region,
    with_cuts: bool = True,
) -> Layout:
    """The most wedges of one size that a saw gets out of one offcut, and how to cut them.

    `kerf` in mm, square to each cut; `ways` "one" keeps all wedges of the offcut the same way
    up. Within `grain_tolerance` degrees a few tilts of the whole layout are tried, and the
    bound then holds for every tilt. `simplify` mm for traced outlines: see
    `rosette.offcuts.region.simplified`; the bound is then that of the simplified wood.
    `with_cuts` False leaves the cuts out, for who takes only some of the wedges.
    """
    found: list[_Found] = []
    nodes, bound, beat = 0, 0, 0
    for tilt in _tilts(grain_tolerance):
        turned = tilt - size.grain
        region = region_of(offcut, tilt=turned, simplify=simplify)
        for some in WAYS[ways]:
            bands = _search(region, size, kerf=kerf, ways=some, beat=beat, node_limit=node_limit)
            nodes, bound = nodes + bands.nodes, max(bound, bands.bound)
            if not found or bands.total > beat:
                found.append(_Found(region=region, ways=some, bands=bands, tilt=turned))
                beat = max(beat, bands.total)
    best = found[-1]
    if grain_tolerance > 0.0:
        bound = free_bound(best.region, size, kerf=kerf, grain_tolerance=grain_tolerance)
    placements, cuts = _laid_out(best, size, kerf, with_cuts=with_cuts)
    return Layout(
        method="strip", placements=placements, cuts=cuts, bound=max(bound, len(placements)),
        tilt=best.tilt, nodes=nodes,
    )  # fmt: skip


def strip_count(
    region: Region,
    size: WedgeSize,
    *,
    kerf: float,
    ways: Ways = "both",
    node_limit: int = NODE_LIMIT,
) -> tuple[int, int]:
    """How many wedges a saw gets out of a region, and the proved bound; nothing is laid out.

    A `node_limit` of 0 looks once only: quick, and often enough to tell that there are enough
    or that there can't be.
    """
    found = [
        _search(region, size, kerf=kerf, ways=some, beat=0, node_limit=node_limit)
        for some in WAYS[ways]
    ]
    return max(one.total for one in found), max(one.bound for one in found)


def _tilts(tolerance: float) -> tuple[float, ...]:
    return tuple(share * tolerance for share in _TILTS) if tolerance > 0.0 else (0.0,)


def _search(
    region: Region,
    size: WedgeSize,
    *,
    kerf: float,
    ways: tuple[int, ...],
    beat: int,
    node_limit: int,
) -> Bands:
    edges = region.edges
    if len(edges.y1) == 0:
        return Bands(starts=(), total=0, bound=0, nodes=0)
    lowest, highest = float(edges.y1.min()), float(edges.y2.max()) - size.height + FIT
    if highest < lowest:
        return Bands(starts=(), total=0, bound=0, nodes=0)
    ends = _turning_heights(edges)
    return best_bands(
        counter(edges, size, kerf=kerf, ways=ways),
        lowest=lowest,
        highest=highest,
        pitch=size.height + kerf,
        special=np.concatenate((ends, ends - size.height)),
        step=size.height / 8.0,
        beat=beat,
        node_limit=node_limit,
    )


def counter(
    edges: Edges, size: WedgeSize, *, kerf: float, ways: tuple[int, ...]
) -> Callable[[Floats, Floats], Counts]:
    """Counts what a band holds, or bounds it over cells of starts, for one size and kerf."""
    apart = apart_for(size, kerf)

    def most(low: Floats, high: Floats) -> Counts:
        blocks = feasible_centres(edges, size, low, high)
        return np.concatenate([most_in_rows(block, ways, apart) for block in blocks])

    return most


def apart_for(size: WedgeSize, kerf: float) -> Apart:
    """How far apart neighbours in a band stand: their width and a slanted kerf."""
    slant = size.slant_kerf(kerf)
    return Apart(opposite=size.mean_width + slant, same=size.outer_width + slant)


def _turning_heights(edges: Edges) -> Floats:
    """Heights at which the wood begins or ends: where its outline turns back or runs level.

    A ring passes each of its points twice; where both edges lie on one side, it turns.
    """
    lower, times = np.unique(np.column_stack((edges.x1, edges.y1)), axis=0, return_counts=True)
    upper, again = np.unique(np.column_stack((edges.x2, edges.y2)), axis=0, return_counts=True)
    level = edges.y1[edges.y1 == edges.y2]
    return np.unique(np.concatenate((lower[times > 1, 1], upper[again > 1, 1], level)))


def _laid_out(
    best: _Found, size: WedgeSize, kerf: float, *, with_cuts: bool
) -> tuple[tuple[Placement, ...], tuple[Cut, ...]]:
    if not best.bands.starts:
        return (), ()
    most = counter(best.region.edges, size, kerf=kerf, ways=best.ways)
    starts = np.array(settled(best.bands.starts, most, pitch=size.height + kerf))
    (centres,) = feasible_centres(best.region.edges, size, starts, starts)
    apart = apart_for(size, kerf)
    bands = [
        Band(start=float(y), seats=tuple(row_layout(centres, row, best.ways, apart)))
        for row, y in enumerate(starts)
    ]
    placements = tuple(
        placed(best.region.frame, size, seat, band.start, (number, order), turn=best.tilt)
        for number, band in enumerate(bands, 1)
        for order, seat in enumerate(band.seats, 1)
    )
    return placements, cuts_for(best.region, bands, size, kerf=kerf) if with_cuts else ()


def placed(
    frame: Frame, size: WedgeSize, seat: Seat, start: float, place: tuple[int, int], *, turn: float
) -> Placement:
    """A wedge of a band in the offcut's own coordinates; `place` is its band and order."""
    sign = -1.0 if seat.way else 1.0
    middle = start + size.height / 2.0

    def corner(across: float, along: float) -> tuple[float, float]:
        return frame.own(seat.centre + sign * across, middle + sign * along)

    a, b, half = size.inner_width / 2.0, size.outer_width / 2.0, size.height / 2.0
    return Placement(
        band=place[0],
        order=place[1],
        flipped=seat.way == 1,
        centre=frame.own(seat.centre, middle),
        vertices=(corner(-a, -half), corner(a, -half), corner(b, half), corner(-b, half)),
        turn=turn,
    )
