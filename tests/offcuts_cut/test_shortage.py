"""Too little wood: what is missing, and alternatives that work when they are pasted."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from rosette.cli.cut_options import options_from
from rosette.design import read_design_text
from rosette.offcuts.alternatives import Alternative, alternatives
from rosette.offcuts.box import read_box_text
from rosette.offcuts.cutting import cut_box, stock_of
from rosette.offcuts.options import CutOptions
from rosette.offcuts.shortage import missing, shortage
from tests.cli.run import rosette
from tests.properties.designs import design_text, radial

RING = {"width": 16.0, "segments": 36, "tile_thickness": 2.0}


def box_text(*offcuts: tuple[str, float, float, str]) -> str:
    lines = ["schema = 1"]
    for name, length, width, wood in offcuts:
        lines += ["[[offcut]]", f'id = "{name}"', f'wood = "{wood}"', "thickness = 2.4",
                  f"rectangle = [{length}, {width}]"]  # fmt: skip
    return "\n".join(lines) + "\n"


SHORT = box_text(("A", 110, 44, "walnut"), ("B", 50, 50, "walnut"))
CASES: dict[str, tuple[dict[str, Any], str, CutOptions]] = {
    "a narrower ring": (RING, SHORT, CutOptions()),
    "another wood": (
        RING,
        box_text(("A", 100, 44, "walnut"), ("M", 300, 44, "maple")),
        CutOptions(),
    ),
    "hidden ones": (
        RING,
        box_text(("A", 195, 44, "walnut"), ("B", 24, 70, "walnut"), ("M", 60, 44, "maple")),
        CutOptions(),
    ),
    "fewer spares": (RING, box_text(("A", 210, 44, "walnut")), CutOptions(spares=20)),
    "head to tail": (RING, box_text(("A", 200, 44, "walnut")), CutOptions(keep_neighbours=True)),
    "a chosen count": (
        {**RING, "segments": None, "segment_width": 11.5, "width": None, "outer_radius": 68.0},
        box_text(("A", 150, 44, "walnut")),
        CutOptions(),
    ),
    "two woods": (
        {**RING, "wood": ["walnut", "maple"]},
        box_text(("A", 90, 44, "walnut"), ("M", 60, 44, "maple"), ("C", 300, 60, "cherry")),
        CutOptions(),
    ),
}


def pasted(text: str, one: Alternative) -> str:
    """The design file with an alternative's lines in place of those of the same keys."""
    keys = re.findall(r"^([a-z_]+) = ", one.toml, re.MULTILINE)
    if "segments" in keys:
        keys.append("segment_width")
    head, ring = text.split("[[ring]]\n")
    kept = [line for line in ring.splitlines() if line.split(" = ")[0] not in keys]
    return "[[ring]]\n".join((head, "\n".join([*kept, one.toml]) + "\n"))


@pytest.mark.parametrize("case", CASES)
def test_every_alternative_works_when_it_is_pasted(case: str) -> None:
    keys, box, options = CASES[case]
    text = design_text([radial(**keys)])
    design, found = read_design_text(text.encode()), read_box_text(box.encode(), "box.toml")
    cutting = cut_box(design, found, options)
    assert not cutting.complete
    offered = alternatives(design, stock_of(found), options, cutting)
    assert offered
    if case == "hidden ones":
        assert any(one.flags == "--skip-hidden" for one in offered)
        assert any("maple" in one.toml and "walnut" in one.toml for one in offered)
    for one in offered:
        assert one.toml or one.flags
        changed = read_design_text(pasted(text, one).encode())
        assert cut_box(changed, found, one.options).complete, one.what.text()


def test_what_is_missing_is_counted_for_each_ring_and_wood() -> None:
    keys, box, options = CASES["two woods"]
    design = read_design_text(design_text([radial(**keys)]).encode())
    found = read_box_text(box.encode(), "box.toml")
    cutting = cut_box(design, found, options)
    told = list(missing(found, cutting))
    for tally in cutting.tallies:
        assert tally.missing > 0
        assert any(
            f"{tally.missing} of 18 wedges of {tally.wood} are missing" in one.text()
            for one in told
        )
    refusal = shortage(design, found, cutting, ())
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
    keys, box, options = CASES["a narrower ring"]
    text = design_text([radial(**keys)])
    design, found = read_design_text(text.encode()), read_box_text(box.encode(), "box.toml")
    offered = alternatives(design, stock_of(found), options, cut_box(design, found, options))
    (width,) = [
        float(one.toml.removeprefix("width = ")) for one in offered if one.toml.startswith("width")
    ]
    wider = design_text([radial(**{**keys, "width": width + 0.1})])
    assert not cut_box(read_design_text(wider.encode()), found, options).complete


def test_the_command_says_so_and_ends_with_1(tmp_path: Path) -> None:
    design, box = tmp_path / "design.toml", tmp_path / "box.toml"
    design.write_text(design_text([radial(**RING)]))
    box.write_text(CASES["a narrower ring"][1])
    ran = rosette("cut", str(design), str(box))
    assert ran.code == 1
    assert "of 36 wedges of walnut are missing" in ran.err
    assert re.search(r"instead: .*:\n    width = [0-9.]+\n", ran.err)
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
