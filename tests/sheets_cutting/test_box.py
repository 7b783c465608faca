"""The box on a page and the order round the ring: nothing left out, nothing twice."""

from __future__ import annotations

import re
from dataclasses import replace
from importlib import import_module
from pathlib import Path

import pytest
from shapely.geometry import Polygon

from rosette.sheets.box import cutting_drawings
from rosette.sheets.cutting import MODULES, sheets_with
from rosette.sheets.drawing import Drawing, Stroke
from rosette.sheets.laser import laser_drawings
from rosette.sheets.offcut import piece_names
from tests.sheets.looking import texts
from tests.sheets_cutting.cutplans import MAKERS, case

DOCS = Path(__file__).resolve().parents[2] / "docs" / "sheets.md"


def made(name: str, pattern: str) -> list[Drawing]:
    plan, cutting = case(name)
    drawings = cutting_drawings(cutting, plan)
    return [one for one in drawings if re.fullmatch(pattern, one.name)]


def words(sheets: list[Drawing]) -> list[str]:
    return [text.text for sheet in sheets for text in texts(sheet)]


@pytest.mark.parametrize("name", MAKERS)
def test_every_piece_of_wood_is_in_the_box_to_the_scale_that_is_stated(name: str) -> None:
    _, cutting = case(name)
    sheets = made(name, r"box(-\d+)?")
    told = re.search(r"All offcuts ([\d.]+):([\d.]+)", " ".join(words(sheets)))
    assert told is not None
    scale = float(told[1]) / float(told[2])
    areas = [
        Polygon(one.outline.points()).area
        for sheet in sheets
        for one in sheet.elements
        if isinstance(one, Stroke) and one.outline.closed and one.colour is not None
    ]
    for piece in cutting.pieces:
        wanted = Polygon(piece.wood.outline).area * scale**2
        assert any(area == pytest.approx(wanted, rel=1e-9) for area in areas), piece.name


@pytest.mark.parametrize("name", MAKERS)
def test_offcuts_are_numbered_in_the_order_of_cutting_with_what_they_give(name: str) -> None:
    _, cutting = case(name)
    said = words(made(name, r"box(-\d+)?"))
    numbered = [one for one in said if re.match(r"\d+\. ", one)]
    assert [int(one.split(".")[0]) for one in numbered] == list(range(1, len(cutting.touched) + 1))
    for piece, caption in zip(cutting.touched, numbered, strict=True):
        assert piece.name[:12] in caption
    given = [re.fullmatch(r"(\d+) wedges?(?:, (\d+) sp\.)?", one) for one in said]
    counts = [(int(one[1]), int(one[2] or 0)) for one in given if one]
    assert counts == [
        (sum(not w.spare for w in piece.wedges), sum(w.spare for w in piece.wedges))
        for piece in cutting.touched
    ]
    assert said.count("stays whole") == len(cutting.untouched)


@pytest.mark.parametrize("name", MAKERS)
def test_the_list_has_every_place_of_the_ring_and_every_spare_once(name: str) -> None:
    plan, cutting = case(name)
    for ring in plan.wedge_rings:
        sheets = made(name, rf"sources-{ring.index}-list(-\d+)?")
        said = words(sheets)
        labels = [piece.label for piece in ring.pieces]
        labels += [one.label for one in cutting.wedges if one.spare and one.ring == ring.index]
        found = [one for one in said if re.fullmatch(r"\d+-s?\d+", one)]
        assert sorted(found) == sorted(labels)
        laid = [w.laid for w in cutting.wedges if w.ring == ring.index]
        for way in set(laid):
            assert said.count(way) == laid.count(way)
        assert said.count("no wood for it") == len(labels) - len(laid)


@pytest.mark.parametrize("name", ["tiny pieces", "rectangles, both faces"])
def test_the_list_tells_which_of_several_alike_each_wedge_comes_from(name: str) -> None:
    plan, cutting = case(name)
    counts = {piece.id: piece.count for piece in cutting.pieces}
    wedges = {one.label: one for one in cutting.wedges}
    for ring in plan.wedge_rings:
        for sheet in made(name, rf"sources-{ring.index}-list(-\d+)?"):
            told = texts(sheet)
            for label in [one for one in told if one.text in wedges]:
                wedge = wedges[label.text]
                beside = [t for t in told if t.at[1] == label.at[1] and t.at[0] > label.at[0]]
                offcut = min(beside, key=lambda t: t.at[0]).text
                several = counts[wedge.offcut] > 1
                assert offcut == wedge.offcut + (f".{wedge.piece}" if several else "")


def test_a_long_name_leaves_room_for_the_number_of_the_piece_and_its_wood() -> None:
    plan, cutting = case("tiny pieces")
    lead = "a long name of a small piece "
    long = [
        replace(
            one,
            wood=replace(one.wood, id=lead + one.id),
            wedges=tuple(replace(wedge, offcut=lead + one.id) for wedge in one.wedges),
        )
        for one in cutting.pieces
    ]
    sheets = cutting_drawings(replace(cutting, pieces=tuple(long)), plan)
    said = words([one for one in sheets if re.fullmatch(r"box(-\d+)?", one.name)])
    captions = [one for one in said if "…" in one]
    assert len(captions) == len(long)
    for piece, caption in zip(long, captions, strict=True):
        assert re.search(rf" \({piece.piece} of {piece.count}\) [A-Z]$", caption)


@pytest.mark.parametrize("name", MAKERS)
def test_the_sources_tell_how_many_come_from_each_offcut(name: str) -> None:
    plan, cutting = case(name)
    for ring in plan.wedge_rings:
        said = words(made(name, rf"sources-{ring.index}"))
        for piece in cutting.touched:
            count = sum(wedge.ring == ring.index for wedge in piece.wedges)
            assert not count or str(count) in said


@pytest.mark.parametrize("module", MODULES)
def test_each_cutting_sheet_has_its_words_in_the_docs(module: str) -> None:
    plan, cutting = case("rectangles, both faces")
    page = DOCS.read_text(encoding="utf-8")
    drawn = import_module(f"rosette.sheets.{module}").cutting_drawings(cutting, plan)
    names = piece_names(cutting).values()
    assert drawn
    for drawing in drawn:
        name = drawing.name
        for one in names:
            name = re.sub(rf"^offcut-{one}\b", "offcut-NAME", name)
        name = re.sub(r"-cuts-\d+$", "-cuts", re.sub(r"^sources-\d+", "sources-N", name))
        assert f"`{name}`" in page
    assert "`NAME-laser.svg`" in page
    assert all(one.name.endswith("-laser") for one in laser_drawings(cutting))


def test_the_labels_of_a_cutting_plan_stand_where_the_plans_own_stood() -> None:
    plan, cutting = case("rectangles, both faces")
    names = [one.name for one in sheets_with(cutting, plan)]
    assert names.count("labels-1") == 1
    assert names.index("box") < names.index("offcut-S1") < names.index("saw-1")
    said = words([one for one in sheets_with(cutting, plan) if one.name == "labels-1"])
    for wedge in cutting.wedges:
        assert any(wedge.label in one for one in said)
        assert any(f"{wedge.offcut} {wedge.band}/{wedge.order}" in one for one in said)
