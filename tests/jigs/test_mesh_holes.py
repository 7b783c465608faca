"""Holes in flat faces of a mesh are closed; others are not, so that they are found."""

from __future__ import annotations

import pytest

from jigs.block_solid import block_solid
from jigs.mesh import Mesh, joined
from jigs.mesh_holes import filled
from jigs.terrace import Block, Step
from rosette.geometry.outline import circle, polygon

POCKET = Step(outline=circle(6, (20, 10)), top=4.0)
PLATE = polygon([(0, 0), (40, 0), (40, 20), (0, 20)])


def _mesh() -> Mesh:
    from jigs.mesh import _triangulated

    return joined(*_triangulated(block_solid(Block(outline=PLATE, top=9.0, steps=(POCKET,))), 0.01))


def _without(mesh: Mesh, numbers: list[int]) -> Mesh:
    kept = tuple(one for i, one in enumerate(mesh.triangles) if i not in numbers)
    return Mesh(mesh.corners, kept)


def _top(mesh: Mesh) -> list[int]:
    return [
        i
        for i, one in enumerate(mesh.triangles)
        if all(mesh.corners[corner][2] == 9.0 for corner in one)
    ]


@pytest.mark.parametrize("count", [1, 2, 4])
def test_a_hole_in_a_flat_face_is_closed_as_it_was(count: int) -> None:
    mesh = _mesh()
    torn = _without(mesh, _patch(mesh, count))
    assert torn.open_edges() == count + 2
    whole = filled(torn)
    assert whole.open_edges() == 0
    assert whole.volume() == pytest.approx(mesh.volume(), rel=1e-9)


def _patch(mesh: Mesh, count: int) -> list[int]:
    """Triangles of the top, each but the first with an edge on one before it."""
    top = _top(mesh)
    found = top[4:5]
    while len(found) < count:
        found.append(
            next(
                i
                for i in top
                if i not in found
                and any(len({*mesh.triangles[i]} & {*mesh.triangles[k]}) == 2 for k in found)
            )
        )
    return found


def test_a_hole_round_a_corner_stays() -> None:
    mesh = _mesh()
    upright = next(
        i
        for i, one in enumerate(mesh.triangles)
        if len({mesh.corners[corner][2] for corner in one}) > 1
    )
    torn = _without(mesh, [upright])
    assert filled(torn).open_edges() == torn.open_edges() == 3
