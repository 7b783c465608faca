"""Parts as they lie on a printer's bed: turned as they are printed, side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jigs.base import Part
from jigs.bed import MARGIN
from jigs.mesh import DECIMALS, Corner, Mesh

APART = 8.0
"""Between parts on the bed (mm), so that the brim of one does not touch the next."""
COMMON_BED = (220.0, 220.0)
"""Width and depth of a common printer's bed (mm)."""
Bed = tuple[float, float]
Spot = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """What a body takes of the bed as it is printed: left, low, right, high (mm), and how often."""

    box: tuple[float, float, float, float]
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A body on a bed: its number among the bodies, and how far it is shifted (mm)."""

    body: int
    spot: Spot


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


def beds_for(bodies: Sequence[Lying], bed: Bed) -> list[list[Laid]]:
    """What lies where on each bed, as few beds as rows of bodies fill.

    The deepest come first. What is larger than the bed has one to itself. A single body stays
    where it is, about its own origin, where every slicer takes it to the middle of its bed.
    """
    wanted = [i for i, body in enumerate(bodies) for _ in range(body.count)]
    if len(wanted) == 1:
        return [[Laid(body=0, spot=(0.0, 0.0))]]
    boxes = [body.box for body in bodies]
    wanted.sort(key=lambda i: boxes[i][1] - boxes[i][3])
    beds: list[list[Laid]] = []
    x = y = depth = 0.0
    for i in wanted:
        left, low, right, high = boxes[i]
        if not beds or x + right - left > bed[0] - MARGIN:
            x, y, depth = MARGIN, y + depth + APART, 0.0
        if not beds or (x == MARGIN and y + high - low > bed[1] - MARGIN):
            beds.append([])
            x, y, depth = MARGIN, MARGIN, 0.0
        spot = (round(x - left, DECIMALS), round(y - low, DECIMALS))
        beds[-1].append(Laid(body=i, spot=spot))
        x, depth = x + right - left + APART, max(depth, high - low)
    return beds
