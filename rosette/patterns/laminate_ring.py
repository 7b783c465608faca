"""Where the pieces of a band stand in the ring: bent round it, or straight with mitred joints.

Bent: a point s along the straight band and t outward from its middle goes to the angle s/R at
the radius R + t, R the middle radius: the middle keeps its length, widths stay as they are, and a
ply that ran straight across becomes an Archimedean spiral (or stays a radius).

Straight: the band is cut into n pieces between radial planes; lines stay lines, and only the two
edges are trimmed to arcs. In a piece x runs clockwise from its middle and y outward from the
ring's centre.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosette.geometry import wedge
from rosette.geometry.clip import kept_beside
from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import Outline, Vertex
from rosette.patterns.base import Piece, RingSite

SEAM = 90.0
"""Direction in degrees of the seam: 12 o'clock, under the fingerboard."""
SPIRAL_ERROR = 0.004
"""Greatest distance in mm between a spiral and the lines that stand for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A piece before it has its number: outline, wood, kind, grain's direction in degrees.

    `along` is where its middle stands, in degrees clockwise from the seam; `order` tells pieces
    apart that stand there together.
    """

    outline: Outline
    wood: str
    kind: str
    axis: float | None
    along: float
    order: int = 0
    holes: tuple[Outline, ...] = ()


def numbered_pieces(shapes: Sequence[Shape], site: RingSite) -> tuple[Piece, ...]:
    """Pieces with their labels, clockwise from the seam."""
    ordered = sorted(shapes, key=lambda one: (round(one.along, 9), one.order))
    digits = max(2, len(str(len(ordered))))
    return tuple(
        Piece(
            label=f"{site.index}-{number:0{digits}d}",
            position=number,
            wood=one.wood,
            kind=one.kind,
            outline=one.outline,
            holes=one.holes,
            axis=one.axis,
            visibility=_visibility(one.outline, site),
        )
        for number, one in enumerate(ordered, start=1)
    )


def _visibility(outline: Outline, site: RingSite) -> Visibility:
    if site.hidden is None:
        return Visibility.SEEN
    # an arc rises over its chord by half the chord times its bulge: no more than this
    most = max(y + abs(bulge) * site.outer_radius for _, y, bulge in outline.vertices)
    return Visibility.SEEN if most < site.hidden.reach else site.hidden.visibility(outline)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """A bent band between two radii (mm).

    `lead` is how far, in radians clockwise, an edge moves for each mm outward; it stands at its
    own angle at the radius `anchor`.
    """

    inner_radius: float
    outer_radius: float
    lead: float = 0.0
    anchor: float = 0.0

    def radii(self) -> list[float]:
        """The radii of the points that stand for an edge, inner first.

        The spiral's curvature is at most 2/√(r² + a²) with a = 1/lead, and a chord of length c
        under a curvature q leaves it by c²·q/8.
        """
        inner, outer, lead = self.inner_radius, self.outer_radius, abs(self.lead)
        if lead * outer < 1e-9:
            return [inner, outer]
        length = (outer - inner) * math.hypot(1.0, lead * outer)
        curvature = 2.0 * lead / math.hypot(1.0, lead * inner)
        count = max(1, math.ceil(length * math.sqrt(curvature / (8.0 * SPIRAL_ERROR))))
        return [inner + (outer - inner) * i / count for i in range(count + 1)]

    def edge(self, turn: float) -> list[tuple[float, float]]:
        """The points of an edge that stands `turn` radians clockwise from the seam."""
        seam = math.radians(SEAM)
        points = []
        for radius in self.radii():
            angle = seam - turn - self.lead * (radius - self.anchor)
            points.append((radius * math.cos(angle), radius * math.sin(angle)))
        return points

    def piece(self, start: float, end: float) -> Outline:
        """What lies between two edges, `end` further clockwise; its two arcs exact."""
        bulge = math.tan((end - start) / 4.0)
        first, last = self.edge(start), self.edge(end)
        return Outline(
            (
                Vertex(*last[-1], bulge),
                *(Vertex(*point) for point in reversed(first[1:])),
                Vertex(*first[0], -bulge),
                *(Vertex(*point) for point in last[:-1]),
            )
        )

    def middle(self, start: float, end: float) -> tuple[float, float]:
        """Degrees clockwise from the seam of a piece's middle; the direction of its edges there.

        The edges' direction is that of their outer ends, counter-clockwise from +x.
        """
        radius = (self.inner_radius + self.outer_radius) / 2.0
        along = (start + end) / 2.0 + self.lead * (radius - self.anchor)
        leaning = math.degrees(math.atan(self.lead * radius))
        return math.degrees(along), SEAM - math.degrees(along) - leaning


@dataclass(frozen=True, slots=True, kw_only=True)
class Facets:
    """A ring of `count` straight pieces between two radii, joints of width `joint` (mm)."""

    count: int
    inner_radius: float
    outer_radius: float
    joint: float = 0.0

    @property
    def mitre(self) -> float:
        """The saw's angle off square, in degrees."""
        return wedge.mitre_angle(self.count)

    @property
    def middle(self) -> float:
        """Where the middle line stands: its y.

        At its own middle it lies as far inside the middle radius as outside it at its ends.
        """
        radius = (self.inner_radius + self.outer_radius) / 2.0
        return radius * (1.0 + math.cos(math.radians(self.mitre))) / 2.0

    @property
    def length(self) -> float:
        """The middle line's length from joint to joint."""
        return 2.0 * self.middle * math.tan(math.radians(self.mitre))

    @property
    def sagitta(self) -> float:
        """How far the outer arc rises over a piece's straight chord."""
        return self.outer_radius * (1.0 - math.cos(math.radians(self.mitre)))

    def outline(self) -> Outline:
        """A finished piece about the y axis, its arcs exact."""
        inner, outer = (
            wedge.half_angle_rad(radius, segments=self.count, joint=self.joint)
            for radius in (self.inner_radius, self.outer_radius)
        )
        return wedge.finished_outline(
            self.inner_radius, self.outer_radius, 90.0, inner_half=inner, outer_half=outer
        )

    def turned(self, outline: Outline, number: int) -> Outline:
        """A shape of piece `number` (from 0) put in its place in the ring."""
        return outline.mapped(math.radians(self.axis(number) - 90.0))

    def axis(self, number: int) -> float:
        """The direction of the middle of piece `number` (from 0), in degrees."""
        return SEAM - (2 * number + 1) * self.mitre

    def along(self, outline: Outline, number: int) -> float:
        """Degrees clockwise from the seam of the middle of a shape of piece `number`."""
        left, bottom, right, top = outline.bounds()
        off = math.degrees(math.atan2((left + right) / 2.0, (bottom + top) / 2.0))
        return (2 * number + 1) * self.mitre + off


def slanted(
    part: Outline, edges: Sequence[tuple[float, float]], *, lean: float, at: float
) -> Iterator[tuple[int, Outline]]:
    """What of a piece lies between each pair of edges, with the pair's number.

    `edges` are (from, to) along x at the height y = `at`; they lean `lean` radians clockwise from
    upright. Where an edge leaves nothing there is no shape.
    """
    direction = math.pi / 2.0 - lean
    level = at * math.cos(direction)
    scale = math.sin(direction)
    for number, (start, end) in enumerate(edges):
        shape = kept_beside(
            part,
            direction=direction,
            least=level - end * scale,
            most=level - start * scale,
        )
        if shape is not None:
            yield number, shape


def stations(widths: Sequence[float], gap: float, start: float) -> list[tuple[float, float]]:
    """Where pieces of these widths begin and end, side by side, half a gap at both ends of each."""
    found = []
    at = start
    for width in widths:
        found.append((at + gap / 2.0, at + gap / 2.0 + width))
        at += width + gap
    return found
