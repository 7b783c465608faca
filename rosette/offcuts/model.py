"""What goes into a cutting layout and what comes out of it.

Frame: everything here is in the offcut's own coordinates, mm, and degrees counter-clockwise
from +x, unless it is said to be "along the grain".
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from rosette.patterns.base import Blank

Point = tuple[float, float]
Ring = tuple[Point, ...]
Method = Literal["strip", "free"]
Ways = Literal["both", "one"]
"""Wedges head to tail, or all of an offcut's wedges the same way up (whichever holds more)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """One piece of wood: its outline, what is missing or bad inside, and where its grain runs.

    `grain` is in degrees counter-clockwise from +x. Rings are open (first point not repeated),
    either way round. A defect may reach past the outline.
    """

    id: str
    outline: Ring
    holes: tuple[Ring, ...] = ()
    defects: tuple[Ring, ...] = ()
    grain: float = 0.0
    wood: str = ""
    thickness: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WedgeSize:
    """The blank to be sawn: an isosceles trapezoid (mm).

    Its grain runs `grain` degrees counter-clockwise from its axis, inner end to outer end: along
    it where nothing else is said.
    """

    inner_width: float
    outer_width: float
    height: float
    grain: float = 0.0

    def __post_init__(self) -> None:
        if not (0.0 < self.inner_width <= self.outer_width < math.inf):
            raise ValueError(
                f"a wedge's widths run from above 0 up to the outer one, "
                f"not {self.inner_width} and {self.outer_width}"
            )
        if not 0.0 < self.height < math.inf:
            raise ValueError(f"a wedge's height is above 0, not {self.height}")

    @classmethod
    def of(cls, blank: Blank) -> WedgeSize:
        """The size of a ring's blank."""
        return cls(
            inner_width=blank.inner_width, outer_width=blank.outer_width, height=blank.height
        )

    @property
    def taper(self) -> float:
        """How fast half the width grows along the axis: tan α of the mitre."""
        return (self.outer_width - self.inner_width) / (2.0 * self.height)

    @property
    def mitre(self) -> float:
        """The saw's angle off square in degrees."""
        return math.degrees(math.atan(self.taper))

    @property
    def mean_width(self) -> float:
        """Its width halfway up."""
        return (self.inner_width + self.outer_width) / 2.0

    @property
    def area(self) -> float:
        """Its area in mm²."""
        return self.mean_width * self.height

    @property
    def perimeter(self) -> float:
        """Its four sides together in mm."""
        return self.inner_width + self.outer_width + 2.0 * self.height * math.hypot(1.0, self.taper)

    def slant_kerf(self, kerf: float) -> float:
        """What a slanted cut takes along the band: k/cos α, `kerf` measured square to the cut.

        >>> size = WedgeSize(inner_width=10, outer_width=20, height=5)
        >>> round(size.mitre, 9), round(size.slant_kerf(1.0), 9)
        (45.0, 1.414213562)
        """
        return kerf * math.hypot(1.0, self.taper)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """One wedge in an offcut.

    `vertices`: inner left, inner right, outer right, outer left. `flipped`: its axis (inner to
    outer end) runs against the grain's direction; unflipped, along it. `band` counts along the
    grain and `order` across it, both from 1; a free layout has no bands and calls all of them 1.
    `turn` is how far its axis stands off the grain, degrees counter-clockwise.
    """

    band: int
    order: int
    flipped: bool
    centre: Point
    vertices: tuple[Point, Point, Point, Point]
    turn: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One straight cut, edge to edge across the piece that it is made in.

    `start` and `end` lie on the middle of the kerf. A crosscut runs across the grain over the
    whole width of the wood, to the right as seen along the grain; a slant runs along the grain
    from one side of its band to the other. `lean` is the saw's angle off square in degrees: 0
    for a crosscut; for a slant how far it leans from square to the crosscuts, counter-clockwise.
    `band` is
    the band beside it (of two, the one further along the grain). `frees` are the places in the
    band (`Placement.order`) whose sides a slant makes: one or two.
    """

    step: int
    kind: Literal["crosscut", "slant"]
    band: int
    start: Point
    end: Point
    lean: float = 0.0
    frees: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The wedges of one offcut.

    `bound` is proved: no layout by this method holds more, at any tilt within the tolerance that
    was asked for. `proved` says that `placed` reaches it. `tilt` is how far a strip layout
    stands off the grain as a whole, in degrees counter-clockwise. `nodes` is how much work the
    proof took (rows of wood looked at).
    """

    method: Method
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...] = ()
    bound: int = 0
    tilt: float = 0.0
    nodes: int = 0

    @property
    def placed(self) -> int:
        """How many wedges."""
        return len(self.placements)

    @property
    def proved(self) -> bool:
        """No layout by this method holds more."""
        return self.placed >= self.bound
