"""Solids made of flat steps, described without any CAD kernel, and their volume.

A block stands on z = 0 with its top at one height. Steps are outlines within which the top
is higher or lower, and they may hold steps of their own; steps on the underside do the same to
the bottom. A step that comes down to the bottom beneath it is a hole right through. Most shop
fixtures are such solids, whether they are printed or routed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.geometry.outline import Outline, Point, Vertex, arc_between


@dataclass(frozen=True, slots=True)
class Contour:
    """An edge of a letter: (start, control) pairs, each a parabola to the next start.

    A control of None is a straight line, as in TrueType outlines.
    """

    segments: tuple[tuple[Point, Point | None], ...]

    def area(self) -> float:
        """Signed area in mm², exact: a parabola holds ⅔ of the triangle on its control point.

        >>> Contour((((0, 0), (1, 2)), ((2, 0), None))).area() == -4 / 3
        True
        """
        total = 0.0
        for (a, control), (b, _) in zip(
            self.segments, self.segments[1:] + self.segments[:1], strict=True
        ):
            total += (a[0] * b[1] - b[0] * a[1]) / 2.0
            if control is not None:
                total += _triangle(a, control, b) * 2.0 / 3.0
        return total

    def points(self, error: float = 0.005) -> list[Point]:
        """Its corners, with parabolas flattened to within `error` mm, all points on the curve."""
        found: list[Point] = []
        for (a, control), (b, _) in zip(
            self.segments, self.segments[1:] + self.segments[:1], strict=True
        ):
            found.append(a)
            if control is None:
                continue
            bend = math.hypot(a[0] - 2 * control[0] + b[0], a[1] - 2 * control[1] + b[1]) / 4.0
            count = max(1, math.ceil(math.sqrt(bend / error)))
            found += [_on_parabola(a, control, b, i / count) for i in range(1, count)]
        return found


def counter_clockwise(outline: Outline | Contour) -> Outline | Contour:
    """The same outline, walked round with its inside on the left."""
    if outline.area() > 0:
        return outline
    if isinstance(outline, Contour):
        segments = outline.segments
        starts = [point for point, _ in segments]
        controls = [control for _, control in segments]
        return Contour(tuple(zip(starts[::-1], controls[-2::-1] + controls[-1:], strict=True)))
    corners = outline.vertices
    bulges = [-corner.bulge for corner in corners]
    turned = zip(corners[::-1], bulges[-2::-1] + bulges[-1:], strict=True)
    return Outline(tuple(Vertex(corner.x, corner.y, bulge) for corner, bulge in turned))


def _triangle(a: Point, b: Point, c: Point) -> float:
    return ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) / 2.0


def _on_parabola(a: Point, control: Point, b: Point, t: float) -> Point:
    u = 1.0 - t
    return (
        u * u * a[0] + 2 * u * t * control[0] + t * t * b[0],
        u * u * a[1] + 2 * u * t * control[1] + t * t * b[1],
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A closed outline within which the face stands at `top` mm, but for its own steps.

    Steps lie apart from one another and wholly within the outline that holds them.
    """

    outline: Outline | Contour
    top: float
    steps: tuple[Step, ...] = ()

    def lowest(self) -> float:
        """The lowest face in it."""
        return min((self.top, *(step.lowest() for step in self.steps)))

    def highest(self) -> float:
        """The highest face in it."""
        return max((self.top, *(step.highest() for step in self.steps)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A solid on z = 0: its outline, the height of its top, its steps (mm).

    `steps` change the height of its top. Those in `under` change that of its bottom: a pocket
    from below has a `top` above 0, a foot one below. A hole from the top into such a pocket
    ends at the pocket's `top`. `chamfer` breaks the bottom edge of the outline at 45°, which
    must then be convex.
    """

    outline: Outline
    top: float
    steps: tuple[Step, ...] = ()
    under: tuple[Step, ...] = ()
    chamfer: float = 0.0

    def volume(self) -> float:
        """Volume in mm³, exact: outline by outline, area times the change of height.

        >>> from rosette.geometry.outline import circle, polygon
        >>> hole = Step(outline=circle(1.0), top=0.0)
        >>> square = polygon([(-2, -2), (2, -2), (2, 2), (-2, 2)])
        >>> round(Block(outline=square, top=3.0, steps=(hole,)).volume(), 9)
        38.575222039
        """
        whole = abs(self.outline.area()) * self.top
        changed = _steps_volume(self.steps, self.top) - _steps_volume(self.under, 0.0)
        return whole + changed - chamfer_volume(self.outline, self.chamfer)

    @property
    def lowest(self) -> float:
        """The height of its lowest face: 0, or that of its feet."""
        return min((0.0, *(step.lowest() for step in self.under)))

    @property
    def highest(self) -> float:
        """The height of its highest face."""
        return max((self.top, *(step.highest() for step in self.steps)))


def _steps_volume(steps: tuple[Step, ...], level: float) -> float:
    return sum(
        abs(step.outline.area()) * (step.top - level) + _steps_volume(step.steps, step.top)
        for step in steps
    )


def chamfer_volume(outline: Outline, chamfer: float) -> float:
    """What a 45° chamfer of `chamfer` mm takes off the bottom edge of a convex outline, in mm³.

    The outline set in by t has the area A - P·t + K·t² (Steiner's formula, inwards), with K the
    sum of tan(turn/2) over corners and of half the turn along arcs; the chamfer takes
    P·c²/2 - K·c³/3. On a disc that is π·(R·c² - c³/3), on a square of side s 2·s·c² - 4·c³/3.

    >>> from rosette.geometry.outline import circle, polygon
    >>> round(chamfer_volume(circle(10), 1) / math.pi, 9)
    9.666666667
    >>> square = polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> round(chamfer_volume(square, 1), 9)
    18.666666667
    """
    perimeter, shape = 0.0, 0.0
    edges = list(outline.edges())
    for i, (a, b) in enumerate(edges):
        if a.bulge:
            arc = arc_between(a, b)
            perimeter += arc.radius * abs(arc.sweep_rad)
            shape += abs(arc.sweep_rad) / 2.0
        else:
            perimeter += math.hypot(b.x - a.x, b.y - a.y)
        before = edges[i - 1]
        turn = _heading(a, b, at_end=False) - _heading(*before, at_end=True)
        shape += abs(math.tan(math.remainder(turn, 2.0 * math.pi) / 2.0))
    return perimeter * chamfer**2 / 2.0 - shape * chamfer**3 / 3.0


def _heading(a: Point | tuple[float, ...], b: Point | tuple[float, ...], *, at_end: bool) -> float:
    """Direction in radians of the edge from `a` to `b` where it starts or ends."""
    half_sweep = 2.0 * math.atan(a[2]) if len(a) > 2 else 0.0
    chord = math.atan2(b[1] - a[1], b[0] - a[0])
    return chord + (half_sweep if at_end else -half_sweep)
