"""Whole cutting plans, each looked over by the checker; what is true of every one of them."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from rosette.cutting_report import cutting_report
from rosette.geometry.hidden import Visibility
from rosette.offcuts.cutting import cut
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Stock
from tests.offcuts.scraps import scrap
from tests.offcuts_cut.cases import SMALL, board, cutting, plan, unsound
from tests.properties.designs import radial

WAYS: list[dict[str, Any]] = [
    {},
    {"spares": "usual"},
    {"everything": True},
    {"keep_neighbours": True},
    {"mirrored": True},
    {"mirrored": True, "faces": "both"},
    {"faces": "both"},
    {"grain_tolerance": 4.0},
    {"skip_hidden": True},
    {"objectives": ("runs", "offcuts", "remainder")},
    {"objectives": ("remainder", "runs", "offcuts")},
    {"method": "free"},
    {"method": "free", "keep_neighbours": True},
]


def scraps(count: int, *woods: str) -> list[Stock]:
    return [
        Stock(wood=replace(scrap(i), wood=woods[i % len(woods)], thickness=3.0))
        for i in range(count)
    ]


@pytest.mark.parametrize("options", WAYS, ids=lambda one: " ".join(map(str, one)) or "plain")
def test_every_way_of_cutting_scraps_is_sound(options: dict[str, Any]) -> None:
    found = cutting(plan(radial(segments=24)), *scraps(4, "walnut"), **options)
    assert found.complete
    wanted = {f"1-{n:02d}" for n in range(1, 25)}
    if options.get("skip_hidden"):
        hidden = {
            piece.label
            for piece in plan(radial(segments=24)).rings[0].pieces
            if piece.visibility is Visibility.HIDDEN
        }
        assert hidden
        wanted -= hidden
    assert {one.label for one in found.wedges if not one.spare} == wanted


def test_two_rings_of_two_woods_and_their_spares_come_out_together() -> None:
    of = plan(
        radial(width=10.0, segments=24, wood=["walnut", "maple"]),
        radial(inner_radius=None, width=8.0, segments=36, wood=["walnut"], tile_thickness=1.6),
    )
    found = cutting(of, *scraps(8, "walnut", "maple"), spares=2)
    assert found.complete
    assert found.needed == 60
    assert found.placed == 66
    woods = {piece.id: piece.wood.wood for piece in found.pieces}
    assert all(woods[one.offcut] == one.wood for one in found.wedges)


def test_two_rings_share_one_offcut_where_that_touches_fewer() -> None:
    of = plan(
        radial(**{**SMALL, "segments": 12}),
        radial(**{**SMALL, "inner_radius": None, "segments": 16}),
    )
    found = cutting(of, board("long", 300, 70), board("other", 150, 70))
    assert found.complete
    assert [piece.id for piece in found.touched] == ["long"]
    assert found.touched[0].rings == (1, 2)
    assert found.fewest_offcuts == 1


def test_wood_goes_by_its_name_however_it_is_written() -> None:
    found = cutting(plan(), board("A", 200, 50, wood=" Black  Walnut"))
    assert found.complete
    assert cut(plan(), [board("A", 200, 50, wood="bog oak")]).placed == 0


def test_planing_two_rings_to_one_thickness_is_told_once() -> None:
    of = plan(radial(**SMALL), radial(**{**SMALL, "inner_radius": None}))
    found = cutting(of, board("A", 400, 120, thickness=2.6))
    (piece,) = found.touched
    assert piece.planings == ((2.0, (1, 2)),)
    told = " ".join(cutting_report(found).split())
    assert "2.60 mm thick; plane the wedges of rings 1 and 2 to 2.00 mm Holds" in told
    other = replace(piece, planed=((1, 2.0), (2, 1.8), (3, 2.0)))
    assert other.planings == ((2.0, (1, 3)), (1.8, (2,)))


def test_thick_wood_is_planed_and_thin_wood_is_named() -> None:
    of = plan()
    found = cutting(
        of, board("thick", 200, 50, thickness=3.0), board("thin", 400, 80, thickness=1.9)
    )
    assert [piece.id for piece in found.pieces] == ["thick"]
    assert found.pieces[0].planed == ((1, 2.0),)
    (told,) = [one for one in found.warnings if one.code == "too-thin"]
    assert "thin" in told.text()
    assert "2.00 mm" in told.text()
    just = cutting(of, board("just", 200, 50, thickness=2.0))
    assert just.complete
    assert just.pieces[0].planed == ()


def test_every_copy_of_an_offcut_can_be_used() -> None:
    found = cutting(plan(), board("S", 46, 46, count=5))
    assert {piece.piece for piece in found.touched} <= set(range(1, 6))
    assert len(found.pieces) == 5
    assert found.placed == min(12, sum(held.capacity for p in found.pieces for held in p.holds))
    assert {(one.offcut, one.piece) for one in found.wedges} == {
        (piece.id, piece.piece) for piece in found.touched
    }


def test_all_places_what_the_wood_holds() -> None:
    found = cutting(plan(), board("A", 200, 50), board("B", 90, 60), everything=True)
    assert [len(p.wedges) for p in found.pieces] == [p.holds[0].capacity for p in found.pieces]
    assert all(p.proved and p.bound == len(p.wedges) for p in found.pieces)
    assert sum(one.spare for one in found.wedges) == found.placed - found.needed > 0


def test_more_spares_than_there_is_wood_for_leave_the_ring_whole() -> None:
    found = cutting(plan(), board("A", 200, 70), spares=100)
    assert found.missing == 0
    assert not found.complete
    assert found.tallies[0].spares_missing == 100 - (found.placed - 12)


def test_too_little_wood_gives_what_there_is() -> None:
    found = cutting(plan(), board("A", 60, 40))
    assert 0 < found.placed < 12
    assert found.missing == 12 - found.placed
    assert cut(plan(), []).missing == 12


def test_a_stop_leaves_the_best_plan_until_then() -> None:
    of, stock = plan(), [board("large", 200, 50), board("small", 100, 50)]

    def stop(done: int, _of: int, _doing: str) -> None:
        if done == 1:
            raise KeyboardInterrupt

    found = cut(of, stock, progress=stop)
    assert unsound(found) == []
    assert found.interrupted
    assert found.complete
    assert [piece.id for piece in found.touched] == ["large"]
    assert "interrupted" in {one.code for one in found.warnings}


def test_the_same_box_gives_the_same_plan() -> None:
    of, stock = plan(), scraps(5, "walnut")
    assert cut(of, stock, CutOptions(spares=3)) == cut(of, stock, CutOptions(spares=3))


@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    seeds=st.lists(st.integers(0, 400), min_size=1, max_size=3, unique=True),
    segments=st.sampled_from([8, 12, 16, 23]),
    width=st.floats(4.0, 14.0),
    options=st.sampled_from(WAYS[:-2]),
    centre=st.sampled_from(["joint", "wedge"]),
)
@example(seeds=[272], segments=12, width=5.525961116365334, options={}, centre="joint")  # a spike
def test_small_boxes_are_cut_soundly(
    seeds: list[int], segments: int, width: float, options: dict[str, Any], centre: str
) -> None:
    of = plan(radial(segments=segments, width=width, at_centreline=centre))
    stock = [Stock(wood=replace(scrap(i), wood="walnut", thickness=3.0)) for i in seeds]
    found = cutting(of, *stock, **options)
    assert found.placed >= found.needed - found.missing
    assert found.fewest_offcuts <= len(found.touched)
    held = sum(held.capacity for piece in found.pieces for held in piece.holds)
    if found.missing:
        assert found.placed == held


def told_places(report: str) -> dict[str, list[tuple[int, int, str, str]]]:
    """Under each "Ring ...:" of a report, its rows: first and last place, offcut, how laid."""
    found: dict[str, list[tuple[int, int, str, str]]] = {}
    rows: list[tuple[int, int, str, str]] = []
    _, _, order = report.partition("Order round the ring")
    for line in order.partition("What is left")[0].splitlines():
        if re.fullmatch("  Ring .*:", line):
            rows = found[line.strip(" :")] = []
        row = re.fullmatch(r"    (\d+)(?:-(\d+))? +(\S+) +(.+)", line)
        if row:
            rows.append((int(row[1]), int(row[2] or row[1]), row[3], row[4]))
    return found


@pytest.mark.parametrize("options", WAYS[:7], ids=str)
def test_the_report_tells_where_and_how_each_wedge_is_laid(options: dict[str, Any]) -> None:
    """Every place is in one row, and each wedge is laid as its row says, in turn where it does."""
    of = plan(
        radial(**{**SMALL, "wood": ["walnut", "maple"]}), radial(inner_radius=None, width=9.0)
    )
    stock = [board("W", 300, 50), board("M", 70, 40, wood="maple", thickness=3.0)]
    stock += [board("M2", 60, 60, wood="maple", thickness=3.0), board("W2", 120, 50)]
    found = cutting(of, *stock, **options)
    told = told_places(cutting_report(found))
    assert set(told) == {"Ring 1, walnut", "Ring 1, maple", "Ring 2"}
    for tally in found.tallies:
        name = f"Ring {tally.ring}" + (f", {tally.wood}" if tally.ring == 1 else "")
        mine = [w for w in found.ring(tally.ring) if w.wood == tally.wood and not w.spare]
        covered = []
        for first, last, offcut, laid in told[name]:
            some = [w for w in mine if first <= (w.position or 0) <= last]
            ways = laid.removesuffix(" in turn").split(" and ")
            assert {w.offcut for w in some} == {offcut}
            assert [w.laid for w in some] == [ways[i % len(ways)] for i in range(len(some))]
            covered += some
        assert covered == mine


@pytest.mark.parametrize(
    ("faces", "order"), [("one", "ups then downs"), ("both", "as in the wood")]
)
def test_halves_that_cannot_mirror_each_other_are_not_said_to(faces: str, order: str) -> None:
    of = plan(
        radial(**{**SMALL, "wood": ["walnut", "maple"]}), radial(inner_radius=None, width=9.0)
    )
    boards = board("W", 300, 120), board("M", 200, 50, wood="maple")
    found = cutting(of, *boards, mirrored=True, faces=faces)
    assert [tally.arrangement for tally in found.tallies] == [order, order, "mirrored halves"]
    told = " ".join(cutting_report(found).split())
    assert "Ring 2, walnut, clockwise from the seam: neighbours in the wood stand on" in told
    assert "Clockwise from the seam" not in told
