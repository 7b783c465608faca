"""Counts: the largest that works, the one chosen for a width, and sequences."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosette.errors import CannotMakeError
from rosette.geometry.wedge import MOST_SEGMENTS, most_segments, width_at
from rosette.plan import make_plan
from tests.properties.designs import design, line, radial


@settings(max_examples=200, deadline=None)
@given(st.floats(2, 100), st.floats(0.05, 8))
def test_the_largest_count_works_and_one_more_does_not(radius: float, joint: float) -> None:
    """Corners stand at `radius` while the wedge is wider than nothing there: R·sin(α − β) > 0."""
    most = most_segments(radius, joint=joint)

    def chord(segments: int) -> float:
        return math.sin(math.pi / segments - math.asin(min(1.0, joint / 2 / radius)))

    if most:
        assert chord(most) > 0
    if most < MOST_SEGMENTS and joint < 2 * radius:
        assert chord(max(most + 1, 3)) <= 1e-9


def refused(**keys: Any) -> str:
    with pytest.raises(CannotMakeError) as caught:
        make_plan(design([radial(**keys)]))
    return str(caught.value)


def test_the_refusal_names_the_largest_count_that_works() -> None:
    spacer = {"wood": "maple", "thickness": 1.5}
    said = refused(segments=300, spacer=spacer)
    most = int(said.split("at most ")[1].split()[0])
    assert make_plan(design([radial(segments=most, spacer=spacer)])).rings[0].wedges
    assert f"at most {most}" in refused(segments=most + 1, spacer=spacer)


def test_joints_that_leave_nothing() -> None:
    assert "thinner joints" in refused(spacer={"wood": "maple", "thickness": 120.0})


@pytest.mark.parametrize("wood", [["walnut"], ["walnut", "maple"], ["a", "b", "c"], list("abcde")])
@pytest.mark.parametrize("wanted", [2.0, 9.0, 14.0])
def test_the_count_chosen_is_the_nearest_that_suits(wood: list[str], wanted: float) -> None:
    ring = make_plan(design([radial(segments=None, segment_width=wanted, wood=wood)])).rings[0]
    assert ring.wedges is not None
    chosen = ring.wedges.segments
    suiting = [n for n in range(4, 721) if n % 2 == 0 and n % len(wood) == 0]
    widths = {n: 2 * 70 * math.sin(math.pi / n) for n in suiting}
    assert chosen == min(suiting, key=lambda n: abs(widths[n] - wanted))
    assert ring.wedges.chosen is not None
    assert ring.wedges.chosen.text().startswith(f"{chosen} wedges chosen: {widths[chosen]:.2f} mm")


def test_a_sequence_that_breaks_off_is_warned() -> None:
    plan = make_plan(design([radial(segments=35, wood=["walnut", "maple"])]))
    said = {one.code: one.text() for one in plan.warnings}
    assert "34 or 36 would close it" in said["broken-sequence"]
    assert "odd-count" in said


@pytest.mark.parametrize("segments", [3, 6, 180, 720])
def test_extreme_counts(segments: int) -> None:
    wedges = make_plan(design([radial(segments=segments)])).rings[0].wedges
    assert wedges is not None
    assert wedges.mitre_angle == 180 / segments
    assert wedges.blank.outer_width == pytest.approx(width_at(71.5, segments=segments))


def test_a_hair_thin_ring_is_warned() -> None:
    plan = make_plan(design([radial(width=1.2)]))
    assert "narrow-ring" in {one.code for one in plan.warnings}


def test_an_allowance_past_the_centre_is_refused() -> None:
    with pytest.raises(CannotMakeError, match="reaches past the centre"):
        make_plan(design([radial()], cutting={"inner_allowance": 52.0}))


def test_a_line_under_the_fingerboard() -> None:
    """Seen: the circle less 2·asin(w/2r) of it; cut: 10 mm more at each end."""
    strip = make_plan(design([line(inner_radius=60.0)])).rings[0].strip
    assert strip is not None
    seen = 61.2 * (2 * math.pi - 2 * math.asin(57 / 2 / 61.2))
    assert strip.visible_length == pytest.approx(seen)
    assert strip.cut_length == pytest.approx(seen + 20)
    assert strip.full_length == pytest.approx(2 * math.pi * 61.2 + 10)


def test_a_line_in_the_open_goes_all_round() -> None:
    plan = make_plan(design([line(inner_radius=60.0)], instrument={"fingerboard_reach": 80.0}))
    strip = plan.rings[0].strip
    assert strip is not None
    assert strip.cut_length == strip.full_length
    assert "ends-seen" in {one.code for one in plan.warnings}
