"""The usable wood of one offcut, turned so that its grain is +y."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from rosette.errors import InputError, finding
from rosette.offcuts.model import Offcut, Point, Ring

Floats = NDArray[np.float64]

SLIVER = 1e-3
"""mm²: parts of the wood smaller than this are left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A turn about a point: from the offcut's own coordinates to those with the grain along +y."""

    cos: float
    sin: float
    origin: Point

    def along_grain(self, points: Floats) -> Floats:
        """Own coordinates, shape (n, 2), to the turned frame."""
        x, y = points[:, 0] - self.origin[0], points[:, 1] - self.origin[1]
        return np.column_stack((self.cos * x - self.sin * y, self.sin * x + self.cos * y))

    def own(self, x: float, y: float) -> Point:
        """A point of the turned frame in the offcut's own coordinates."""
        return (
            self.cos * x + self.sin * y + self.origin[0],
            self.cos * y - self.sin * x + self.origin[1],
        )


def frame_for(grain: float, origin: Point) -> Frame:
    """The frame whose +y runs along `grain` (degrees), exact for quarter turns."""
    turn = (90.0 - grain) % 360.0
    exact = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    angle = math.radians(turn)
    cos, sin = exact.get(turn, (math.cos(angle), math.sin(angle)))
    return Frame(cos=cos, sin=sin, origin=origin)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edges:
    """Edges of closed rings as arrays of equal length; the lower end first (y1 ≤ y2)."""

    x1: Floats
    y1: Floats
    x2: Floats
    y2: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """The usable wood in the turned frame, several parts with holes as they come.

    `edges` bound the usable wood, `wood_edges` the whole piece with its defects, which a saw
    has to cross. `polygon` is the usable wood, `area` in mm².
    """

    frame: Frame
    polygon: MultiPolygon
    edges: Edges
    wood_edges: Edges

    @property
    def area(self) -> float:
        """mm² of usable wood."""
        return float(self.polygon.area)


def usable_region(offcut: Offcut, *, tilt: float = 0.0, simplify: float = 0.0) -> Region:
    """The usable wood: outline less holes and defects, slivers under `SLIVER` left out.

    `tilt` degrees turns the layout's axis counter-clockwise off the grain. `simplify` mm, for
    traced outlines, gives up that much wood all round for fewer vertices (see `simplified`).
    Raises `InputError` where a ring crosses itself or has no area.
    """
    wood = _polygon(offcut, offcut.outline, "outline")
    holes = [_polygon(offcut, ring, f"hole[{i}]") for i, ring in enumerate(offcut.holes, 1)]
    bad = [_polygon(offcut, ring, f"defect[{i}]") for i, ring in enumerate(offcut.defects, 1)]
    whole = wood.difference(shapely.union_all(holes)) if holes else wood
    usable = whole.difference(shapely.union_all(bad)) if bad else whole
    if simplify > 0.0:
        usable = simplified(usable, simplify)
    left, low, _, _ = wood.bounds
    frame = frame_for(offcut.grain + tilt, (left, low))
    polygon = MultiPolygon([_turned(part, frame) for part in _parts(usable)])
    return Region(
        frame=frame,
        polygon=polygon,
        edges=_edges(polygon.geoms),
        wood_edges=_edges(_turned(part, frame) for part in _parts(whole)),
    )


class RegionOf(Protocol):
    """What `usable_region` does, or the same out of a store."""

    def __call__(self, offcut: Offcut, *, tilt: float = 0.0, simplify: float = 0.0) -> Region:
        """The usable wood of an offcut."""


def simplified(wood: BaseGeometry, tolerance: float) -> BaseGeometry:
    """Fewer vertices, and never a point that was not wood.

    The outline is straightened by up to `tolerance` mm, then shrunk by as much with mitred
    joins (round joins would multiply the vertices). Whatever might still stand out is cut off.
    """
    slim = wood.simplify(tolerance).buffer(-tolerance, join_style="mitre")
    return slim if wood.covers(slim) else slim.intersection(wood)


def _polygon(offcut: Offcut, ring: Ring, what: str) -> Polygon:
    where = f"offcut[{offcut.id}].{what}"
    if len(ring) < 3:
        raise InputError(
            [finding("outline", where, "{n} points enclose no wood; give three or more",
                     n=str(len(ring)))]
        )  # fmt: skip
    polygon = Polygon(ring)
    if not polygon.is_valid or polygon.area == 0.0:
        flat = polygon.convex_hull.area == 0.0
        why = "it has no area" if flat else shapely.is_valid_reason(polygon)
        raise InputError(
            [finding("outline", where, "not a simple outline ({why}); go round the edge once",
                     why=why)]
        )  # fmt: skip
    return polygon


def _parts(shape: BaseGeometry) -> list[Polygon]:
    pieces = shapely.get_parts(shape)
    return [one for one in pieces if isinstance(one, Polygon) and one.area >= SLIVER]


def _turned(part: Polygon, frame: Frame) -> Polygon:
    turned: Polygon = shapely.transform(part, frame.along_grain)
    return turned


def _edges(parts: Iterable[Polygon]) -> Edges:
    starts, ends = [np.empty((0, 2))], [np.empty((0, 2))]
    for part in parts:
        for ring in (part.exterior, *part.interiors):
            points = shapely.get_coordinates(ring)
            starts.append(points[:-1])
            ends.append(points[1:])
    start, end = np.concatenate(starts), np.concatenate(ends)
    swap = start[:, 1] > end[:, 1]
    low, high = np.where(swap[:, None], end, start), np.where(swap[:, None], start, end)
    return Edges(x1=low[:, 0], y1=low[:, 1], x2=high[:, 0], y2=high[:, 1])
