"""Too little wood: what is missing, and alternatives that work when they are pasted."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rosette.cli.cut_options import options_from
from rosette.design import read_design_text
from rosette.offcuts.alternatives import Alternatives, alternatives
from rosette.offcuts.box import read_box_text
from rosette.offcuts.cutting import cut_box, stock_of
from rosette.offcuts.options import CutOptions
from rosette.offcuts.shortage import missing, shortage
from tests.cli.run import rosette
from tests.properties.designs import design_text, line, radial

RING = {"width": 16.0, "segments": 36, "tile_thickness": 2.0}


def box_text(*offcuts: tuple[str, float, float, str]) -> str:
    lines = ["schema = 1"]
    for name, length, width, wood in offcuts:
        lines += ["[[offcut]]", f'id = "{name}"', f'wood = "{wood}"', "thickness = 2.4",
                  f"rectangle = [{length}, {width}]"]  # fmt: skip
    return "\n".join(lines) + "\n"


SHORT = box_text(("A", 110, 44, "walnut"), ("B", 50, 50, "walnut"))
SIXTEEN = radial(inner_radius=50.0, width=12.0, segments=16, tile_thickness=2.0)
TWENTY = radial(inner_radius=None, space=1.0, width=9.0, segments=20, tile_thickness=2.0)
FORTY = radial(inner_radius=None, space=1.0, width=9.0, segments=40, tile_thickness=2.0)
PURFLING = line(width=1.2)
Case = tuple[list[dict[str, Any]], str, CutOptions]
CASES: dict[str, Case] = {
    "a narrower ring": ([radial(**RING)], SHORT, CutOptions()),
    "another wood": (
        [radial(**RING)],
        box_text(("A", 100, 44, "walnut"), ("M", 300, 44, "maple")),
        CutOptions(),
    ),
    "hidden ones": (
        [radial(**RING)],
        box_text(("A", 195, 44, "walnut"), ("B", 24, 70, "walnut"), ("M", 60, 44, "maple")),
        CutOptions(),
    ),
    "fewer spares": (
        [radial(**RING)],
        box_text(("A", 210, 44, "walnut")),
        CutOptions(spares=20),
    ),
    "head to tail": (
        [radial(**RING)],
        box_text(("A", 200, 44, "walnut")),
        CutOptions(keep_neighbours=True),
    ),
    "a chosen count": (
        [
            radial(
                **{**RING, "segments": None, "segment_width": 11.5, "width": None},
                outer_radius=68.0,
            )
        ],
        box_text(("A", 150, 44, "walnut")),
        CutOptions(),
    ),
    "two woods": (
        [radial(**{**RING, "wood": ["walnut", "maple"]})],
        box_text(("A", 90, 44, "walnut"), ("M", 60, 44, "maple"), ("C", 300, 60, "cherry")),
        CutOptions(),
    ),
    "two rings of one wood": (
        [SIXTEEN, PURFLING, FORTY],
        box_text(("A", 130, 44, "walnut"), ("B", 100, 50, "walnut"), ("M", 300, 44, "maple")),
        CutOptions(),
    ),
    "two rings, one of two woods": (
        [{**SIXTEEN, "wood": ["walnut", "maple"]}, TWENTY],
        box_text(("A", 90, 44, "walnut"), ("B", 40, 50, "walnut"), ("M", 130, 50, "maple"),
                 ("C", 90, 90, "cherry")),
        CutOptions(),
    ),
    "three rings of one wood": (
        [SIXTEEN, TWENTY, {**TWENTY, "width": 7.0}],
        box_text(("A", 100, 44, "walnut"), ("B", 90, 60, "walnut"), ("C", 40, 50, "walnut"),
                 ("M", 90, 70, "maple")),
        CutOptions(),
    ),
    "two rings without one of their woods": (
        [{**SIXTEEN, "wood": ["walnut", "maple"]}, {**TWENTY, "wood": ["maple"]}],
        box_text(("A", 300, 50, "walnut"), ("C", 130, 50, "cherry")),
        CutOptions(),
    ),
}  # fmt: skip
EFFORT = 200
REPLACED = {"segments": "segment_width", "inner_radius": "space"}


def pasted(text: str, toml: str) -> str:
    """The design file with an alternative's blocks in the tables of the rings they name."""
    head, *rings = text.split("[[ring]]\n")
    for block in re.split(r"^(?=# ring \d+: )", toml, flags=re.MULTILINE):
        named = re.match(r"# ring (\d+): ", block)
        if named is None:
            assert not block
            continue
        at = int(named[1]) - 1
        if "delete its [[ring]] table" in " ".join(block.replace("# ", "").split()):
            rings[at] = ""
            continue
        keys = re.findall(r"^([a-z_]+) = ", block, re.MULTILINE)
        gone = {*keys, *(REPLACED[key] for key in keys if key in REPLACED)}
        kept = [one for one in rings[at].splitlines() if one.split(" = ")[0] not in gone]
        rings[at] = "\n".join([*kept, block.rstrip()]) + "\n"
    return "[[ring]]\n".join([head, *(one for one in rings if one)])


@cache
def offered(case: str, effort: int = EFFORT) -> Alternatives:
    rings, box, options = CASES[case]
    design, found = read_design_text(design_text(rings).encode()), read_box_text(box.encode(), "b")
    cutting = cut_box(design, found, options)
    assert not cutting.complete
    return alternatives(design, stock_of(found), options, cutting, effort=effort)


@pytest.mark.parametrize("case", CASES)
def test_every_alternative_works_when_it_is_pasted(case: str) -> None:
    rings, box, _ = CASES[case]
    found = read_box_text(box.encode(), "box.toml")
    instead = offered(case).offered
    assert instead
    if case == "hidden ones":
        assert any(one.flags == "--skip-hidden" for one in instead)
        assert any("maple" in one.toml and "walnut" in one.toml for one in instead)
    for one in instead:
        assert one.toml or one.flags
        changed = read_design_text(pasted(design_text(rings), one.toml).encode())
        assert cut_box(changed, found, one.options).complete, one.what.text()
    distances = [one.distance for one in instead]
    assert distances == sorted(distances)


def test_rings_that_share_a_wood_get_changes_together_and_each_alone() -> None:
    instead = offered("two rings of one wood").offered
    kinds = {frozenset((change.ring, change.kind) for change in one.changes) for one in instead}
    assert {(1, "width"), (3, "width")} in kinds
    assert {(1, "wood")} in kinds
    assert {(3, "wood")} in kinds
    assert {(3, "left out")} in kinds
    # The line between the rings has to stay where it is.
    (line_stays,) = [one for one in instead if one.changes and one.changes[0].left_out
                     and one.changes[0].ring == 1]  # fmt: skip
    assert "inner_radius = 62" in line_stays.toml


def test_a_wood_that_two_rings_lack_is_replaced_in_both() -> None:
    instead = offered("two rings without one of their woods").offered
    kinds = {frozenset((change.ring, change.kind) for change in one.changes) for one in instead}
    assert frozenset({(1, "wood"), (2, "wood")}) in kinds


def test_pasted_alternatives_end_with_0(tmp_path: Path) -> None:
    """The command's own JSON, pasted into the file as text, and the command run again."""
    rings, offcuts, _ = CASES["two rings, one of two woods"]
    design, box = tmp_path / "design.toml", tmp_path / "box.toml"
    design.write_text(design_text(rings))
    box.write_text(offcuts)
    ran = rosette("cut", str(design), str(box), "--json")
    assert ran.code == 1
    instead = json.loads(ran.out)["alternatives"]
    assert len(instead) > 2
    for one in instead:
        design.write_text(pasted(design_text(rings), one["toml"]))
        again = rosette("cut", str(design), str(box), *one["options"].split(), "--json")
        assert again.code == 0, one["what"]
        assert json.loads(again.out)["complete"]


def test_a_search_that_is_cut_short_says_so() -> None:
    rings, box, options = CASES["two rings of one wood"]
    design, found = read_design_text(design_text(rings).encode()), read_box_text(box.encode(), "b")
    cutting = cut_box(design, found, options)
    none = offered("two rings of one wood", effort=0)
    assert none == Alternatives(offered=(), cut_short=True)
    assert "cut short" in str(shortage(design, found, cutting, none))
    assert not offered("a narrower ring", effort=10_000).cut_short


def test_the_same_question_has_the_same_answer() -> None:
    one = offered("a narrower ring")
    offered.cache_clear()
    assert offered("a narrower ring") == one


def test_what_is_whole_is_said() -> None:
    rings, offcuts, options = CASES["two rings of one wood"]
    design = read_design_text(design_text(rings).encode())
    box = read_box_text(offcuts.encode(), "box.toml")
    cutting = cut_box(design, box, options)
    whole, short = missing(box, cutting)
    assert "ring 3 can be cut whole" in whole.text()
    tally = next(one for one in cutting.tallies if one.ring == 1)
    assert f"ring[1]: {tally.missing} of 16 wedges" in short.text()
    assert "for all rings together" in short.text()


def test_what_is_missing_is_counted_for_each_ring_and_wood() -> None:
    rings, box, options = CASES["two woods"]
    design = read_design_text(design_text(rings).encode())
    found = read_box_text(box.encode(), "box.toml")
    cutting = cut_box(design, found, options)
    told = list(missing(found, cutting))
    for tally in cutting.tallies:
        assert tally.missing > 0
        assert any(
            f"{tally.missing} of 18 wedges of {tally.wood} are missing" in one.text()
            for one in told
        )
    refusal = shortage(design, found, cutting, Alternatives())
    assert refusal.exit_code == 1


def test_no_wood_and_thin_wood_are_told_apart() -> None:
    design = read_design_text(design_text([radial(**RING)]).encode())
    without = read_box_text(box_text(("M", 300, 44, "maple")).encode(), "box.toml")
    (told,) = missing(without, cut_box(design, without))
    assert "holds no walnut at all" in told.text()
    thin = read_box_text(box_text(("A", 300, 90, "walnut")).replace("2.4", "1.2").encode(), "b")
    (told,) = missing(thin, cut_box(design, thin))
    assert "thinner than the ring's 2.00 mm" in told.text()


def test_the_narrower_ring_is_the_widest_that_works() -> None:
    _, box, options = CASES["a narrower ring"]
    (width,) = [
        float(match[1])
        for one in offered("a narrower ring").offered
        if not one.flags and (match := re.search(r"^width = ([0-9.]+)$", one.toml, re.MULTILINE))
    ]
    wider = design_text([radial(**{**RING, "width": width + 0.1})])
    found = read_box_text(box.encode(), "box.toml")
    assert not cut_box(read_design_text(wider.encode()), found, options).complete


def test_the_command_says_so_and_ends_with_1(tmp_path: Path) -> None:
    design, box = tmp_path / "design.toml", tmp_path / "box.toml"
    design.write_text(design_text([radial(**RING)]))
    box.write_text(CASES["a narrower ring"][1])
    ran = rosette("cut", str(design), str(box))
    assert ran.code == 1
    assert "of 36 wedges of walnut are missing" in ran.err
    assert re.search(r"instead: .*:\n    # ring 1: .*\n    width = [0-9.]+\n", ran.err)
    assert "MISSING" in ran.out
    assert not [line for line in ran.out.splitlines() if len(line) > 80]


def test_a_job_that_lacks_wood_leaves_its_folder_as_it_was(tmp_path: Path) -> None:
    design, box, out = tmp_path / "design.toml", tmp_path / "box.toml", tmp_path / "job"
    design.write_text(design_text([radial(**RING)]))
    box.write_text(CASES["a narrower ring"][1])
    ran = rosette("make", str(design), "--offcuts", str(box), "--out", str(out), "--no-fixtures")
    assert ran.code == 1
    assert "are missing" in ran.err
    assert not out.exists()


def test_options_of_the_command_are_those_of_the_library() -> None:
    wishes: dict[str, Any] = {
        "method": "free", "grain_tolerance": 2.0, "spares": 3, "everything": True,
        "keep_neighbours": True, "mirrored": True, "faces": "both", "skip_hidden": True,
        "first": "remainder", "least_in_hand": "4 in",
    }  # fmt: skip
    assert options_from(wishes, "mm") == CutOptions(
        method="free", grain_tolerance=2.0, spares=3, everything=True, keep_neighbours=True,
        mirrored=True, faces="both", skip_hidden=True,
        objectives=("remainder", "offcuts", "runs"), least_in_hand=101.6,
    )  # fmt: skip
