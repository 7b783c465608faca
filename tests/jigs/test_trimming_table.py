"""Trimming tables, proved by laying the untrimmed ring on them and running the bit round it."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from jigs.base import Fixture
from jigs.placing import placed
from jigs.trimming_table import TrimmingTable, fixtures
from jigs.trimming_table_findings import corner_of
from rosette.errors import Finding
from rosette.plan import Plan
from tests.jigs.fit_trimming_table import plane_misfits, ring_of, solid_misfits
from tests.jigs.plans import sample
from tests.jigs.trays import SPACER, plan


@cache
def _table(**asked: object) -> TrimmingTable:
    (made,) = fixtures(plan(**asked))
    assert isinstance(made, TrimmingTable)
    return made


def test_tables_of_every_sort_hold_their_ring_and_let_the_bit_by() -> None:
    made = [(of, one) for of in sample(5) for one in fixtures(of) if isinstance(one, Fixture)]
    assert len(made) > 4
    assert len({of.fixtures.process for of, _ in made}) == 3
    for of, one in made:
        assert isinstance(one, TrimmingTable)
        assert (one.name, plane_misfits(of, one)) == (one.name, [])


def test_the_same_as_solids() -> None:
    asked: dict[str, object] = {"segments": 6, "spacer": SPACER}
    made = _table(**asked)
    assert solid_misfits(plan(**asked), made, placed(made)) == []


def _of() -> Plan:
    return plan(segments=12)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"inner_foot": 50.35}, "the inner clamp stands off"),
        ({"slide": 0.15}, "stands off the ring"),
        ({"keep": 1.0}, "from the bit"),
        ({"recess": 72.0}, "what stands up"),
        ({"outer": 71.0}, "the bit meets"),
        ({"inner": 51.0}, "the bit meets"),
        ({"cap": 3.5}, "below the rim"),
        ({"foot": 6.5}, "bears on the recess's floor"),
        ({"pin_hole": 6.3}, "the pin stands off"),
        ({"pin_length": 40}, "up into a plate"),
    ],
    ids=lambda one: "" if isinstance(one, str) else next(iter(one)),
)
def test_a_table_that_is_wrong_is_caught(changed: dict[str, Any], said: str) -> None:
    bad = replace(_table(segments=12), **changed)
    found = plane_misfits(_of(), bad)
    assert any(said in one for one in found), found


def test_a_ring_of_few_wedges_has_room_for_its_corners_and_says_what_to_saw_off() -> None:
    """Six wedges round 71.5: corners at 71.5/cos 30° = 82.56 mm; spacers make no odds to that."""
    for asked in ({"segments": 6}, {"segments": 6, "spacer": SPACER}):
        made = _table(**asked)
        wedges = ring_of(plan(**asked), made).wedges
        assert wedges is not None
        assert corner_of(wedges) == pytest.approx(71.5 / math.cos(math.pi / 6))
        assert made.recess > 82.56 + 0.9
        assert [one.code for one in made.warnings] == [
            "trimming-table-waste",
            "trimming-table-reach",
        ]


@pytest.mark.parametrize(
    ("asked", "where"),
    [
        ({"segments": 48, "inner": 50, "width": 1.5}, "ring[1].width"),
        ({"segments": 8, "inner": 12, "width": 8, "soundhole": 10}, "ring[1].inner_radius"),
    ],
)
def test_where_there_is_none_it_says_why(asked: dict[str, object], where: str) -> None:
    (found,) = fixtures(plan(**asked))
    assert isinstance(found, Finding)
    assert (found.code, found.where) == ("no-trimming-table", where)


def test_screws_end_inside_their_nuts_and_above_the_bench() -> None:
    for of in sample(20):
        for made in fixtures(of):
            if isinstance(made, TrimmingTable):
                seat = made.land + made.thickness + made.cap - made.sink_depth
                end = seat - made.screw
                assert 0.29 <= end <= made.nut_depth - 2.5
