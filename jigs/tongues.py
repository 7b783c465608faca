"""Where the tongues of a seam stand: in sound material, and nowhere as in another seam."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from typing import TYPE_CHECKING, Any

from jigs.footprint import Footprint
from jigs.seam import Seam, Tongue, narrow, wide

if TYPE_CHECKING:
    from shapely import Point, Polygon
    from shapely.geometry.base import BaseGeometry

SCALES = (1.5, 1.0, 0.75, 0.5)
DIFFERENCE = 3.0
"""Two seams of a part differ by this at least in the distance of their tongues (mm)."""
WANTED = 0.55
"""How far apart tongues stand best, as a share of the seam's length."""
LEAST_SIDE = 5.0
"""A shorter side than this (mm) needs no tongue."""
FINE = 150
"""A seam longer than this (mm) is tried every second millimetre, and so on."""
OFF_WANTED, EDGE = 0.2, 2.0
"""What a millimetre away from that costs, and the edge of a step within a tongue's room."""


@dataclass(frozen=True, slots=True)
class _Choice:
    tongue: Tongue
    cost: float
    left: float
    right: float


def keyed(seam: Seam, foot: Footprint, others: Sequence[Seam], straight: Sequence[Seam]) -> Seam:
    """The seam with its tongues: two in each of its sections that has room for them.

    A section is where the seam cuts material, between holes and the ends of those seams among
    `straight` that end on it. `others` are the seams that have their tongues already. A seam
    that is the only one, and too short for two tongues, has one if it can.
    """
    from shapely import STRtree, get_parts, prepare, unary_union

    taken = [_room(other, tongue) for other in others for tongue in other.tongues]
    sound = foot.sound.difference(unary_union(taken))
    prepare(sound)
    edges = STRtree(get_parts(foot.edges))
    used = [apart for other in others for apart in _distances(other)]
    tongues: tuple[Tongue, ...] = ()
    for section in _sections(seam, foot, straight):
        alone = len(straight) == 1 and not tongues
        found = _in_section(seam, section, sound, edges, used=used, alone=alone)
        if len(found) == 2:
            used.append(found[1].at - found[0].at)
        tongues += found
    return replace(seam, tongues=tongues)


def _in_section(
    seam: Seam,
    section: tuple[float, float],
    sound: BaseGeometry,
    edges: Any,
    *,
    used: list[float],
    alone: bool,
) -> tuple[Tongue, ...]:
    """Two tongues, one where that is all there is room for and the seam is alone, or none."""
    single: tuple[Tongue, ...] = ()
    for scale in SCALES:
        ups = list(_choices(wide, scale, seam, extent=section, sound=sound, edges=edges))
        downs = list(_choices(narrow, scale, seam, extent=section, sound=sound, edges=edges))
        pair = _best_pair(ups, downs, section, used)
        if pair:
            return pair
        if ups and alone and not single:
            single = (_best_single(ups, section),)
    return single


def _best_pair(
    ups: list[_Choice], downs: list[_Choice], extent: tuple[float, float], used: list[float]
) -> tuple[Tongue, Tongue] | None:
    start, end = extent
    wanted = WANTED * (end - start)
    best: tuple[float, Tongue, Tongue] | None = None
    for up, down in product(ups, downs):
        if up.right > down.left:
            continue
        one, other = up.tongue.at, down.tongue.at
        apart = other - one
        if any(abs(apart - taken) < DIFFERENCE for taken in used):
            continue
        off = abs(apart - wanted) + abs(one + other - start - end) / 2.0
        cost = up.cost + down.cost + OFF_WANTED * off
        if best is None or cost < best[0]:
            best = cost, up.tongue, down.tongue
    return best[1:] if best else None


def _best_single(ups: list[_Choice], extent: tuple[float, float]) -> Tongue:
    middle = sum(extent) / 2.0
    return min(ups, key=lambda one: one.cost + OFF_WANTED * abs(one.tongue.at - middle)).tongue


def _distances(seam: Seam) -> Iterator[float]:
    """The distance of the two tongues in each of its sections."""
    for one, other in zip(seam.tongues[::2], seam.tongues[1::2], strict=False):
        yield other.at - one.at


def _choices(
    kind: Any,
    scale: float,
    seam: Seam,
    *,
    extent: tuple[float, float],
    sound: BaseGeometry,
    edges: Any,
) -> Iterator[_Choice]:
    start, end = math.ceil(extent[0]), math.floor(extent[1])
    for at in range(start, end + 1, 1 + (end - start) // FINE):
        tongue = kind(float(at), scale)
        left, _, right, _ = tongue.room()
        if left < extent[0] or right > extent[1]:
            continue
        room = _room(seam, tongue)
        if sound.covers(room):
            met = len(edges.query(room, predicate="intersects"))
            yield _Choice(tongue, EDGE * met, left, right - tongue.root)


def _room(seam: Seam, tongue: Tongue) -> Polygon:
    from shapely import box

    left, low, right, high = tongue.room()
    (ax, ay), (bx, by) = seam.point(left, low), seam.point(right, high)
    return box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


def _sections(
    seam: Seam, foot: Footprint, straight: Sequence[Seam]
) -> Iterator[tuple[float, float]]:
    """From where to where the seam has something to cut, in its own `t`."""
    from shapely import LineString, get_parts

    line = LineString([seam.point(seam.start, 0.0), seam.point(seam.end, 0.0)])
    ends = sorted(
        other.at if seam.along == "x" else -other.at
        for other in straight
        if other.along != seam.along and seam.at in (other.start, other.end)
    )
    for part in get_parts(line.intersection(foot.solid)):
        left, low, right, high = part.bounds
        start, end = (left, right) if seam.along == "x" else (-high, -low)
        stops = [start, *(one for one in ends if start < one < end), end]
        yield from pairwise(stops)


def locked(body: Polygon, seams: Sequence[Seam], gap: float) -> bool:
    """Whether a piece has a tongue of its own on each of its sides, so that no other can lie there.

    Where there is one tongue in all, one piece has it and the other its socket.
    """
    if len(seams) == 1 and len(seams[0].tongues) == 1:
        return True
    for seam in seams:
        if not seam.tongues:
            return False
        for up in (True, False):
            own = [one for one in seam.tongues if one.up is up]
            if _lies_along(body, seam, gap, up=up) and not any(
                body.contains(_inside(seam, one)) for one in own
            ):
                return False
    return True


def _lies_along(body: Polygon, seam: Seam, gap: float, *, up: bool) -> bool:
    """Whether a piece has a side on a seam, tongues and what is round them apart."""
    from shapely import LineString, unary_union

    s = -gap if up else gap
    line = LineString([seam.point(seam.start, s), seam.point(seam.end, s)])
    rooms = unary_union([_room(seam, one) for one in seam.tongues])
    return bool(line.difference(rooms).intersection(body).length > LEAST_SIDE)


def _inside(seam: Seam, tongue: Tongue) -> Point:
    from shapely import Point

    return Point(seam.point(tongue.at, tongue.reach / 2.0 * (1.0 if tongue.up else -1.0)))
