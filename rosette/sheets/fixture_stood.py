"""A part of a fixture where it stands: its outlines seen from above, and its heights (mm)."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from rosette.geometry.outline import Outline, Point, Vertex, polygon
from rosette.sheets.clear import is_inside
from rosette.sheets.fixture_views import BlockView, PartView, PlaceView, StepView

Bounds = tuple[float, float, float, float]
FLAT = 0.02
"""Greatest distance in mm of a chord from its arc, where an outline is cut or looked through."""
SAME = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """An edge seen from above: its outline in the fixture's coordinates, and the edge's height.

    `hidden` tells edges of what lies on the side that looks down, `fine` the edges of letters.
    """

    outline: Outline
    height: float
    hidden: bool = False
    fine: bool = False
    outer: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A step with its corners, their bounds, and the steps inside it."""

    ring: list[Point]
    box: Bounds
    top: float
    held: tuple[Held, ...]

    def holds(self, point: Point) -> bool:
        """Whether a point (in the part's coordinates) lies inside."""
        left, low, right, high = self.box
        x, y = point
        return left <= x <= right and low <= y <= high and is_inside([self.ring], point)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place for a part."""

    x: float = 0.0
    y: float = 0.0
    z: float = 0.0
    turn: float = 0.0
    over: bool = False


@dataclass(frozen=True, kw_only=True)
class Stood:
    """A part at one of its places."""

    part: PartView
    place: PlaceView
    number: int

    def alone(self) -> Stood:
        """The part in its own coordinates, top up."""
        return Stood(part=self.part, place=Spot(), number=self.number)

    @property
    def block(self) -> BlockView:
        """Its shape, in its own coordinates."""
        return self.part.block

    def height(self, own: float) -> float:
        """A height of the part as a height of the fixture."""
        return self.place.z - own if self.place.over else self.place.z + own

    @cached_property
    def highest(self) -> float:
        """The height of its highest face where it stands."""
        return max(self.height(self.block.lowest), self.height(self.block.highest))

    def own_height(self, height: float) -> float:
        """A height of the fixture as one of the part."""
        return self.place.z - height if self.place.over else height - self.place.z

    def placed(self, outline: Outline) -> Outline:
        """An outline of the part where it stands."""
        if self.place.over:
            mirrored = (Vertex(v.x, -v.y, -v.bulge) for v in outline.vertices)
            outline = Outline(tuple(mirrored), outline.closed)
        return outline.mapped(math.radians(self.place.turn), (self.place.x, self.place.y))

    def own(self, point: Point) -> Point:
        """A point of the fixture in the part's own coordinates."""
        x, y = point[0] - self.place.x, point[1] - self.place.y
        turn = math.radians(-self.place.turn)
        c, s = math.cos(turn), math.sin(turn)
        x, y = c * x - s * y, s * x + c * y
        return (x, -y) if self.place.over else (x, y)

    @cached_property
    def rings(self) -> tuple[list[Point], ...]:
        """Every outline but letters as corners, in its own coordinates."""
        steps = (step.outline.points(FLAT) for step in walk((*self.block.steps, *self.block.under)))
        return (self.block.outline.points(FLAT), *steps)

    @cached_property
    def placed_rings(self) -> tuple[tuple[list[Point], Bounds], ...]:
        """The same where it stands, each with its bounds."""
        found = []
        for ring in self.rings:
            placed = [(v.x, v.y) for v in self.placed(polygon(ring)).vertices]
            found.append((placed, bounds_of(placed)))
        return tuple(found)

    def levels(self, point: Point) -> tuple[list[float], list[float]] | None:
        """The levels that hold a point (own coordinates) from the outside in: above, and below.

        None outside the part. The last of each is the face itself; the two are the same in a
        hole.
        """
        if not is_inside([self.rings[0]], point):
            return None
        above, below = self.trees
        return _chain(above, self.block.top, point), _chain(below, 0.0, point)

    @cached_property
    def trees(self) -> tuple[tuple[Held, ...], tuple[Held, ...]]:
        """The steps of the top and of the underside, ready to be looked through."""
        return _held(self.block.steps), _held(self.block.under)

    def seen_from_above(self, point: Point) -> float | None:
        """The height of what one meets from above at a point of the fixture; None: nothing."""
        _, (left, low, right, high) = self.placed_rings[0]
        if not (left <= point[0] <= right and low <= point[1] <= high):
            return None
        levels = self.levels(self.own(point))
        if levels is None or levels[0][-1] - levels[1][-1] <= SAME:
            return None
        return self.height(levels[1][-1] if self.place.over else levels[0][-1])

    def edges(self) -> Iterator[Edge]:
        """Every edge, those of the side that looks down marked hidden."""
        block, over = self.block, self.place.over
        high = self.height(0.0 if over else block.top)
        yield Edge(outline=self.placed(block.outline), height=high, outer=True)
        yield from self._steps(block.steps, block.top, hidden=over)
        yield from self._steps(block.under, 0.0, hidden=not over)

    def _steps(self, steps: Sequence[StepView], level: float, *, hidden: bool) -> Iterator[Edge]:
        for step in steps:
            fine = not isinstance(step.outline, Outline)
            outline = step.outline if isinstance(step.outline, Outline) else None
            shape = outline or polygon(step.outline.points())
            heights = self.height(level), self.height(step.top)
            yield Edge(
                outline=self.placed(shape),
                height=max(heights),
                hidden=hidden and not self._through(step),
                fine=fine,
            )
            yield from self._steps(step.steps, step.top, hidden=hidden)

    def _through(self, step: StepView) -> bool:
        """Whether a step is a hole right through."""
        levels = self.levels(inner_point(step.outline.points(FLAT)))
        return levels is not None and levels[0][-1] - levels[1][-1] <= SAME


def stood(parts: Sequence[PartView]) -> list[Stood]:
    """Every part at each of its places, numbered from 1 as the parts are."""
    return [
        Stood(part=part, place=place, number=number)
        for number, part in enumerate(parts, start=1)
        for place in part.places
    ]


def walk(steps: Sequence[StepView]) -> Iterator[StepView]:
    """Steps and those inside them, letters left out."""
    for step in steps:
        if isinstance(step.outline, Outline):
            yield step
            yield from walk(step.steps)


def _held(steps: Sequence[StepView]) -> tuple[Held, ...]:
    found = []
    for step in steps:
        if isinstance(step.outline, Outline):
            ring = step.outline.points(FLAT)
            box = bounds_of(ring)
            found.append(Held(ring=ring, box=box, top=step.top, held=_held(step.steps)))
    return tuple(found)


def _chain(steps: Sequence[Held], level: float, point: Point) -> list[float]:
    found = [level]
    while True:
        step = next((one for one in steps if one.holds(point)), None)
        if step is None:
            return found
        found.append(step.top)
        steps = step.held


def inner_point(ring: Sequence[Point]) -> Point:
    """A point just inside a ring: beside the middle of its longest side."""
    sides = [(ring[i - 1], ring[i]) for i in range(len(ring))]
    a, b = max(sides, key=lambda side: math.dist(*side))
    length = math.dist(a, b)
    x, y = (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0
    for share in (0.01, -0.01, 1e-4, -1e-4):
        point = (x - (b[1] - a[1]) * share, y + (b[0] - a[0]) * share)
        if is_inside([list(ring)], point):
            return point
    return x, y if length else 0.0


def bounds_of(points: Sequence[Point]) -> Bounds:
    """Left, bottom, right, top."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)
