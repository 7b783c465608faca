"""Invented scraps such as lie in a guitar maker's box, the same for the same seed.

Bent trapezoids off tapered backs and sides, with straight or wavy edges, some with an arm sawn
out, a drilled hole, knots or cracks, the grain along the longest side or any way.
"""

from __future__ import annotations

import math
import random

from shapely.geometry import Polygon

from rosette.offcuts.model import Offcut, Point, Ring


def scrap(seed: int, *, vertices: int | None = None) -> Offcut:
    """One scrap, roughly 60 to 350 mm long; its outline has about `vertices` points."""
    rng = random.Random(seed)
    while True:
        outline = _outline(rng, vertices or rng.choice((4, 5, 6, 8, 12, 20, 40, 60, 90)))
        shape = Polygon(outline)
        if shape.is_valid and shape.area > 800:
            break
    grain = rng.choice((0.0, 0.0, 0.0, rng.uniform(-8, 8), 90.0, rng.uniform(0, 360)))
    turn = rng.choice((0.0, 0.0, rng.uniform(0, 360)))
    defects = tuple(_defect(rng, shape) for _ in range(rng.choice((0, 0, 0, 1, 1, 2, 3))))
    holes = (_round(_inside(shape), rng.uniform(1.5, 5), 24),)
    drilled = rng.random() < 0.08 and shape.contains(Polygon(holes[0]))
    return Offcut(
        id=f"scrap-{seed}",
        outline=_turned(outline, turn),
        holes=tuple(_turned(one, turn) for one in holes) if drilled else (),
        defects=tuple(_turned(one, turn) for one in defects),
        grain=grain + turn,
        wood=rng.choice(("walnut", "maple", "rosewood")),
        thickness=rng.choice((2.0, 2.4, 3.0)),
    )


def _inside(shape: Polygon) -> Point:
    point = shape.representative_point()
    return (point.x, point.y)


def _outline(rng: random.Random, vertices: int) -> Ring:
    length, wide = rng.uniform(60, 350), rng.uniform(22, 110)
    narrow, bend = wide * rng.uniform(0.4, 1.0), rng.uniform(-0.12, 0.12) * length
    skew = rng.uniform(-0.3, 0.3) * wide
    each = max(1, (vertices - 2) // 2)
    wave, beats = rng.uniform(0, 2.0), rng.uniform(0.5, 5)
    rough = rng.choice((0.0, 0.0, 0.15))

    def side(hand: float) -> list[Point]:
        points = []
        for i in range(each + 1):
            t = i / each
            half = (wide + (narrow - wide) * t) / 2.0
            off = bend * 4 * t * (1 - t) + wave * math.sin(beats * 6.28 * t + hand)
            off += rng.uniform(-rough, rough)
            x = length * t + (skew * hand / 2 if i in (0, each) else 0.0)
            points.append((x, off + hand * half))
        return points

    lower, upper = side(-1.0), side(1.0)
    if vertices >= 8 and rng.random() < 0.25:
        upper = _bay(rng, upper, length, wide)
    return tuple(lower + upper[::-1])


def _bay(rng: random.Random, upper: list[Point], length: float, wide: float) -> list[Point]:
    """A notch with square sides sawn into the upper edge."""
    a = rng.uniform(0.15, 0.6) * length
    b = a + rng.uniform(0.1, 0.3) * length
    depth = rng.uniform(0.15, 0.5) * wide
    before = [p for p in upper if p[0] < a]
    after = [p for p in upper if p[0] > b]
    if not before or not after:
        return upper
    ya, yb = before[-1][1], after[0][1]
    return [*before, (a, ya), (a, ya - depth), (b, yb - depth), (b, yb), *after]


def _defect(rng: random.Random, shape: Polygon) -> Ring:
    left, low, right, high = shape.bounds
    middle = (rng.uniform(left, right), rng.uniform(low, high))
    if rng.random() < 0.5:
        return _round(middle, rng.uniform(1.5, 9), rng.choice((8, 12, 24)))
    reach, angle = rng.uniform(8, 40), rng.uniform(-0.25, 0.25)
    dx, dy = reach * math.cos(angle), reach * math.sin(angle)
    x, y = middle
    return (
        (x, y),
        (x + dx / 2, y + dy / 2 - 0.4),
        (x + dx, y + dy),
        (x + dx / 2, y + dy / 2 + 0.4),
    )


def _round(middle: Point, radius: float, points: int) -> Ring:
    turns = [2 * math.pi * i / points for i in range(points)]
    return tuple(
        (middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t)) for t in turns
    )


def _turned(ring: Ring, degrees: float) -> Ring:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return tuple((c * x - s * y, s * x + c * y) for x, y in ring)
