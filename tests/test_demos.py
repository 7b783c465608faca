"""The invented workshop's designs, and every command and file that the docs show, really run."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from rosette.design import read_design
from rosette.output.document import SheetPages
from rosette.packet.fixtures import fixture_drawings
from rosette.packet.pages import packet_document
from rosette.packet.title import title_block
from rosette.picture import picture
from rosette.plan import make_plan
from rosette.sheets import sheets
from rosette.sheets.frame import pages
from tests.cli.run import rosette

ROOT = Path(__file__).resolve().parents[1]
DESIGNS = sorted((ROOT / "patterns_demo").glob("*/design.toml"))
PAGES = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").rglob("*.md")])
# The two that set this environment up; the check is itself one of them.
SET_UP = {"python3 patterns_demo/first_job.py", "python3 tests/check.py"}
BLOCK = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def _run(words: list[str], folder: Path) -> subprocess.CompletedProcess[str]:
    settings = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"}
    return subprocess.run(
        words, cwd=folder, env=settings, capture_output=True, text=True,
        stdin=subprocess.DEVNULL, check=False,
    )  # fmt: skip


def _named(design: Path) -> str:
    return design.parent.name


def test_the_workshop_has_guitars_of_both_units() -> None:
    units = {tomllib.loads(one.read_text(encoding="utf-8"))["units"] for one in DESIGNS}
    assert len(DESIGNS) >= 3
    assert units == {"mm", "in"}


@pytest.mark.parametrize("design", DESIGNS, ids=_named)
def test_a_demo_is_sound_and_every_sheet_of_it_fits_its_pages(design: Path) -> None:
    """All of a job that its design decides; the docs' commands below make whole ones of two."""
    checked = rosette("check", str(design))
    assert checked.code == 0, checked.err
    planned = rosette("plan", str(design), "--json")
    assert planned.code == 0, planned.err
    assert json.loads(planned.out)["schema"] == "rosette.plan/1"
    plan = make_plan(read_design(design))
    drawings = sheets(plan) + fixture_drawings(plan)
    document = packet_document(plan, drawings, picture(plan), made=(), paper="a4")
    for part in document.parts:
        if isinstance(part, SheetPages):
            assert pages(part.drawing, document.paper, title_block(plan))


@pytest.mark.parametrize("design", DESIGNS, ids=_named)
def test_no_page_of_a_plan_is_wider_than_a_terminal(design: Path) -> None:
    for units in ("mm", "in"):
        lines = rosette("plan", str(design), "--units", units).out.splitlines()
        assert len(lines) > 20
        assert max(map(len, lines)) <= 80


def _blocks(*languages: str) -> list[pytest.param]:
    return [
        pytest.param(text, id=f"{page.relative_to(ROOT).as_posix()}-{number}")
        for page in PAGES
        for number, (language, text) in enumerate(
            BLOCK.findall(page.read_text(encoding="utf-8")), 1
        )
        if language in languages
    ]


def _whole_design(text: str) -> bool:
    return set(tomllib.loads(text)) >= {"schema", "instrument", "ring"}


def test_every_block_says_what_language_it_is_in() -> None:
    known = {"console", "toml", "python", "json", "text"}
    for page in PAGES:
        found = {language for language, _ in BLOCK.findall(page.read_text(encoding="utf-8"))}
        assert found <= known, page


@pytest.mark.parametrize("text", _blocks("toml"))
def test_a_design_in_the_docs_can_be_read_and_made(text: str, tmp_path: Path) -> None:
    assert tomllib.loads(text)
    if _whole_design(text):
        path = tmp_path / "design.toml"
        path.write_text(text, encoding="utf-8")
        checked = rosette("check", str(path))
        assert checked.code == 0, checked.out + checked.err


@pytest.mark.parametrize("text", _blocks("json"))
def test_json_in_the_docs_is_json(text: str) -> None:
    assert json.loads(text)


@pytest.mark.parametrize("text", _blocks("python"))
def test_python_in_the_docs_runs(text: str, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "patterns_demo", tmp_path / "patterns_demo")
    ran = _run([sys.executable, "-c", text], tmp_path)
    assert ran.returncode == 0, ran.stderr


@pytest.mark.parametrize("text", _blocks("console"))
def test_commands_in_the_docs_run(text: str, tmp_path: Path) -> None:
    """A line that starts with `$ ` is a command; lines after it are what it prints, if shown."""
    shutil.copytree(ROOT / "patterns_demo", tmp_path / "patterns_demo")
    commands = re.findall(r"^\$ (.*)\n((?:(?!\$ ).*\n)*)", text, re.MULTILINE)
    assert commands
    for command, shown in commands:
        if command in SET_UP:
            assert (ROOT / command.split()[1]).is_file()
            continue
        program, *words = command.split()
        assert program in {"rosette", ".venv/bin/python"}, command
        lead = ["-m", "rosette"] if program == "rosette" else []
        folder = tmp_path if lead else ROOT
        ran = _run([sys.executable, *lead, *words], folder)
        assert ran.returncode == 0, f"{command}\n{ran.stderr}"
        if shown.strip():
            assert ran.stdout.rstrip() == shown.rstrip(), command


def test_every_link_in_the_docs_leads_somewhere() -> None:
    for page in PAGES:
        for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
            assert (page.parent / target).exists(), f"{page.name}: {target}"
