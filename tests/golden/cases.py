"""The drawings that have a golden, by name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from rosette.offcuts import read_box
from rosette.sheets.drawing import Drawing
from rosette.sheets.frame import TitleBlock, framed, pages
from rosette.sheets.inventory import inventory
from tests.golden.cutting_cases import CUTTING_CASES
from tests.golden.fixture_cases import FIXTURE_CASES
from tests.golden.making_cases import MAKING_CASES
from tests.golden.ring_cases import RING_CASES
from tests.golden.shop_cases import SHOP_CASES
from tests.output.samples import sample

BLOCK = TitleBlock(
    name="Damson parlour no. 3",
    owner="Hollow Lane Guitars",
    creator="A. Maker",
    number="DP-3",
    sheet="2 / 9",
)


def _part() -> Drawing:
    large = replace(sample(), bounds=(-150.0, -150.0, 150.0, 150.0))
    return pages(large, "letter", BLOCK)[3]


SCRAPS = Path(__file__).parents[2] / "patterns_demo" / "damson-parlour" / "offcuts.toml"

CASES: dict[str, Callable[[], Drawing]] = {
    "one-of-everything": sample,
    "page": lambda: pages(sample(), "a4", BLOCK)[0],
    "part-of-a-large-sheet": _part,
    "framed": lambda: framed(sample(), BLOCK),
    "offcuts": lambda: inventory(read_box(SCRAPS)),
    **RING_CASES,
    **MAKING_CASES,
    **CUTTING_CASES,
    **FIXTURE_CASES,
    **SHOP_CASES,
}
