"""What a maker is told where the CAD kernel can't be loaded."""

from __future__ import annotations

import builtins
import importlib
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import jigs
from jigs import kernel
from jigs.export import files
from rosette.errors import MissingLibraryError
from tests.jigs.trays import plan, tray

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (
            ModuleNotFoundError("No module named 'cadquery'", name="cadquery"),
            "cadquery, which is not installed; install it with: pip install 'rosette[fixtures]'",
        ),
        (
            ModuleNotFoundError("No module named 'OCP.gp'", name="OCP.gp"),
            "OCP, which is not installed; install it with: pip install 'rosette[fixtures]'",
        ),
        (
            ImportError("libGL.so.1: cannot open shared object file: No such file or directory"),
            "libGL, which is not installed; on Debian, Ubuntu and their like install it with:"
            " sudo apt-get install libgl1 libx11-6",
        ),
        (
            ImportError("libX11.so.6: cannot open shared object file: No such file or directory"),
            "sudo apt-get install libgl1 libx11-6",
        ),
        (
            ImportError("libfreetype.so.6: cannot open shared object file"),
            "libfreetype.so.6: cannot open shared object file",
        ),
    ],
    ids=["cadquery", "OCP", "libGL", "libX11", "another"],
)
def test_the_line_that_installs_what_is_missing_is_given(
    error: ImportError, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(name: str) -> Any:
        raise error

    monkeypatch.setattr(kernel, "import_module", fails)
    with pytest.raises(MissingLibraryError) as caught:
        files(tray(segments=6))
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_machine_without_cadquery_still_gets_its_sizes() -> None:
    run = """
import sys
sys.modules["cadquery"] = None
import jigs
from jigs.export import files
from rosette.errors import MissingLibraryError
from tests.jigs.trays import plan
(tray,) = jigs.fixtures(plan())
try:
    files(tray)
except MissingLibraryError as error:
    print(tray.name, error)
"""
    answer = subprocess.run(
        [sys.executable, "-c", run], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert answer.stdout.startswith("ring-1-tray fixtures need cadquery")
    assert "pip install 'rosette[fixtures]'" in answer.stdout


def test_listing_fixtures_asks_for_no_kernel(monkeypatch: pytest.MonkeyPatch) -> None:
    def guarded(name: str, *rest: Any, **more: Any) -> Any:
        assert name.partition(".")[0] not in ("cadquery", "OCP")
        return real(name, *rest, **more)

    real = builtins.__import__
    monkeypatch.setattr(builtins, "__import__", guarded)
    importlib.reload(jigs)
    assert [one.name for one in jigs.fixtures(plan())] == ["ring-1-tray"]
