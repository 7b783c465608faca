"""A fixture as files: STEP for CAD and routing, STL and 3MF for printing."""

from __future__ import annotations

import re
from collections.abc import Iterator

from jigs.base import Fixture, Part
from jigs.mesh import Mesh, mesh_of
from jigs.placing import solids
from jigs.printing import COMMON_BED, Bed, Laid, beds_for, laid_down
from jigs.step import step_bytes
from jigs.stl import stl_bytes
from jigs.threemf import Item, threemf_bytes

_WORD = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_DEVICES = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)")
"""Names that some systems keep for devices, whatever follows the dot."""
_LONGEST = 60


def names(fixture: Fixture, bed: Bed = COMMON_BED) -> tuple[str, ...]:
    """The names of a fixture's files, in the order in which `files` gives them; no kernel needed.

    One STEP for all, and an STL for every part: "NAME.stl" where there is one part, else
    "NAME-PART.stl". A part that stands in several places has one file. One 3MF, "NAME.3mf", has
    all that is to be printed; where a printer's `bed` (width and depth in mm) does not hold it at
    once, there is one for each filling of the bed, "NAME-print-1.3mf" and so on.

    Raises:
        ValueError: a name that not every system takes, or two parts of one name.
    """
    beds = beds_for(fixture.parts(), bed)
    return (f"{fixture.name}.step", *_stl_names(fixture), *_3mf_names(fixture, len(beds)))


def files(fixture: Fixture, bed: Bed = COMMON_BED) -> dict[str, bytes]:
    """The files of one fixture by name; the same fixture and bed give the same bytes.

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
    beds = beds_for(parts, bed)
    for number, (name, laid) in enumerate(
        zip(_3mf_names(fixture, len(beds)), beds, strict=True), start=1
    ):
        title = fixture.title + (f", print {number} of {len(beds)}" if len(beds) > 1 else "")
        items = list(_items(fixture, parts, meshes, laid))
        found[name] = threemf_bytes(items, title, fixture.purpose)
    return found


def _3mf_names(fixture: Fixture, beds: int) -> tuple[str, ...]:
    if beds == 1:
        return (f"{fixture.name}.3mf",)
    return tuple(f"{fixture.name}-print-{i}.3mf" for i in range(1, beds + 1))


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


def _items(
    fixture: Fixture, parts: list[Part], meshes: list[Mesh], laid: list[Laid]
) -> Iterator[Item]:
    """The parts on one bed, in the fixture's own order."""
    for i, (part, mesh) in enumerate(zip(parts, meshes, strict=True)):
        spots = tuple(one.spot for one in laid if one.part == i)
        if spots:
            title = fixture.title if len(parts) == 1 else part.title
            yield Item(title=title, mesh=mesh, spots=spots)
