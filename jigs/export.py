"""A fixture as files: STEP for CAD and routing, STL and 3MF for printing."""

from __future__ import annotations

import re
from collections.abc import Iterator

from jigs.base import Fixture, Part
from jigs.mesh import Mesh, mesh_of
from jigs.placing import solids
from jigs.printing import laid_down
from jigs.step import step_bytes
from jigs.stl import stl_bytes
from jigs.threemf import Item, threemf_bytes

_WORD = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_DEVICES = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)")
"""Names that some systems keep for devices, whatever follows the dot."""
_LONGEST = 60


def names(fixture: Fixture) -> tuple[str, ...]:
    """The names of a fixture's files, in the order in which `files` gives them; no kernel needed.

    One STEP and one 3MF with all its parts, and an STL for every part: "NAME.stl" where there is
    one part, else "NAME-PART.stl". A part that stands in several places has one file.

    Raises:
        ValueError: a name that not every system takes, or two parts of one name.
    """
    return (f"{fixture.name}.step", *_stl_names(fixture), f"{fixture.name}.3mf")


def files(fixture: Fixture) -> dict[str, bytes]:
    """The files of one fixture by name; the same fixture gives the same bytes.

    Every solid is checked before anything is written, and so is every mesh.

    Raises:
        MissingLibraryError: the CAD kernel can't be loaded; it says what to install.
        FixtureError: the kernel failed, or a solid is not what was asked for.
        ValueError: as `names`.
    """
    stls = tuple(_stl_names(fixture))
    made = list(solids(fixture))
    parts = [part for part, _ in made]
    meshes = [laid_down(mesh_of(solid, fixture.name, part), part) for part, solid in made]
    found = {f"{fixture.name}.step": step_bytes(made, fixture)}
    for name, part, mesh in zip(stls, parts, meshes, strict=True):
        found[name] = stl_bytes(mesh, _title(fixture, part))
    items = [_item(fixture, part, mesh) for part, mesh in zip(parts, meshes, strict=True)]
    found[f"{fixture.name}.3mf"] = threemf_bytes(items, fixture.title, fixture.purpose)
    return found


def _stl_names(fixture: Fixture) -> Iterator[str]:
    parts = fixture.parts()
    stems = [_checked(fixture.name)]
    if len(parts) > 1:
        stems = [_checked(f"{fixture.name}-{_checked(part.name)}") for part in parts]
    if len(set(stems)) < len(parts):
        raise ValueError(f"{fixture.name}: two parts have the same name")
    return (f"{stem}.stl" for stem in stems)


def _checked(name: str) -> str:
    if not _WORD.fullmatch(name) or _DEVICES.fullmatch(name) or len(name) > _LONGEST:
        raise ValueError(f"{name!r} can't be the name of a fixture, a part or their files")
    return name


def _title(fixture: Fixture, part: Part) -> str:
    return fixture.title if len(fixture.parts()) == 1 else f"{fixture.title}: {part.title}"


def _item(fixture: Fixture, part: Part, mesh: Mesh) -> Item:
    title = fixture.title if len(fixture.parts()) == 1 else part.title
    return Item(title=title, mesh=mesh, count=len(part.places))
