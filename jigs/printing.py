"""Parts as they lie on a printer's bed: turned as they are printed, side by side."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.base import Part
from jigs.mesh import DECIMALS, Corner, Mesh

APART = 8.0
"""Between parts on the bed (mm), so that the brim of one does not touch the next."""
ROW = 220.0
"""How wide a row of parts may be (mm): common beds take it. Slicers move parts further."""
Spot = tuple[float, float]


def laid_down(mesh: Mesh, part: Part) -> Mesh:
    """The mesh of a part as it is printed: its own side down, its lowest face at z = 0."""
    if part.print_over:
        return _moved(mesh, over=True, up=part.block.highest)
    if part.block.lowest:
        return _moved(mesh, over=False, up=-part.block.lowest)
    return mesh


def _moved(mesh: Mesh, *, over: bool, up: float) -> Mesh:
    sign = -1.0 if over else 1.0

    def corner(place: Corner) -> Corner:
        x, y, z = place
        return x, sign * y + 0.0, round(sign * z + up, DECIMALS) + 0.0

    return Mesh(tuple(map(corner, mesh.corners)), mesh.triangles)


def side_by_side(meshes: Sequence[Mesh]) -> list[Spot]:
    """How far each mesh is shifted so that they lie in rows, apart from one another.

    The deepest lie in the first row. A single one stays where it is.
    """
    if len(meshes) == 1:
        return [(0.0, 0.0)]
    boxes = [_box(mesh) for mesh in meshes]
    spots: dict[int, Spot] = {}
    x = y = depth = 0.0
    for i in sorted(range(len(boxes)), key=lambda i: boxes[i][1] - boxes[i][3]):
        left, low, right, high = boxes[i]
        if x and x + right - left > ROW:
            x, y, depth = 0.0, y + depth + APART, 0.0
        spots[i] = (round(x - left, DECIMALS), round(y - low, DECIMALS))
        x, depth = x + right - left + APART, max(depth, high - low)
    return [spots[i] for i in range(len(meshes))]


def _box(mesh: Mesh) -> tuple[float, float, float, float]:
    xs = [corner[0] for corner in mesh.corners]
    ys = [corner[1] for corner in mesh.corners]
    return min(xs), min(ys), max(xs), max(ys)
