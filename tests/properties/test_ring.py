"""What must be true of every ring of wedges, checked with shapely and plain geometry."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box, unary_union

from rosette.geometry.hidden import Visibility
from rosette.patterns.base import Piece, RingPlan
from rosette.plan import make_plan
from tests.properties.designs import design, line, radial, radial_rings

FLAT = 1e-4
"""Arcs are flattened this finely (mm) for shapely."""


def shape(piece: Piece) -> Polygon:
    return Polygon(piece.outline.points(FLAT), [hole.points(FLAT) for hole in piece.holes])


def ring_of(keys: dict[str, Any], **tables: dict[str, Any]) -> RingPlan:
    return make_plan(design([keys], **tables)).rings[0]


def annulus_area(ring: RingPlan) -> float:
    return math.pi * (ring.outer_radius**2 - ring.inner_radius**2)


@settings(max_examples=60, deadline=None)
@given(radial_rings())
def test_pieces_and_joints_fill_the_annulus(keys: dict[str, Any]) -> None:
    """Finished areas, exact, and the joints' own areas by integration add up to the annulus."""
    ring = ring_of(keys)
    assert ring.wedges is not None
    half = ring.wedges.joint / 2

    def joint_within(radius: float) -> float:
        # area of the strip |y| ≤ d/2, x ≥ 0 inside a disc
        return half * math.sqrt(radius**2 - half**2) + radius**2 * math.asin(half / radius)

    joints = ring.wedges.segments * (
        joint_within(ring.outer_radius) - joint_within(ring.inner_radius)
    )
    pieces = sum(piece.outline.area() for piece in ring.pieces)
    assert pieces + joints == pytest.approx(annulus_area(ring), abs=1e-6)
    assert ring.wedges.finished.area == pytest.approx(pieces / ring.wedges.segments, abs=1e-8)


@settings(max_examples=25, deadline=None)
@given(radial_rings())
def test_no_two_pieces_overlap(keys: dict[str, Any]) -> None:
    ring = ring_of(keys)
    shapes = [shape(piece) for piece in (*ring.pieces, *ring.spacers)]
    assert all(one.is_valid for one in shapes)
    total = sum(one.area for one in shapes)
    assert unary_union(shapes).area == pytest.approx(total, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(radial_rings())
def test_the_blank_covers_its_finished_piece_with_the_allowance(keys: dict[str, Any]) -> None:
    """The blank holds everything of its sector from Ri − aᵢ to Ro + aₒ on the axis."""
    ring = ring_of(keys)
    wedges = ring.wedges
    assert wedges is not None
    piece = ring.pieces[0]
    assert piece.axis is not None
    blank = Polygon(wedges.blank.outline().mapped(math.radians(piece.axis)).points())
    finished = shape(piece)
    assert finished.difference(blank.buffer(1e-9)).area < 1e-9
    corner = min(Point(0, 0).distance(Point(p)) for p in blank.exterior.coords)
    assert corner == pytest.approx(ring.inner_radius - 1.5, abs=1e-9)
    assert wedges.blank.outer_distance == pytest.approx(ring.outer_radius + 1.5)


@settings(max_examples=40, deadline=None)
@given(radial_rings(), st.floats(20, 120), st.floats(0, 130))
def test_hidden_as_shapely_sees_it(keys: dict[str, Any], width: float, reach: float) -> None:
    tables = {"instrument": {"fingerboard_width": width, "fingerboard_reach": reach}}
    ring = ring_of(keys, **tables)
    strip = box(-width / 2, reach, width / 2, 1000)
    for piece in ring.pieces:
        outside, inside = shape(piece).difference(strip).area, shape(piece).intersection(strip).area
        if piece.visibility is Visibility.HIDDEN:
            assert outside < 1e-4
        elif piece.visibility is Visibility.SEEN:
            assert inside < 1e-4
        else:
            assert outside > 0
            assert inside > 0
    assert ring.wedges is not None
    seen = [p for p in ring.pieces if p.visibility is not Visibility.HIDDEN]
    assert ring.wedges.visible_segments == len(seen)


@settings(max_examples=30, deadline=None)
@given(radial_rings())
def test_a_mirrored_sequence_gives_a_mirrored_ring(keys: dict[str, Any]) -> None:
    """With a joint at 12 o'clock, reversing a sequence that divides the count mirrors the ring."""
    keys["at_centreline"] = "joint"
    keys["segments"] = math.ceil(keys["segments"] / len(keys["wood"])) * len(keys["wood"])
    ring = ring_of(keys)
    mirrored = ring_of({**keys, "wood": keys["wood"][::-1]})
    for piece, other in zip(ring.pieces, reversed(mirrored.pieces), strict=True):
        assert piece.wood == other.wood
        assert piece.visibility is other.visibility
        flipped = {(round(-x, 7), round(y, 7)) for x, y, _ in piece.outline.vertices}
        there = {(round(x, 7), round(y, 7)) for x, y, _ in other.outline.vertices}
        assert all(min(math.dist(a, b) for b in there) < 1e-6 for a in flipped)


@pytest.mark.parametrize("segments", [3, 6, 35, 36, 180])
@pytest.mark.parametrize("centre", ["joint", "wedge"])
def test_what_stands_at_12_oclock(segments: int, centre: str) -> None:
    """Positions run clockwise from the seam; an even count has the same at 6 o'clock."""
    ring = ring_of(radial(segments=segments, at_centreline=centre))
    axes = [piece.axis or 0.0 for piece in ring.pieces]
    step = 360 / segments
    assert axes[0] == pytest.approx(90.0 if centre == "wedge" else 90.0 - step / 2)
    assert all(a - b == pytest.approx(step) for a, b in itertools.pairwise(axes))
    at_six = any(abs((axis - 270.0 + 180.0) % 360.0 - 180.0) < 1e-9 for axis in axes)
    assert at_six == ((centre == "wedge") == (segments % 2 == 0))


def test_flattened_outlines_stay_within_five_microns() -> None:
    """docs/file-formats.md: arcs flattened to within 0.005 mm, their vertices on the arc."""
    ring = ring_of(radial(segments=6))
    points = ring.pieces[0].outline.points()
    outer = [p for p in points if math.hypot(*p) > ring.outer_radius - 0.01]
    assert all(math.hypot(*p) == pytest.approx(ring.outer_radius, abs=1e-9) for p in outer)
    for a, b in itertools.pairwise(outer):
        middle = math.hypot((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        assert ring.outer_radius - middle <= 0.005 + 1e-12


def test_a_line_is_its_annulus() -> None:
    ring = ring_of(line(inner_radius=52.0))
    assert shape(ring.pieces[0]).area == pytest.approx(annulus_area(ring), rel=1e-5)
