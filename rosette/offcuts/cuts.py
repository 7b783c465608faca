"""The cuts of a strip layout in the order in which they are made.

Crosscuts first, in the direction of the grain, then each band's slants from left to right, so
that what is sawn is always part of a longer piece. A face that is the wood's own edge already
needs no cut.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from rosette.offcuts.model import Cut, Point, WedgeSize
from rosette.offcuts.region import Edges, Region
from rosette.offcuts.rows import Seat

SAME = 1e-6
"""mm: a face this close to the wood's edge is that edge; two faces a kerf apart to this are one
cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A band along the grain: where it starts (mm in the turned frame), and who sits in it."""

    start: float
    seats: tuple[Seat, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    kind: Literal["crosscut", "slant"]
    band: int
    ends: tuple[Point, Point]
    lean: float = 0.0
    frees: tuple[int, ...] = ()


def cuts_for(region: Region, bands: list[Band], size: WedgeSize, *, kerf: float) -> tuple[Cut, ...]:
    """Every cut of these bands, numbered, in the offcut's own coordinates."""
    lines = _crosscuts(region.wood_edges, bands, size, kerf)
    for number, band in enumerate(bands, 1):
        lines += _slants(region.wood_edges, band, number, size, kerf)
    return tuple(
        Cut(
            step=step,
            kind=line.kind,
            band=line.band,
            start=region.frame.own(*line.ends[0]),
            end=region.frame.own(*line.ends[1]),
            lean=line.lean,
            frees=line.frees,
        )
        for step, line in enumerate(lines, 1)
    )


def _crosscuts(wood: Edges, bands: list[Band], size: WedgeSize, kerf: float) -> list[_Line]:
    """Across the whole wood: below each band and above it, once where a kerf parts two bands."""
    middles: list[tuple[float, int]] = []
    lowest, highest = float(wood.y1.min()), float(wood.y2.max())
    for number, band in enumerate(bands, 1):
        below, above = band.start - kerf / 2.0, band.start + size.height + kerf / 2.0
        if middles and abs(middles[-1][0] - below) <= SAME:
            middles[-1] = (below, number)
        elif band.start - lowest > SAME:
            middles.append((below, number))
        if highest - (band.start + size.height) > SAME:
            middles.append((above, number))
    return [_across(wood, y, kerf, number) for y, number in middles]


def _across(wood: Edges, y: float, kerf: float, band: int) -> _Line:
    """One crosscut, as wide as the wood under the kerf."""
    low, high = y - kerf / 2.0 - SAME, y + kerf / 2.0 + SAME
    met = (wood.y1 <= high) & (wood.y2 >= low)
    x1, y1, x2, y2 = wood.x1[met], wood.y1[met], wood.x2[met], wood.y2[met]
    flat = y2 == y1
    per = (x2 - x1) / np.where(flat, 1.0, y2 - y1)
    xa = x1 + (np.maximum(y1, low) - y1) * per
    xb = np.where(flat, x2, x1 + (np.minimum(y2, high) - y1) * per)
    left, right = min(xa.min(), xb.min()), max(xa.max(), xb.max())
    return _Line(kind="crosscut", band=band, ends=((float(left), y), (float(right), y)))


def _slants(wood: Edges, band: Band, number: int, size: WedgeSize, kerf: float) -> list[_Line]:
    """The slants of one band: at each wedge's sides, once where a kerf parts two wedges."""
    slant, top = size.slant_kerf(kerf), band.start + size.height
    sides = [(seat, _side(seat, size, -1), _side(seat, size, 1)) for seat in band.seats]
    faces: list[tuple[tuple[float, float], float, tuple[int, ...]]] = []
    if not sides:
        return []
    if not _is_edge(wood, sides[0][1], band.start, top):
        faces.append((sides[0][1], -slant / 2.0, (1,)))
    for order, ((_, _, right), (_, left, _)) in enumerate(pairwise(sides), 1):
        gaps = (left[0] - right[0] - slant, left[1] - right[1] - slant)
        if max(abs(gaps[0]), abs(gaps[1])) <= SAME:
            faces.append((right, slant / 2.0, (order, order + 1)))
        else:
            if not _is_edge(wood, right, band.start, top):
                faces.append((right, slant / 2.0, (order,)))
            if not _is_edge(wood, left, band.start, top):
                faces.append((left, -slant / 2.0, (order + 1,)))
    if not _is_edge(wood, sides[-1][2], band.start, top):
        faces.append((sides[-1][2], slant / 2.0, (len(sides),)))
    return [
        _Line(
            kind="slant",
            band=number,
            ends=((face[0] + off, band.start), (face[1] + off, top)),
            lean=size.mitre if face[0] > face[1] else -size.mitre,
            frees=frees,
        )
        for face, off, frees in faces
    ]


def _side(seat: Seat, size: WedgeSize, hand: int) -> tuple[float, float]:
    """Where a wedge's left (-1) or right (1) side meets the bottom and the top of its band."""
    widths = (size.inner_width, size.outer_width)
    bottom, top = widths[::-1] if seat.way else widths
    return seat.centre + hand * bottom / 2.0, seat.centre + hand * top / 2.0


def _is_edge(wood: Edges, face: tuple[float, float], low: float, high: float) -> bool:
    """Whether the wood's own edge runs along this face from the bottom to the top of its band."""
    per = (face[1] - face[0]) / (high - low)
    met = (wood.y1 < high) & (wood.y2 > low) & (wood.y2 > wood.y1)
    x1, y1, x2, y2 = wood.x1[met], wood.y1[met], wood.x2[met], wood.y2[met]
    ya, yb = np.maximum(y1, low), np.minimum(y2, high)
    slope = (x2 - x1) / (y2 - y1)
    off_a = x1 + (ya - y1) * slope - (face[0] + (ya - low) * per)
    off_b = x1 + (yb - y1) * slope - (face[0] + (yb - low) * per)
    along = (np.abs(off_a) <= SAME) & (np.abs(off_b) <= SAME)
    return bool((yb - ya)[along].sum() >= (high - low) - SAME)
