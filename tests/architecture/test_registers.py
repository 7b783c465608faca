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
FIXTURE_PAGES = sorted((ROOT / "docs" / "fixtures").glob("*.md"))
FORMATS = ("svg", "dxf", "pdf", "png")


def _page(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def _drawings(module: str) -> set[str]:
    """The names of the drawings that one sheet's file makes of the demos."""
    from importlib import import_module

    demos = ("damson-parlour", "avocet-jumbo")
    plans = (make_plan(read_design(ROOT / "patterns_demo" / one / "design.toml")) for one in demos)
    sheet = import_module(f"rosette.sheets.{module}")
    return {drawing.name for plan in plans for drawing in sheet.drawings(plan)}


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


@pytest.mark.parametrize("kind", jigs.KINDS)
def test_a_fixture_has_a_page_with_its_picture_and_a_line_in_the_index(kind: str) -> None:
    assert f"](fixtures/{kind}.md)" in _page("docs/fixtures.md")
    assert f"](../pictures/fixture-{kind}.png)" in _page(f"docs/fixtures/{kind}.md")


def test_every_picture_of_a_fixture_is_shown() -> None:
    pages = "".join(_page(f"docs/fixtures/{page.name}") for page in FIXTURE_PAGES)
    pictures = [path.name for path in (ROOT / "docs" / "pictures").glob("fixture-*.png")]
    assert pictures
    assert [name for name in pictures if f"](../pictures/{name})" not in pages] == []


def test_a_fixture_that_a_job_holds_has_a_line_among_its_files() -> None:
    plan = make_plan(read_design(DESIGNS[0]))
    made = jigs.fixtures(plan)
    assert made
    assert all(fixture.kind in _page("docs/job-folder.md") for fixture in made)


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
    lost += [one.name for one in FIXTURE_PAGES if f"](fixtures/{one.name})" not in words]
    assert lost == []


def test_every_link_from_page_to_page_leads_somewhere() -> None:
    pages = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").rglob("*.md")]
    lost = [
        f"{page.name}: {''.join(link)}"
        for page in pages
        for link in re.findall(
            r"\]\(([^)#:\s]+)(?:#[^)]*)?\)|src=\"([^\":]+)\"", page.read_text(encoding="utf-8")
        )
        if not (page.parent / "".join(link)).exists()
    ]
    assert lost == []


def _docs() -> list[Path]:
    return sorted((ROOT / "docs").glob("*.md"))
