"""Outlines whose corners suit the way of making: dog-bones, rounded corners, slots, nut pockets."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rosette.geometry.outline import Outline, Point, Vertex, polygon


def rectangle(left: float, low: float, right: float, high: float) -> Outline:
    """A rectangle with sharp corners (mm)."""
    return polygon([(left, low), (right, low), (right, high), (left, high)])


def dog_boned(corners: Sequence[Point], bit: float) -> Outline:
    """A pocket with square corners, each cut out by half a circle of diameter `bit` through it.

    So a sharp corner goes right in. `corners` run counter-clockwise, their sides at least
    √2 · `bit` long; a `bit` of 0 leaves them sharp.

    >>> square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    >>> round(dog_boned(square, 2).area() - 100 - 4 * (math.pi / 2 - 1), 9)
    0.0
    """
    if bit == 0.0:
        return polygon(corners)
    return _cornered(corners, bit / math.sqrt(2.0), 1.0)


def rounded(corners: Sequence[Point], radius: float) -> Outline:
    """A convex outline, counter-clockwise, with its corners rounded to a radius (mm).

    >>> square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    >>> round(rounded(square, 1).area(), 9) == round(100 - (4 - math.pi), 9)
    True
    """
    if radius == 0.0:
        return polygon(corners)
    vertices: list[Vertex] = []
    for before, corner, after in _triples(corners):
        turn = math.pi - _angle_between(before, corner, after)
        cut = radius * math.tan(turn / 2.0)
        vertices += _cut_corner(before, corner, after, cut, math.tan(turn / 4.0))
    return Outline(tuple(vertices))


def slot(width: float, start: Point, end: Point) -> Outline:
    """A slot with round ends whose middles are `start` and `end` (mm)."""
    length = math.hypot(end[0] - start[0], end[1] - start[1])
    x, y = (end[1] - start[1]) / length * width / 2.0, (start[0] - end[0]) / length * width / 2.0
    return Outline(
        (
            Vertex(start[0] + x, start[1] + y),
            Vertex(end[0] + x, end[1] + y, 1.0),
            Vertex(end[0] - x, end[1] - y),
            Vertex(start[0] - x, start[1] - y, 1.0),
        )
    )


def nut_pocket(across: float, *, clearance: float, radius: float, at: Point) -> Outline:
    """A hexagon that holds a nut `across` its flats, with room at each flat (mm).

    Where a cutter leaves corners of `radius`, the flats stand back by r·(1 - √3/2) more, so that
    the nut's corners still go in.
    """
    apothem = across / 2.0 + clearance + radius * (1.0 - math.sqrt(0.75))
    corner = apothem / math.cos(math.pi / 6.0)
    angles = [math.radians(60.0 * i) for i in range(6)]
    points = [(at[0] + corner * math.cos(t), at[1] + corner * math.sin(t)) for t in angles]
    return rounded(points, radius)


def _cornered(corners: Sequence[Point], cut: float, bulge: float) -> Outline:
    vertices: list[Vertex] = []
    for before, corner, after in _triples(corners):
        vertices += _cut_corner(before, corner, after, cut, bulge)
    return Outline(tuple(vertices))


def _triples(corners: Sequence[Point]) -> list[tuple[Point, Point, Point]]:
    last = len(corners) - 1
    return [
        (corners[i - 1], corners[i], corners[i + 1 if i < last else 0]) for i in range(last + 1)
    ]


def _cut_corner(
    before: Point, corner: Point, after: Point, cut: float, bulge: float
) -> tuple[Vertex, Vertex]:
    return Vertex(*_towards(corner, before, cut), bulge), Vertex(*_towards(corner, after, cut))


def _towards(a: Point, b: Point, distance: float) -> Point:
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    return a[0] + (b[0] - a[0]) * distance / length, a[1] + (b[1] - a[1]) * distance / length


def _angle_between(before: Point, corner: Point, after: Point) -> float:
    a = math.atan2(before[1] - corner[1], before[0] - corner[0])
    b = math.atan2(after[1] - corner[1], after[0] - corner[0])
    return abs(math.remainder(a - b, 2.0 * math.pi))
