"""The docs and the schema say of every key what the code does."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from rosette.design import read_design_text
from rosette.design.schema import design_schema
from tests.design.pages import HEAD, sections
from tests.properties.designs import design_text, line, radial

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "docs" / "design-file.md").read_text(encoding="utf-8")
DEMOS = sorted((ROOT / "patterns_demo").glob("*/design.toml"))


@pytest.mark.parametrize(("heading", "rows"), list(sections()), ids=lambda value: str(value)[:30])
def test_every_key_has_its_row_in_the_docs(heading: str, rows: list[str]) -> None:
    section = PAGE.split(f"## {heading}\n\n")[1].split("\n\n")[0].split("\n")
    # `python -m tests.design.pages` prints the rows
    assert section == [*HEAD.split("\n"), *rows]


def test_the_schema_in_the_docs_is_current() -> None:
    kept = (ROOT / "docs" / "schemas" / "design.schema.json").read_text(encoding="utf-8")
    # `python -m rosette.design.schema` prints it
    assert json.loads(kept) == design_schema()


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(design_schema())


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.parent.name)
def test_the_schema_takes_the_demos(demo: Path) -> None:
    Draft202012Validator(design_schema()).validate(tomllib.loads(demo.read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    ("table", "key", "value"),
    [
        (None, "schema", 2),
        (None, "kerf", 1),
        ("cutting", "kerf", -1),
        ("channel", "bit_diameter", 0),
        ("instrument", "fingerboard_reach", None),
        ("ring", "width", None),
        ("ring", "space", 3),
        ("ring", "segments", 36),
        ("ring", "pattern", "square"),
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(
    table: str | None, key: str, value: object
) -> None:
    rings = [line(inner_radius=50.0), radial(inner_radius=None)]
    design = tomllib.loads(design_text(rings))
    assert Draft202012Validator(design_schema()).is_valid(design)
    spot = design if table is None else design["ring"][0] if table == "ring" else design[table]
    spot[key] = value
    if value is None:
        del spot[key]
    assert not Draft202012Validator(design_schema()).is_valid(design)


def test_the_design_in_the_docs_reads() -> None:
    text = PAGE.split("```toml\n")[1].split("```")[0]
    assert len(read_design_text(text.encode()).rings) == 2
