"""The solid as triangles: made once, checked, and shared by the formats that hold meshes."""

from __future__ import annotations

import struct
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigs.base import Part
from jigs.faults import failure

if TYPE_CHECKING:
    import cadquery

Corner = tuple[float, float, float]

LINEAR_ERRORS = (0.01, 0.003, 0.001, 0.0003)
"""Greatest distance in mm between a curved face and its triangles, the coarsest that will do.

A pin is small, so that a hundredth of a millimetre is too much of it.
"""
VOLUME_ERROR = 1e-3
"""How far, relatively, a mesh's volume may be from the solid's."""
ANGULAR_ERROR = 0.5
"""Greatest turn in radians from one triangle to the next along a curve."""
DECIMALS = 5


@dataclass(frozen=True, slots=True)
class Mesh:
    """Corners in mm, each once, and triangles as indices, counter-clockwise from outside."""

    corners: tuple[Corner, ...]
    triangles: tuple[tuple[int, int, int], ...]

    def open_edges(self) -> int:
        """How many edges do not join exactly two triangles of the same sense; 0 is watertight."""
        return len(self.gaps())

    def gaps(self) -> list[Corner]:
        """Where those edges start."""
        count: Counter[tuple[int, int]] = Counter()
        for a, b, c in self.triangles:
            count.update(((a, b), (b, c), (c, a)))
        return [
            self.corners[a]
            for (a, b), times in count.items()
            if times != 1 or count.get((b, a), 0) != 1
        ]

    def volume(self) -> float:
        """The volume inside in mm³ (divergence theorem)."""
        total = 0.0
        for a, b, c in self.triangles:
            (ax, ay, az), (bx, by, bz), (cx, cy, cz) = (self.corners[i] for i in (a, b, c))
            total += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
        return total / 6.0


def mesh_of(solid: cadquery.Solid, fixture: str, part: Part) -> Mesh:
    """The triangles of a part's solid, edges shared; `fixture` is for what errors say.

    Raises:
        FixtureError: the kernel left a gap, or triangles that do not hold the solid's volume.
    """
    from jigs.mesh_holes import filled

    volume, problem = solid.Volume(), ""
    for error in LINEAR_ERRORS:
        try:
            mesh = joined(*_triangulated(solid, error))
        except Exception as thrown:  # the kernel throws its own kinds, with its own words
            raise failure(
                fixture, part, f"the CAD kernel made no mesh of it ({thrown})"
            ) from thrown
        gaps = mesh.gaps()
        if gaps:
            mesh = filled(mesh)
            gaps = mesh.gaps()
        if gaps:
            x, y, z = gaps[0]
            raise failure(
                fixture,
                part,
                f"the mesh has {len(gaps)} open edges, the first at ({x:.2f}, {y:.2f}, {z:.2f}) mm",
            )
        if abs(mesh.volume() - volume) <= VOLUME_ERROR * volume:
            return mesh
        problem = f"the mesh holds {mesh.volume():.2f} mm³ where the solid holds {volume:.2f} mm³"
    raise failure(fixture, part, problem)


def _triangulated(
    solid: cadquery.Solid, error: float
) -> tuple[list[Corner], list[tuple[int, int, int]]]:
    """Corners and triangles face by face. cadquery's own call takes the error as relative."""
    from OCP.BRep import BRep_Tool
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.BRepTools import BRepTools
    from OCP.TopAbs import TopAbs_Orientation
    from OCP.TopLoc import TopLoc_Location

    BRepTools.Clean_s(solid.wrapped)  # the kernel would take up triangles made for something else
    BRepMesh_IncrementalMesh(solid.wrapped, error, False, ANGULAR_ERROR, False)
    corners: list[Corner] = []
    triangles: list[tuple[int, int, int]] = []
    for face in solid.Faces():
        place = TopLoc_Location()
        part = BRep_Tool.Triangulation_s(face.wrapped, place)
        if part is None:
            raise ValueError("a face was left without triangles")
        first = len(corners) - 1  # the kernel counts from 1
        nodes = (part.Node(i) for i in range(1, part.NbNodes() + 1))
        if not place.IsIdentity():
            move = place.Transformation()
            nodes = (node.Transformed(move) for node in nodes)
        corners += [node.Coord() for node in nodes]
        turned = face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
        for i in range(1, part.NbTriangles() + 1):
            a, b, c = part.Triangle(i).Get()
            if turned:
                b, c = c, b
            triangles.append((first + a, first + b, first + c))
    return corners, triangles


def joined(corners: list[Corner], triangles: list[tuple[int, int, int]]) -> Mesh:
    """A mesh in which corners that round to the same place are one.

    They are rounded as STL's 32-bit floats hold them. Triangles that shrink to a line go.
    """
    places: dict[Corner, int] = {}
    index = [places.setdefault(_rounded(corner), len(places)) for corner in corners]
    kept = [(index[a], index[b], index[c]) for a, b, c in triangles]
    return Mesh(tuple(places), tuple(one for one in kept if len(set(one)) == 3))


def _rounded(corner: Corner) -> Corner:
    x, y, z = struct.unpack("<3f", struct.pack("<3f", *(round(v, DECIMALS) for v in corner)))
    return round(x, DECIMALS) + 0.0, round(y, DECIMALS) + 0.0, round(z, DECIMALS) + 0.0
