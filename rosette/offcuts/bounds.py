"""Bounds on how many wedges any layout can hold, whatever its method."""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from rosette.offcuts.centres import feasible_centres
from rosette.offcuts.model import WedgeSize
from rosette.offcuts.poses import covered, inner_fit, pose
from rosette.offcuts.region import Region
from rosette.offcuts.rows import Apart, most_in_rows

_ROUND = 64
_COMMON = 0.9
_HAIR = 1e-5
"""mm: by how much a wedge is taken too small here, so that one that just fits is not lost."""


def free_bound(
    region: Region, size: WedgeSize, *, kerf: float, grain_tolerance: float = 0.0
) -> int:
    """The least of the bounds here: no layout of any method holds more."""
    if grain_tolerance > 0.0:
        return area_bound(region.polygon, size, kerf=kerf)
    within = reachable(region.polygon, size)
    by_area, by_rows = area_bound(within, size, kerf=kerf), row_bound(region, size, kerf=kerf)
    return by_area if by_rows is None else min(by_area, by_rows)


def area_bound(wood: BaseGeometry, size: WedgeSize, *, kerf: float) -> int:
    """The wood's area over that of a wedge, each grown by half a kerf all round.

    Wedges that keep a kerf apart, grown by half of it, do not overlap, and lie in the wood grown
    by as much, whichever way they point. Part by part, since no wedge lies in two.
    """
    half = kerf / 2.0
    each = size.area + size.perimeter * half + math.pi * half * half
    # The circle's polygon lies inside it: a hair more keeps the bound on the safe side.
    wide = half / math.cos(math.pi / (4 * _ROUND)) + _HAIR
    return sum(
        math.floor(part.buffer(wide, quad_segs=_ROUND).area / each)
        for part in shapely.get_parts(wood)
    )


def reachable(wood: BaseGeometry, size: WedgeSize) -> BaseGeometry:
    """The part of the wood that a wedge along the grain can cover, either way up."""
    slim = WedgeSize(
        inner_width=size.inner_width - _HAIR,
        outer_width=size.outer_width - _HAIR,
        height=size.height - _HAIR,
    )
    reached = []
    for way in (0, 1):
        corners = pose(slim, way, 0.0).corners
        reached.append(covered(inner_fit(wood, corners), corners))
    return shapely.union_all(reached)


def row_bound(region: Region, size: WedgeSize, *, kerf: float) -> int | None:
    """For low wood: one to three rows' wedges by what they have in common; else None.

    Wedges that start within less than their height of one another share a height, so they stand
    side by side there. Two of opposite way up may stand nearer by their offset times tan α, and
    a gap square to the sides is no less along the row.
    """
    edges = region.edges
    bottom = float(edges.y1.min()) if len(edges.y1) else 0.0
    spread = (float(edges.y2.max()) if len(edges.y2) else 0.0) - bottom - size.height + _HAIR
    if spread < 0.0:
        return 0
    found = []
    for rows in (1, 2, 3):
        each = spread / rows
        if each < _COMMON * size.height:
            apart = Apart(
                opposite=size.mean_width - each * size.taper + kerf,
                same=size.outer_width - each * size.taper + kerf,
            )
            low = bottom + each * np.arange(rows, dtype=np.float64)
            blocks = feasible_centres(edges, size, low, low + each)
            found.append(sum(int(most_in_rows(one, (0, 1), apart).sum()) for one in blocks))
    return min(found, default=None)
