"""The most wedges in one band: the leftmost-centre recurrence.

f[m][o] is the leftmost centre of the m-th wedge from the left with way up o. Neighbours of
opposite way up stand their mean width and a slanted kerf apart, those of the same way up the
outer width and a slanted kerf. Whatever a layout's first m wedges are, pushing them to the
leftmost centres leaves the rest where they are, so the recurrence loses nothing, with any gaps
and defects in the wood.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rosette.offcuts.centres import Centres
from rosette.offcuts.region import Floats

Counts = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """Distances of neighbouring centres in mm: of opposite way up, and of the same."""

    opposite: float
    same: float


def most_in_rows(centres: Centres, ways: tuple[int, ...], apart: Apart) -> Counts:
    """The most wedges in each row, using the ways up in `ways` (0 unflipped, 1 flipped)."""
    first, last = centres.first[list(ways)], centres.last[list(ways)]
    count = np.zeros(first.shape[1], dtype=np.int64)
    left, end = first[:, :, 0], last[:, :, 0]
    rows = np.flatnonzero(np.isfinite(left).any(axis=0))
    first, last, left, end = first[:, rows], last[:, rows], left[:, rows], end[:, rows]
    while len(rows):
        count[rows] += 1
        left, jumped = _jump(left, end, apart)
        count[rows] += jumped
        left, end = _next(first, last, _follow(left, apart))
        more = np.isfinite(left).any(axis=0)
        if not more.all():
            rows, first, last = rows[more], first[:, more], last[:, more]
            left, end = left[:, more], end[:, more]
    return count


def _follow(left: Floats, apart: Apart) -> Floats:
    """The leftmost centre that keeps clear of the wedge before, for each way up."""
    if len(left) == 1:
        return left + apart.same
    return np.minimum(left + apart.same, left[::-1] + apart.opposite)


def _next(first: Floats, last: Floats, wanted: Floats) -> tuple[Floats, Floats]:
    """The nearest feasible centre at or right of `wanted`, and where its interval ends."""
    place = (last < wanted[:, :, None]).sum(axis=2)
    gone = place >= first.shape[2]
    place = np.where(gone, 0, place)[:, :, None]
    begin = np.take_along_axis(first, place, axis=2)[:, :, 0]
    end = np.take_along_axis(last, place, axis=2)[:, :, 0]
    left = np.where(gone | ~np.isfinite(begin), np.inf, np.maximum(begin, wanted))
    return left, end


def _jump(left: Floats, end: Floats, apart: Apart) -> tuple[Floats, Counts]:
    """As many steps at once as stay within the present intervals, and their number."""
    if len(left) == 1:
        steps = np.floor((end[0] - left[0]) / apart.same)
        return left + steps * apart.same, steps.astype(np.int64)
    pair = 2.0 * apart.opposite
    known = np.isfinite(left).all(axis=0)
    up, down = np.where(known, left, 0.0)
    up_end, down_end = np.where(known, end, 0.0)
    steady = known & (np.abs(up - down) <= apart.same - apart.opposite)
    room = np.minimum(
        np.minimum(up_end - up, down_end - down),
        np.minimum(up_end - down, down_end - up) + apart.opposite,
    )
    pairs = np.where(steady, np.maximum(np.floor(room / pair), 0.0), 0.0)
    return left + pairs * pair, 2 * pairs.astype(np.int64)


@dataclass(frozen=True, slots=True)
class Seat:
    """One wedge in a band: its centre across the grain, and its way up."""

    centre: float
    way: int


def row_layout(centres: Centres, row: int, ways: tuple[int, ...], apart: Apart) -> list[Seat]:
    """The wedges of one row, each as far left as it can be, by the recurrence step by step."""
    spans = {
        way: [
            (float(a), float(b))
            for a, b in zip(centres.first[way, row], centres.last[way, row], strict=True)
            if np.isfinite(a)
        ]
        for way in ways
    }
    level = {way: _nearest(spans[way], -np.inf) for way in ways}
    levels: list[dict[int, tuple[float, int]]] = []
    best = {way: (x, -1) for way, x in level.items() if x is not None}
    while best:
        levels.append(best)
        best = {}
        for way in ways:
            wanted, before = min(
                (x + (apart.same if other == way else apart.opposite), other)
                for other, (x, _) in levels[-1].items()
            )
            place = _nearest(spans[way], wanted)
            if place is not None:
                best[way] = (place, before)
    return _back(levels)


def _nearest(spans: list[tuple[float, float]], wanted: float) -> float | None:
    return next((max(a, wanted) for a, b in spans if b >= wanted), None)


def _back(levels: list[dict[int, tuple[float, int]]]) -> list[Seat]:
    seats: list[Seat] = []
    way = min(levels[-1], key=lambda w: levels[-1][w][0]) if levels else -1
    for level in reversed(levels):
        centre, before = level[way]
        seats.append(Seat(centre, way))
        way = before
    return seats[::-1]
