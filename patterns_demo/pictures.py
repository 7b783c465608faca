"""Draws every picture that the README and docs show: `.venv/bin/python patterns_demo/pictures.py`.

A test holds that what stands in the repository is what this draws. With the word `fixtures` after
it, it draws those of fixtures alone.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path

from bands import bands
from radial_forms import radial_forms

from fixture_pictures import Shot, shots
from measuring import from_above, in_section
from rosette.design import read_design
from rosette.gallery import contact_sheet, examples
from rosette.offcuts import read_box
from rosette.offcuts.asking import ask_for
from rosette.offcuts.cutting import cut_box, stock_of
from rosette.offcuts.explore import explore
from rosette.offcuts.options import CutOptions
from rosette.output.png import png_bytes
from rosette.output.svg import svg_bytes
from rosette.picture import picture
from rosette.plan import Plan, make_plan
from rosette.sheets.cutting import sheets_with
from rosette.sheets.drawing import Drawing
from rosette.sheets.explore import choice_chart
from rosette.sheets.fixture import drawings as fixture_sheets
from rosette.sheets.inventory import inventory
from scraps import forms
from trays import tray_from_above, tray_in_section

HERE = Path(__file__).resolve().parent
SHOWN = HERE.parent / "docs" / "pictures"
FIRST = HERE / "damson-parlour" / "design.toml"
SCRAPS = FIRST.with_name("offcuts.toml")
SHEETS = ("ring-1", "wedge-1", "saw-1", "channel", "channel-2", "assembly-1", "box", "offcut-S2")
"""Sheets of the first design that the README and docs/sheets.md show."""
PIXELS_PER_MM = 5.0


def fixture_shots() -> dict[Path, Shot]:
    """The pictures of fixtures, where they belong; drawn one by one, since each takes a while."""
    plan = make_plan(read_design(FIRST))
    return {SHOWN / f"{shot.name}.png": shot for shot in shots(plan)}


def designs() -> list[Path]:
    """Every design of the workshop, in order of its folder's name."""
    return sorted(HERE.glob("*/design.toml"))


Make = Callable[[], bytes]


def files() -> Iterator[tuple[Path, Make]]:
    """Each picture but those of fixtures: where it belongs, and what draws it."""
    for design in designs():
        drawing = picture(make_plan(read_design(design)))
        yield design.parent / "picture.svg", partial(svg_bytes, drawing)
        yield design.parent / "picture.png", _png(drawing, PIXELS_PER_MM)
    sheet = contact_sheet(examples())
    yield SHOWN / f"{sheet.name}.png", _png(sheet, 4.0)
    for drawing in (*bands(), radial_forms()):
        yield SHOWN / f"{drawing.name}.png", _png(drawing, 3.0)
    for drawing in (from_above(), in_section(), forms(), inventory(read_box(SCRAPS)), _choice()):
        yield SHOWN / f"{drawing.name}.png", _png(drawing, PIXELS_PER_MM)
    plan = make_plan(read_design(FIRST))
    for drawing in (*_trays(plan), _drawing(plan)):
        yield SHOWN / f"{drawing.name}.png", _png(drawing, PIXELS_PER_MM)
    cutting = cut_box(read_design(FIRST), read_box(SCRAPS), CutOptions(spares=4))
    for drawing in sheets_with(cutting, plan):
        if drawing.name in SHEETS:
            yield SHOWN / f"{drawing.name}.png", _png(drawing, PIXELS_PER_MM)


def _png(drawing: Drawing, pixels_per_mm: float) -> Make:
    return partial(png_bytes, drawing, pixels_per_mm=pixels_per_mm)


def _choice() -> Drawing:
    """What the first design's box can make of its walnut."""
    box = read_box(SCRAPS)
    ask = ask_for(box, {"wood": ("walnut",)}, like=read_design(FIRST))
    return choice_chart(explore(stock_of(box), ask, box_file=box.source))


def _trays(plan: Plan) -> tuple[Drawing, Drawing]:
    """The first design's tray, from above and in section."""
    from jigs.tray import Tray, tray_for

    ring = plan.wedge_rings[0]
    tray = tray_for(plan, ring)
    assert isinstance(tray, Tray)
    return tray_from_above(tray), tray_in_section(tray, ring)


def _drawing(plan: Plan) -> Drawing:
    """What the drawing of a fixture looks like: the first design's caul."""
    import jigs

    (caul,) = jigs.fixtures(plan, ["caul"])
    return replace(fixture_sheets(caul, plan)[0], name="drawing-of-a-caul")


def main(only: list[str]) -> None:
    """Draw all pictures; with the word `fixtures`, those of fixtures alone."""
    SHOWN.mkdir(exist_ok=True)
    for path, make in () if only == ["fixtures"] else files():
        path.write_bytes(make())
        print(path.relative_to(HERE.parent))
    for path, shot in fixture_shots().items():
        path.write_bytes(shot.png())
        print(path.relative_to(HERE.parent))


if __name__ == "__main__":
    main(sys.argv[1:])
