"""Lines of a drawing joined end to end into closed ones."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from rosette.geometry.outline import Point
from rosette.geometry.tracing import MOST_LINES, Chain, Ring, TracingError, place
from rosette.words import Length

EXACT = 1e-6
JOIN = 0.05
"""Ends this near (mm) were meant to meet."""

End = tuple[int, int]
"""A line by its number, and which of its ends: 0 its first point, 1 its last."""


def closed_lines(chains: Sequence[Chain]) -> list[Ring]:
    """Every closed line, the open ones joined where their ends meet.

    Ends that meet exactly are joined first, so that lines shorter than `JOIN` do no harm.

    Raises:
        TracingError: an end meets no other, or several.
    """
    if len(chains) > MOST_LINES:
        raise TracingError("has more than {most} lines in it; simplify it", most=MOST_LINES)
    closed = [chain.points for chain in chains if chain.closed]
    opened = [chain.points for chain in chains if not chain.closed and len(chain.points) > 1]
    for reach in (EXACT, JOIN):
        joined = _joined(opened, reach)
        opened = []
        for ring in joined:
            if math.dist(ring[0], ring[-1]) <= reach:
                closed.append(ring[:-1])
            else:
                opened.append(ring)
    if opened:
        raise _gap(opened)
    return closed


def _joined(lines: list[Ring], reach: float) -> Iterator[Ring]:
    """Lines joined wherever exactly two ends meet; where more meet it is an error."""
    mates = _mates(lines, reach)
    used: set[int] = set()
    for first in _starts(lines, mates):
        if first[0] in used:
            continue
        points: list[Point] = []
        end: End | None = first
        while end is not None and end[0] not in used:
            number, side = end
            used.add(number)
            run = lines[number] if side == 0 else lines[number][::-1]
            points.extend(run[1:] if points else run)
            end = mates.get((number, 1 - side))
        yield tuple(points)


def _starts(lines: list[Ring], mates: dict[End, End]) -> Iterator[End]:
    """The loose ends first, so that no open run is begun in its middle; then the rest."""
    ends = [(number, side) for number in range(len(lines)) for side in (0, 1)]
    yield from (end for end in ends if end not in mates)
    yield from (end for end in ends if end in mates)


def _mates(lines: list[Ring], reach: float) -> dict[End, End]:
    cells: dict[tuple[int, int], list[End]] = defaultdict(list)
    for number, line in enumerate(lines):
        if math.dist(line[0], line[-1]) <= reach:
            continue  # it closes by itself
        for side in (0, 1):
            cells[_cell(line[-side], reach)].append((number, side))
    mates = {}
    for (column, row), ends in cells.items():
        near = [
            other
            for i in (-1, 0, 1)
            for j in (-1, 0, 1)
            for other in cells.get((column + i, row + j), ())
        ]
        for end in ends:
            here = lines[end[0]][-end[1]]
            meeting = [
                other
                for other in near
                if other != end and math.dist(lines[other[0]][-other[1]], here) <= reach
            ]
            if len(meeting) > 1:
                raise TracingError(
                    "has {n} lines that end in one place, at x {x}, y {y}: is one drawn twice?"
                    " Delete all but the outline",
                    n=len(meeting) + 1,
                    **place(here),
                )
            if meeting:
                mates[end] = meeting[0]
    return mates


def _cell(point: Point, reach: float) -> tuple[int, int]:
    return math.floor(point[0] / reach), math.floor(point[1] / reach)


def _gap(lines: list[Ring]) -> TracingError:
    """The widest gap of what does not close, said by its place."""
    ends = [(line, side) for line in lines for side in (0, -1)]

    def nearest(line: Ring, side: int) -> float:
        others = (other[s] for other, s in ends[:200] if (other, s) != (line, side))
        return min(math.dist(line[side], point) for point in others)

    line, side = max(ends[:200], key=lambda end: nearest(*end))
    return TracingError(
        "has a line that is open: it ends at x {x}, y {y}, {gap} from the nearest other end; close"
        ' it, or put the outline on a layer named "cut", and then only that layer is read',
        gap=Length(nearest(line, side)),
        **place(line[side]),
    )
