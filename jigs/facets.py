"""A mesh's triangles as arrays, and where a level plane cuts them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigs.mesh import Mesh

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

LEVEL = 1e-4
"""Heights that differ by less are one (mm)."""


@dataclass(frozen=True, slots=True)
class Facets:
    """Triangles, as their corners (n, 3, 3) in mm and their outward normals (n, 3), length 1."""

    corners: Array
    normals: Array

    def levels(self) -> Array:
        """Every height at which there is a corner, from below."""
        import numpy as np

        heights = np.unique(self.corners[:, :, 2])
        return heights[np.concatenate(([True], np.diff(heights) > LEVEL))]


@dataclass(frozen=True, slots=True)
class Section:
    """What a level plane cuts: segments (n, 2, 2) in mm, their outward normals (n, 2).

    `heights` is how far up and down the triangle of each goes, `inside` tells material.
    """

    segments: Array
    normals: Array
    heights: Array

    def inside(self, points: Array) -> NDArray[np.bool_]:
        """Which points (n, 2) lie in material, by counting what a line to the right crosses."""
        import numpy as np

        (ax, ay), (bx, by) = self.segments[:, 0].T, self.segments[:, 1].T
        x, y = points[:, :1], points[:, 1:]
        spans = (ay > y) != (by > y)
        with np.errstate(divide="ignore", invalid="ignore"):
            crossed = ax + (y - ay) / (by - ay) * (bx - ax)
        return np.asarray(np.count_nonzero(spans & (x < crossed), axis=1) % 2 == 1)


def facets_of(mesh: Mesh) -> Facets:
    """The triangles of a mesh; those of no area are left out."""
    import numpy as np

    corners = np.asarray(mesh.corners)[np.asarray(mesh.triangles)]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normals, axis=1)
    kept = size > 1e-12
    return Facets(corners[kept], normals[kept] / size[kept, None])


def section_at(facets: Facets, z: float) -> Section:
    """What the plane at height `z` cuts; no corner may lie in it."""
    import numpy as np

    above = facets.corners[:, :, 2] > z
    cut = above.any(axis=1) & ~above.all(axis=1)
    corners, above, normals = facets.corners[cut], above[cut], facets.normals[cut]
    # the corner that is alone on its side comes first
    alone = np.where(above.sum(axis=1) == 1, above.argmax(axis=1), (~above).argmax(axis=1))
    order = (alone[:, None] + np.arange(3)) % 3
    a, b, c = (corners[np.arange(len(corners)), order[:, i]] for i in range(3))
    ends = [a + ((z - a[:, 2]) / (end[:, 2] - a[:, 2]))[:, None] * (end - a) for end in (b, c)]
    flat = normals[:, :2]
    length = np.linalg.norm(flat, axis=1)[:, None]
    heights = corners[:, :, 2].max(axis=1) - corners[:, :, 2].min(axis=1)
    segments = np.stack([ends[0][:, :2], ends[1][:, :2]], axis=1)
    return Section(segments, flat / length, heights)
