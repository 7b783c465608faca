"""How many wedges each offcut holds, of any size, found out only as far as it matters.

A layout of a wedge is one of every wedge that lies inside it (`inside` says when), so what is
known of one size bounds many others: most questions are answered without laying out anything.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from rosette.offcuts.layouts import layout_of
from rosette.offcuts.model import Offcut, WedgeSize
from rosette.offcuts.options import CutOptions
from rosette.offcuts.region import Floats, Region, usable_region
from rosette.offcuts.strip import strip_count

Counts = NDArray[np.int64]
_UNTOLD = 2**31
_EPS = 1e-10
"""mm: rounding, and less than the hair by which a wedge is taken smaller where it is fitted."""


class Capacities:
    """What is known of a row of offcuts: for each size looked at the least and most they hold.

    For the saw with no grain tolerance a count is exact, and so is what follows from it for
    smaller and larger wedges. Otherwise only bounds are carried over: a search by trial need
    not find for a smaller wedge what it found for a larger one.
    """

    def __init__(self, offcuts: Sequence[Offcut], *, kerf: float, options: CutOptions) -> None:
        self.offcuts, self.kerf, self.options = tuple(offcuts), kerf, options
        self.exact = options.method == "strip" and options.grain_tolerance == 0.0
        self.regions: tuple[Region, ...] = tuple(usable_region(one) for one in self.offcuts)
        self.areas: Floats = np.array([one.area for one in self.regions])
        # Each wedge grown by half a kerf is a part of the wood grown as much; see bounds.py.
        # Mitred joins grow the wood by more than round ones: safe, and quick to make.
        self.grown: Floats = np.array(
            [one.polygon.buffer(kerf / 2.0, join_style="mitre").area for one in self.regions]
        )
        self.looked = 0
        self._rows: dict[WedgeSize, int] = {}
        self._sizes: Floats = np.empty((64, 4))
        self._least: Counts = np.zeros((64, len(self.offcuts)), dtype=np.int64)
        self._most: Counts = np.full((64, len(self.offcuts)), _UNTOLD, dtype=np.int64)
        self._looks: Counts = np.zeros((64, len(self.offcuts)), dtype=np.int64)
        self._told: list[int] = []
        """Rows that were looked at: all that anything follows from."""
        self._fresh: dict[int, int] = {}
        """How many looks each row's bounds know of."""

    def known(self, size: WedgeSize) -> tuple[Counts, Counts]:
        """The least and the most that each offcut holds of a size, as far as is known now."""
        row = self._row(size)
        return self._least[row], self._most[row]

    def look(self, at: int, size: WedgeSize) -> None:
        """Find out more about one offcut and size: a glance first, then the whole search."""
        row = self._row(size)
        if not self._looks[row].any():
            self._told.append(row)
        self.looked += 1
        self._fresh[row] = self.looked
        looks = int(self._looks[row, at])
        self._looks[row, at] += 1
        if self.exact and looks == 0:
            least, most = self._count(at, size, node_limit=0)
        elif self.exact:
            least, most = self._count(at, size)
        else:
            layout = layout_of(self.offcuts[at], size, kerf=self.kerf, options=self.options)
            least, most = layout.placed, layout.bound
        self._least[row, at] = max(self._least[row, at], least)
        self._most[row, at] = min(self._most[row, at], most)

    def settled(self, at: int, size: WedgeSize) -> bool:
        """Whether looking once more could tell nothing new."""
        row = self._row(size)
        enough = 2 if self.exact else 1
        return bool(self._least[row, at] >= self._most[row, at] or self._looks[row, at] >= enough)

    def _count(self, at: int, size: WedgeSize, **limit: int) -> tuple[int, int]:
        return strip_count(self.regions[at], size, kerf=self.kerf, ways=self.options.ways, **limit)

    def _row(self, size: WedgeSize) -> int:
        """The row of a size; a new one starts with all that follows from the others."""
        if size in self._rows:
            row = self._rows[size]
        else:
            row = self._rows[size] = len(self._rows)
            if row == len(self._sizes):
                self._grow()
            self._sizes[row] = (size.inner_width, size.outer_width, size.height, size.taper)
            each = size.area + size.perimeter * self.kerf / 2.0
            self._most[row] = np.floor(self.grown / each + _EPS)
        if self._fresh.get(row, -1) < self.looked:
            self._infer(row)
            self._fresh[row] = self.looked
        return row

    def _infer(self, row: int) -> None:
        told, one = np.array(self._told, dtype=np.int64), self._sizes[row]
        sizes = self._sizes[told]
        smaller = told[inside(sizes, one)]
        if len(smaller):
            self._most[row] = np.minimum(self._most[row], self._most[smaller].min(axis=0))
        larger = told[inside(one, sizes)]
        if self.exact and len(larger):
            self._least[row] = np.maximum(self._least[row], self._least[larger].max(axis=0))

    def _grow(self) -> None:
        self._sizes = np.concatenate((self._sizes, np.empty_like(self._sizes)))
        for name, value in (("_least", 0), ("_most", _UNTOLD), ("_looks", 0)):
            old = getattr(self, name)
            setattr(self, name, np.concatenate((old, np.full_like(old, value))))


def inside(small: Floats, large: Floats) -> NDArray[np.bool_]:
    """Whether a layout of `large` is one of `small` too, by any method that knows bands.

    Sizes are (inner width, outer width, height, taper). With its inner end on the band's edge,
    the small wedge lies in the large one either way up; it stands no steeper, so its slanted
    kerfs are no wider along the band, and its bands are no higher.
    """
    inner, outer, height, taper = np.moveaxis(np.asarray(small), -1, 0)
    wide_inner, _, high, steep = np.moveaxis(np.asarray(large), -1, 0)
    found: NDArray[np.bool_] = (
        (inner <= wide_inner + _EPS)
        & (outer <= wide_inner + 2.0 * steep * height + _EPS)
        & (height <= high + _EPS)
        & (taper <= steep + _EPS)
    )
    return found


def fewest_of(capacities: Counts, count: int) -> float:
    """How many offcuts hold `count` together at the least; infinite where all are too few.

    >>> fewest_of(np.array([4, 9, 2, 7]), 12), fewest_of(np.array([4, 9]), 14)
    (2.0, inf)
    """
    if count <= 0:
        return 0.0
    held = np.cumsum(np.sort(capacities)[::-1])
    at = int(np.searchsorted(held, count))
    return float(at + 1) if at < len(held) else math.inf
