"""The best set of bands along the grain, with the proof that there is no better one.

What a band holds, M(y), is known at points and bounded over cells between them (see
`rosette.offcuts.centres`). The same dynamic programme, run on the bounds of the cells, bounds
every layout over continuous y; run on the points it gives a layout. Cells that a better layout
could still use are halved until the two meet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from rosette.offcuts.region import Floats
from rosette.offcuts.rows import Counts

Most = Callable[[Floats, Floats], Counts]
"""The most wedges in a band that starts anywhere in each cell [low, high], or a bound on it."""

NODE_LIMIT = 200_000
NARROWEST = 1e-9
"""mm: cells are not halved below this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bands:
    """Where the bands start (mm along the grain), how many wedges they hold in all, and the bound.

    `bound` is proved over every set of bands; `nodes` counts the rows looked at.
    """

    starts: tuple[float, ...]
    total: int
    bound: int
    nodes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Chain:
    """The best totals by where the last band starts: ascending starts, totals and forerunners."""

    starts: list[float]
    totals: list[int]
    before: list[int]

    @property
    def total(self) -> int:
        return self.totals[-1]

    def positions(self) -> list[float]:
        found, at = [], len(self.totals) - 1
        while at > 0:
            found.append(self.starts[at])
            at = self.before[at]
        return found[::-1]


def _chain(low: list[float], high: list[float], most: list[int], pitch: float) -> _Chain:
    """Bands at least `pitch` apart, any start in the ascending closed cells [low, high].

    A band of the best chain starts at the lower end of a cell or rests on the one below it.
    """
    starts, totals, before = [-np.inf], [0], [-1]
    base = 0
    for a, b, count in zip(low, high, most, strict=True):
        if count == 0:
            continue
        while base + 1 < len(starts) and starts[base + 1] + pitch <= a:
            base += 1
        if totals[base] + count > totals[-1]:
            starts.append(a)
            totals.append(totals[base] + count)
            before.append(base)
        on = base + 1
        while on < len(starts) and starts[on] + pitch <= b:
            if totals[on] + count > totals[-1]:
                starts.append(starts[on] + pitch)
                totals.append(totals[on] + count)
                before.append(on)
            on += 1
    return _Chain(starts=starts, totals=totals, before=before)


@dataclass(slots=True, kw_only=True)
class _Known:
    """Points with what a band holds there, and the bound over each cell between two of them."""

    points: Floats
    held: Counts
    bound: Counts

    def optimistic(self, pitch: float) -> _Chain:
        if len(self.points) == 1:
            return self.certain(pitch)
        low, high = self.points[:-1], self.points[1:]
        return _chain(low.tolist(), high.tolist(), self.bound.tolist(), pitch)

    def likely(self, pitch: float) -> _Chain:
        """As if a cell held what both its ends hold: where to look for a good layout."""
        if len(self.points) == 1:
            return self.certain(pitch)
        low = np.repeat(self.points, 2)[:-1]
        high = np.repeat(self.points, 2)[1:]
        high[::2] = self.points
        low[1::2] = self.points[:-1]
        held = np.repeat(self.held, 2)[:-1]
        held[1::2] = np.minimum(self.held[:-1], self.held[1:])
        return _chain(low.tolist(), high.tolist(), held.tolist(), pitch)

    def certain(self, pitch: float) -> _Chain:
        points = self.points.tolist()
        return _chain(points, points, self.held.tolist(), pitch)

    def worth_halving(self, ahead: _Chain, pitch: float, beat: int) -> np.ndarray:
        """Cells through which a chain of more than `beat` could still run."""
        low, high = self.points[:-1], self.points[1:]
        back = _chain(
            (-high[::-1]).tolist(), (-low[::-1]).tolist(), self.bound[::-1].tolist(), pitch
        )
        below = _up_to(ahead, high - pitch)
        above = _up_to(back, -low - pitch)
        through = below + self.bound + above
        unsure = self.bound > np.minimum(self.held[:-1], self.held[1:])
        return np.flatnonzero((through > beat) & unsure & (high - low > NARROWEST))


def _up_to(chain: _Chain, limits: Floats) -> Counts:
    totals = np.array(chain.totals)
    # A hair of slack: an end just reached from both sides must not hide a cell.
    return totals[np.searchsorted(np.array(chain.starts), limits + NARROWEST, side="right") - 1]


def best_bands(
    most: Most,
    *,
    lowest: float,
    highest: float,
    pitch: float,
    special: Floats,
    step: float,
    beat: int = 0,
    node_limit: int = NODE_LIMIT,
) -> Bands:
    """The bands with the most wedges, starting in [lowest, highest] and `pitch` apart (mm).

    `special` are starts worth a look of their own (where an edge of the wood begins or ends a
    band); `step` is the first width of the cells. A total of `beat` is known elsewhere: the
    search stops once nothing can exceed it. Deterministic; after `node_limit` rows it stops
    with what it has, and the bound says how far that may be from the best.
    """
    inner = special[(special > lowest) & (special < highest)]
    grid = np.arange(lowest, highest, step)
    points = np.unique(np.concatenate((grid, inner, [lowest, max(lowest, highest)])))
    count = len(points)
    both = most(np.concatenate((points, points[:-1])), np.concatenate((points, points[1:])))
    known = _Known(points=points, held=both[:count], bound=both[count:])
    nodes = len(both)
    while True:
        certain, ahead = known.certain(pitch), known.optimistic(pitch)
        bound = max(ahead.total, certain.total)
        target = max(certain.total, beat)
        cuts = _cuts(known, ahead, pitch, target) if bound > target else np.empty(0)
        if len(cuts) == 0 or nodes > node_limit:
            return Bands(
                starts=tuple(certain.positions()), total=certain.total, bound=bound, nodes=nodes
            )
        known, looked = _divided(known, cuts, most)
        nodes += looked


def _cuts(known: _Known, ahead: _Chain, pitch: float, target: int) -> Floats:
    """Where to look next: the middles of promising cells, and where promising chains stand."""
    if len(known.points) == 1:
        return np.empty(0)
    cells = known.worth_halving(ahead, pitch, target)
    middles = (known.points[cells] + known.points[cells + 1]) / 2.0
    stand = np.array([*ahead.positions(), *known.likely(pitch).positions()])
    return np.setdiff1d(np.concatenate((middles, stand)), known.points)


def _divided(known: _Known, cuts: Floats, most: Most) -> tuple[_Known, int]:
    points = np.concatenate((known.points, cuts))
    order = np.argsort(points, kind="stable")
    points = points[order]
    fresh = order >= len(known.points)
    # A cell is new where either of its ends is.
    changed = fresh[:-1] | fresh[1:]
    low, high = points[:-1][changed], points[1:][changed]
    looked = most(np.concatenate((cuts, low)), np.concatenate((cuts, high)))
    held = np.concatenate((known.held, looked[: len(cuts)]))[order]
    bound = np.zeros(len(points) - 1, dtype=np.int64)
    bound[~changed] = known.bound[_kept(known, cuts)]
    bound[changed] = looked[len(cuts) :]
    return _Known(points=points, held=held, bound=bound), len(looked)


def _kept(known: _Known, cuts: Floats) -> np.ndarray:
    """The cells of before that no cut falls into."""
    hit = np.searchsorted(known.points, cuts) - 1
    keep = np.ones(len(known.points) - 1, dtype=bool)
    keep[hit] = False
    return keep
