"""A fixture as files: STEP for CAD and routing, STL and 3MF for printing."""

from __future__ import annotations

from jigs.base import Fixture
from jigs.mesh import mesh_of
from jigs.step import step_bytes
from jigs.stl import stl_bytes
from jigs.threemf import threemf_bytes


def files(fixture: Fixture) -> dict[str, bytes]:
    """The files of one fixture by name; the same fixture gives the same bytes.

    The solid is checked before anything is written, and so is the mesh.

    Raises:
        MissingLibraryError: the CAD kernel can't be loaded; it says what to install.
        FixtureError: the kernel failed, or its solid is not what was asked for.
    """
    solid = fixture.solid()
    mesh = mesh_of(solid, fixture.name)
    return {
        f"{fixture.name}.step": step_bytes(solid, fixture),
        f"{fixture.name}.stl": stl_bytes(mesh, fixture.title),
        f"{fixture.name}.3mf": threemf_bytes(mesh, fixture.title, fixture.purpose),
    }
