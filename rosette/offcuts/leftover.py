"""What the saw leaves of an offcut, and which parts of it are worth putting back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from rosette.offcuts.model import Offcut, Point, Ring
from rosette.offcuts.poses import inner_fit
from rosette.offcuts.region import frame_for

WORTH_KEEPING = 15.0
"""mm: a part that holds a square of this side along its grain still makes a wedge or two."""
NEEDLE = 0.25
"""mm: points and necks thinner than twice this break off by themselves."""
GRID = 0.01
"""mm: what comes back is measured no finer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of an offcut in the offcut's own coordinates; `area` in mm² without its defects."""

    outline: Ring
    holes: tuple[Ring, ...]
    defects: tuple[Ring, ...]
    area: float


def parts_left(
    wood: Offcut,
    wedges: Sequence[Ring],
    cuts: Sequence[tuple[Point, Point]],
    *,
    kerf: float,
    free: bool,
    keep: float = WORTH_KEEPING,
) -> tuple[Part, ...]:
    """The parts worth keeping of what is left after all cuts, the largest first.

    `cuts` are saw cuts by the middle of their kerf. Where `free`, each wedge was cut round its
    own edge instead, the kerf outside of it. Kept is what holds a square of `keep` mm, one side
    along the grain, without a defect in it.
    """
    holes = shapely.union_all([Polygon(ring) for ring in wood.holes])
    whole = Polygon(wood.outline).difference(holes)
    gone: list[BaseGeometry] = [Polygon(wedge) for wedge in wedges]
    if free:
        gone = [wedge.buffer(kerf, join_style="mitre") for wedge in gone]
    else:
        gone += [_kerf(start, end, kerf) for start, end in cuts]
    left = whole.difference(shapely.union_all(gone))
    sturdy = left.buffer(-NEEDLE, join_style="mitre").buffer(NEEDLE, join_style="mitre")
    shape = shapely.set_precision(sturdy.intersection(left), GRID)
    bad = [Polygon(ring) for ring in wood.defects]
    parts = [_part(one, wood, bad) for one in _polygons(shape) if is_worth(one, wood, bad, keep)]
    return tuple(sorted(parts, key=lambda part: -part.area))


def _kerf(start: Point, end: Point, kerf: float) -> BaseGeometry:
    """A saw cut, run out of the wood at both ends as a saw does."""
    a, b = np.array(start), np.array(end)
    long = float(np.hypot(*(b - a)))
    if long == 0.0 or kerf == 0.0:
        return Polygon()
    out = (b - a) * (kerf / long)
    return LineString([a - out, b + out]).buffer(kerf / 2.0, cap_style="flat")


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    return [one for one in shapely.get_parts(shape) if isinstance(one, Polygon)]


def is_worth(
    part: Polygon, wood: Offcut, bad: Sequence[Polygon], keep: float = WORTH_KEEPING
) -> bool:
    """Whether a square of `keep` mm, one side along the grain, lies in it clear of what is bad."""
    clear = part.difference(shapely.union_all(bad)) if bad else part
    frame = frame_for(wood.grain, (0.0, 0.0))
    turned = shapely.transform(clear, frame.along_grain)
    half = keep / 2.0
    square = np.array([(-half, -half), (half, -half), (half, half), (-half, half)])
    return any(
        not inner_fit(one, square).is_empty for one in _polygons(turned) if one.area >= keep * keep
    )


def _part(shape: Polygon, wood: Offcut, bad: Sequence[Polygon]) -> Part:
    area = shape.difference(shapely.union_all(bad)).area if bad else shape.area
    return Part(
        outline=_ring(shape.exterior),
        holes=tuple(_ring(ring) for ring in shape.interiors),
        defects=tuple(
            ring
            for ring, one in zip(wood.defects, bad, strict=True)
            if one.intersection(shape).area > GRID
        ),
        area=float(area),
    )


def _ring(ring: shapely.LinearRing) -> Ring:
    """Counter-clockwise, from its lowest point of the leftmost ones, as a maker would begin."""
    points = [(float(x), float(y)) for x, y in ring.coords[:-1]]
    if not ring.is_ccw:
        points.reverse()
    first = points.index(min(points))
    return (*points[first:], *points[:first])
