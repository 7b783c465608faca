"""The free method, for a fret saw, a laser or CNC: wedges anywhere, a kerf apart.

It starts from the strip layout and from the wood filled up from each of several directions,
then takes one to three neighbours out and looks whether one more goes back in. Never worse than
the strip layout; the best is not claimed unless the bound proves it. All limits count steps, so
that the same wood always gives the same layout.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from rosette.offcuts.bounds import free_bound
from rosette.offcuts.model import Layout, Offcut, Placement, WedgeSize
from rosette.offcuts.poses import GRID, Pose, clearance, inner_fit, less, poses, within
from rosette.offcuts.region import Floats, Frame, Region, usable_region
from rosette.offcuts.strip import strip_layout

EFFORT = 2_500
"""Steps (one polygon cut out of another) that improving one offcut may take."""

_DIRECTIONS = tuple(math.radians(22.5 * i + 1.0) for i in range(16))
_NOWHERE = shapely.MultiPolygon()
_CORNERS = tuple(math.radians(90.0 * i + 31.0) for i in range(4))


@dataclass(frozen=True, slots=True)
class _Spot:
    """A wedge put down: the number of its pose, and its centre along the grain's frame."""

    pose: int
    x: float
    y: float


_Spots = tuple[_Spot, ...]
_NONE: _Spots = ()


@dataclass(slots=True, kw_only=True)
class _Bench:
    """All that the search looks up: where each pose fits, what each forbids the others."""

    poses: tuple[Pose, ...]
    fits: list[BaseGeometry]
    clear: dict[tuple[int, int], Floats]
    reach: float
    steps: int = 0
    limit: int = field(default=EFFORT)

    def keep_clear(self, there: _Spot, pose: int) -> BaseGeometry:
        return Polygon(self.clear[there.pose, pose] + (there.x, there.y))

    def without(self, open_to: list[BaseGeometry], spot: _Spot) -> list[BaseGeometry]:
        """What stays open to each pose once a wedge lies at `spot`."""
        self.steps += len(open_to)
        return [
            shape if shape.is_empty else less(shape, self.keep_clear(spot, pose))
            for pose, shape in enumerate(open_to)
        ]

    @property
    def spent(self) -> bool:
        return self.steps >= self.limit


def free_layout(
    offcut: Offcut,
    size: WedgeSize,
    *,
    kerf: float,
    grain_tolerance: float = 0.0,
    simplify: float = 0.0,
    effort: int = EFFORT,
) -> Layout:
    """Wedges of one size anywhere in one offcut, `kerf` mm apart; never fewer than strips give.

    Each wedge's axis runs along the grain either way, within `grain_tolerance` degrees.
    `simplify`: see `rosette.offcuts.region.simplified`. `effort` limits the improving, in steps.
    """
    strip = strip_layout(
        offcut, size, kerf=kerf, grain_tolerance=grain_tolerance, simplify=simplify
    )
    region = usable_region(offcut, tilt=-size.grain, simplify=simplify)
    bound = free_bound(region, size, kerf=kerf, grain_tolerance=grain_tolerance)
    steps, best = 0, _NONE
    if strip.placed < bound:
        bench = _bench(region, size, kerf, grain_tolerance, effort)
        start = _spots(strip, region.frame) if strip.tilt == -size.grain else _NONE
        best = _improved(bench, start, strip.placed, bound)
        steps = bench.steps
    if len(best) > strip.placed:
        placements = _placements(bench, best, region.frame, size.grain)
    else:
        placements = tuple(_unbanded(strip))
    return Layout(
        method="free",
        placements=placements,
        bound=max(bound, len(placements)),
        tilt=-size.grain,
        nodes=strip.nodes + steps,
    )


def _bench(region: Region, size: WedgeSize, kerf: float, tolerance: float, effort: int) -> _Bench:
    some = poses(size, tolerance)
    pairs = {
        (i, j): clearance(there, mine, kerf)
        for i, there in enumerate(some)
        for j, mine in enumerate(some)
    }
    return _Bench(
        poses=some,
        fits=[inner_fit(region.polygon, one.corners) for one in some],
        clear=pairs,
        reach=max(float(np.abs(one).max()) for one in pairs.values()),
        limit=effort,
    )


def _improved(bench: _Bench, start: _Spots, strip: int, bound: int) -> _Spots:
    """The best of the starts, filled up, then improved while the steps last."""
    best = _filled(bench, start, _DIRECTIONS[0])
    for direction in _DIRECTIONS:
        if len(best) >= bound or bench.steps >= bench.limit // 2:
            break
        tried = _filled(bench, (), direction)
        if len(tried) > len(best):
            best = tried
    # Improving a layout that is already behind the strips seldom overtakes them.
    if len(best) < strip:
        return best
    while len(best) < bound and not bench.spent:
        better = next(_one_more(bench, best), None)
        if better is None:
            break
        best = better
    return best


def _filled(bench: _Bench, spots: _Spots, direction: float) -> _Spots:
    """More wedges, each as far against `direction` (radians) as it goes, until none fits."""
    open_to = bench.fits
    for spot in spots:
        open_to = bench.without(open_to, spot)
    while (more := _furthest(bench, open_to, direction)) is not None:
        spots = (*spots, more)
        open_to = bench.without(open_to, more)
    return spots


def _furthest(bench: _Bench, open_to: list[BaseGeometry], direction: float) -> _Spot | None:
    """The place whose wedge reaches least far in `direction`, whichever its pose."""
    toward = np.array((math.cos(direction), math.sin(direction)))
    best: tuple[float, _Spot] | None = None
    for pose, shape in enumerate(open_to):
        points = shapely.get_coordinates(shape)
        if len(points) == 0:
            continue
        heights = points @ toward
        at = int(heights.argmin())
        far = float(heights[at] + (bench.poses[pose].corners @ toward).max())
        if best is None or far < best[0]:
            best = (far, _Spot(pose, float(points[at, 0]), float(points[at, 1])))
    return best[1] if best else None


def _one_more(bench: _Bench, spots: _Spots) -> Iterator[_Spots]:
    """Layouts with one wedge more: some neighbours out, one more in their place."""
    for removed in _neighbourhoods(spots):
        if bench.spent:
            return
        rest = tuple(spot for i, spot in enumerate(spots) if i not in removed)
        open_to = _open_near(bench, [spots[i] for i in removed], rest)
        added = _packed(bench, open_to, len(removed) + 1)
        if added is not None:
            yield _filled(bench, rest + added, _DIRECTIONS[0])


def _neighbourhoods(spots: _Spots) -> Iterator[tuple[int, ...]]:
    """Every wedge alone, then with a neighbour, then with two."""
    centres = np.array([(spot.x, spot.y) for spot in spots]).reshape(-1, 2)
    near = [
        [int(j) for j in np.argsort(np.hypot(*(centres - one).T), kind="stable")[1:5]]
        for one in centres
    ]
    yield from ((i,) for i in range(len(spots)))
    seen = set()
    for more in (1, 2):
        for i in range(len(spots)):
            for others in combinations(near[i], more):
                group = tuple(sorted((i, *others)))
                if group not in seen:
                    seen.add(group)
                    yield group


def _open_near(bench: _Bench, removed: list[_Spot], rest: _Spots) -> list[BaseGeometry]:
    """What is open to each pose about the wedges taken out, the rest lying where it lies."""
    xs, ys = [spot.x for spot in removed], [spot.y for spot in removed]
    reach = bench.reach * 0.75
    window = (min(xs) - reach, min(ys) - reach, max(xs) + reach, max(ys) + reach)
    close = [
        spot
        for spot in rest
        if window[0] - bench.reach < spot.x < window[2] + bench.reach
        and window[1] - bench.reach < spot.y < window[3] + bench.reach
    ]
    bench.steps += len(bench.fits)
    return [
        less(
            within(shape, window),
            shapely.union_all([bench.keep_clear(spot, pose) for spot in close], grid_size=GRID),
        )
        for pose, shape in enumerate(bench.fits)
    ]


def _packed(bench: _Bench, open_to: list[BaseGeometry], count: int) -> _Spots | None:
    """`count` wedges in what is open, each in one of its corners; None where that fails."""
    if count == 0:
        return ()
    if bench.spent:
        return None
    tried = set()
    for direction in _CORNERS:
        for pose in range(len(open_to)):
            only = [shape if i == pose else _NOWHERE for i, shape in enumerate(open_to)]
            spot = _furthest(bench, only, direction)
            if spot is None or spot in tried:
                continue
            tried.add(spot)
            if count == 1:
                return (spot,)
            more = _packed(bench, bench.without(open_to, spot), count - 1)
            if more is not None:
                return (spot, *more)
    return None


def _spots(strip: Layout, frame: Frame) -> _Spots:
    centres = frame.along_grain(np.array([one.centre for one in strip.placements]).reshape(-1, 2))
    return tuple(
        _Spot(int(one.flipped), float(x), float(y))
        for one, (x, y) in zip(strip.placements, centres, strict=True)
    )


def _placements(bench: _Bench, spots: _Spots, frame: Frame, grain: float) -> tuple[Placement, ...]:
    """The wedges in the offcut's own coordinates, along the grain and then across it."""
    ordered = sorted(spots, key=lambda spot: (spot.y, spot.x))
    return tuple(
        _placement(bench.poses[spot.pose], spot, order, frame, grain)
        for order, spot in enumerate(ordered, 1)
    )


def _placement(pose: Pose, spot: _Spot, order: int, frame: Frame, grain: float) -> Placement:
    a, b, c, d = (frame.own(spot.x + float(x), spot.y + float(y)) for x, y in pose.corners)
    return Placement(
        band=1,
        order=order,
        flipped=pose.way == 1,
        centre=frame.own(spot.x, spot.y),
        vertices=(a, b, c, d),
        turn=pose.turn - grain,
    )


def _unbanded(strip: Layout) -> Iterator[Placement]:
    for order, one in enumerate(strip.placements, 1):
        yield replace(one, band=1, order=order)
