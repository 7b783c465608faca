"""The parts of a fixture where they stand in it, as points and as solids."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from jigs.base import Fixture, Part, Place
from jigs.block_solid import checked_solid

if TYPE_CHECKING:
    import cadquery


def placed(fixture: Fixture) -> list[tuple[Part, cadquery.Solid]]:
    """Every body of a fixture as it is used, one for each place of each part, in their order.

    Raises:
        MissingLibraryError: the CAD kernel can't be loaded.
        FixtureError: the kernel failed, or a solid is not what was asked for.
    """
    return [(part, at(place, solid)) for part, solid in solids(fixture) for place in part.places]


def solids(fixture: Fixture) -> Iterator[tuple[Part, cadquery.Solid]]:
    """The solid of every part once, in its own coordinates, checked."""
    for part in fixture.parts():
        yield part, checked_solid(part, fixture.name)


def at(place: Place, solid: cadquery.Solid) -> cadquery.Solid:
    """The solid of a part at one of its places."""
    return solid.moved(location(place))


def location(place: Place) -> cadquery.Location:
    """A place as the kernel takes it: turned over about x, turned about z, then shifted."""
    from cadquery import Location

    spot: Any = Location((place.x, place.y, place.z))
    if place.turn:
        spot = spot * Location((0, 0, 0), (0, 0, 1), place.turn)
    if place.over:
        spot = spot * Location((0, 0, 0), (1, 0, 0), 180)
    return spot  # type: ignore[no-any-return]
