"""The checklist: the order of work, the plan's own numbers, cautions where they apply."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from rosette.output.document import Caution, Heading, Paragraph, Table, TextPages, Tick
from rosette.packet.checklist import ROOM, checklist
from rosette.packet.record import record
from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.report import report
from rosette.sheets import sheets
from rosette.sheets.drawing import Text
from rosette.units import Units, format_length
from tests.packet.jobs import ROOT
from tests.properties.designs import design, line, radial

DEMOS = sorted((ROOT / "patterns_demo").glob("*/design.toml"))


def planned(rings: list[dict[str, Any]], **tables: Any) -> Plan:
    return make_plan(design(rings, **tables))


def words(pages: TextPages) -> str:
    """Everything a page says, in order."""
    said: list[str] = []
    for block in pages.blocks:
        if isinstance(block, Table):
            said += [" ".join(row) for row in block.rows]
        elif isinstance(block, (Heading, Paragraph, Caution, Tick)):
            said.append(block.text)
    return "\n".join(said)


def cautions(pages: TextPages) -> str:
    return "\n".join(block.text for block in pages.blocks if isinstance(block, Caution))


def test_the_work_comes_in_the_order_of_the_trade() -> None:
    # Order of work, common practice: the pivot hole first, the top sealed before routing, the
    # first cut inside the hidden arc, then glue, level, and the soundhole last, since it takes
    # the pivot with it.
    said = words(checklist(planned([radial(), line()]), units="mm"))
    order = [
        "Pivot hole first",
        "Measure your stock",
        "half set",
        "Trim the ring",
        "Seal the top",
        "trial channel",
        "inside the arc that the fingerboard hides",
        "pivot to bit centre",
        "Glue in",
        "Level",
        "Cut the soundhole",
    ]
    places = [said.index(step) for step in order]
    assert places == sorted(places)
    assert said.rstrip().splitlines()[-1].startswith("Cut the soundhole")


@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_setting_of_the_router_is_there_with_a_place_to_tick(units: Units) -> None:
    plan = planned([radial(), line(), line(space=4.0)])
    pages = checklist(plan, units=units)
    tables = [
        block
        for block in pages.blocks
        if isinstance(block, Table) and "pivot to bit centre" in block.rows[0]
    ]
    assert len(tables) == len(plan.channels) == 2
    for table, channel in zip(tables, plan.channels, strict=True):
        assert [(row[1], row[2]) for row in table.rows[1:]] == [
            (format_length(one.depth, units), format_length(one.pivot_radius, units))
            for one in channel.passes
        ]


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.parent.name)
def test_every_step_of_every_ring_is_ticked_off_once(path: Path) -> None:
    from rosette.design import read_design

    plan = make_plan(read_design(path))
    ticks = [b.text for b in checklist(plan, units="mm").blocks if isinstance(b, Tick)]
    for ring in plan.rings:
        for step in ring.steps:
            assert ticks.count(step.text("mm")) >= 1


def test_wedges_enough_and_spares_are_asked_for() -> None:
    # Spares 10-15 %, two at the least (common practice).
    said = words(checklist(planned([radial(segments=36), line()]), units="mm"))
    found = re.search(r"Cut 36 wedges of walnut and (\d+) to spare", said)
    assert found
    assert 3.6 <= int(found[1]) <= 5.4


def test_the_least_piece_left_in_the_hand_is_named_in_its_own_numbers() -> None:
    plan = planned([radial(), line()])
    wedges = plan.rings[0].wedges
    assert wedges is not None
    said = cautions(checklist(plan, units="in"))
    for length in (wedges.blank.outer_width, wedges.blank.inner_width, wedges.blank.height):
        assert format_length(length, "in") in said
    assert "zero-clearance" in said


def test_a_ring_of_lines_alone_has_no_caution_about_a_saw() -> None:
    said = cautions(checklist(planned([line(inner_radius=50.0)]), units="mm"))
    assert "saw" not in said
    assert "burns" in said
    assert "clamp the top" in said


@pytest.mark.parametrize(
    ("wood", "told", "not_told"),
    [
        ("walnut", "IARC", "CITES"),
        ("Indian rosewood", "CITES", "Shell"),
        ("cocobolo", "allergic", "Shell"),
        ("abalone", "Shell dust", "CITES"),
    ],
)
def test_each_wood_has_the_cautions_it_calls_for(wood: str, told: str, not_told: str) -> None:
    # Hardwood dust: IARC Monographs 100C, group 1. Dalbergia: CITES Appendices I and II.
    said = cautions(checklist(planned([radial(wood=[wood]), line()]), units="mm"))
    assert told in said
    assert not_told not in said


def test_a_spacer_of_rosewood_counts_as_wood_too() -> None:
    spacer = {"wood": "rosewood", "thickness": 0.5}
    assert "CITES" in cautions(checklist(planned([radial(spacer=spacer)]), units="mm"))


def test_the_first_plunge_stays_under_the_fingerboard() -> None:
    # Half of 2·asin(w/2r): a board of 57.15 mm hides 48.2° at r 70 (derived), 24.1° a side.
    instrument = {"fingerboard_width": 57.15, "fingerboard_reach": 40.0}
    plan = planned([radial(inner_radius=52.0, width=18.0)], instrument=instrument)
    found = re.search(r"within (\d+)° to", words(checklist(plan, units="mm")))
    assert found
    assert int(found[1]) == 24


def test_where_no_board_hides_the_ring_none_is_spoken_of() -> None:
    plan = planned([radial()], instrument={"fingerboard_reach": 75.0})
    assert "no fingerboard hides" in words(checklist(plan, units="mm"))


def test_the_tray_is_printed_before_it_is_needed() -> None:
    said = words(checklist(planned([radial()]), units="mm", trays=("fixtures/ring-1-tray.3mf",)))
    assert said.index("fixtures/ring-1-tray.3mf") < said.index("Lay all 36 dry")
    assert "Print the tray" not in words(checklist(planned([radial()]), units="mm"))


def test_the_record_has_room_for_all_that_the_plan_took_for_granted() -> None:
    plan = planned([radial(backing=0.6, spacer={"wood": "maple", "thickness": 0.5}), line()])
    said = words(record(plan, units="mm"))
    for what in ("saw kerf", "thickness of stock", "bit, across", "backing", "spacer", "floor"):
        row = next(one for one in said.splitlines() if what in one)
        assert row.endswith(ROOM)
    assert format_length(plan.kerf) in said
    assert "humidity" in said


def test_a_backing_is_glued_on_before_the_ring_is_trimmed() -> None:
    said = words(checklist(planned([radial(backing=0.6)]), units="mm"))
    assert said.index("veneer 0.60 mm thick under the ring") < said.index("Trim the ring")
    assert "under the ring," not in words(checklist(planned([radial()]), units="mm"))
    bent = words(checklist(planned([line(inner_radius=50.0, backing=0.4)]), units="mm"))
    assert bent.index("Bend it") < bent.index("veneer 0.40 mm thick under the ring")


def test_spacers_at_the_ends_of_halves_wait_until_these_are_trued() -> None:
    spacer = {"wood": "maple", "thickness": 0.5}
    said = words(checklist(planned([radial(spacer=spacer)]), units="mm"))
    assert "every wedge but the last of each half" in said
    assert "half a joint short of the centre" in said
    assert "straight line through the centre" in words(checklist(planned([radial()]), units="mm"))


def test_the_deeper_part_of_a_stepped_channel_names_its_ring() -> None:
    plan = planned([radial(width=6.0, tile_thickness=1.4), radial(inner_radius=58.0)])
    (channel,) = plan.channels
    table = next(
        block
        for block in checklist(plan, units="mm").blocks
        if isinstance(block, Table) and "pivot to bit centre" in block.rows[0]
    )
    for row, one in zip(table.rows[1:], channel.passes, strict=True):
        assert ("under ring 2 alone" in row[3]) == (one.depth > 1.4 - 0.2 + 1e-9)


def test_three_woods_are_listed_as_they_are_said() -> None:
    said = words(checklist(planned([radial(wood=["maple", "walnut", "cherry"])]), units="mm"))
    assert "36 wedges of maple, walnut and cherry" in said


def test_a_ring_of_an_odd_count_is_told_nothing_of_halves() -> None:
    # 7 wedges make no two equal halves: three of them 154.29°, which no straight edge shows.
    plan = planned([radial(segments=7)])
    pages, bench = words(checklist(plan, units="mm")), report(plan)
    sheet = " ".join(
        element.text
        for drawing in sheets(plan)
        if drawing.name == "saw-1-work"
        for element in drawing.elements
        if isinstance(element, Text)
    )
    for said in (pages, bench, sheet):
        assert "halves" not in re.sub(r"no two equal\s+halves|close\s+from two\s+halves", "", said)
        assert "straight edge" not in said
        assert "154.29°" in said
    little = {"inner_allowance": 0.1, "outer_allowance": 0.1}
    codes = {one.code for one in planned([radial(segments=7)], cutting=little).warnings}
    assert "little-trim" not in codes
    assert "little-trim" in {one.code for one in planned([radial()], cutting=little).warnings}
    even = words(checklist(planned([radial()]), units="mm"))
    assert "against a straight edge: they must make 180°" in even
