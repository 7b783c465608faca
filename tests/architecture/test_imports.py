"""Imports point inwards; and the test that says so can fail."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.architecture.reading import ROOT, complaints


def _house(root: Path, files: dict[str, str]) -> Path:
    sound = {"rosette/units.py": "", "jigs/tray.py": "def solid():\n    import cadquery\n"}
    for name, text in {**sound, **files}.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return root


def test_every_import_points_inwards() -> None:
    assert complaints(ROOT) == []


def test_a_sound_house_has_nothing_to_complain_of(tmp_path: Path) -> None:
    assert complaints(_house(tmp_path, {"rosette/plan/a.py": "import rosette.geometry.arc"})) == []


@pytest.mark.parametrize(
    ("file", "text", "complaint"),
    [
        ("rosette/geometry/a.py", "from rosette.plan import make_plan", "stands further out"),
        ("rosette/geometry/a.py", "from rosette import sheets", "stands further out"),
        ("rosette/plan/a.py", "def f():\n    import rosette.cli", "stands further out"),
        ("rosette/wood/a.py", "import rosette.keys", "stands further out"),
        ("rosette/plan/a.py", "from . import model", "relative"),
        ("rosette/plan/a.py", "import click", "click belongs in cli"),
        ("rosette/sheets/a.py", "import ezdxf.path", "ezdxf belongs in offcuts and output"),
        ("rosette/packet.py", "def f():\n    import cadquery", "cadquery belongs in jigs"),
        ("rosette/packet.py", "import jigs.tray", "on loading"),
        ("jigs/a.py", "import cadquery as cq", "on loading"),
        ("jigs/a.py", "class A:\n    from OCP.gp import gp_Pnt", "on loading"),
        ("jigs/a.py", "from rosette.sheets import drawing", "reads only the plan"),
        ("rosette/attic/a.py", "", "no such room as attic"),
        ("rosette/plan/a.py", "import rosette.attic", "no such room as attic"),
        ("rosette/__init__.py", "import rosette.plan", "stands further out"),
    ],
)
def test_a_broken_rule_is_found(tmp_path: Path, file: str, text: str, complaint: str) -> None:
    found = complaints(_house(tmp_path, {file: text}))
    assert len(found) == 1
    assert complaint in found[0]


def test_what_only_type_checkers_read_does_not_count_as_loading(tmp_path: Path) -> None:
    text = "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import cadquery\n"
    assert complaints(_house(tmp_path, {"jigs/a.py": text})) == []


def test_an_empty_house_is_no_house(tmp_path: Path) -> None:
    assert complaints(tmp_path) == ["rosette/ holds no Python file", "jigs/ holds no Python file"]
