"""Bounds on how many wedges any layout can hold."""

from __future__ import annotations

import math

from rosette.offcuts.model import WedgeSize
from rosette.offcuts.region import Region

_ROUND = 64


def area_bound(region: Region, size: WedgeSize, *, kerf: float) -> int:
    """The wood's area over that of a wedge, each grown by half a kerf all round.

    Wedges that keep a kerf apart, grown by half of it, do not overlap, and lie in the wood grown
    by as much, whichever way they point. Part by part, since no wedge lies in two.
    """
    half = kerf / 2.0
    each = size.area + size.perimeter * half + math.pi * half * half
    # The circle's polygon lies inside it: a hair more keeps the bound on the safe side.
    wide = half / math.cos(math.pi / (4 * _ROUND))
    return sum(
        math.floor(part.buffer(wide, quad_segs=_ROUND).area / each + 1e-9)
        for part in region.polygon.geoms
    )
