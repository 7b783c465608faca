"""A fixture from above: one part with what its underside hides, or all parts put together."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from rosette.geometry.outline import Outline, Point, Vertex
from rosette.sheets.block import enlarged
from rosette.sheets.clear import crossings
from rosette.sheets.drawing import HAIR, MEDIUM, THICK, THIN, Element, Stroke
from rosette.sheets.fixture_stood import FLAT, SAME, Edge, Stood, bounds_of

DASHES = (2.0, 1.0)
"""What another face hides, on paper."""
SIDE = 0.05
"""How far beside an edge (mm) one looks whether another part has its edge at the same place."""


def part_plan(part: Stood, scale: float) -> list[Element]:
    """One part where it stands, from above; what its underside hides is dashed."""
    return [_drawn(edge, scale) for edge in part.edges()]


def _drawn(edge: Edge, scale: float) -> Stroke:
    outline = enlarged(edge.outline, scale)
    if edge.fine:
        return Stroke(outline=outline, layer="engrave", weight=HAIR)
    if edge.hidden:
        return Stroke(outline=outline, layer="hidden", weight=THIN, dashes=DASHES)
    return Stroke(outline=outline, layer="note", weight=_weight(edge))


def _weight(edge: Edge) -> float:
    return THICK if edge.outer else MEDIUM


def assembly_plan(parts: Sequence[Stood]) -> list[Stroke]:
    """All parts in their places, from above, full size; what other parts hide is left out."""
    found: list[Stroke] = []
    for part in parts:
        others = [other for other in parts if other is not part]
        for edge in part.edges():
            if not edge.hidden:
                found += _seen(edge, others)
    return found


def _seen(edge: Edge, others: Sequence[Stood]) -> Iterator[Stroke]:
    """What of an edge can be seen: whole, or in stretches of straight lines."""
    ring = edge.outline.points(FLAT)
    box = bounds_of(ring)
    near = [
        other
        for other in others
        if other.highest > edge.height + SAME and _meet(box, other.placed_rings[0][1])
    ]
    whole = _drawn(edge, 1.0)
    runs = list(_runs([*ring, ring[0]], edge.height, near)) if near else []
    if not near or (len(runs) == 1 and runs[0][0] == runs[0][-1]):
        yield whole
        return
    for run in runs:
        yield replace(whole, outline=Outline(tuple(Vertex(x, y) for x, y in run), closed=False))


def _runs(chain: Sequence[Point], height: float, others: Sequence[Stood]) -> Iterator[list[Point]]:
    """The stretches of a chain of lines that no other part covers."""
    run: list[Point] = []
    for a, b in pairwise(chain):
        for p, q in _pieces(a, b, others):
            if any(covers(other, spot, height) for spot in _beside(p, q) for other in others):
                if run:
                    yield run
                run = []
            elif run:
                run.append(q)
            else:
                run = [p, q]
    if run:
        yield run


def _beside(p: Point, q: Point) -> tuple[Point, Point, Point]:
    """The middle of a line, and a point to each side: an edge that another's hides is its own."""
    x, y, length = (p[0] + q[0]) / 2.0, (p[1] + q[1]) / 2.0, math.dist(p, q) or 1.0
    dx, dy = SIDE * (q[1] - p[1]) / length, SIDE * (p[0] - q[0]) / length
    return (x, y), (x + dx, y + dy), (x - dx, y - dy)


def covers(other: Stood, point: Point, height: float) -> bool:
    """Whether a part lies over a point of that height."""
    top = other.seen_from_above(point)
    return top is not None and top > height + SAME


def _pieces(a: Point, b: Point, others: Sequence[Stood]) -> Iterator[tuple[Point, Point]]:
    """A straight line, broken wherever it meets an outline of another part."""
    length = math.dist(a, b)
    if length <= 0.0:
        return
    box, way = bounds_of((a, b)), ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    met = {
        s
        for other in others
        for ring, bounds in other.placed_rings
        if _meet(box, bounds)
        for s in (*crossings([ring], a, way), *_corners_on(ring, a, way))
        if SAME < s < length - SAME
    }
    spots = [a, *((a[0] + s * way[0], a[1] + s * way[1]) for s in sorted(met)), b]
    yield from pairwise(spots)


def _corners_on(ring: Sequence[Point], start: Point, way: Point) -> Iterator[float]:
    """How far along a line the corners of a ring lie that stand on it."""
    for x, y in ring:
        dx, dy = x - start[0], y - start[1]
        if abs(way[0] * dy - way[1] * dx) < SAME:
            yield way[0] * dx + way[1] * dy


def _meet(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return (
        one[0] <= other[2] + SAME
        and other[0] <= one[2] + SAME
        and one[1] <= other[3] + SAME
        and other[1] <= one[3] + SAME
    )


def visible_spot(part: Stood, parts: Sequence[Stood]) -> Point | None:
    """A point of a part that is seen from above, well inside what is seen of it; None: hidden."""
    left, low, right, high = part.placed_rings[0][1]
    steps = 24
    pitch = ((right - left) / steps, (high - low) / steps)
    free: dict[tuple[int, int], Point] = {}
    for i in range(steps):
        for j in range(steps):
            point = (left + (i + 0.5) * pitch[0], low + (j + 0.5) * pitch[1])
            top = part.seen_from_above(point)
            others = (one for one in parts if one is not part and top and one.highest > top)
            if top is not None and not any(covers(other, point, top) for other in others):
                free[i, j] = point
    if not free:
        return None
    layer = set(free)
    while True:
        around = ((1, 0), (-1, 0), (0, 1), (0, -1))
        inner = {(i, j) for i, j in layer if all((i + u, j + v) in layer for u, v in around)}
        if not inner:
            break
        layer = inner
    return free[max(layer)]
