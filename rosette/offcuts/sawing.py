"""The cuts of a piece as they are made one after another, and the wood that they leave.

Cutting starts from the end of the grain where the first band is, so that what is held is the
longer part for as long as can be. What each cut leaves to hold is measured on the pieces that
the cuts before it have made.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from rosette.offcuts.allocate import Portion
from rosette.offcuts.cuts import Band, cuts_for
from rosette.offcuts.model import Cut, Offcut, Placement, Point, WedgeSize
from rosette.offcuts.region import Region, usable_region
from rosette.offcuts.rows import Seat

STRAIGHT = 0.5
"""degrees: edges of the outline that bend less than this are one straight edge at the gauge."""
LEAST_FENCE = 30.0
"""mm: a shorter edge does not steady the wood at the gauge."""
MOST_SWING = 45.0
"""degrees: no mitre gauge is swung further for a crosscut."""
_FAR = 1e5
_GRAZE, _DUST = 1e-4, 1e-6
"""mm by which a kerf may graze a piece, and mm² of wood that are nothing but dust."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawn:
    """A cut with the band it is made in, the edge at the gauge, and what it leaves to hold (mm).

    `lean`: degrees counter-clockwise from square to `fence`; `first_lean`: that of the first
    slant of its band.
    """

    cut: Cut
    want: int
    fence: tuple[Point, Point] | None
    lean: float
    in_hand: float
    first_lean: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawed:
    """A piece sawn up: (want, placement) with bands numbered over the piece, cuts, what is left."""

    placements: tuple[tuple[int, Placement], ...]
    cuts: tuple[Sawn, ...]
    left: tuple[shapely.Polygon, ...]


def sawed(
    wood: Offcut, portions: Sequence[Portion], sizes: Sequence[WedgeSize], *, kerf: float
) -> Sawed:
    """Saw the portions out of a piece, in order; `sizes` go by the portions' wants."""
    placements: list[tuple[int, Placement]] = []
    cuts: list[tuple[int, Cut, tuple[Point, Point] | None]] = []
    for portion in portions:
        size = sizes[portion.want]
        region = usable_region(portion.wood, tilt=portion.layout.tilt)
        offset = max((one.band for _, one in placements), default=0)
        numbered = _renumbered(portion, offset)
        placements += [(portion.want, one) for one in numbered]
        axis = portion.wood.grain + portion.layout.tilt
        edge = fence_edge(portion.wood, axis)
        for cut in _in_order(portion, _cuts(portion, region, size, kerf)):
            fence = edge if cut.kind == "crosscut" else _band_edge(cut, numbered, axis, offset)
            cuts.append((portion.want, replace(cut, band=cut.band + offset), fence))
    pieces = [shapely.Polygon(wood.outline, wood.holes)]
    made: list[Sawn] = []
    first: dict[int, float] = {}
    for step, (want, cut, fence) in enumerate(cuts, start=1):
        direction = fence if fence is not None else _square_to(cut)
        pieces, in_hand = _made(pieces, cut, direction, kerf)
        lean = _lean(cut, direction)
        if cut.kind == "slant":
            first.setdefault(cut.band, lean)
        made.append(
            Sawn(
                cut=replace(cut, step=step),
                want=want,
                fence=fence,
                lean=lean,
                in_hand=in_hand,
                first_lean=first.get(cut.band, 0.0) if cut.kind == "slant" else 0.0,
            )
        )
    hearts = shapely.points([one.centre for _, one in placements])
    left = [one for one in pieces if not shapely.contains(one, hearts).any()]
    return Sawed(placements=tuple(placements), cuts=tuple(made), left=tuple(left))


def cut_free(wood: Offcut, portions: Sequence[Portion], *, kerf: float) -> Sawed:
    """Take the portions out along their outlines, a kerf wide; no cuts in any order."""
    placements = [
        (portion.want, replace(one, order=one.order))
        for portion in portions
        for one in portion.part.placements
    ]
    numbered = [(want, replace(one, order=at)) for at, (want, one) in enumerate(placements, 1)]
    gone = [shapely.Polygon(one.vertices).buffer(kerf, join_style="mitre") for _, one in numbered]
    rest = shapely.Polygon(wood.outline, wood.holes).difference(shapely.union_all(gone))
    left = tuple(one for one in shapely.get_parts(rest) if isinstance(one, shapely.Polygon))
    return Sawed(placements=tuple(numbered), cuts=(), left=left)


def _renumbered(portion: Portion, offset: int) -> list[Placement]:
    """Bands and places counted over the wedges that are taken."""
    bands = {band: n for n, band in enumerate(sorted({p.band for p in portion.part.placements}), 1)}
    orders: dict[int, int] = {}
    numbered = []
    for one in portion.part.placements:
        orders[one.band] = orders.get(one.band, 0) + 1
        numbered.append(replace(one, band=bands[one.band] + offset, order=orders[one.band]))
    return numbered


def _cuts(portion: Portion, region: Region, size: WedgeSize, kerf: float) -> tuple[Cut, ...]:
    found: dict[int, list[tuple[float, float, int]]] = {}
    for one in portion.part.placements:
        ((x, y),) = region.frame.along_grain(np.array([one.centre]))
        found.setdefault(one.band, []).append((float(x), float(y), int(one.flipped)))
    bands = [
        Band(
            start=seats[0][1] - size.height / 2.0,
            seats=tuple(Seat(x, way) for x, _, way in seats),
        )
        for _, seats in sorted(found.items())
    ]
    return cuts_for(region, bands, size, kerf=kerf)


def _in_order(portion: Portion, cuts: Sequence[Cut]) -> Iterator[Cut]:
    """Crosscuts from the end that is cut from, then each band's slants from its side."""
    cross = [cut for cut in cuts if cut.kind == "crosscut"]
    slants = [cut for cut in cuts if cut.kind == "slant"]
    yield from cross if portion.part.end == "low" else cross[::-1]
    if portion.part.side == "left":
        yield from slants
        return
    for band in dict.fromkeys(cut.band for cut in slants):
        yield from [cut for cut in slants if cut.band == band][::-1]


def fence_edge(wood: Offcut, axis: float) -> tuple[Point, Point] | None:
    """The longest straight stretch of the outline that can bear on the gauge for a crosscut.

    Within `MOST_SWING` of the axis (degrees), the wood on its left.
    """
    plain = shapely.LinearRing(wood.outline).simplify(0.05)
    ring = shapely.LinearRing(shapely.get_coordinates(plain))
    points = shapely.get_coordinates(ring if ring.is_ccw else ring.reverse())[:-1]
    best: tuple[float, tuple[Point, Point]] | None = None
    for start, end in _stretches(points):
        length = math.dist(start, end)
        off = (_heading(start, end) - axis + 90.0) % 180.0 - 90.0
        if abs(off) <= MOST_SWING and length >= LEAST_FENCE and (best is None or length > best[0]):
            best = (length, (start, end))
    return best[1] if best else None


def _stretches(points: np.ndarray) -> Iterator[tuple[Point, Point]]:
    """Edges of a ring, those in one line taken together."""
    corners = [(float(x), float(y)) for x, y in points]
    turns = [
        at
        for at in range(len(corners))
        if abs(
            (
                _heading(corners[at], corners[(at + 1) % len(corners)])
                - _heading(corners[at - 1], corners[at])
                + 180.0
            )
            % 360.0
            - 180.0
        )
        > STRAIGHT
    ]
    for at, nxt in zip(turns, [*turns[1:], *turns[:1]], strict=True):
        yield corners[at], corners[nxt]


def _heading(start: Point, end: Point) -> float:
    return math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))


def _band_edge(
    cut: Cut, placements: Sequence[Placement], axis: float, offset: int
) -> tuple[Point, Point]:
    """The near crosscut edge of a slant's band, as far as its wedges go, left to right."""
    along = math.radians(axis)
    ux, uy = math.sin(along), -math.cos(along)
    base = cut.start
    corners = [
        vertex for one in placements if one.band == cut.band + offset for vertex in one.vertices
    ]
    reach = [(x - base[0]) * ux + (y - base[1]) * uy for x, y in corners]
    return (
        (base[0] + min(reach) * ux, base[1] + min(reach) * uy),
        (base[0] + max(reach) * ux, base[1] + max(reach) * uy),
    )


def _square_to(cut: Cut) -> tuple[Point, Point]:
    """A line square to a cut, where no edge of the wood bears on the gauge."""
    (ax, ay), (bx, by) = cut.start, cut.end
    return (ax, ay), (ax - (by - ay), ay + (bx - ax))


def _lean(cut: Cut, fence: tuple[Point, Point]) -> float:
    """Degrees counter-clockwise from square to the fence, within a quarter turn."""
    off = _heading(cut.start, cut.end) - _heading(*fence) - 90.0
    return (off + 90.0) % 180.0 - 90.0


def _made(
    pieces: list[shapely.Polygon], cut: Cut, fence: tuple[Point, Point], kerf: float
) -> tuple[list[shapely.Polygon], float]:
    """The pieces after a cut, and the longer part along the gauge of the piece that was cut."""
    halves = _halves(cut, kerf)
    shapes = np.array(pieces)
    met = _met(shapes, cut, halves, kerf)
    after = [one for one, hit in zip(pieces, met, strict=True) if not hit]
    held: list[float] = []
    (fx, fy), (gx, gy) = fence
    length = math.hypot(gx - fx, gy - fy)
    ux, uy = (gx - fx) / length, (gy - fy) / length
    middle = ((cut.start[0] + cut.end[0]) / 2.0, (cut.start[1] + cut.end[1]) / 2.0)
    for one in shapes[met]:
        longest = 0.0
        for half in halves:
            for part in shapely.get_parts(shapely.intersection(one, half)):
                if isinstance(part, shapely.Polygon) and part.area > 1e-9:
                    after.append(part)
                    corners = shapely.get_coordinates(part) - middle
                    along = np.abs(corners @ np.array((ux, uy)))
                    longest = max(longest, float(along.max()) - kerf / 2.0, 0.0)
        held.append(longest)
    return after, min(held, default=0.0)


def _met(
    shapes: np.ndarray, cut: Cut, halves: tuple[shapely.Polygon, shapely.Polygon], kerf: float
) -> np.ndarray:
    """Which pieces a cut takes wood from; one that it merely grazes stays out of it."""
    line = shapely.LineString((cut.start, cut.end))
    if kerf > 10.0 * _GRAZE:
        road = line.buffer(kerf / 2.0 - _GRAZE, cap_style="flat")
        found: np.ndarray = shapely.area(shapely.intersection(shapes, road)) > _DUST
        return found
    near = shapely.intersects(shapes, line)
    parted = [shapely.area(shapely.intersection(shapes, half)) > _DUST for half in halves]
    both: np.ndarray = near & parted[0] & parted[1]
    return both


def _halves(cut: Cut, kerf: float) -> tuple[shapely.Polygon, shapely.Polygon]:
    (ax, ay), (bx, by) = cut.start, cut.end
    length = math.hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / length, (by - ay) / length
    found = []
    for side in (1.0, -1.0):
        nx, ny = -uy * side, ux * side
        off = kerf / 2.0
        near = ((ax - ux * _FAR, ay - uy * _FAR), (ax + ux * _FAR, ay + uy * _FAR))
        found.append(
            shapely.Polygon(
                [
                    (near[0][0] + nx * off, near[0][1] + ny * off),
                    (near[1][0] + nx * off, near[1][1] + ny * off),
                    (near[1][0] + nx * _FAR, near[1][1] + ny * _FAR),
                    (near[0][0] + nx * _FAR, near[0][1] + ny * _FAR),
                ]
            )
        )
    return found[0], found[1]
