"""The docs and the schema say of every key of an offcuts file what the code does."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from rosette.design import read_design
from rosette.offcuts import read_box
from rosette.offcuts.box import read_box_text
from rosette.offcuts.model import WedgeSize
from rosette.offcuts.schema import box_schema
from rosette.offcuts.strip import strip_layout
from rosette.plan import make_plan
from tests.design.pages import HEAD
from tests.offcuts_box.jobs import TEXT
from tests.offcuts_box.pages import sections

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "docs" / "offcuts-file.md").read_text(encoding="utf-8")
DEMOS = sorted((ROOT / "patterns_demo").glob("*/offcuts.toml"))


@pytest.mark.parametrize(("heading", "rows"), list(sections()), ids=lambda value: str(value)[:30])
def test_every_key_has_its_row_in_the_docs(heading: str, rows: list[str]) -> None:
    # `python -m tests.offcuts_box.pages` prints the rows
    assert "\n".join([*HEAD.split("\n"), *rows]) in PAGE.split(f"## {heading}\n")[1]


def test_the_schema_in_the_docs_is_current() -> None:
    kept = (ROOT / "docs" / "schemas" / "offcuts.schema.json").read_text(encoding="utf-8")
    # `python -m rosette.offcuts.schema` prints it
    assert json.loads(kept) == json.loads(json.dumps(box_schema()))
    Draft202012Validator.check_schema(json.loads(kept))


@pytest.mark.parametrize("text", [TEXT, *(demo.read_text() for demo in DEMOS)])
def test_the_schema_takes_what_the_reader_takes(text: str) -> None:
    Draft202012Validator(box_schema()).validate(tomllib.loads(text))


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("id", "a/b"),
        ("id", ""),
        ("thickness", 0),
        ("count", 0),
        ("grain", 400),
        ("rectangle", [3, 4]),
        ("outline", [[0, 0], [1, 1]]),
        ("outline", None),
        ("defects", [{"at": [1, 2]}]),
        ("colour", "brown"),
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(key: str, value: object) -> None:
    box = tomllib.loads(TEXT)
    spot = box["offcut"][0]
    spot[key] = value
    if value is None:
        del spot[key]
    assert not Draft202012Validator(box_schema()).is_valid(box)


def test_the_box_in_the_docs_reads() -> None:
    text = PAGE.split("```toml\n")[1].split("```")[0]
    assert len(read_box_text(text.encode()).offcuts) == 2


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.parent.name)
def test_a_demos_box_holds_its_ring(demo: Path) -> None:
    plan, box = make_plan(read_design(demo.with_name("design.toml"))), read_box(demo)
    for ring in plan.rings:
        if ring.wedges is None:
            continue
        size = WedgeSize.of(ring.wedges.blank)
        for wood in ring.woods:
            needed = sum(piece.wood == wood for piece in ring.pieces)
            found = sum(
                one.count * strip_layout(one.pieces(), size, kerf=plan.kerf).placed
                for one in box.offcuts
                if one.wood == wood and one.thickness >= ring.tile_thickness
            )
            assert found >= needed


def test_the_demos_show_every_form() -> None:
    forms = {one.form for demo in DEMOS for one in read_box(demo).offcuts}
    files = {Path(one.file).suffix for demo in DEMOS for one in read_box(demo).offcuts if one.file}
    assert forms == {"outline", "rectangle", "taper", "curved", "file"}
    assert files == {".svg", ".dxf"}
    assert {read_box(demo).units for demo in DEMOS} == {"mm", "in"}
