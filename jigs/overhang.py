"""What of a body hangs in the air while it is printed, measured on its mesh.

A face that looks down is printed on air where it leans more than 45° out and does not lie on the
bed. Level ones can be bridged: threads of plastic are drawn across, from one side that has material
below it to another. So each such ceiling is looked at in every direction of drawing, and threads
that have nothing to rest on at an end, or are too long, hang. The best direction counts, as
slicers choose it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jigs.facets import LEVEL, Facets, Section, facets_of, section_at
from jigs.mesh import Mesh

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely import Polygon

LONGEST_BRIDGE = 12.0
"""Threads sag on a longer way (mm; common practice, for 0.4 mm nozzles without trial)."""
LEDGE = 0.5
"""A ceiling may stick out this far without support (mm): about the width of one line."""
STEEPEST = math.cos(math.radians(44.0))
"""Faces that look down more squarely than this hang over by more than 45°, and a degree to spare
for what rounding does to small triangles."""
SPECK = 0.2
"""A smaller ceiling (mm²) is of no account."""
TURNS = 12
"""Directions of bridging that are tried, over half a turn."""
THREAD = 0.5
"""From one thread to the next (mm); more on a large ceiling, a fortieth of its width."""
BELOW = 0.02
"""How far under a ceiling there must be material for a thread to rest on (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ceiling:
    """A level face over air: its area, what of it hangs (mm²), its longest thread (mm), its place.

    `closed` is what would hang if the holes in it were closed by a thin layer, to be pushed out
    afterwards.
    """

    area: float
    hanging: float
    closed: float
    span: float
    x: float
    y: float
    z: float


def ceilings(mesh: Mesh, *, longest: float = LONGEST_BRIDGE) -> tuple[Ceiling, ...]:
    """Every ceiling of a body that lies as it is printed, its lowest face on the bed."""
    facets = facets_of(mesh)
    return tuple(one for z in _heights(facets) for one in _at_height(facets, z, longest))


def _heights(facets: Facets) -> Iterator[float]:
    """The heights of faces that hang over."""
    import numpy as np

    lowest = facets.corners[:, :, 2].min()
    tops = np.round(facets.corners[_over(facets)][:, :, 2].max(axis=1), 4)
    yield from (float(z) for z in np.unique(tops) if z > lowest + LEVEL)


def _over(facets: Facets) -> NDArray[np.bool_]:
    steep: NDArray[np.bool_] = facets.normals[:, 2] < -STEEPEST
    return steep


def _at_height(facets: Facets, z: float, longest: float) -> Iterator[Ceiling]:
    import numpy as np
    from shapely import get_parts, polygons, union_all

    tops = np.round(facets.corners[:, :, 2].max(axis=1), 4)
    flat: Any = polygons(facets.corners[_over(facets) & (tops == z)][:, :, :2])
    # triangles that share an edge may leave a slit of rounding between them
    faces: Any = get_parts(union_all(flat, grid_size=1e-6))
    below = section_at(facets, z - BELOW)
    for face in faces:
        if face.area >= SPECK:
            yield _ceiling(face, below, z, longest)


@dataclass(frozen=True, slots=True)
class _Edges:
    """The edges of a ceiling (n, 2, 2), and which of them have material below them."""

    ends: NDArray[np.float64]
    held: NDArray[np.bool_]


def _ceiling(face: Polygon, below: Section, z: float, longest: float) -> Ceiling:
    import numpy as np

    rings = [_edges(ring, below) for ring in (face.exterior, *face.interiors)]
    if _is_ledge(face, rings):
        rings = [_Edges(ring.ends, np.full_like(ring.held, True)) for ring in rings]
        longest = math.inf
    thread = max(THREAD, math.sqrt(face.area) / 40.0)
    hanging, span = _best(rings, thread, longest)
    kept = [rings[0], *(ring for ring in rings[1:] if ring.held.any())]
    closed = _best(kept, thread, longest)[0] if len(kept) < len(rings) else hanging
    middle = face.representative_point()
    return Ceiling(
        area=face.area, hanging=hanging, closed=closed, span=span, x=middle.x, y=middle.y, z=z
    )


def _is_ledge(face: Polygon, rings: list[_Edges]) -> bool:
    """Whether a ceiling nowhere reaches further than a ledge from what holds it."""
    import numpy as np
    from shapely import MultiLineString

    held = MultiLineString(list(np.concatenate([ring.ends[ring.held] for ring in rings])))
    return bool(face.difference(held.buffer(LEDGE)).area < SPECK)


def _edges(ring: Any, below: Section) -> _Edges:
    """The edges of one ring of a ceiling, held where there is material below, on either side."""
    import numpy as np
    from shapely import get_coordinates

    corners = get_coordinates(ring)
    ends = np.stack([corners[:-1], corners[1:]], axis=1)
    run = ends[:, 1] - ends[:, 0]
    aside = np.stack([-run[:, 1], run[:, 0]], axis=1) / np.linalg.norm(run, axis=1)[:, None]
    middle = ends.mean(axis=1)
    held = below.inside(middle + BELOW * aside) | below.inside(middle - BELOW * aside)
    return _Edges(ends, held)


def _best(rings: list[_Edges], thread: float, longest: float) -> tuple[float, float]:
    """What hangs, and the longest thread, in the direction in which least does."""
    import numpy as np

    ends = np.concatenate([ring.ends for ring in rings])
    held = np.concatenate([ring.held for ring in rings])
    every = _Edges(ends, held)
    tries = (_drawn(every, thread, longest, math.pi * i / TURNS) for i in range(TURNS))
    return min(tries, key=lambda one: (round(one[0], 6), one[1]))


def _drawn(edges: _Edges, thread: float, longest: float, turn: float) -> tuple[float, float]:
    """What hangs when threads are drawn in one direction: its area, and the longest thread."""
    import numpy as np

    way = np.array([math.cos(turn), math.sin(turn)])
    along, side = edges.ends @ way, edges.ends @ np.array([-way[1], way[0]])
    width = float(np.ptp(side))
    count = max(1, math.ceil(width / thread))
    places = (side.min() + (np.arange(count) + 0.5) * width / count)[:, None]
    line, edge = np.nonzero((side[:, 0] > places) != (side[:, 1] > places))
    share = (places[line, 0] - side[edge, 0]) / (side[edge, 1] - side[edge, 0])
    met = along[edge, 0] + share * (along[edge, 1] - along[edge, 0])
    order = np.lexsort((met, line))
    met, held = met[order], edges.held[edge[order]]
    length = met[1::2] - met[0::2]
    hangs = (length > LEDGE) & (~(held[0::2] & held[1::2]) | (length > longest + 1e-3))
    return float(length[hangs].sum()) * width / count, float(length.max(initial=0.0))
