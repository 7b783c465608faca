"""Where the tongues of a seam stand: in sound material, and nowhere as in another seam."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import TYPE_CHECKING, Any

from jigs.footprint import Footprint
from jigs.seam import Seam, Tongue, narrow, wide

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

SCALES = (1.5, 1.0, 0.8, 0.6)
DIFFERENCE = 3.0
"""Two seams of a part differ by this at least in the distance of their tongues (mm)."""
WANTED = 0.55
"""How far apart tongues stand best, as a share of the seam's length."""
FINE = 150
"""A seam longer than this (mm) is tried every second millimetre, and so on."""
OFF_WANTED, EDGE = 0.2, 1.0
"""What a millimetre away from that costs, and the edge of a step within a tongue's room."""


@dataclass(frozen=True, slots=True)
class _Choice:
    tongue: Tongue
    cost: float
    left: float
    right: float


def keyed(seam: Seam, foot: Footprint, others: Sequence[Seam], *, alone: bool) -> Seam | None:
    """The seam with its tongues, or None where there is no room for them.

    `others` are the seams that the part has already; `alone` says that it has but this one. A
    seam too short for two tongues may have one where it is alone.
    """
    from shapely import STRtree, get_parts, prepare, unary_union

    taken = [_room(other, tongue) for other in others for tongue in other.tongues]
    extent = _extent(seam, foot.solid)
    if extent is None or _crosses(seam, extent, taken):
        return None
    sound = foot.sound.difference(unary_union(taken))
    prepare(sound)
    edges = STRtree(get_parts(foot.edges))
    single: tuple[Tongue, ...] = ()
    for scale in SCALES:
        ups = list(_choices(wide, scale, seam, extent=extent, sound=sound, edges=edges))
        downs = list(_choices(narrow, scale, seam, extent=extent, sound=sound, edges=edges))
        pair = _best_pair(ups, downs, extent, [_distance(one) for one in others])
        if pair:
            return replace(seam, tongues=pair)
        if ups and not single:
            single = (_best_single(ups, extent),)
    return replace(seam, tongues=single) if single and alone else None


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


def _distance(seam: Seam) -> float:
    return seam.tongues[-1].at - seam.tongues[0].at


def _choices(
    kind: Any,
    scale: float,
    seam: Seam,
    *,
    extent: tuple[float, float],
    sound: BaseGeometry,
    edges: Any,
) -> Iterator[_Choice]:
    start, end = int(extent[0]), int(extent[1])
    for at in range(start, end + 1, 1 + (end - start) // FINE):
        tongue = kind(float(at), scale)
        room = _room(seam, tongue)
        if sound.covers(room):
            met = len(edges.query(room, predicate="intersects"))
            left, _, right, _ = tongue.room()
            yield _Choice(tongue, EDGE * met, left, right - tongue.root)


def _room(seam: Seam, tongue: Tongue) -> Polygon:
    from shapely import box

    left, low, right, high = tongue.room()
    (ax, ay), (bx, by) = seam.point(left, low), seam.point(right, high)
    return box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


def _extent(seam: Seam, body: BaseGeometry) -> tuple[float, float] | None:
    """From where to where the seam has something to cut, in its own `t`."""
    from shapely import LineString

    met = LineString([seam.point(seam.start, 0.0), seam.point(seam.end, 0.0)]).intersection(body)
    if met.is_empty:
        return None
    left, low, right, high = met.bounds
    return (left, right) if seam.along == "x" else (-high, -low)


def _crosses(seam: Seam, extent: tuple[float, float], taken: list[Polygon]) -> bool:
    from shapely import LineString

    start, end = extent
    course = LineString([seam.point(start - 1.0, 0.0), seam.point(end + 1.0, 0.0)])
    return any(course.intersects(room) for room in taken)
