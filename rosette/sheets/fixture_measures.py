"""The sizes to check, numbered, and where they are on a part drawn by itself (mm)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rosette.geometry.outline import Point
from rosette.sheets.dimension import length_text
from rosette.sheets.fixture_stood import Stood
from rosette.sheets.fixture_views import CheckView, FixtureView
from rosette.units import Units, number_in

SLACK = 0.5
"""How far outside its part a size may begin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """A check, its number in the table, and where it is taken, as the drawing has it."""

    number: int
    check: CheckView
    ends: tuple[Point, Point] | None = None
    at: Point | None = None
    heights: tuple[float, float] | None = None

    def text(self, units: Units) -> str:
        """What its dimension says: number, size, and how far it may be off."""
        return f"{self.number}) {length_text(self.check.size, units)} {off_text(self.check, units)}"


def numbered(fixture: FixtureView) -> list[Numbered]:
    """Every check of a fixture, from 1 on, where the fixture says."""
    return [
        Numbered(number=i, check=one, ends=one.ends, at=one.at, heights=one.heights)
        for i, one in enumerate(fixture.checks(), start=1)
    ]


def off_text(check: CheckView, units: Units) -> str:
    """How far a size may be off: the same both ways, or up and down."""
    up, down = number_in(check.plus, units), number_in(check.minus, units)
    return f"±{up}" if up == down else f"+{up} −{down}"


def on_its_own(one: Numbered, places: Sequence[Stood]) -> Numbered:
    """A check of a part in the part's own coordinates, top up.

    It is taken at the place of the part that it lies on; one that lies on none is told in the
    part's own coordinates already.
    """
    place = next((each for each in places if _lies_on(one, each)), None)
    if place is None:
        return one
    ends, at, heights = one.ends, one.at, one.heights
    return replace(
        one,
        ends=(place.own(ends[0]), place.own(ends[1])) if ends else None,
        at=place.own(at) if at else None,
        heights=(place.own_height(heights[0]), place.own_height(heights[1])) if heights else None,
    )


def _lies_on(one: Numbered, place: Stood) -> bool:
    _, (left, low, right, high) = place.placed_rings[0]
    points = one.ends or ((one.at,) if one.at else ())
    flat = all(
        left - SLACK <= x <= right + SLACK and low - SLACK <= y <= high + SLACK for x, y in points
    )
    bottom, top = sorted((place.height(place.block.lowest), place.height(place.block.highest)))
    return flat and all(bottom - SLACK <= z <= top + SLACK for z in one.heights or ())
