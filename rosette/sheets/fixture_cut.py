"""A part of a fixture cut along a line: what of it is in the cut, and what is seen beyond (mm).

Everything is told along the line (from its start) and in heights of the fixture.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from rosette.geometry.outline import Point
from rosette.sheets.clear import crossings
from rosette.sheets.fixture_stood import SAME, Stood

Line = tuple[Point, Point]
Beyond = tuple[float, float, float]
"""From and to along the line, and the height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """Wood or plastic from `start` to `end` along the line, and from `low` to `high`."""

    start: float
    end: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A part in a section: its slabs, the shapes they make up, and level edges behind the cut."""

    stood: Stood
    slabs: tuple[Slab, ...]
    shapes: tuple[tuple[Point, ...], ...]
    beyond: tuple[Beyond, ...]


def cut_of(part: Stood, line: Line) -> Cut | None:
    """The part cut along a line as long as it goes, both ways; None where it misses the part."""
    start, way = part.own(line[0]), _own_way(part, line)
    ends = crossings([part.rings[0]], start, way)
    if not ends:
        return None
    marks = sorted({s for ring in part.rings for s in crossings([ring], start, way)})
    slabs: list[Slab] = []
    beyond: list[Beyond] = []
    for a, b in pairwise(marks):
        middle = (a + b) / 2.0
        levels = part.levels((start[0] + middle * way[0], start[1] + middle * way[1]))
        if levels is None or b - a < SAME:
            continue
        above, below = levels
        if above[-1] - below[-1] > SAME:
            low, high = sorted((part.height(below[-1]), part.height(above[-1])))
            slabs.append(Slab(start=a, end=b, low=low, high=high))
        rims = {z for z in above[:-1] if z > above[-1]} | {z for z in below[:-1] if z < below[-1]}
        if above[-1] - below[-1] <= SAME and len(below) > 1:
            rims.add(below[-1])
        beyond += [(a, b, part.height(z)) for z in sorted(rims)]
    runs = {s: _run(part, start, way, s) for s in ends}
    return Cut(
        stood=part,
        slabs=tuple(slabs),
        shapes=tuple(_shape(run, part, runs) for run in _runs(slabs)),
        beyond=tuple(beyond),
    )


def seen_beyond(cuts: Sequence[Cut]) -> list[Beyond]:
    """The edges behind the cut that no other part in the cut hides, joined where they meet."""
    found: list[Beyond] = []
    for cut in cuts:
        others = [slab for other in cuts if other is not cut for slab in other.slabs]
        for start, end, z in cut.beyond:
            hiding = [s for s in others if s.low + SAME < z < s.high - SAME]
            found += [(a, b, z) for a, b in _without(start, end, hiding)]
    return _joined(found)


def _own_way(part: Stood, line: Line) -> Point:
    (ax, ay), (bx, by) = part.own(line[0]), part.own(line[1])
    length = math.dist((ax, ay), (bx, by))
    return (bx - ax) / length, (by - ay) / length


def _runs(slabs: Sequence[Slab]) -> list[list[Slab]]:
    """Slabs that touch, as one run each."""
    runs: list[list[Slab]] = []
    for slab in slabs:
        last = runs[-1][-1] if runs else None
        if (
            last is not None
            and abs(last.end - slab.start) < SAME
            and min(last.high, slab.high) - max(last.low, slab.low) > SAME
        ):
            runs[-1].append(slab)
        else:
            runs.append([slab])
    return runs


def _shape(run: Sequence[Slab], part: Stood, chamfers: dict[float, float]) -> tuple[Point, ...]:
    """The outline of a run of slabs, its bottom edge broken where the part's is."""
    upper = [p for s in run for p in ((s.start, s.high), (s.end, s.high))]
    lower = [p for s in reversed(run) for p in ((s.end, s.low), (s.start, s.low))]
    bottom, size = part.height(0.0), part.block.chamfer
    points: list[Point] = []
    for x, z in (*upper, *lower):
        broken = chamfers.get(x, 0.0) if abs(z - bottom) < SAME and size else 0.0
        if not broken:
            points.append((x, z))
            continue
        left = x == run[0].start
        side = (x, z - size if part.place.over else z + size)
        foot = (x + broken if left else x - broken, z)
        points += [side, foot] if left == part.place.over else [foot, side]
    return _plain(points)


def _plain(points: Sequence[Point]) -> tuple[Point, ...]:
    """A ring without corners that lie on the way from their neighbours."""
    kept: list[Point] = []
    for i, p in enumerate(points):
        a, b = points[i - 1], points[(i + 1) % len(points)]
        turn = (p[0] - a[0]) * (b[1] - p[1]) - (p[1] - a[1]) * (b[0] - p[0])
        if abs(turn) > SAME and math.dist(a, p) > SAME:
            kept.append(p)
    return tuple(kept)


def _run(part: Stood, start: Point, way: Point, s: float) -> float:
    """How far along the line the broken edge reaches in from where the line meets the outline."""
    point = (start[0] + s * way[0], start[1] + s * way[1])
    ring = part.rings[0]
    sides = [(ring[i - 1], ring[i]) for i in range(len(ring))]
    (ax, ay), (bx, by) = min(sides, key=lambda side: _off(point, *side))
    length = math.dist((ax, ay), (bx, by))
    across = abs(way[0] * (by - ay) - way[1] * (bx - ax)) / length
    return part.block.chamfer / max(across, 0.2)


def _off(point: Point, a: Point, b: Point) -> float:
    """The distance of a point from a stretch of line."""
    ux, uy = b[0] - a[0], b[1] - a[1]
    size = ux * ux + uy * uy
    share = ((point[0] - a[0]) * ux + (point[1] - a[1]) * uy) / size if size else 0.0
    share = min(1.0, max(0.0, share))
    return math.dist(point, (a[0] + share * ux, a[1] + share * uy))


def _without(start: float, end: float, slabs: Sequence[Slab]) -> list[tuple[float, float]]:
    """What is left of a stretch outside of slabs."""
    left = [(start, end)]
    for slab in slabs:
        left = [
            part
            for a, b in left
            for part in ((a, min(b, slab.start)), (max(a, slab.end), b))
            if part[1] - part[0] > SAME
        ]
    return left


def _joined(found: Sequence[Beyond]) -> list[Beyond]:
    joined: list[Beyond] = []
    for start, end, z in sorted(found, key=lambda one: (round(one[2], 6), one[0])):
        last = joined[-1] if joined else None
        if last is not None and abs(last[2] - z) < SAME and start <= last[1] + SAME:
            joined[-1] = (last[0], max(end, last[1]), z)
        else:
            joined.append((start, end, z))
    return joined
