"""A chart with two logarithmic axes, drawn with the project's own drawings."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosette.geometry.outline import Outline, Vertex, line, polygon
from rosette.sheets.drawing import HAIR, MEDIUM, THIN, Circle, Drawing, Element, Stroke, Text

WIDTH, HEIGHT, LEFT, BELOW = 120.0, 75.0, 22.0, 14.0
MARK = 1.1
Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """Points of one measurement, its name, and whether its marks are dots or squares."""

    name: str
    points: tuple[Point, ...]
    square: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Axes:
    """Whole decades of both axes, as powers of ten."""

    left: int
    right: int
    bottom: int
    top: int

    @classmethod
    def around(cls, points: Sequence[Point]) -> Axes:
        """The decades that hold every point."""
        xs, ys = [math.log10(x) for x, _ in points], [math.log10(y) for _, y in points]
        return cls(
            left=math.floor(min(xs)),
            right=math.ceil(max(xs)),
            bottom=math.floor(min(ys)),
            top=math.ceil(max(ys)),
        )

    def at(self, x: float, y: float) -> Point:
        """Where a point stands on the drawing (mm)."""
        across = (math.log10(x) - self.left) / (self.right - self.left)
        up = (math.log10(y) - self.bottom) / (self.top - self.bottom)
        return across * WIDTH, up * HEIGHT


def chart(title: str, across: str, up: str, series: Sequence[Series], name: str) -> Drawing:
    """Lines of several series; seconds or milliseconds upwards, as `up` says."""
    axes = Axes.around([point for one in series for point in one.points])
    elements = [
        *_grid(axes),
        Text(text=title, at=(0.0, HEIGHT + 6.0), height=3.0, bold=True),
        Text(text=across, at=(WIDTH / 2.0, -10.0), height=2.5, anchor="middle"),
        Text(text=up, at=(-16.0, HEIGHT / 2.0), height=2.5, anchor="middle", turn=90.0),
        *(element for one in series for element in _series(one, axes)),
        *(element for row, one in enumerate(series) for element in _key(one, row)),
    ]
    return Drawing(
        name=name,
        title=title,
        purpose=title,
        bounds=(-LEFT, -BELOW - 5.0 * len(series), WIDTH + 8.0, HEIGHT + 12.0),
        elements=tuple(elements),
    )


def _grid(axes: Axes) -> Iterator[Element]:
    for power in range(axes.left, axes.right + 1):
        x, _ = axes.at(10.0**power, 10.0**axes.bottom)
        yield Stroke(outline=line((x, 0.0), (x, HEIGHT)), layer="dimension", weight=HAIR)
        yield Text(text=f"{10**power:g}", at=(x, -4.5), height=2.2, anchor="middle")
    for power in range(axes.bottom, axes.top + 1):
        _, y = axes.at(10.0**axes.left, 10.0**power)
        yield Stroke(outline=line((0.0, y), (WIDTH, y)), layer="dimension", weight=HAIR)
        yield Text(text=f"{10.0**power:g}", at=(-1.5, y - 1.1), height=2.2, anchor="right")


def _series(one: Series, axes: Axes) -> Iterator[Element]:
    points = [axes.at(x, y) for x, y in one.points]
    path = Outline(tuple(Vertex(x, y) for x, y in points), closed=False)
    yield Stroke(outline=path, layer="note", weight=MEDIUM, dashes=(1.5, 1.0) if one.square else ())
    for point in points:
        yield _mark(point, square=one.square)


def _mark(at: Point, *, square: bool) -> Element:
    x, y = at
    if not square:
        return Circle(centre=at, radius=MARK, layer="note", weight=THIN, fill="#000000")
    corners = [
        (x - MARK, y - MARK),
        (x + MARK, y - MARK),
        (x + MARK, y + MARK),
        (x - MARK, y + MARK),
    ]
    return Stroke(outline=polygon(corners), layer="note", weight=THIN, fill="#000000")


def _key(one: Series, row: int) -> Iterator[Element]:
    y = -BELOW - 3.0 - 5.0 * row
    yield _mark((2.0, y + 1.0), square=one.square)
    yield Text(text=one.name, at=(6.0, y), height=2.5)
