"""Everything registered has its file, its demo and its line in the docs."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

import jigs
from rosette.cli import COMMANDS
from rosette.design import read_design
from rosette.patterns import MODULES as PATTERNS
from rosette.patterns import patterns
from rosette.plan import make_plan
from rosette.sheets import MODULES as SHEETS
from rosette.sheets import sheets

ROOT = Path(__file__).resolve().parents[2]
DESIGNS = sorted((ROOT / "patterns_demo").glob("*/design.toml"))
FORMATS = ("svg", "dxf", "pdf", "png")


def _page(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def _drawings(module: str) -> set[str]:
    """The names of the drawings that one sheet's file makes of the first demo."""
    from importlib import import_module

    plan = make_plan(read_design(ROOT / "patterns_demo" / "damson-parlour" / "design.toml"))
    made = import_module(f"rosette.sheets.{module}").drawings(plan)
    return {drawing.name for drawing in made}


def test_a_pattern_goes_by_the_name_of_its_file() -> None:
    assert tuple(patterns()) == PATTERNS


@pytest.mark.parametrize("name", PATTERNS)
def test_a_pattern_has_a_demo_and_a_line_in_the_docs(name: str) -> None:
    used = {
        ring["pattern"]
        for design in DESIGNS
        for ring in tomllib.loads(design.read_text(encoding="utf-8"))["ring"]
    }
    assert name in used
    assert f'"{name}"' in _page("docs/design-file.md")
    assert f"`{name}`" in _page("docs/glossary.md")


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_draws_the_demo_and_has_its_words_in_the_docs(name: str) -> None:
    page = _page("docs/sheets.md")
    drawn = _drawings(name)
    assert drawn
    missing = [one for one in drawn if f"`{re.sub('-[0-9]+', '-N', one)}`" not in page]
    assert missing == []


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_has_a_golden(name: str) -> None:
    kept = {path.stem for path in (ROOT / "tests" / "golden").rglob("*.svg")}
    assert _drawings(name) & kept


def test_no_two_sheets_share_a_name() -> None:
    for design in DESIGNS:
        names = [drawing.name for drawing in sheets(make_plan(read_design(design)))]
        assert len(names) == len(set(names))


def test_a_fixture_has_a_line_in_the_docs() -> None:
    plan = make_plan(read_design(DESIGNS[0]))
    made = jigs.fixtures(plan)
    assert made
    for fixture in made:
        kind = fixture.name.rsplit("-", 1)[-1]
        assert kind in _page("docs/fixtures.md")
        assert kind in _page("docs/job-folder.md")


@pytest.mark.parametrize("name", FORMATS)
def test_a_format_has_a_file_and_a_line_in_the_docs(name: str) -> None:
    assert (ROOT / "rosette" / "output" / f"{name}.py").is_file()
    assert f".{name}" in _page("docs/job-folder.md")


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_has_a_file_and_a_line_in_the_readme(name: str) -> None:
    assert (ROOT / "rosette" / "cli" / f"{name}.py").is_file()
    assert f"`rosette {name}`" in _page("README.md")


def test_every_decision_stands_in_their_list() -> None:
    folder = ROOT / "docs" / "decisions"
    listed = _page("docs/decisions/README.md")
    missing = [path.name for path in folder.glob("0*.md") if f"({path.name})" not in listed]
    assert missing == []


def test_every_page_of_the_docs_can_be_reached() -> None:
    pages = ["README.md", "DEVELOPERS.md", *(f"docs/{path.name}" for path in _docs())]
    words = " ".join(map(_page, pages))
    lost = [path.name for path in _docs() if f"{path.name})" not in words]
    assert lost == []


def _docs() -> list[Path]:
    return sorted((ROOT / "docs").glob("*.md"))
