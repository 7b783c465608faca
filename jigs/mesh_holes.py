"""Flat holes that the kernel leaves in the mesh of a flat face, filled with triangles.

It happens, rarely, on flat faces with many corners, whatever the error asked for. Only what is flat
is filled, so that no surface is invented; the mesh's volume is checked afterwards all the same.
"""

from __future__ import annotations

from jigs.mesh import Corner, Mesh

FLAT = 1e-4
"""Corners of a hole lie this near to one level, or it is left as it is (mm)."""
Flat = tuple[float, float]


def filled(mesh: Mesh) -> Mesh:
    """The mesh with its level holes closed; others stay open."""
    added: list[tuple[int, int, int]] = []
    for loop in _loops(mesh):
        if len({round(mesh.corners[i][2] / FLAT) for i in loop}) == 1:
            added += _ears(loop, mesh.corners)
    return Mesh(mesh.corners, mesh.triangles + tuple(added))


def _loops(mesh: Mesh) -> list[list[int]]:
    """The holes' corners, in the order in which triangles that close them go round."""
    edges = {(one[i], one[(i + 1) % 3]) for one in mesh.triangles for i in range(3)}
    after: dict[int, int] = {}
    for a, b in sorted(edges):
        if (b, a) in edges:
            continue
        if b in after:
            return []
        after[b] = a
    loops: list[list[int]] = []
    while after:
        loop = [next(iter(after))]
        while (following := after.pop(loop[-1], None)) not in (None, loop[0]):
            loop.append(following)
        if following is None:
            return []
        loops.append(loop)
    return loops


def _ears(loop: list[int], corners: tuple[Corner, ...]) -> list[tuple[int, int, int]]:
    """A flat loop as triangles, corner after corner cut off."""
    flat = {i: corners[i][:2] for i in loop}
    turn = 1.0 if sum(_area((0.0, 0.0), flat[a], flat[b]) for a, b in _pairs(loop)) > 0 else -1.0
    rest, found = list(loop), []
    while len(rest) > 2:
        for k in range(len(rest)):
            a, b, c = rest[k - 1], rest[k], rest[(k + 1) % len(rest)]
            others = (flat[i] for i in rest if i not in (a, b, c))
            if turn * _area(flat[a], flat[b], flat[c]) > 0.0 and not any(
                _within(one, flat[a], flat[b], flat[c], turn) for one in others
            ):
                found.append((a, b, c))
                del rest[k]
                break
        else:
            return []
    return found


def _pairs(loop: list[int]) -> list[tuple[int, int]]:
    return list(zip(loop, loop[1:] + loop[:1], strict=True))


def _area(a: Flat, b: Flat, c: Flat) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _within(point: Flat, a: Flat, b: Flat, c: Flat, turn: float) -> bool:
    return all(turn * _area(p, q, point) >= 0.0 for p, q in ((a, b), (b, c), (c, a)))
