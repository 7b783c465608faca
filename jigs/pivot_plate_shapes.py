"""The outline round a group of discs: what a plate needs round its holes (mm)."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rosette.geometry.outline import Outline, Vertex, circle

Disc = tuple[float, float, float]
"""Centre and radius."""


def around(discs: Sequence[Disc]) -> Outline:
    """The shortest line round all discs: arcs on some of them, joined by their tangents.

    Seen from the direction φ a disc reaches to c·u(φ) + r. The line follows the disc that
    reaches furthest, and leaves it for the next where that reaches as far:
    (c₂ - c₁)·u(φ) = r₁ - r₂.

    >>> belt = around([(0, 0, 2), (10, 0, 2)])
    >>> round(belt.area() - 40 - 4 * math.pi, 9)
    0.0
    """
    current = min(range(len(discs)), key=lambda i: (discs[i][1] - discs[i][2], discs[i][0]))
    start, at = current, -math.pi / 2.0
    end, arcs = at + 2.0 * math.pi, []
    for _ in range(2 * len(discs) + 1):
        found = min(_turns(discs, current, at), default=(end, start))
        leaves = min(found[0], end)
        arcs.append((discs[current], at, leaves))
        if leaves >= end - 1e-12:
            break
        at, current = found
    if len({one for one, _, _ in arcs}) == 1:
        x, y, radius = discs[start]
        return circle(radius, (x, y))
    return _joined(arcs)


def _turns(discs: Sequence[Disc], current: int, at: float) -> list[tuple[float, int]]:
    """When each other disc comes to reach further than this one, from the direction `at` on."""
    x, y, radius = discs[current]
    found = []
    for i, (x2, y2, radius2) in enumerate(discs):
        apart = math.hypot(x2 - x, y2 - y)
        if i == current or apart <= abs(radius - radius2) + 1e-12:
            continue
        leaves = math.atan2(y2 - y, x2 - x) - math.acos((radius - radius2) / apart)
        after = (leaves - at + 1e-9) % (2.0 * math.pi) - 1e-9
        found.append((at + max(0.0, after), i))
    return found


def _joined(arcs: list[tuple[Disc, float, float]]) -> Outline:
    """One outline of arcs, each begun where the one before has its tangent."""
    (first, _, opens), (last, shuts, _) = arcs[0], arcs[-1]
    if first == last:
        arcs = [(first, shuts - 2.0 * math.pi, opens), *arcs[1:-1]]
    vertices = []
    for (x, y, radius), start, end in arcs:
        half = (start + end) / 2.0
        if end - start < 1e-9:
            continue
        parts = ((start, half), (half, end)) if end - start > math.pi / 2.0 else ((start, end),)
        for a, b in parts:
            bulge = math.tan((b - a) / 4.0)
            vertices.append(Vertex(x + radius * math.cos(a), y + radius * math.sin(a), bulge))
        vertices.append(Vertex(x + radius * math.cos(end), y + radius * math.sin(end)))
    return Outline(tuple(vertices))
