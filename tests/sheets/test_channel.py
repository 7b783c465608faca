"""The channel's sheet: walls where the plan has them, every setting told, no wood left standing."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise

import pytest
from shapely.geometry import Point

from rosette.sheets.channel import drawings, wall_radii
from rosette.sheets.channel_passes import passes_tables, step_passes
from rosette.sheets.channel_section import profile, spread
from rosette.sheets.drawing import Circle, Text
from tests.sheets.hard_plans import RINGS, bare, plan


def circles(name: str) -> dict[str, Circle]:
    return {
        one.name: one
        for sheet in drawings(plan(name))
        for one in sheet.elements
        if isinstance(one, Circle) and one.name
    }


@pytest.mark.parametrize("name", RINGS)
def test_walls_stand_a_gap_outside_the_rings(name: str) -> None:
    made, found = plan(name), circles(name)
    for channel in made.channels:
        rings = [ring for ring in made.rings if ring.index in channel.rings]
        inner = min(ring.inner_radius for ring in rings) - 0.05
        outer = max(ring.outer_radius for ring in rings) + 0.05
        for word, size in (("inner", inner), ("outer", outer)):
            wall = found[f"channel-{channel.index}-{word}"]
            assert wall.radius == pytest.approx(size, abs=1e-9)
            assert wall.layer == "cut"
            assert wall.centre == found["pivot"].centre
    assert found["soundhole"].radius == pytest.approx(45.0)


@pytest.mark.parametrize("name", RINGS)
def test_the_settings_clear_each_step_and_no_more(name: str) -> None:
    for channel in plan(name).channels:
        told = []
        for step in channel.steps:
            passes = step_passes(channel, step)
            told += passes
            swept = Point(0.0, 0.0).buffer(0.0)
            for one in passes:
                bit = channel.bit_diameter / 2.0
                ring = Point(0.0, 0.0).buffer(one.pivot_radius + bit, 256) - Point(0.0, 0.0).buffer(
                    one.pivot_radius - bit, 256
                )
                swept = swept.union(ring)
            area = math.pi * (step.outer_radius**2 - step.inner_radius**2)
            assert swept.area == pytest.approx(area, rel=1e-3)
            assert max(one.depth for one in passes) == pytest.approx(step.depth)
        assert sorted(map(id, told)) == sorted(map(id, channel.passes))


@pytest.mark.parametrize("name", ["36 wedges with spacers", "three depths", "180 wedges"])
def test_every_setting_is_in_the_tables_with_both_edges_of_the_bit(name: str) -> None:
    made = plan(name)
    words = {
        one.text for sheet in drawings(made) for one in sheet.elements if isinstance(one, Text)
    }
    for channel in made.channels:
        for one in channel.passes:
            for size in (-channel.bit_diameter / 2, 0.0, channel.bit_diameter / 2):
                told = Decimal(f"{one.pivot_radius + size:.9f}").quantize(
                    Decimal("0.01"), ROUND_HALF_UP
                )
                assert str(told) in words


@pytest.mark.parametrize("name", RINGS)
def test_each_table_of_settings_stands_on_a_page(name: str) -> None:
    for channel in plan(name).channels:
        assert all(table.height < 230.0 for table in passes_tables(channel, "mm"))


def test_the_section_follows_each_rings_own_depth() -> None:
    # tiles of 1.2, 2.2 and 1.6 mm, 0.2 proud: 1.0, 2.0 and 1.4 deep
    (channel,) = plan("three depths").channels
    floor = profile(channel)
    depths = [-height for _, height in floor[1:-1:2]]
    assert depths == pytest.approx([1.0, 2.0, 1.4])
    assert (floor[0], floor[-1]) == (
        (pytest.approx(49.95), 0.0),
        (pytest.approx(70.45), 0.0),
    )


def test_the_fingerboard_is_shown_only_where_there_is_one() -> None:
    def said(of: object) -> str:
        return " ".join(
            one.text
            for sheet in drawings(of)  # type: ignore[arg-type]
            for one in sheet.elements
            if isinstance(one, Text)
        )

    assert "the fingerboard hides" in said(plan("12 wedges"))
    assert "fingerboard" not in said(bare("12 wedges"))


def test_each_radius_is_told_once() -> None:
    sizes = wall_radii(plan("24 wedges of two woods between lines"))
    assert sizes == sorted(sizes)
    assert len({round(size, 6) for size in sizes}) == len(sizes)


def test_names_pushed_apart_keep_their_order_and_room() -> None:
    places = spread([0.0, 1.0, 1.5, 40.0], [10.0, 10.0, 10.0, 10.0])
    assert all(b - a >= 10.0 - 1e-9 for a, b in pairwise(places))
