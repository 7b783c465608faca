"""Whether every part of a fixture is one valid solid and a watertight mesh of the same volume."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Any

import trimesh

from jigs.base import Fixture, FixtureError
from jigs.mesh import mesh_of
from jigs.placing import solids
from jigs.terrace import Step
from tests.jigs.flat import shape


def unsound(fixture: Fixture) -> list[str]:
    """What is wrong with its solids and meshes, these held against trimesh; empty where nothing."""
    found = []
    try:
        for part, solid in solids(fixture):
            made = mesh_of(solid, fixture.name, part)
            mesh = trimesh.Trimesh(made.corners, made.triangles, process=False)
            if not mesh.is_watertight or not mesh.is_winding_consistent:
                found.append(f"{part.name}: the mesh is not watertight")
            if abs(mesh.volume - part.block.volume()) > 1e-3 * part.block.volume():
                found.append(f"{part.name}: the mesh holds {mesh.volume} mm³")
    except FixtureError as error:
        found.append(str(error))
    return found


def crossings(fixture: Fixture) -> list[str]:
    """Steps that touch one another, or that are not wholly inside what holds them."""
    found = []
    for part in fixture.parts():
        whole = shape(part.block.outline)
        for steps in (part.block.steps, part.block.under):
            found += [f"{part.name}: {one}" for one in _crossings(whole, steps)]
    return found


def _crossings(holder: Any, steps: tuple[Step, ...]) -> Iterator[str]:
    outlines = [shape(step.outline) for step in steps]
    for outline in outlines:
        if not holder.contains_properly(outline):
            yield f"the step at {outline.centroid} is not inside"
    for a, b in combinations(outlines, 2):
        if a.intersects(b):
            yield f"the steps at {a.centroid} and {b.centroid} touch"
    for step, outline in zip(steps, outlines, strict=True):
        yield from _crossings(outline, step.steps)
