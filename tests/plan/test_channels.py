"""Channels: grouping, depth, passes, and each refusal with what would work."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosette.errors import CannotMakeError
from rosette.plan import Plan, make_plan
from rosette.plan.passes import depths, pivot_radii
from tests.properties.designs import design, line, radial


def plan(*rings: dict[str, Any], **tables: dict[str, Any]) -> Plan:
    return make_plan(design(list(rings), **tables))


def refusal(*rings: dict[str, Any], **tables: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(CannotMakeError) as caught:
        plan(*rings, **tables)
    return {one.code: one.text() for one in caught.value.findings}


def codes(made: Plan) -> set[str]:
    return {one.code for one in made.warnings}


def test_rings_that_touch_share_a_channel() -> None:
    made = plan(radial(), line())
    assert [channel.rings for channel in made.channels] == [(1, 2)]
    (channel,) = made.channels
    assert channel.inner_radius == pytest.approx(52 - 0.05)
    assert channel.outer_radius == pytest.approx(71.2 + 0.05)
    assert channel.depth == pytest.approx(2.2 - 0.2)
    assert channel.floor == pytest.approx(3.5 - 2.0)


def test_wall_settings() -> None:
    """Pivot to bit centre: Ro + gap − bit/2 and Ri − gap + bit/2 (docs/formulas.md)."""
    made = plan(radial(), channel={"bit_diameter": 3.175})
    at = {one.wall: one.pivot_radius for one in made.channels[0].passes if one.wall != "clear"}
    assert at["outer"] == pytest.approx(70 + 0.05 - 3.175 / 2)
    assert at["inner"] == pytest.approx(52 - 0.05 + 3.175 / 2)


@settings(max_examples=200, deadline=None)
@given(st.floats(10, 100), st.floats(0.5, 40), st.floats(0.5, 10))
def test_passes_clear_the_whole_channel(inner: float, width: float, bit: float) -> None:
    """The bit never crosses a wall, and neighbours overlap by a third of it or more."""
    width = max(width, bit)
    radii = sorted(radius for radius, _ in pivot_radii(inner, inner + width, bit))
    assert radii[0] - bit / 2 == pytest.approx(inner, abs=1e-8)
    assert radii[-1] + bit / 2 == pytest.approx(inner + width, abs=1e-8)
    assert all(b - a <= bit * 2 / 3 + 1e-9 for a, b in pairwise(radii))


@settings(max_examples=200, deadline=None)
@given(st.floats(0, 2), st.floats(0.05, 3), st.floats(0.05, 2))
def test_no_pass_is_deeper_than_asked(top: float, more: float, per_pass: float) -> None:
    down = depths(top, top + more, per_pass)
    assert down[-1] == top + more
    assert all(0 < b - a <= per_pass + 1e-9 for a, b in pairwise([top, *down]))


def test_depths_that_differ_are_steps_of_one_channel() -> None:
    made = plan(radial(backing=0.6), line(tile_thickness=1.5))
    (channel,) = made.channels
    assert [(s.rings, s.top, s.depth) for s in channel.steps] == [
        ((1, 2), 0.0, pytest.approx(1.3)),
        ((1,), pytest.approx(1.3), pytest.approx(2.6)),
    ]
    assert channel.steps[1].outer_radius == pytest.approx(70.05)
    assert channel.depth == pytest.approx(2.6)


def test_a_deep_ring_between_two_lines_and_two_deep_rings_about_a_line() -> None:
    made = plan(line(inner_radius=50.0), radial(inner_radius=None, backing=0.5), line())
    assert [s.rings for s in made.channels[0].steps] == [(1, 2, 3), (2,)]
    made = plan(radial(width=8.0, backing=0.5), line(), radial(inner_radius=None, backing=0.5))
    assert [s.rings for s in made.channels[0].steps] == [(1, 2, 3), (1,), (3,)]


def test_a_channel_through_the_top_names_the_deepest_that_works() -> None:
    said = refusal(radial(tile_thickness=3.8))["floor-too-thin"]
    assert "goes through the 3.50 mm top" in said
    assert "deepest that works is 2.70 mm, with tile_thickness 2.90 mm" in said
    assert make_plan(design([radial(tile_thickness=2.9)])).channels[0].floor == pytest.approx(0.8)


def test_too_little_floor_is_refused_and_says_what_is_left() -> None:
    said = refusal(radial(), instrument={"top_thickness": 2.7})["floor-too-thin"]
    assert "2.00 mm deep leaves 0.70 mm of the 2.70 mm top, and 0.80 mm must stay" in said


def test_more_than_half_the_top_is_warned() -> None:
    assert "thin-floor" in codes(plan(radial()))
    assert "thin-floor" not in codes(plan(radial(tile_thickness=1.9)))


def test_a_bit_too_wide_names_the_widest_that_goes() -> None:
    said = refusal(radial(width=3.0), channel={"bit_diameter": 3.175})["bit-too-wide"]
    assert "3.175 mm" in said
    assert "3.100 mm or less" in said
    both = plan(
        radial(), line(space=2.0, bit_diameter=1.0), channel={"bit_diameter": 3.175}
    ).channels
    assert [channel.bit_diameter for channel in both] == [3.175, 1.0]


def test_overlapping_rings_are_refused() -> None:
    assert (
        "start it at 70.00 mm or more"
        in refusal(radial(), radial(inner_radius=69.0))["rings-overlap"]
    )


def test_a_ring_inside_the_soundhole_is_refused() -> None:
    assert "start it at 45.00 mm" in refusal(radial(inner_radius=44.0))["in-soundhole"]


@pytest.mark.parametrize(
    ("space", "warned"), [(0.0, False), (0.05, True), (0.5, True), (0.9, False)]
)
def test_slivers_of_soundboard(space: float, warned: bool) -> None:
    """Under 0.8 mm between two walls breaks out (common practice)."""
    made = plan(radial(), line(space=space))
    assert ("sliver" in codes(made)) is warned
    assert len(made.channels) == (1 if space <= 0.1 else 2)


def test_passes_without_end_are_refused() -> None:
    assert "too-many-passes" in refusal(radial(), channel={"bit_diameter": 0.001})


def test_every_reason_is_told_at_once() -> None:
    said = refusal(
        radial(segments=700, spacer={"wood": "maple", "thickness": 1.0}, tile_thickness=3.4),
    )
    assert {"no-inner-edge", "floor-too-thin"} <= said.keys()


def test_a_gap_past_the_centre_is_refused_and_a_wide_one_warned_of() -> None:
    """Room for glue: 0.76 mm in all at the most (common practice)."""
    told = refusal(radial(inner_radius=52), channel={"gap": 60.0})
    assert "0.05 mm" in told["gap-too-wide"]
    assert "wide-gap" in codes(plan(radial(), channel={"gap": 0.39}))
    assert "wide-gap" not in codes(plan(radial(), channel={"gap": 0.38}))


def test_a_kerf_wider_than_any_saw_is_doubted() -> None:
    """A full table saw takes 3.2 mm (common practice)."""
    assert "wide-kerf" in codes(plan(radial(), cutting={"kerf": 22.86}))
    assert "wide-kerf" not in codes(plan(radial(), cutting={"kerf": 3.2}))
