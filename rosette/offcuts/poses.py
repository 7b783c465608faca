"""Where the centre of a wedge may lie in a plane: inside the wood, and clear of other wedges.

For a convex wedge both are Minkowski sums: an edge of the wood forbids the centres of all wedges
that touch it; another wedge forbids a convex polygon about its own centre, grown by the kerf.
Grown with mitred corners: along sides the gap is the kerf, corner to corner a little more.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import MultiPoint
from shapely.geometry.base import BaseGeometry

from rosette.offcuts.model import WedgeSize
from rosette.offcuts.region import Floats

GRID = 1e-7
"""mm: overlays are rounded to this grid. Without one, those of shapes with almost the same edges,
as wedges side by side are, can go wrong."""
_POLYGON = 3
SAFE = 5e-7
"""mm: more than the grid can move a corner, added to every clearance, so that no gap is short."""


def less(shape: BaseGeometry, taken: BaseGeometry) -> BaseGeometry:
    """What of a shape is left, on the grid; bare points and lines do not count."""
    return _areas(shapely.difference(shape, taken, grid_size=GRID))


def within(shape: BaseGeometry, window: tuple[float, float, float, float]) -> BaseGeometry:
    """What of a shape lies in a window (left, low, right, high), on the grid."""
    return _areas(shapely.intersection(shape, shapely.box(*window), grid_size=GRID))


def clipped(shape: BaseGeometry, window: tuple[float, float, float, float]) -> BaseGeometry:
    """The same, quicker and off the grid; its pieces are for measuring and not for overlays.

    The quick way fails where a window touches the shape in a spike; then the sound one is taken.
    """
    try:
        return shapely.clip_by_rect(shape, *window)
    except shapely.errors.GEOSException:
        return within(shape, window)


def _areas(shape: BaseGeometry) -> BaseGeometry:
    if shape.geom_type in {"Polygon", "MultiPolygon"}:
        return shape
    parts = shapely.get_parts(shape)
    return shapely.MultiPolygon(parts[shapely.get_type_id(parts) == _POLYGON].tolist())


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """A wedge turned one way: way up (0 along the grain, 1 against) and degrees off the grain.

    `corners`, shape (4, 2): inner left, inner right, outer right, outer left about its centre.
    """

    way: int
    turn: float
    corners: Floats


def pose(size: WedgeSize, way: int, turn: float) -> Pose:
    """The wedge with its axis along +y (way 0) or -y (way 1), turned by `turn` degrees."""
    a, b, half = size.inner_width / 2.0, size.outer_width / 2.0, size.height / 2.0
    flat = np.array([(-a, -half), (a, -half), (b, half), (-b, half)])
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    turned = flat @ np.array([[cos, sin], [-sin, cos]])
    return Pose(way=way, turn=turn, corners=-turned if way else turned)


def poses(size: WedgeSize, grain_tolerance: float) -> tuple[Pose, ...]:
    """Both ways up along the grain; with a tolerance also turned by it, either way."""
    turns = (0.0, grain_tolerance, -grain_tolerance) if grain_tolerance else (0.0,)
    return tuple(pose(size, way, turn) for turn in turns for way in (0, 1))


def inner_fit(wood: BaseGeometry, corners: Floats) -> BaseGeometry:
    """The centres with which a convex shape with these corners lies in the wood.

    `SAFE` inside the outermost of them, so that a fit to the last hair is not found.
    """
    starts, ends = _segments(wood)
    return less(wood, _swept(starts, ends, -corners).buffer(SAFE, join_style="mitre"))


def covered(centres: BaseGeometry, corners: Floats) -> BaseGeometry:
    """All that a convex shape covers as its centre goes over `centres`."""
    starts, ends = _segments(centres)
    # The rest of the sum lies where one corner goes, or a border would be crossed on the way.
    moved = shapely.transform(centres, lambda points: points + corners[0])
    return shapely.union_all([_swept(starts, ends, corners), moved], grid_size=GRID)


def clearance(other: Pose, mine: Pose, kerf: float) -> Floats:
    """The polygon of centres, about the other wedge's, that are nearer than the kerf (+ `SAFE`)."""
    sums = (other.corners[:, None, :] - mine.corners[None, :, :]).reshape(-1, 2)
    hull = MultiPoint(sums).convex_hull
    return shapely.get_coordinates(hull.buffer(kerf + SAFE, join_style="mitre"))


def _segments(shape: BaseGeometry) -> tuple[Floats, Floats]:
    starts, ends = [np.empty((0, 2))], [np.empty((0, 2))]
    for ring in shapely.get_rings(shapely.get_parts(shape)):
        points = shapely.get_coordinates(ring)
        starts.append(points[:-1])
        ends.append(points[1:])
    return np.concatenate(starts), np.concatenate(ends)


def _swept(starts: Floats, ends: Floats, corners: Floats) -> BaseGeometry:
    """What a convex shape sweeps along each segment, all together."""
    if len(starts) == 0:
        return shapely.MultiPolygon()
    both = np.concatenate(
        (starts[:, None, :] + corners[None], ends[:, None, :] + corners[None]), axis=1
    )
    clouds = [MultiPoint(points) for points in both]
    return shapely.union_all(shapely.convex_hull(clouds), grid_size=GRID)
