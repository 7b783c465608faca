"""A fixture as files: STEP for CAD and routing, STL and 3MF for printing."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from jigs.base import Fixture, Part
from jigs.mesh import Mesh
from jigs.placing import solids
from jigs.printing import COMMON_BED, Bed, Laid, beds_for
from jigs.prints import Print, printed, prints_of
from jigs.step import step_bytes
from jigs.stl import stl_bytes
from jigs.threemf import Item, threemf_bytes
from rosette.errors import Finding

_WORD = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_DEVICES = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)")
"""Names that some systems keep for devices, whatever follows the dot."""
_LONGEST = 60


def names(fixture: Fixture, bed: Bed = COMMON_BED) -> tuple[str, ...]:
    """The names of a fixture's files, in the order in which `files` gives them; no kernel needed.

    One STEP for all, and an STL for every part: "NAME.stl" where there is one part, else
    "NAME-PART.stl". A part that stands in several places has one file; one that is printed in
    pieces has one for each, ending in "-1of2.stl" and so on. One 3MF, "NAME.3mf", has
    all that is to be printed; where a printer's `bed` (width and depth in mm) does not hold it at
    once, there is one for each filling of the bed, "NAME-print-1.3mf" and so on.

    Raises:
        ValueError: a name that not every system takes, or two parts of one name.
    """
    prints = list(prints_of(fixture))
    beds = beds_for([one.lying for one in prints], bed)
    return (f"{fixture.name}.step", *_stl_names(fixture, prints), *_3mf_names(fixture, len(beds)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """The files of a fixture by name, and what was found when its solids were measured."""

    files: dict[str, bytes]
    findings: tuple[Finding, ...]


def files(fixture: Fixture, bed: Bed = COMMON_BED) -> dict[str, bytes]:
    """The files of one fixture by name; the same fixture and bed give the same bytes.

    Raises:
        MissingLibraryError, FixtureError, ValueError: as `made`.
    """
    return made(fixture, bed).files


def made(fixture: Fixture, bed: Bed = COMMON_BED) -> Made:
    """The files of one fixture, and what of it hangs in the air or is too thin.

    Every solid is checked before anything is written, and so is every mesh.

    Raises:
        MissingLibraryError: the CAD kernel can't be loaded; it says what to install.
        FixtureError: the kernel failed, or a solid is not what was asked for.
        ValueError: as `names`.
    """
    prints = list(prints_of(fixture))
    stls = tuple(_stl_names(fixture, prints))
    bodies = list(solids(fixture))
    found = {f"{fixture.name}.step": step_bytes(bodies, fixture)}
    done = [printed(fixture, part, solid) for part, solid in bodies]
    meshes = [mesh for one in done for mesh in one.meshes]
    for name, one, mesh in zip(stls, prints, meshes, strict=True):
        found[name] = stl_bytes(mesh, _title(fixture, one.part) + one.words)
    beds = beds_for([one.lying for one in prints], bed)
    for number, (name, laid) in enumerate(
        zip(_3mf_names(fixture, len(beds)), beds, strict=True), start=1
    ):
        title = fixture.title + (f", print {number} of {len(beds)}" if len(beds) > 1 else "")
        items = list(_items(fixture, prints, meshes, laid))
        found[name] = threemf_bytes(items, title, fixture.purpose)
    return Made(files=found, findings=tuple(one for each in done for one in each.findings))


def _3mf_names(fixture: Fixture, beds: int) -> tuple[str, ...]:
    if beds == 1:
        return (f"{fixture.name}.3mf",)
    return tuple(f"{fixture.name}-print-{i}.3mf" for i in range(1, beds + 1))


def _stl_names(fixture: Fixture, prints: list[Print]) -> Iterator[str]:
    parts = fixture.parts()
    stems = [_checked(fixture.name)]
    if len(parts) > 1:
        stems = [_checked(f"{fixture.name}-{_checked(part.name)}") for part in parts]
    if len(set(stems)) < len(parts):
        raise ValueError(f"{fixture.name}: two parts have the same name")
    of = dict(zip((part.name for part in parts), stems, strict=True))
    return (f"{_checked(of[one.part.name] + one.ending)}.stl" for one in prints)


def _checked(name: str) -> str:
    if not _WORD.fullmatch(name) or _DEVICES.fullmatch(name) or len(name) > _LONGEST:
        raise ValueError(f"{name!r} can't be the name of a fixture, a part or their files")
    return name


def _title(fixture: Fixture, part: Part) -> str:
    return fixture.title if len(fixture.parts()) == 1 else f"{fixture.title}: {part.title}"


def _items(
    fixture: Fixture, prints: list[Print], meshes: list[Mesh], laid: list[Laid]
) -> Iterator[Item]:
    """The bodies on one bed, in the fixture's own order."""
    single = len(fixture.parts()) == 1
    for i, (one, mesh) in enumerate(zip(prints, meshes, strict=True)):
        spots = tuple(each.spot for each in laid if each.body == i)
        if spots:
            title = (fixture.title if single else one.part.title) + one.words
            yield Item(title=title, mesh=mesh, spots=spots)
