"""What the repository holds: the rooms of the house, whole text files, and nothing of a workshop
floor: no marks of unfinished work, no paths of somebody's machine, no registry's host."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TOP = {
    *(".ci", "rosette", "jigs", "patterns_demo", "tests", "docs"),
    *("README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "constraints.txt", ".gitignore"),
}
# Written in halves, so that this file does not hold them.
NEVER = re.compile(
    r"\bTO" r"DO\b|FIX" r"ME|\bXX" r"X\b|raise NotImpl" r"emented|\b[Ii]ss" r"ue #?[0-9]"
    r"|/wo" r"rk/|/ro" r"ot/|/ho" r"me/[a-z]|\bC:\\Us" r"ers"
    r"|py" r"pi\.org|python" r"hosted|npm" r"js\.org|deb" r"ian\.org"
)  # fmt: skip


def _tracked() -> list[Path]:
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return [ROOT / name for name in listed.stdout.split("\0") if name and (ROOT / name).exists()]


def _texts() -> list[tuple[str, str]]:
    found = []
    for path in _tracked():
        data = path.read_bytes()
        if b"\0" not in data:
            found.append((path.relative_to(ROOT).as_posix(), data.decode("utf-8")))
    return found


def test_there_is_something_to_look_at() -> None:
    assert len(_texts()) > 50


def test_the_top_level_holds_only_the_rooms_of_the_house() -> None:
    assert {path.relative_to(ROOT).parts[0] for path in _tracked()} == TOP


@pytest.mark.parametrize("text", ["# TO" + "DO: later", "cd /wo" + "rk/x", "see iss" + "ue 7"])
def test_a_mark_of_unfinished_work_would_be_found(text: str) -> None:
    assert NEVER.search(text)


def test_no_mark_of_unfinished_work_no_machine_path_no_registry() -> None:
    found = [
        f"{name}:{number}: {line.strip()[:80]}"
        for name, text in _texts()
        for number, line in enumerate(text.splitlines(), 1)
        if NEVER.search(line)
    ]
    assert found == []


def test_every_text_file_ends_in_one_newline() -> None:
    bad = [name for name, text in _texts() if text and (text[-1] != "\n" or text[-2:] == "\n\n")]
    assert bad == []


def test_every_file_of_code_says_what_it_is_for() -> None:
    bad = [
        name
        for name, text in _texts()
        if name.endswith(".py") and not text.startswith('"""') and text.strip()
    ]
    assert bad == []


# Where numbers are written for machines, or into files that a maker's design is read from.
FOR_MACHINES = {
    "rosette/units.py",
    "rosette/output/svg.py",
    "rosette/design/written.py",
    "rosette/offcuts/alternatives_changes.py",
    "rosette/offcuts/box_entries.py",
}
ROUNDS_ITSELF = re.compile(r":[+]?[.][0-9]f[}]|:[.][{]\w+[}]f[}]")


def test_numbers_are_rounded_for_people_in_one_place() -> None:
    """A format of its own rounds half to even: 5.62 of 5.625."""
    own = {name for name, text in _texts() if ROUNDS_ITSELF.search(text)}
    assert {name for name in own if name.startswith("rosette/")} <= FOR_MACHINES
    assert "rosette/units.py" in own
