"""Where rings start and end: each way of saying it says the same."""

from __future__ import annotations

from typing import Any

import pytest

from tests.properties.designs import design, line, radial


def radii(*rings: dict[str, Any], **tables: Any) -> list[tuple[float, float]]:
    return [(ring.inner_radius, ring.outer_radius) for ring in design(list(rings), **tables).rings]


def test_inner_radius_and_width() -> None:
    assert radii(radial(inner_radius=52.0, width=18.0)) == [(52.0, 70.0)]


def test_inner_and_outer_radius() -> None:
    assert radii(radial(inner_radius=52.0, width=None, outer_radius=70.0)) == [(52.0, 70.0)]


def test_all_three_where_they_agree() -> None:
    assert radii(radial(inner_radius=52.0, width=18.0, outer_radius=70.0)) == [(52.0, 70.0)]


def test_the_first_rings_space_counts_from_the_soundhole() -> None:
    # a soundhole 90 across, 3 of soundboard, a ring 18 wide
    assert radii(radial(inner_radius=None, space=3.0)) == [(48.0, 66.0)]
    assert radii(radial(inner_radius=None, space=0)) == [(45.0, 63.0)]


def test_the_next_ring_starts_where_the_one_before_ends() -> None:
    assert radii(radial(), line(), line(space=2.0), line(inner_radius=80.0)) == [
        (52.0, 70.0),
        (70.0, 71.2),
        (73.2, 74.4),
        (80.0, 81.2),
    ]


def test_spaces_are_read_in_the_files_units() -> None:
    (placed,) = radii(radial(inner_radius=None, space="1/8 in", width="1 in"))
    assert placed == pytest.approx((45 + 3.175, 45 + 3.175 + 25.4))


def test_rings_that_overlap_are_for_the_plan_to_refuse() -> None:
    assert radii(radial(), line(inner_radius=60.0)) == [(52.0, 70.0), (60.0, 61.2)]
