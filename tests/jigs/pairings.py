"""Which sides of a part's pieces go together: tried in the plane, at every offset, turned over too.

A side is what of a piece lies near a seam, brought into the position of a low piece: its seam along
the x axis, itself below. Two sides meet when one of them is turned half round to lie above.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations_with_replacement
from typing import Any

import numpy as np
import shapely
from shapely import affinity

from jigs.footprint import footprint
from jigs.pieces import Split
from jigs.seam import Seam
from jigs.terrace import Block

NEAR = 14.0
LEAST_SIDE = 8.0
CLOSED = 0.85
"""Two sides have closed up where they meet along this share of the shorter one."""
FREE = 0.15
"""Less than this many mm² in one another is a squeeze that a hand might manage."""


@dataclass(frozen=True, slots=True)
class Side:
    piece: int
    seam: int
    low: bool
    shape: Any
    start: float
    end: float


def bodies(block: Block, split: Split) -> list[Any]:
    """The pieces' plans, in the order of the split's pieces."""
    cuts = shapely.unary_union([shapely.Polygon(one.strip(split.gap)) for one in split.seams])
    found = list(shapely.get_parts(footprint(block).solid.difference(cuts)))
    return [
        min(found, key=lambda one: np.abs(np.subtract(one.bounds, piece.box)).max())
        for piece in split.pieces
    ]


def sides(block: Block, split: Split) -> Iterator[Side]:
    for number, body in enumerate(bodies(block, split), start=1):
        for i, seam in enumerate(split.seams):
            for low in (True, False):
                yield from _side(number, body, i, seam, split.gap, low)


def _side(number: int, body: Any, i: int, seam: Seam, gap: float, low: bool) -> Iterator[Side]:
    flat = shapely.transform(body, lambda points: np.array([_back(seam, *one) for one in points]))
    flat = affinity.translate(flat, 0.0, gap / 2.0 if low else -gap / 2.0)
    if not low:
        flat = affinity.rotate(flat, 180, origin=(0, 0))
    edge = flat.intersection(shapely.LineString([(-1000, -1e-3), (1000, -1e-3)]))
    ends = (seam.start, seam.end) if low else (-seam.end, -seam.start)
    left, right = edge.bounds[0::2] if not edge.is_empty else (0.0, 0.0)
    touches = flat.intersection(shapely.box(left, -1, right, 0)).area > 0.4 * (right - left)
    if not touches or min(right, ends[1]) - max(left, ends[0]) < LEAST_SIDE:
        return
    band = shapely.box(left - 1, -NEAR, right + 1, NEAR)
    yield Side(number, i, low, flat.intersection(band), left, right)


def _back(seam: Seam, x: float, y: float) -> tuple[float, float]:
    return (x, y - seam.at) if seam.along == "x" else (-y, x - seam.at)


def together(block: Block, split: Split, step: float = 0.5) -> list[tuple[Side, Side, bool, float]]:
    """Every way in which two sides close up: the sides, whether one is turned over, the offset."""
    found = []
    for one, other in combinations_with_replacement(list(sides(block, split)), 2):
        for over in (False, True):
            found += [(one, other, over, shift) for shift in _fits(one, other, over, step)]
    return found


def _fits(one: Side, other: Side, over: bool, step: float) -> list[float]:
    """Offsets, from that in which both seams' origins meet, at which two sides close up."""
    above = affinity.rotate(other.shape, 180, origin=(0, 0))
    start, end = -other.end, -other.start
    if over:
        above = affinity.scale(above, -1, 1, origin=(0, 0))
        start, end = other.start, other.end
    least = CLOSED * min(one.end - one.start, end - start)
    low = np.ceil((one.start + least - end) / step) * step
    shifts = np.arange(low, one.end - least - start + step / 2, step)
    moved = np.array([affinity.translate(above, shift, 0) for shift in shifts])
    met = shapely.area(shapely.intersection(one.shape, moved)) if len(shifts) else np.array([])
    return [float(shift) for shift in shifts[met < FREE]]


def meant(one: Side, other: Side, over: bool, shift: float) -> bool:
    """Whether a way of closing up is the one that the part was cut from."""
    return (
        one.seam == other.seam
        and one.low is not other.low
        and not over
        and abs(shift) < 0.6
        and one.piece != other.piece
    )
