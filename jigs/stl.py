"""A mesh as binary STL."""

from __future__ import annotations

import math
import struct

from jigs.mesh import Corner, Mesh


def stl_bytes(mesh: Mesh, title: str) -> bytes:
    """Binary STL: 80 bytes of title, a count, and 50 bytes a triangle. The unit is the millimetre.

    The format itself names no unit; programs that open it take millimetres.
    """
    # readers take a file that begins with "solid" for the text form of STL
    header = f"{title}, millimetres".encode("ascii", "replace").ljust(80)[:80]
    facets = [struct.pack("<80sI", header, len(mesh.triangles))]
    for triangle in mesh.triangles:
        a, b, c = (mesh.corners[i] for i in triangle)
        facets.append(struct.pack("<12fH", *_normal(a, b, c), *a, *b, *c, 0))
    return b"".join(facets)


def _normal(a: Corner, b: Corner, c: Corner) -> Corner:
    ux, uy, uz = b[0] - a[0], b[1] - a[1], b[2] - a[2]
    vx, vy, vz = c[0] - a[0], c[1] - a[1], c[2] - a[2]
    x, y, z = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
    length = math.hypot(x, y, z)
    return (x / length, y / length, z / length) if length else (0.0, 0.0, 0.0)
