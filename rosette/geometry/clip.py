"""Outlines cut by straight lines, their arcs kept exact."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from rosette.geometry.outline import Arc, Outline, Vertex, arc_between

TOUCH = 1e-9
"""Nearer than this to the line (mm) is on it."""


def kept_beside(outline: Outline, *, direction: float, least: float, most: float) -> Outline | None:
    """The part of a closed outline between two parallel lines, or None where none is.

    The lines run along `direction` (radians) and stand `least` and `most` mm to the left of the
    origin. Each must cross the outline in no more than two places.

    >>> from rosette.geometry.outline import circle
    >>> band = kept_beside(circle(2.0), direction=0.0, least=-1.0, most=1.0)
    >>> round(band.area(), 9) == round(4 * (math.pi / 3 + 3**0.5 / 2), 9)
    True
    """
    normal = (-math.sin(direction), math.cos(direction))
    above = kept(outline, normal=normal, least=least)
    if above is None:
        return None
    return kept(above, normal=(-normal[0], -normal[1]), least=-most)


def kept(outline: Outline, *, normal: tuple[float, float], least: float) -> Outline | None:
    """The part of a closed outline whose distance along the unit vector `normal` is `least` mm up.

    The line may cross it in two places at the most.
    """
    nx, ny = normal
    split = [part for a, b in outline.edges() for part in _split(a, b, nx, ny, least)]
    vertices: list[Vertex] = []
    for a, middle in split:
        off = nx * a.x + ny * a.y - least
        if middle > TOUCH:
            vertices.append(a)
        elif off >= -TOUCH and vertices_differ(vertices, a):
            # where the outline leaves the kept side, or comes back to it: a straight edge
            vertices.append(Vertex(a.x, a.y))
    while len(vertices) > 1 and not vertices_differ(vertices[-1:], vertices[0]):
        vertices.pop()
    if len(vertices) < 2 or not any(middle > TOUCH for _, middle in split):
        return None
    made = Outline(tuple(vertices))
    return made if abs(made.area()) > TOUCH else None


def vertices_differ(before: list[Vertex], vertex: Vertex) -> bool:
    """Whether a vertex stands apart from the last of those before it."""
    return not before or math.hypot(before[-1].x - vertex.x, before[-1].y - vertex.y) > TOUCH


def _split(
    a: Vertex, b: Vertex, nx: float, ny: float, least: float
) -> Iterator[tuple[Vertex, float]]:
    """An edge in parts, each all on one side: their first ends, and the side of their middle."""
    if not a.bulge:
        off_a, off_b = nx * a.x + ny * a.y - least, nx * b.x + ny * b.y - least
        if min(off_a, off_b) < -TOUCH and max(off_a, off_b) > TOUCH:
            t = off_a / (off_a - off_b)
            yield a, off_a
            yield Vertex(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)), off_b
        else:
            yield a, (off_a + off_b) / 2.0
        return
    arc = arc_between(a, b)
    stops = [0.0, *_crossings(arc, nx, ny, least), 1.0]
    for from_, to in pairwise(stops):
        start = arc.start_rad + from_ * arc.sweep_rad
        sweep = (to - from_) * arc.sweep_rad
        x, y = (
            (a.x, a.y)
            if from_ == 0.0
            else (arc.x + arc.radius * math.cos(start), arc.y + arc.radius * math.sin(start))
        )
        half = start + sweep / 2.0
        middle = (
            nx * (arc.x + arc.radius * math.cos(half))
            + ny * (arc.y + arc.radius * math.sin(half))
            - least
        )
        yield Vertex(x, y, math.tan(sweep / 4.0)), middle


def _crossings(arc: Arc, nx: float, ny: float, least: float) -> list[float]:
    """Where along an arc, 0 to 1, it crosses the line: strictly between its ends, in order."""
    x, y, radius, start, sweep = arc
    reach = (least - nx * x - ny * y) / radius
    if abs(reach) >= 1.0:
        return []
    facing, aside = math.atan2(ny, nx), math.acos(reach)
    found = []
    for angle in (facing + aside, facing - aside):
        turned = (angle - start) % math.tau if sweep > 0 else -((start - angle) % math.tau)
        if TOUCH < abs(turned) * radius < abs(sweep) * radius - TOUCH:
            found.append(turned / sweep)
    return sorted(found)
