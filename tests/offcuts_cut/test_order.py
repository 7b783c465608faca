"""From the wood into the ring: which wedge goes where, which face shows."""

from __future__ import annotations

import itertools
import random

import pytest

from rosette.geometry.hidden import Visibility
from rosette.offcuts.cutplan import Face
from rosette.offcuts.demand import Want, wants
from rosette.offcuts.order import (
    Lying,
    arrange,
    best_faces,
    edges_shown,
    flow,
    mirror,
    ups_then_downs,
)
from tests.offcuts_cut.cases import SMALL, board, cutting, plan
from tests.properties.designs import radial

NO_BOARD = {"instrument": {"fingerboard_width": 1.0, "fingerboard_reach": 200.0}}


def row(count: int, *, one_way: bool = False, piece: int = 0) -> list[Lying]:
    """A band of wedges 10 mm apart, head to tail or all the same way up."""
    return [
        Lying(
            piece=piece,
            flipped=not one_way and i % 2 == 1,
            left=(10.0 * i, 0.0),
            right=(10.0 * i + 9.0, 0.0),
        )
        for i in range(count)
    ]


def want(count: int, **keys: object) -> Want:
    (found,) = wants(plan(radial(**{**SMALL, "segments": count, **keys}), **NO_BOARD))
    return found


def test_head_to_tail_runs_1_3_5_and_back_6_4_2() -> None:
    """The natural order as the trade has it (shop practice for wedges sawn head to tail)."""
    assert [at + 1 for at in ups_then_downs(row(6), range(6))] == [1, 3, 5, 6, 4, 2]
    places = arrange(row(6), want(6), arrangement="ups then downs", faces="one")
    by_position = {place.slot.position: at + 1 for at, place in enumerate(places) if place.slot}
    assert [by_position[position] for position in range(1, 7)] == [1, 3, 5, 6, 4, 2]


def test_one_face_up_turns_the_downs_end_for_end() -> None:
    places = arrange(row(6), want(6), arrangement="ups then downs", faces="one")
    assert [place.laid for place in places] == ["as it lies", "end for end"] * 3
    assert {place.face for place in places} == {"marked"}


def test_kept_neighbours_stand_side_by_side_all_the_same_way_up() -> None:
    found = cutting(plan(), board("A", 300, 60), keep_neighbours=True)
    wood = [
        one for one in found.wedges if not one.spare and one.visibility is not Visibility.HIDDEN
    ]
    assert len({one.flipped for one in found.wedges}) == 1
    positions = [one.position or 0 for one in wood]
    assert positions == sorted(positions)
    assert {one.laid for one in found.wedges} == {
        "as it lies" if not wood[0].flipped else "end for end"
    }


@pytest.mark.parametrize("centre", ["joint", "wedge"])
def test_mirrored_halves_take_neighbours_to_either_side(centre: str) -> None:
    asked = want(12, at_centreline=centre)
    places = arrange(row(12), asked, arrangement="mirrored halves", faces="one")
    at_position = {p.slot.position: at for at, p in enumerate(places) if p.slot}
    assert sorted(at_position) == list(range(1, 13))
    for position, at in at_position.items():
        other = mirror(position, asked)
        assert abs(at - at_position[other]) == (0 if other == position else 1)


def test_mirrored_with_both_faces_shows_backs_on_the_left_half_alone() -> None:
    asked = want(12)
    lying = row(12)
    places = arrange(lying, asked, arrangement="mirrored halves", faces="both")
    for at, place in enumerate(places):
        assert place.slot is not None
        assert place.face == ("marked" if place.slot.position <= 6 else "other")
        partner = next(
            i
            for i, p in enumerate(places)
            if p.slot and p.slot.position == 13 - place.slot.position
        )
        # A mirror image needs the same end up in the wood.
        assert lying[partner].flipped == lying[at].flipped


@pytest.mark.parametrize(("centre", "segments"), [("joint", 12), ("wedge", 12), ("wedge", 13)])
def test_the_mirror_of_a_position_stands_at_the_mirrored_angle(centre: str, segments: int) -> None:
    of = plan(radial(**{**SMALL, "segments": segments, "at_centreline": centre}), **NO_BOARD)
    (asked,) = wants(of)
    angles = {piece.position: piece.axis or 0.0 for piece in of.rings[0].pieces}
    for position, angle in angles.items():
        assert (angles[mirror(position, asked)] + angle - 180.0) % 360.0 == pytest.approx(
            0.0, abs=1e-9
        ) or (angles[mirror(position, asked)] + angle - 180.0) % 360.0 == pytest.approx(360.0)


def test_hidden_places_get_the_last_wedges_and_spares_come_after_them() -> None:
    of = plan(radial(segments=36))
    found = cutting(of, board("A", 300, 90), spares=3)
    in_wood = [
        "spare" if one.spare else "hidden" if one.visibility is Visibility.HIDDEN else "seen"
        for one in found.wedges
    ]
    assert "hidden" in in_wood
    assert in_wood == sorted(in_wood, key=["seen", "hidden", "spare"].index)


def test_labels_follow_the_plan_and_spares_are_numbered() -> None:
    of = plan()
    found = cutting(of, board("A", 300, 60), spares=4)
    wood = {piece.label: piece for piece in of.rings[0].pieces}
    for one in found.wedges:
        if one.spare:
            assert one.label not in wood
        else:
            assert wood[one.label].position == one.position
            assert wood[one.label].visibility is one.visibility
    assert {one.label for one in found.wedges if one.spare} == {"1-s1", "1-s2", "1-s3", "1-s4"}
    assert [one.position for one in found.ring(1)][:12] == list(range(1, 13))


def test_turning_moves_the_sides_as_paper_does() -> None:
    """Half a turn flat changes left and right; turned over end over end they stay."""
    up = Lying(piece=0, flipped=False, left=(0.0, 0.0), right=(9.0, 0.0))
    down = Lying(piece=0, flipped=True, left=(0.0, 0.0), right=(9.0, 0.0))
    assert edges_shown(up, "marked") == (up.left, up.right)
    assert edges_shown(up, "other") == (up.right, up.left)
    assert edges_shown(down, "marked") == (down.right, down.left)
    assert edges_shown(down, "other") == (down.left, down.right)


def test_both_faces_let_neighbours_meet_edge_to_edge() -> None:
    """In the wood's order, every other one turned over, all that parts two edges is the kerf."""
    lying = row(8)
    # One wedge more than places lie in the wood's order: a seam is left where the ring is not full.
    places = arrange(lying, want(9), arrangement="as in the wood", faces="both")
    assert [place.laid for place in places] == ["as it lies", "turned over"] * 4
    assert flow(lying, [p.face for p in places], closed=False) == pytest.approx(7 * 1.0)
    ordered = [lying[at] for at in ups_then_downs(lying, range(8))]
    assert flow(ordered, ["marked"] * 8, closed=False) > 7 * 1.0


@pytest.mark.parametrize("seed", range(25))
def test_no_other_faces_flow_better(seed: int) -> None:
    rng = random.Random(seed)
    lying = [
        Lying(
            piece=rng.randint(0, 1),
            flipped=rng.random() < 0.5,
            left=(x := rng.uniform(0, 50), 0.0),
            right=(x + 8, 0.0),
        )
        for _ in range(rng.randint(1, 7))
    ]
    closed = rng.random() < 0.5
    faces: tuple[Face, Face] = ("marked", "other")
    least = min(
        flow(lying, shown, closed=closed) for shown in itertools.product(faces, repeat=len(lying))
    )
    assert flow(lying, best_faces(lying, closed=closed), closed=closed) == pytest.approx(least)


def test_woods_that_alternate_cannot_mirror_about_a_joint() -> None:
    of = plan(radial(**{**SMALL, "wood": ["walnut", "maple"]}))
    stock = (board("W", 300, 60), board("M", 300, 60, wood="maple"))
    assert "not-mirrored" in {one.code for one in cutting(of, *stock, mirrored=True).warnings}
    about_a_wedge = plan(radial(**{**SMALL, "wood": ["walnut", "maple"], "at_centreline": "wedge"}))
    found = cutting(about_a_wedge, *stock, mirrored=True)
    assert "not-mirrored" not in {one.code for one in found.warnings}
