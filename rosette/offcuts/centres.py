"""Where a wedge's centre may lie, exactly, for many rows of wood at once and without polygons.

A row is a cell [low, high] of heights at which a band may start. Its core is the part common
to all wedges with one centre that start in the cell: where a cell is one height alone, the
wedge itself. A core lies in the wood if no edge of the wood enters it and it is inside. An edge,
clipped to the core's height, forbids one open interval of centres (its points ± the core's half
width, linear along the edge); what is left between the sorted intervals is inside where the
number of edges crossed on the way is odd.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from rosette.offcuts.model import WedgeSize
from rosette.offcuts.region import Edges, Floats

FIT = 3e-10
"""mm: how much smaller all round a wedge is taken for the question whether it fits, so that a
scrap exactly as high or as wide as the wedge holds it in spite of rounding. No placed wedge
stands out of the wood by more than 1e-9."""

_ROWS_TIMES_EDGES = 2_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Centres:
    """Closed intervals of feasible centres, ascending, padded with +inf.

    Shape (ways, rows, most intervals in a row); way 0 is unflipped, inner end first along the
    grain, way 1 flipped.
    """

    first: Floats
    last: Floats


def feasible_centres(edges: Edges, size: WedgeSize, low: Floats, high: Floats) -> Iterator[Centres]:
    """The feasible centres of each cell [low, high] (mm, high − low < height), in blocks of rows.

    The blocks follow one another in the order of the rows and bound the memory taken.
    """
    block = max(1, _ROWS_TIMES_EDGES // max(1, len(edges.x1)))
    for start in range(0, len(low), block):
        yield _block(edges, size, low[start : start + block], high[start : start + block])


def _block(edges: Edges, size: WedgeSize, low: Floats, high: Floats) -> Centres:
    bottom, top = high + FIT, low + size.height - FIT
    rows = len(low)
    row, edge = np.nonzero((edges.y1 < top[:, None]) & (edges.y2 > bottom[:, None]))
    if len(row) == 0:
        nowhere = np.full((2, rows, 1), np.inf)
        return Centres(first=nowhere, last=nowhere)
    x1, y1, x2, y2 = edges.x1[edge], edges.y1[edge], edges.x2[edge], edges.y2[edge]
    base, ceiling = bottom[row], top[row]
    ya, yb = np.maximum(y1, base), np.minimum(y2, ceiling)
    dx, dy = x2 - x1, y2 - y1
    flat = dy == 0.0
    per = 1.0 / np.where(flat, 1.0, dy)
    xa = x1 + (ya - y1) * per * dx
    xb = np.where(flat, x2, x1 + (yb - y1) * per * dx)
    middle = (base + ceiling) / 2.0
    crosses = (y1 <= middle) & (y2 > middle)
    grow_a, grow_b = size.taper * (ya - high[row]), size.taper * (yb - high[row])
    drop_a, drop_b = size.taper * (ya - low[row]), size.taper * (yb - low[row])
    inner, outer = size.inner_width / 2.0 - FIT, size.outer_width / 2.0 - FIT
    per_row = np.bincount(row, minlength=rows)
    column = np.arange(len(row)) - (np.cumsum(per_row) - per_row)[row]
    shape = (rows, int(per_row.max()))
    both = [
        _gaps(shape, row, column, crosses, xa, xb, inner + grow_a, inner + grow_b),
        _gaps(shape, row, column, crosses, xa, xb, outer - drop_a, outer - drop_b),
    ]
    return _stacked(rows, both)


def _gaps(  # noqa: PLR0917 - arrays of one length, always together
    shape: tuple[int, int],
    row: np.ndarray,
    column: np.ndarray,
    crosses: np.ndarray,
    xa: Floats,
    xb: Floats,
    half_a: Floats,
    half_b: Floats,
) -> tuple[np.ndarray, Floats, Floats]:
    """What the forbidden intervals leave inside the wood: rows, first and last centres."""
    begin, end = np.full(shape, np.inf), np.full(shape, -np.inf)
    odd = np.zeros(shape, dtype=np.int32)
    begin[row, column] = np.minimum(xa - half_a, xb - half_b)
    end[row, column] = np.maximum(xa + half_a, xb + half_b)
    odd[row, column] = crosses
    order = np.argsort(begin, axis=1)
    begin = np.take_along_axis(begin, order, axis=1)
    reached = np.maximum.accumulate(np.take_along_axis(end, order, axis=1), axis=1)
    inside = np.cumsum(np.take_along_axis(odd, order, axis=1), axis=1) % 2 == 1
    free = inside[:, :-1] & (begin[:, 1:] >= reached[:, :-1])
    rows, places = np.nonzero(free)
    return rows, reached[rows, places], begin[rows, places + 1]


def _stacked(rows: int, both: list[tuple[np.ndarray, Floats, Floats]]) -> Centres:
    counts = [np.bincount(row, minlength=rows) for row, _, _ in both]
    most = max(1, *(int(count.max()) for count in counts))
    first, last = np.full((2, rows, most), np.inf), np.full((2, rows, most), np.inf)
    for way, ((row, begin, end), count) in enumerate(zip(both, counts, strict=True)):
        column = np.arange(len(row)) - (np.cumsum(count) - count)[row]
        first[way, row, column], last[way, row, column] = begin, end
    return Centres(first=first, last=last)
