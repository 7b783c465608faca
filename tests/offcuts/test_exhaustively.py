"""Each part of the strip method against trying everything on small cases."""

from __future__ import annotations

import itertools
import math
import random

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon

from rosette.offcuts.bands import best_bands
from rosette.offcuts.centres import Centres, feasible_centres
from rosette.offcuts.model import Offcut, WedgeSize
from rosette.offcuts.region import usable_region
from rosette.offcuts.rows import Apart, most_in_rows, row_layout
from rosette.offcuts.strip import strip_layout
from tests.offcuts.checker import faults
from tests.offcuts.scraps import scrap
from tests.offcuts.sizes import SIZES


def trapezoid(size: WedgeSize, x: float, y: float, flipped: bool) -> Polygon:
    a, b = size.inner_width / 2, size.outer_width / 2
    if flipped:
        a, b = b, a
    return Polygon([(x - a, y), (x + a, y), (x + b, y + size.height), (x - b, y + size.height)])


@pytest.mark.parametrize("seed", range(25))
def test_feasible_centres_are_those_whose_wedge_the_wood_covers(seed: int) -> None:
    region, size = usable_region(scrap(seed)), SIZES[seed % 3]
    rng = random.Random(seed)
    left, low, right, high = region.polygon.bounds
    starts = np.array([rng.uniform(low, high - size.height / 2) for _ in range(12)])
    (centres,) = feasible_centres(region.edges, size, starts, starts)
    slim = region.polygon.buffer(1e-6)
    for row, y in enumerate(starts):
        for way in (0, 1):
            spans = list(zip(centres.first[way, row], centres.last[way, row], strict=True))
            ends = [x for span in spans if np.isfinite(span[0]) for x in span]
            assert ends == sorted(ends)
            for x in [rng.uniform(left, right) for _ in range(40)] + ends:
                claimed = any(a <= x <= b for a, b in spans)
                shape = trapezoid(size, x, y, way == 1)
                assert slim.covers(shape) if claimed else not region.polygon.covers(shape)


def longest(spans: list[list[tuple[float, float]]], apart: Apart) -> int:
    """The longest of all sequences of ways up, each placed as far left as it goes."""
    best = 0
    for count in itertools.count(1):
        fits = False
        for ways in itertools.product((0, 1), repeat=count):
            x, before = -math.inf, None
            for way in ways:
                if before is not None:
                    x += apart.same if way == before else apart.opposite
                x = next((max(a, x) for a, b in spans[way] if b >= x), math.inf)
                before = way
            fits = fits or x < math.inf
        if not fits:
            return best
        best = count
    return best


def random_spans(rng: random.Random) -> list[tuple[float, float]]:
    ends = sorted(rng.uniform(0, 60) for _ in range(2 * rng.randint(0, 4)))
    return list(zip(ends[::2], ends[1::2], strict=True))


@pytest.mark.parametrize("seed", range(60))
def test_the_most_in_a_row_is_the_longest_of_all_sequences(seed: int) -> None:
    rng = random.Random(seed)
    opposite = rng.uniform(7, 14)
    apart = Apart(opposite=opposite, same=opposite + rng.choice((0, rng.uniform(0, 6))))
    spans = [random_spans(rng), random_spans(rng)]
    width = max(1, *map(len, spans))
    first, last = np.full((2, 1, width), np.inf), np.full((2, 1, width), np.inf)
    for way in (0, 1):
        for i, (a, b) in enumerate(spans[way]):
            first[way, 0, i], last[way, 0, i] = a, b
    centres = Centres(first=first, last=last)
    wanted = longest(spans, apart)
    assert most_in_rows(centres, (0, 1), apart).tolist() == [wanted]
    seats = row_layout(centres, 0, (0, 1), apart)
    assert len(seats) == wanted
    for way in (0, 1):
        only = longest([spans[way] if w == way else [] for w in (0, 1)], apart)
        assert most_in_rows(centres, (way,), apart).tolist() == [only]


def best_by_hand(steps: list[tuple[float, float, int]], end: float, pitch: float) -> int:
    """The most over bands `pitch` apart where a band at y holds the largest count that covers it.

    Every band can be pushed down until it starts at the lower end of a step or rests on the
    band below: those starts are tried, all of them.
    """

    def held(y: float) -> int:
        return max((c for a, b, c in steps if a <= y <= b), default=0)

    starts = {y + i * pitch for y in [0.0, *(a for a, _, _ in steps)] for i in range(12)}
    totals: dict[float, int] = {}
    for y in sorted(y for y in starts if y <= end):
        before = max((t for z, t in totals.items() if z + pitch <= y + 1e-12), default=0)
        totals[y] = before + held(y)
    return max(totals.values(), default=0)


@pytest.mark.parametrize("seed", range(120))
def test_bands_over_known_steps_are_the_best_of_all(seed: int) -> None:
    """Some steps are hundredths of a millimetre long: a sweep would miss them."""
    rng = random.Random(seed)
    end, pitch = rng.uniform(5, 70), rng.uniform(6, 12)
    steps = []
    for _ in range(rng.randint(1, 9)):
        a = rng.uniform(0, end)
        long = rng.choice((0.01, 0.05, rng.uniform(0.1, 25)))
        steps.append((a, min(a + long, end), rng.randint(1, 5)))

    def most(low: np.ndarray, high: np.ndarray) -> np.ndarray:
        return np.array(
            [
                max((c for a, b, c in steps if a <= y2 and b >= y1), default=0)
                for y1, y2 in zip(low, high, strict=True)
            ]
        )

    found = best_bands(
        most, lowest=0.0, highest=end, pitch=pitch, special=np.empty(0), step=pitch / 8
    )
    assert found.total == sum(most(np.array(found.starts), np.array(found.starts)))
    assert all(b >= a + pitch for a, b in itertools.pairwise(found.starts))
    assert found.total <= best_by_hand(steps, end, pitch) <= found.bound
    assert found.total == found.bound


def on_a_grid(offcut: Offcut, size: WedgeSize, kerf: float, step: float) -> int:
    """The most that a sweep of both directions in `step` mm finds, on shapely's word alone."""
    wood = Polygon(offcut.outline)
    for ring in offcut.defects:
        wood = wood.difference(Polygon(ring))
    left, low, right, high = wood.bounds
    slant = kerf / math.cos(math.atan2((size.outer_width - size.inner_width) / 2, size.height))
    opposite = (size.inner_width + size.outer_width) / 2 + slant
    xs = np.arange(left, right, step)
    ys = np.arange(low, high - size.height + 1e-9, step)
    shapely.prepare(wood)
    total = np.zeros(len(ys) + 1, dtype=int)
    for i, y in enumerate(ys):
        fits = {
            way: [
                float(x)
                for x in xs[shapely.covers(wood, [trapezoid(size, x, y, way == 1) for x in xs])]
            ]
            for way in (0, 1)
        }
        spans = [[(x, x) for x in fits[way]] for way in (0, 1)]
        row = greedy(spans, Apart(opposite=opposite, same=size.outer_width + slant))
        below = np.flatnonzero(ys + size.height + kerf <= y + 1e-9)
        total[i + 1] = max(total[i], row + (total[below[-1] + 1] if len(below) else 0))
    return int(total[-1])


def greedy(spans: list[list[tuple[float, float]]], apart: Apart) -> int:
    """The longest row over single centres, by trying every wedge as the next one."""
    best: dict[tuple[float, int], int] = {}
    for x, way in sorted((x, up) for up in (0, 1) for x, _ in spans[up]):
        reach = [
            count
            for (z, other), count in best.items()
            if z + (apart.same if other == way else apart.opposite) <= x + 1e-9
        ]
        best[x, way] = 1 + max(reach, default=0)
    return max(best.values(), default=0)


@pytest.mark.parametrize("seed", range(14))
def test_no_fine_grid_finds_more_than_the_proved_bound(seed: int) -> None:
    rng = random.Random(seed)
    corners = [(0, 0), (rng.randint(20, 40), rng.randint(-4, 6))]
    corners += [
        (rng.randint(20, 40), rng.randint(20, 36)),
        (rng.randint(-6, 8), rng.randint(18, 36)),
    ]
    x, y = rng.randint(6, 20), rng.randint(4, 18)
    knot = ((x, y), (x + 2, y), (x + 2, y + 3), (x, y + 3))
    offcut = Offcut(
        id="small", outline=tuple(corners), grain=90.0, defects=(knot,) if seed % 2 else ()
    )
    size = WedgeSize(inner_width=4.0, outer_width=rng.choice((5.0, 6.0)), height=8.0)
    kerf = rng.choice((0.0, 0.5))
    layout = strip_layout(offcut, size, kerf=kerf)
    assert faults(offcut, size, layout, kerf=kerf) == []
    assert layout.proved
    assert on_a_grid(offcut, size, kerf, 0.5) <= layout.placed


def planted(seed: int) -> tuple[Offcut, WedgeSize, float, int]:
    """A scrap shaped round a layout that fits it exactly, with no slack anywhere."""
    rng = random.Random(seed)
    size, kerf = SIZES[seed % 3], rng.choice((0.0, 0.4, 1.3))
    slant = kerf / math.cos(math.atan2((size.outer_width - size.inner_width) / 2, size.height))
    step = (size.inner_width + size.outer_width) / 2 + slant
    rows, y, count = [], 0.0, 0
    for _ in range(rng.randint(1, 5)):
        n, x, way = rng.randint(1, 6), rng.uniform(3, 5), rng.random() < 0.5
        shapes = [trapezoid(size, x + i * step, y, way ^ (i % 2 == 1)) for i in range(n)]
        rows.append(shapely.union_all(shapes).convex_hull)
        if len(rows) > 1:
            rows.append(shapely.box(3.5, y - kerf - 1, 4.5, y + 1))
        y, count = y + size.height + kerf, count + n
    (wood,) = shapely.get_parts(shapely.union_all(rows))
    angle = rng.uniform(0, 360)
    turned = shapely.affinity.rotate(wood, angle, origin=(0, 0))
    outline = tuple(turned.exterior.coords[:-1])
    return Offcut(id="planted", outline=outline, grain=90.0 + angle), size, kerf, count


@pytest.mark.parametrize("seed", range(40))
def test_a_layout_that_a_scrap_was_shaped_round_is_found(seed: int) -> None:
    offcut, size, kerf, count = planted(seed)
    layout = strip_layout(offcut, size, kerf=kerf)
    assert layout.placed >= count
    assert layout.proved
    assert faults(offcut, size, layout, kerf=kerf) == []
