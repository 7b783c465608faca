"""How thin a body's walls and floors are and how narrow its gaps, measured on its mesh.

Every body here is upright: level faces, and walls that stand straight (a 45° bottom edge apart).
So walls and gaps are measured in level sections, one between any two heights at which something
changes: all along every edge lines are cast square to it, inwards for the wall behind it and
outwards for the gap before it, to the first edge that faces it. Floors are what lies between level
faces, one over the other. What is thin only aslant, from a pocket's edge to one further down, is
not found.

Between holes a neck may be as thin as anything at all (`feature`). A straight wall that is more
than twice as tall as it is thick bends (`wall`). A pocket must let the cutter in (`gap`), but round
holes are drilled.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from jigs.facets import Facets, Section, facets_of, section_at
from jigs.mesh import Mesh

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

SHALLOW = 1.0
"""Marks, letters and lands: faces no higher than this (mm) are looked through."""
SLENDER = 2.0
"""A wall of no more than this times its thickness in height stands stiff."""
STRAIGHT = 2.0
"""A shorter piece of edge is a chord of something round (mm)."""
CHORDS = 0.02
"""What is too small by less than this (mm) may be so by chords that stand for arcs."""
OPPOSITE = {"feature": -0.75, "wall": -0.95, "gap": -0.95}
"""How squarely two edges must face each other: the cosine of the angle between their normals."""
EVERY = 6.0
"""Edges are looked at this often (mm)."""
SAME_PLACE = 10.0
"""What is found within this of something else that is thin is the same place (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A thin place: its kind, its size, where its middle is, how high it is (mm).

    `kind` is "feature", "wall", "gap" or "floor".
    """

    kind: str
    size: float
    x: float
    y: float
    z: float
    height: float


def thin_places(mesh: Mesh, *, feature: float, wall: float, gap: float) -> tuple[Measured, ...]:
    """Every place of a body that is thinner than it may be, thinnest first (mm).

    `feature` is the least of necks, walls and floors, `wall` that of straight walls more than
    twice as tall as they are thick, `gap` that of pockets. Exact where faces are flat; round ones
    are measured on chords within `jigs.mesh.LINEAR_ERRORS`.
    """
    facets = facets_of(mesh)
    found = [*_in_sections(facets, feature, wall, gap), *_floors(facets, feature)]
    found.sort(key=lambda one: (round(one.size, 4), one.x, one.y, one.z))
    kept: list[Measured] = []
    while found:
        kept.append(found[0])
        found = _elsewhere(found)
    return tuple(kept)


def _elsewhere(found: list[Measured]) -> list[Measured]:
    """What is not the same place as the first, nor as anything that is."""
    rest, place = found[1:], [found[0]]
    while place:
        one = place.pop()
        near = [other for other in rest if _near(one, other)]
        rest = [other for other in rest if not _near(one, other)]
        place += near
    return rest


def _near(one: Measured, other: Measured) -> bool:
    apart = max(abs(one.x - other.x), abs(one.y - other.y))
    return one.kind == other.kind and apart < SAME_PLACE


def _in_sections(facets: Facets, feature: float, wall: float, gap: float) -> Iterator[Measured]:
    import numpy as np

    levels = facets.levels()
    for low, high in pairwise(levels):
        z = float(low + high) / 2.0
        section = section_at(facets, z)
        upright = _those(section, section.heights > SHALLOW + 1e-6)
        yield from _cast(upright, z, "feature", feature)
        run = upright.segments[:, 1] - upright.segments[:, 0]
        straight = np.hypot(run[:, 0], run[:, 1]) >= STRAIGHT
        yield from (
            one
            for one in _cast(upright, z, "wall", wall, straight)
            if feature <= one.size < one.height / SLENDER
        )
        yield from _cast(upright, z, "gap", gap, straight)


def _those(section: Section, kept: NDArray[np.bool_]) -> Section:
    return Section(section.segments[kept], section.normals[kept], section.heights[kept])


def _cast(
    section: Section, z: float, kind: str, limit: float, kept: NDArray[np.bool_] | None = None
) -> Iterator[Measured]:
    """Lines of length `limit` from edges, and which edge they meet first, if it faces theirs.

    Only edges `kept` count at either end; all others still stop a line.
    """
    import numpy as np
    from shapely import STRtree, linestrings

    segments, number = section.segments, np.arange(len(section.segments))
    sources = number if kept is None else number[kept]
    if not limit or not len(sources):
        return
    way = 1.0 if kind == "gap" else -1.0
    sources, starts = _samples(segments, sources)
    ways = way * section.normals[sources]
    rays = linestrings(np.stack([starts, starts + limit * ways], axis=1))
    edges: Any = linestrings(segments)
    ray, edge = STRtree(edges).query(rays, predicate="intersects")
    far = _distances(starts[ray], ways[ray], segments[edge])
    true = (far > 1e-5) & (far < limit - CHORDS)
    ray, edge, far = ray[true], edge[true], far[true]
    order = np.lexsort((far, ray))
    _, first = np.unique(ray[order], return_index=True)
    for i, k, size in zip(*(one[order][first] for one in (ray, edge, far)), strict=True):
        facing = section.normals[sources[i]] @ section.normals[k]
        if facing > OPPOSITE[kind] or (kept is not None and not kept[k]):
            continue
        x, y = starts[i] + size / 2.0 * ways[i]
        height = float(min(section.heights[sources[i]], section.heights[k]))
        yield Measured(kind=kind, size=float(size), x=float(x), y=float(y), z=z, height=height)


def _samples(segments: Array, numbers: NDArray[np.int_]) -> tuple[NDArray[np.int_], Array]:
    """Points along the segments of these numbers, and which lies on which.

    There is one close to each segment's start, and others evenly along it.
    """
    import numpy as np

    run = segments[numbers, 1] - segments[numbers, 0]
    counts = np.ceil(np.hypot(run[:, 0], run[:, 1]) / EVERY).astype(int)
    along = np.repeat(numbers, counts)
    place = np.arange(len(along)) - np.repeat(np.cumsum(counts) - counts, counts)
    shares = (place + 0.5) / np.repeat(counts, counts)
    which = np.concatenate([numbers, along])
    shares = np.concatenate([np.full(len(numbers), 1e-3), shares])[:, None]
    return which, (1.0 - shares) * segments[which, 0] + shares * segments[which, 1]


def _distances(starts: Array, ways: Array, segments: Array) -> Any:
    """How far along each line the segment lies that it meets."""
    import numpy as np

    run = segments[:, 1] - segments[:, 0]
    off = segments[:, 0] - starts
    cross = ways[:, 0] * run[:, 1] - ways[:, 1] * run[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(
            abs(cross) > 1e-12, (off[:, 0] * run[:, 1] - off[:, 1] * run[:, 0]) / cross, 0.0
        )


def _floors(facets: Facets, limit: float) -> Iterator[Measured]:
    """Level faces that look up over ones that look down, less than `limit` apart."""
    ups, downs = _level_faces(facets, up=True), _level_faces(facets, up=False)
    for high, above in ups.items():
        for low, below in downs.items():
            if not 1e-6 < high - low < limit - CHORDS:
                continue
            common = above.intersection(below)
            if common.area < 0.01:
                continue
            point = common.representative_point()
            yield Measured(
                kind="floor",
                size=high - low,
                x=point.x,
                y=point.y,
                z=(high + low) / 2.0,
                height=high - low,
            )


def _level_faces(facets: Facets, *, up: bool) -> dict[float, Any]:
    """The level faces that look up or down, by their height, as polygons."""
    import numpy as np
    from shapely import polygons, unary_union

    tilt = facets.normals[:, 2] if up else -facets.normals[:, 2]
    corners = facets.corners[tilt > 0.999]
    heights = np.round(corners[:, 0, 2], 4)
    return {
        float(height): unary_union(polygons(corners[heights == height][:, :, :2]))
        for height in np.unique(heights)
    }
