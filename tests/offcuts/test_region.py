"""The usable wood: what is taken away, what is left out, what is refused."""

from __future__ import annotations

import math

import pytest
from shapely.affinity import rotate
from shapely.geometry import Polygon

from rosette.errors import InputError
from rosette.offcuts.model import Offcut, WedgeSize
from rosette.offcuts.region import simplified, usable_region
from rosette.offcuts.strip import strip_layout
from tests.offcuts.scraps import scrap
from tests.offcuts.sizes import TWENTY_FOUR

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0))


@pytest.mark.parametrize(
    ("grain", "width", "height"), [(0, 60, 100), (90, 100, 60), (180, 60, 100)]
)
def test_quarter_turns_are_exact(grain: float, width: float, height: float) -> None:
    region = usable_region(Offcut(id="a", outline=SQUARE, grain=grain))
    left, low, right, high = region.polygon.bounds
    assert (right - left, high - low) == (width, height)


@pytest.mark.parametrize("grain", [0.0, 17.0, 90.0, 233.3])
def test_the_frame_goes_there_and_back_and_turns_the_grain_up(grain: float) -> None:
    region = usable_region(Offcut(id="a", outline=SQUARE, grain=grain))
    back = [region.frame.own(x, y) for x, y in region.polygon.geoms[0].exterior.coords]
    assert Polygon(back).symmetric_difference(Polygon(SQUARE)).area < 1e-9
    ax, ay = region.frame.own(0.0, 0.0)
    bx, by = region.frame.own(0.0, 1.0)
    heading = math.radians(grain)
    assert (bx - ax, by - ay) == pytest.approx((math.cos(heading), math.sin(heading)))


def test_defects_and_holes_are_taken_away_even_where_they_reach_past_the_outline() -> None:
    region = usable_region(
        Offcut(
            id="a",
            outline=SQUARE,
            holes=(((10, 10), (20, 10), (20, 20), (10, 20)),),
            defects=(
                ((15, 15), (25, 15), (25, 25), (15, 25)),
                ((90, -50), (200, -50), (200, 200), (90, 200)),
            ),
        )
    )
    assert region.area == pytest.approx(90 * 60 - 100 - 100 + 25)


def test_a_crack_right_across_leaves_two_parts_and_no_slivers() -> None:
    crack = ((-1, 30), (101, 30), (101, 31), (-1, 31))
    edge = ((-1, -1), (101, -1), (101, 1e-6), (-1, 1e-6))
    shaving = ((-1, 6e-6), (101, 6e-6), (101, 5), (-1, 5))
    region = usable_region(Offcut(id="a", outline=SQUARE, defects=(crack, edge, shaving)))
    assert sorted(part.area for part in region.polygon.geoms) == pytest.approx([2500, 2900])


def test_wood_that_is_all_defect_holds_nothing() -> None:
    layout = strip_layout(Offcut(id="a", outline=SQUARE, defects=(SQUARE,)), TWENTY_FOUR, kerf=1)
    assert (layout.placed, layout.bound, layout.cuts) == (0, 0, ())


@pytest.mark.parametrize(
    ("outline", "why"),
    [
        (((0, 0), (10, 0)), "2 points"),
        (((0, 0), (10, 0), (20, 0)), "no area"),
        (((0, 0), (10, 10), (10, 0), (0, 10)), r"Self-intersection\[5 5\]"),
    ],
)
def test_an_outline_that_is_none_is_refused_by_name(
    outline: tuple[tuple[float, float], ...], why: str
) -> None:
    with pytest.raises(InputError, match=rf"offcut\[S2\].outline: .*{why}"):
        usable_region(Offcut(id="S2", outline=outline))
    with pytest.raises(InputError, match=r"offcut\[S2\].defect\[1\]"):
        usable_region(Offcut(id="S2", outline=SQUARE, defects=(outline,)))


@pytest.mark.parametrize("seed", range(40))
def test_a_simplified_outline_has_fewer_vertices_and_is_all_wood(seed: int) -> None:
    offcut = scrap(seed, vertices=400)
    wood = Polygon(offcut.outline)
    slim = simplified(wood, 0.2)
    assert wood.buffer(1e-9).covers(slim)
    assert len(slim.exterior.coords) < len(wood.exterior.coords)
    assert slim.area > wood.area - 0.45 * wood.length


def test_the_wedges_of_a_simplified_outline_lie_in_the_wood() -> None:
    offcut = scrap(12, vertices=400)
    layout = strip_layout(offcut, TWENTY_FOUR, kerf=0.9, simplify=0.2)
    wood = Polygon(offcut.outline)
    assert layout.placed > 0
    assert all(wood.buffer(1e-9).covers(Polygon(one.vertices)) for one in layout.placements)


def test_sizes_that_are_none_are_refused() -> None:
    for inner, outer, height in ((0, 5, 5), (6, 5, 5), (4, math.inf, 5), (4, 5, 0), (4, 5, -1)):
        with pytest.raises(ValueError, match="wedge's"):
            WedgeSize(inner_width=inner, outer_width=outer, height=height)


def test_rotating_the_polygon_by_hand_gives_the_same_shape() -> None:
    offcut = scrap(7)
    region = usable_region(offcut)
    wood = Polygon(offcut.outline)
    for ring in offcut.defects:
        wood = wood.difference(Polygon(ring))
    by_hand = rotate(wood, 90 - offcut.grain, origin=region.frame.origin)
    left, low = region.frame.origin
    moved = Polygon([(x + left, y + low) for x, y in region.polygon.geoms[0].exterior.coords])
    assert by_hand.symmetric_difference(moved).area < 1e-3 + sum(
        Polygon(ring.coords).area for ring in region.polygon.geoms[0].interiors
    )
