"""What a drawing needs to know of a fixture: sheets look at fixtures only through these.

Heights and points are in mm. A fixture's parts stand in the places that it names; a place turns
a part over about its x axis, turns it counter-clockwise by `turn` degrees, and shifts it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from rosette.geometry.outline import Outline, Point


class ShapeView(Protocol):
    """A closed outline: an `Outline`, or the edge of a letter."""

    def points(self, error: float = ...) -> list[Point]:
        """Its corners, curves flattened."""
        ...


class StepView(Protocol):
    """A closed outline within which the face stands at `top`, but for its own steps."""

    @property
    def outline(self) -> ShapeView:
        """Its edge."""
        ...

    @property
    def top(self) -> float:
        """The height of its face."""
        ...

    @property
    def steps(self) -> Sequence[StepView]:
        """The steps in it."""
        ...


class BlockView(Protocol):
    """A solid on z = 0 with steps in its top and in its underside."""

    @property
    def outline(self) -> Outline:
        """Its edge."""
        ...

    @property
    def top(self) -> float:
        """The height of its top."""
        ...

    @property
    def steps(self) -> Sequence[StepView]:
        """What is sunk in its top or stands on it."""
        ...

    @property
    def under(self) -> Sequence[StepView]:
        """What is sunk in its underside or hangs from it."""
        ...

    @property
    def chamfer(self) -> float:
        """How far the bottom edge of its outline is broken, at 45°."""
        ...

    @property
    def lowest(self) -> float:
        """The height of its lowest face."""
        ...

    @property
    def highest(self) -> float:
        """The height of its highest face."""
        ...


class PlaceView(Protocol):
    """Where a part stands."""

    @property
    def x(self) -> float:
        """To the right."""
        ...

    @property
    def y(self) -> float:
        """Away from you."""
        ...

    @property
    def z(self) -> float:
        """Up."""
        ...

    @property
    def turn(self) -> float:
        """Degrees, counter-clockwise."""
        ...

    @property
    def over(self) -> bool:
        """Whether its top looks down."""
        ...


class PartView(Protocol):
    """One body of a fixture."""

    @property
    def name(self) -> str:
        """Its name among the parts."""
        ...

    @property
    def block(self) -> BlockView:
        """Its shape."""
        ...

    @property
    def places(self) -> Sequence[PlaceView]:
        """Where it stands, once for each time it is needed."""
        ...

    @property
    def print_over(self) -> bool:
        """Whether it is printed upside down."""
        ...


class CheckView(Protocol):
    """A size to check by caliper: between two `ends`, or between two `heights` at a point."""

    @property
    def part(self) -> str:
        """The name of the part that has it."""
        ...

    @property
    def what(self) -> str:
        """What to measure, in words."""
        ...

    @property
    def size(self) -> float:
        """What it should be."""
        ...

    @property
    def minus(self) -> float:
        """How much smaller it may be."""
        ...

    @property
    def plus(self) -> float:
        """How much larger it may be."""
        ...

    @property
    def ends(self) -> tuple[Point, Point] | None:
        """The two points, in the fixture's coordinates."""
        ...

    @property
    def at(self) -> Point | None:
        """Where the heights are taken."""
        ...

    @property
    def heights(self) -> tuple[float, float] | None:
        """The two heights."""
        ...


class FastenerView(Protocol):
    """Something to buy."""

    @property
    def what(self) -> str:
        """Its name and size."""
        ...

    @property
    def standard(self) -> str:
        """The standard that its sizes are from."""
        ...

    @property
    def count(self) -> int:
        """How many."""
        ...


class FixtureView(Protocol):
    """A whole fixture."""

    @property
    def name(self) -> str:
        """The stem of its files."""
        ...

    @property
    def title(self) -> str:
        """What it is called."""
        ...

    @property
    def purpose(self) -> str:
        """What it is for, in one sentence."""
        ...

    @property
    def section(self) -> tuple[Point, Point]:
        """The line, from left to right, along which it is cut."""
        ...

    def parts(self) -> Sequence[PartView]:
        """Its bodies."""
        ...

    def checks(self) -> Sequence[CheckView]:
        """The sizes to check."""
        ...

    def hardware(self) -> Sequence[FastenerView]:
        """What to buy."""
        ...
