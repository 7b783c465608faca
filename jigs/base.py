"""What every fixture is: frozen sizes worked out from the plan, and solids made on request."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from jigs.bed import Printer
from jigs.hardware import Fastener
from jigs.process import Process
from jigs.terrace import Block
from rosette.errors import CannotMakeError, Finding
from rosette.geometry.outline import Point
from rosette.words import Saying, say

if TYPE_CHECKING:
    import cadquery

NO_REASON = say("")


class FixtureError(CannotMakeError):
    """The kernel could not make a fixture's solid, or made one that is not what was asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a part stands in its fixture (mm, degrees): turned over, turned, then shifted.

    `over` turns it over about its own x axis, so that its top looks down and what stood at
    (x, y, z) stands at (x, -y, -z); `turn` is counter-clockwise about z, seen from above.
    """

    x: float = 0.0
    y: float = 0.0
    z: float = 0.0
    turn: float = 0.0
    over: bool = False

    def point(self, x: float, y: float, z: float = 0.0) -> tuple[float, float, float]:
        """Where a point of the part, in its own coordinates, stands in the fixture.

        >>> x, y, z = Place(x=10, z=5, turn=90, over=True).point(3, 2, 1)
        >>> round(x, 9), round(y, 9), round(z, 9)
        (12.0, 3.0, 4)
        """
        if self.over:
            y, z = -y, -z
        turn = math.radians(self.turn)
        c, s = math.cos(turn), math.sin(turn)
        return c * x - s * y + self.x, s * x + c * y + self.y, z + self.z


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One body of a fixture.

    `name` is the last word of its own files where the fixture has several parts ("plate"),
    `title` what it is called in programs that open them. `places` says where it stands in the
    fixture as it is used, once for each time it is needed. `print_over` says that it is printed
    upside down. `colour` counts through the colours that parts are told apart by.
    """

    name: str
    title: str
    block: Block
    places: tuple[Place, ...] = (Place(),)
    print_over: bool = False
    colour: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A size to check by caliper before the fixture is used (mm).

    `what` says in plain words what to measure ("across the post"), `size` what it should be,
    `minus` and `plus` how far it may be off. Either `ends` are the two points of the plan, in
    the fixture's own coordinates, between which it is measured, or `heights` the two heights,
    taken at the point `at`. For a size across a circle the ends lie on the circle.
    """

    part: str
    what: str
    size: float
    minus: float = 0.1
    plus: float = 0.1
    ends: tuple[Point, Point] | None = None
    at: Point | None = None
    heights: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixture(ABC):
    """The sizes of one fixture (mm); it costs nothing until its solids are asked for.

    `name` is the stem of its files ("ring-1-tray"), `kind` the name it is registered by
    ("tray"), `title` what it is called in programs that open its files, `purpose` one sentence
    for the manifest and the packet, `why` one sentence that says why it suits this very plan.
    `section` is the line, from left to right, along which its drawing cuts it. `printer` is what
    it is printed on, None where it is not; by `process` its solids are measured.
    """

    name: str
    kind: str
    title: str
    purpose: str
    why: Saying = NO_REASON
    warnings: tuple[Finding, ...] = ()
    section: tuple[Point, Point] = field(default=((-1.0, 0.0), (1.0, 0.0)))
    printer: Printer | None = None
    process: Process | None = None

    @abstractmethod
    def parts(self) -> tuple[Part, ...]:
        """Its bodies, each a block of flat steps in its own coordinates."""

    def checks(self) -> tuple[Check, ...]:
        """The sizes to check by caliper, in the order of measuring."""
        return ()

    def hardware(self) -> tuple[Fastener, ...]:
        """The screws, nuts and pins that it is put together with and used with."""
        return ()

    def volume(self) -> float:
        """The volume of all its bodies in mm³, by formula."""
        return sum(part.block.volume() * len(part.places) for part in self.parts())

    def solid(self) -> cadquery.Solid:
        """The solid of a fixture that is one part, checked.

        Raises:
            MissingLibraryError: the CAD kernel can't be loaded.
            FixtureError: the kernel failed, or the solid is not what was asked for.
            ValueError: it has several parts.
        """
        from jigs.block_solid import checked_solid

        (part,) = self.parts()
        return checked_solid(part, self.name)
