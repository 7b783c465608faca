"""Fewer wedges than an offcut holds: which of them, so that the rest stays in one good piece.

The maker starts at one end of the grain and stops when there are enough: the bands from that end
on, the last one from one side only. Of the ways to do so the best is kept for every number.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import shapely

from rosette.offcuts.cutplan import Objective
from rosette.offcuts.model import Layout, Offcut, Placement, WedgeSize
from rosette.offcuts.poses import clipped
from rosette.offcuts.region import Floats, RegionOf, usable_region

TOGETHER = 0.5
"""mm: wedges cut free that are no further than this and a kerf apart are neighbours."""
_TIGHT = 1e-6
_FAR = 1e6

End = Literal["low", "high"]
Side = Literal["left", "right"]
_ENDS: tuple[End, ...] = ("low", "high")
_SIDES: tuple[Side, ...] = ("left", "right")


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Some wedges of a layout, in the order of band and place.

    Cut from the `end` of the grain and the `side` of the band named. `runs` of neighbours in the
    wood; `whole` mm² of usable wood stay in one piece beyond the last of them.
    """

    placements: tuple[Placement, ...]
    end: End
    side: Side
    runs: int
    whole: float

    @property
    def count(self) -> int:
        """How many wedges."""
        return len(self.placements)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """A layout along the grain: each wedge's low and high end, left and right (mm)."""

    layout: Layout
    wood: shapely.MultiPolygon
    bounds: tuple[float, ...]
    """Left, low, right, high of the usable wood."""
    low: Floats
    high: Floats
    left: Floats
    right: Floats
    tied: np.ndarray
    """Whether each wedge is the neighbour in the wood of the one before it."""


def parts(
    offcut: Offcut,
    layout: Layout,
    size: WedgeSize,
    *,
    kerf: float,
    objectives: Sequence[Objective],
    least: int = 1,
    most: int | None = None,
    region_of: RegionOf = usable_region,
) -> tuple[Part, ...]:
    """The best part of each number of wedges from `least` to `most`, or to all of the layout."""
    limit = layout.placed if most is None else min(most, layout.placed)
    if limit < least:
        return ()
    laid = _laid(offcut, layout, size, kerf, region_of)
    runs_first = objectives.index("runs") < objectives.index("remainder")
    best: dict[int, _Weighed] = {}
    for end in _ENDS:
        beyond: dict[float, float] = {}
        for side in _SIDES:
            for one in _from(laid, end, side, range(least, limit + 1)):
                before = best.get(one.count)
                if before is not None and runs_first and one.runs > before.runs:
                    continue
                weighed = replace(one, whole=_whole(laid, one, beyond, kerf))
                if before is None or weighed.weight(objectives) < before.weight(objectives):
                    best[one.count] = weighed
    return tuple(
        Part(
            placements=tuple(layout.placements[i] for i in sorted(one.order[:count])),
            end=one.end,
            side=one.side,
            runs=one.runs,
            whole=one.whole,
        )
        for count, one in sorted(best.items())
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Weighed:
    """The first wedges of an order: what is weighed of them."""

    order: list[int]
    count: int
    reach: float
    """How far the last of them lies along the grain, as seen from the end (mm)."""
    end: End
    side: Side
    runs: int
    whole: float = 0.0

    def weight(self, objectives: Sequence[Objective]) -> tuple[float, ...]:
        weights = {"offcuts": 0.0, "runs": float(self.runs), "remainder": -round(self.whole, 3)}
        return tuple(weights[one] for one in objectives)


def _laid(
    offcut: Offcut, layout: Layout, size: WedgeSize, kerf: float, region_of: RegionOf
) -> _Laid:
    region = region_of(offcut, tilt=layout.tilt)
    corners = np.array([one.vertices for one in layout.placements]).reshape(-1, 2)
    along = region.frame.along_grain(corners).reshape(-1, 4, 2)
    return _Laid(
        layout=layout,
        wood=region.polygon,
        bounds=tuple(map(float, region.polygon.bounds)),
        low=along[:, :, 1].min(axis=1),
        high=along[:, :, 1].max(axis=1),
        left=along[:, :, 0].min(axis=1),
        right=along[:, :, 0].max(axis=1),
        tied=_tied(layout, along, size, kerf),
    )


def _tied(layout: Layout, along: Floats, size: WedgeSize, kerf: float) -> np.ndarray:
    tied = np.zeros(layout.placed, dtype=bool)
    for i in range(1, layout.placed):
        before, one = layout.placements[i - 1], layout.placements[i]
        if layout.method == "strip":
            stand = size.outer_width if before.flipped == one.flipped else size.mean_width
            apart = along[i, :, 0].mean() - along[i - 1, :, 0].mean()
            near = apart - stand - size.slant_kerf(kerf) <= _TIGHT
            tied[i] = before.band == one.band and near
        else:
            gap = shapely.distance(shapely.Polygon(before.vertices), shapely.Polygon(one.vertices))
            tied[i] = gap <= kerf + TOGETHER
    return tied


def _from(laid: _Laid, end: End, side: Side, counts: range) -> Iterator[_Weighed]:
    """The first wedges as seen from one end and one side, for each of the counts."""
    order = _order(laid, end, side)
    reach, runs, taken = -np.inf, 0, set[int]()
    for count, at in enumerate(order[: counts.stop - 1], start=1):
        runs += 1 - int(laid.tied[at] and at - 1 in taken)
        runs -= int(at + 1 in taken and bool(laid.tied[at + 1]))
        taken.add(at)
        reach = max(reach, laid.high[at] if end == "low" else -laid.low[at])
        if count >= counts.start:
            yield _Weighed(order=order, count=count, reach=reach, end=end, side=side, runs=runs)


def _order(laid: _Laid, end: End, side: Side) -> list[int]:
    sign_along, sign_across = 1.0 if end == "low" else -1.0, 1.0 if side == "left" else -1.0
    across = sign_across * laid.left
    if laid.layout.method == "strip":
        along = sign_along * np.array([one.band for one in laid.layout.placements], dtype=float)
    else:
        along = laid.high if end == "low" else -laid.low
    return [int(i) for i in np.lexsort((across, along))]


def _whole(laid: _Laid, one: _Weighed, beyond: dict[float, float], kerf: float) -> float:
    """The largest piece of usable wood that stays, past the bands or beside the last wedge.

    `beyond` keeps what is past each reach.
    """
    if one.reach not in beyond:
        beyond[one.reach] = _beyond(laid, one.end, one.reach, kerf)
    return max(beyond[one.reach], _beside(laid, one, kerf, beyond[one.reach]))


def _beyond(laid: _Laid, end: End, reach: float, kerf: float) -> float:
    """The largest piece of usable wood past the last crosscut, mm²."""
    if end == "low":
        rest = clipped(laid.wood, (-_FAR, reach + kerf, _FAR, _FAR))
    else:
        rest = clipped(laid.wood, (-_FAR, -_FAR, _FAR, -reach - kerf))
    return _largest(rest)


def _beside(laid: _Laid, one: _Weighed, kerf: float, enough: float) -> float:
    """The largest piece left in a band of which only a part is used, mm².

    0 where a glance tells that it is no larger than `enough`.
    """
    placements, last = laid.layout.placements, one.order[one.count - 1]
    following = one.order[one.count] if one.count < len(one.order) else None
    if (
        laid.layout.method != "strip"
        or following is None
        or placements[following].band != placements[last].band
    ):
        return 0.0
    low, high = laid.low[last], laid.high[last]
    left, _, right, _ = laid.bounds
    if one.side == "left":
        window = (laid.right[last] + kerf, low, _FAR, high)
        wide = right - window[0]
    else:
        window = (-_FAR, low, laid.left[last] - kerf, high)
        wide = window[2] - left
    return _largest(clipped(laid.wood, window)) if wide * (high - low) > enough else 0.0


def _largest(shape: shapely.Geometry) -> float:
    return max((float(one.area) for one in shapely.get_parts(shape)), default=0.0)
