"""A design written out is the same design when it is read again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from rosette.design import read_design, read_design_text
from rosette.design.model import Design
from rosette.design.written import design_text
from rosette.units import Units

DEMOS = sorted((Path(__file__).resolve().parents[2] / "patterns_demo").glob("*/design.toml"))


def bare(design: Design) -> Design:
    return replace(design, source="", sha256="")


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.parent.name)
def test_every_demo_comes_back_as_it_was(path: Path) -> None:
    design = read_design(path)
    back = read_design_text(design_text(design).encode(), folder=path.parent)
    assert bare(back) == bare(design)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.parent.name)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_in_other_units_every_radius_stays_to_a_ten_thousandth(path: Path, units: Units) -> None:
    design = replace(read_design(path), units=units)
    back = read_design_text(design_text(design).encode(), folder=path.parent)
    assert back.units == units
    for one, other in zip(back.rings, design.rings, strict=True):
        assert one.outer_radius == pytest.approx(other.outer_radius, abs=1e-4)
        assert one.keys.tile_thickness == pytest.approx(other.keys.tile_thickness, abs=1e-4)
    assert back.cutting.kerf == pytest.approx(design.cutting.kerf, abs=1e-4)


def test_what_nobody_measured_is_marked() -> None:
    text = design_text(read_design(DEMOS[0]), head="One\n\nTwo", assumed={"kerf"})
    assert text.startswith("# One\n#\n# Two\n")
    marked = [line for line in text.splitlines() if "USUAL, NOT MEASURED" in line]
    assert [line.split(" ")[0] for line in marked] == ["kerf"]


def test_words_with_quotes_survive() -> None:
    design = read_design(DEMOS[0])
    odd = replace(design, instrument=replace(design.instrument, name='The "Old" \\ one'))
    assert read_design_text(design_text(odd).encode()).instrument == odd.instrument
