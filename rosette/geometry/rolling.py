"""Corners rounded as a round bit leaves them: a disc rolled along an outline, inside and outside.

A bit that cuts a pocket rolls along its outline from inside and reaches all but the outward
corners; one that cuts the piece out rolls along from outside and reaches all but the inward ones.
What it does not reach becomes an arc of its own radius, run smoothly into both sides. Lines and
arcs stay what they are everywhere else.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosette.geometry.outline import Arc, Outline, Point, Vertex, arc_between
from rosette.geometry.tracing import TracingError, place
from rosette.words import Length

REACHES = 1e-7
"""How far (mm) an edge may reach into the disc and still only touch it."""
MEETS = 0.02
"""Centres nearer than this (mm) are one place of the disc, seen from both sides."""
HALVINGS = 32
LEAST_SAMPLES = 8
"""Places tried along an edge, so that none is passed over of which the disc touches a part."""
APART = 1e-6
"""Two corners nearer than this (mm) are one."""


def rounded_by(outline: Outline, radius: float) -> Outline:
    """A counter-clockwise outline with its outward corners rounded, then its inward ones.

    Raises:
        TracingError: the disc does not go in, or gets stuck.
    """
    return _rolled(_rolled(outline, radius, 1.0), radius, -1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Gap:
    """A run of the outline that the disc does not touch, from `start` to `end`.

    Places along an outline are the number of an edge and how far along it, as one number; `end`
    is larger than the count of edges where the run goes past the first corner.
    """

    start: float
    end: float
    centre: Point


def _rolled(outline: Outline, radius: float, side: float) -> Outline:
    """The outline as a disc leaves it that rolls inside (1) or outside (−1)."""
    roll = _Roll(outline, radius, side)
    gaps = list(_gaps(roll))
    return _joined(roll, gaps) if gaps else outline


def _gaps(roll: _Roll) -> Iterator[_Gap]:
    """The runs that the disc does not touch."""
    stops = [*roll.samples()]
    clear = [roll.clear(stop) for stop in stops]
    bit = Length(2.0 * roll.radius)
    if not any(clear):
        raise TracingError("is narrower than the bit, {bit}, everywhere", bit=bit)
    count, edges = len(stops), len(roll.edges)
    for i in range(count):
        if not clear[i] or clear[(i + 1) % count]:
            continue
        j = i + 1
        while not clear[j % count]:
            j += 1
        start = roll.last_clear(stops[i], stops[(i + 1) % count])
        end = roll.last_clear(stops[j % count], stops[(j - 1) % count])
        a, b = roll.centre(start), roll.centre(end)
        if math.dist(a, b) > MEETS:
            raise TracingError(
                "is narrower than the bit, {bit}, near x {x}, y {y}: draw it wider there, or take a"
                " smaller bit",
                bit=bit,
                **place(roll.point(start)),
            )
        centre = (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0
        yield _Gap(start=start, end=end if end > start else end + edges, centre=centre)


Edge = tuple[Vertex, Vertex, Arc | None]


class _Roll:
    """A disc on one side of an outline's edges; looks up the edges near a place."""

    def __init__(self, outline: Outline, radius: float, side: float) -> None:
        self.radius, self.side = radius, side
        self.edges: list[Edge] = [
            (a, b, arc_between(a, b) if a.bulge else None) for a, b in outline.edges()
        ]
        self.cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        for number, (a, b, _) in enumerate(self.edges):
            left, low, right, high = Outline((a, b), closed=False).bounds()
            for column in range(self._cell(left - radius), self._cell(right + radius) + 1):
                for row in range(self._cell(low - radius), self._cell(high + radius) + 1):
                    self.cells[column, row].append(number)

    def _cell(self, x: float) -> int:
        return math.floor(x / self.radius)

    def samples(self) -> Iterator[float]:
        """Places along the outline, close enough together that no corner is missed."""
        for number, (a, b, arc) in enumerate(self.edges):
            long = math.dist(a[:2], b[:2]) if arc is None else arc.radius * abs(arc.sweep_rad)
            count = max(LEAST_SAMPLES, math.ceil(long / (self.radius / 5.0)))
            for i in range(count + 1):
                # both ends of an edge, seen along that edge
                yield number + min(max(i / count, 1e-9), 1.0 - 1e-9)

    def point(self, at: float) -> Point:
        """The point at a place."""
        a, b, arc = self.edges[int(at) % len(self.edges)]
        t = at - int(at)
        if arc is None:
            return a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)
        angle = arc.start_rad + t * arc.sweep_rad
        return arc.x + arc.radius * math.cos(angle), arc.y + arc.radius * math.sin(angle)

    def centre(self, at: float) -> Point:
        """Where the disc stands when it touches a place."""
        a, b, arc = self.edges[int(at) % len(self.edges)]
        x, y = self.point(at)
        if arc is None:
            off = self.side * self.radius / math.dist(a[:2], b[:2])
            return x - (b.y - a.y) * off, y + (b.x - a.x) * off
        # inside is to the left: towards the centre of an arc that turns left
        off = self.side * math.copysign(self.radius, arc.sweep_rad) / arc.radius
        return x + (arc.x - x) * off, y + (arc.y - y) * off

    def clear(self, at: float) -> bool:
        """Whether no edge reaches into the disc there."""
        c = self.centre(at)
        near = self.cells.get((self._cell(c[0]), self._cell(c[1])), ())
        return all(_away(c, *self.edges[number]) >= self.radius - REACHES for number in near)

    def last_clear(self, clear: float, not_clear: float) -> float:
        """Where along one edge the disc begins to be stopped."""
        if int(clear) != int(not_clear):
            return clear
        for _ in range(HALVINGS):
            middle = (clear + not_clear) / 2.0
            if self.clear(middle):
                clear = middle
            else:
                not_clear = middle
        return clear

    def from_here(self, at: float, to: float) -> Vertex:
        """The corner at a place, with the bulge of what remains of its edge up to `to`."""
        _, _, arc = self.edges[int(at) % len(self.edges)]
        share = min(to, int(at) + 1.0) - at
        return Vertex(
            *self.point(at), 0.0 if arc is None else math.tan(arc.sweep_rad * share / 4.0)
        )


def _away(c: Point, a: Vertex, b: Vertex, arc: Arc | None) -> float:
    """The distance from a point to an edge."""
    if arc is None:
        dx, dy = b.x - a.x, b.y - a.y
        t = ((c[0] - a.x) * dx + (c[1] - a.y) * dy) / (dx * dx + dy * dy)
        t = min(max(t, 0.0), 1.0)
        return math.hypot(c[0] - a.x - t * dx, c[1] - a.y - t * dy)
    angle = math.atan2(c[1] - arc.y, c[0] - arc.x) - arc.start_rad
    turned = angle % math.tau if arc.sweep_rad > 0.0 else -(-angle % math.tau)
    if abs(turned) <= abs(arc.sweep_rad):
        return abs(math.hypot(c[0] - arc.x, c[1] - arc.y) - arc.radius)
    return min(math.dist(c, a[:2]), math.dist(c, b[:2]))


def _joined(roll: _Roll, gaps: Sequence[_Gap]) -> Outline:
    """The outline with an arc in every gap."""
    count = len(roll.edges)
    vertices: list[Vertex] = []
    for gap, after in zip(gaps, [*gaps[1:], gaps[0]], strict=True):
        start, end = roll.point(gap.start), roll.point(gap.end)
        vertices.append(Vertex(*start, math.tan(_sweep(gap.centre, start, end, roll.side) / 4.0)))
        last = after.start
        while last < gap.end - 1e-9:
            last += count
        here = gap.end
        while here < last - 1e-9:
            vertices.append(roll.from_here(here, last))
            here = math.floor(here) + 1.0
    return Outline(tuple(_apart(vertices)))


def _sweep(centre: Point, start: Point, end: Point, side: float) -> float:
    a = math.atan2(start[1] - centre[1], start[0] - centre[0])
    b = math.atan2(end[1] - centre[1], end[0] - centre[0])
    return side * ((side * (b - a)) % math.tau)


def _apart(vertices: list[Vertex]) -> Iterator[Vertex]:
    """Those that do not stand on the one after them."""
    for one, after in zip(vertices, [*vertices[1:], vertices[0]], strict=True):
        if math.hypot(one.x - after.x, one.y - after.y) > APART:
            yield one


def widened(outline: Outline, by: float) -> Outline:
    """A smooth counter-clockwise outline, all its edges moved outward by `by` mm.

    Lines and arcs that run smoothly into one another stay so: an arc keeps its centre.

    >>> from rosette.geometry.outline import circle
    >>> round(widened(circle(2.0), 1.0).area(), 9) == round(math.pi * 9, 9)
    True
    """
    edges = list(outline.edges())
    moved = []
    for i, (a, b) in enumerate(edges):
        into, out_of = _heading(*edges[i - 1], at_end=True), _heading(a, b, at_end=False)
        (m, n), (u, v) = (math.sin(into), -math.cos(into)), (math.sin(out_of), -math.cos(out_of))
        share = by / (1.0 + m * u + n * v)
        moved.append(Vertex(a.x + (m + u) * share, a.y + (n + v) * share, a.bulge))
    return Outline(tuple(moved))


def _heading(a: Vertex, b: Vertex, *, at_end: bool) -> float:
    half = 2.0 * math.atan(a.bulge)
    chord = math.atan2(b.y - a.y, b.x - a.x)
    return chord + half if at_end else chord - half
