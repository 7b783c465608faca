"""What each command loads, seen from outside: a command pays only for what it uses."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
DESIGN = str(ROOT / "patterns_demo" / "damson-parlour" / "design.toml")
KERNEL = {"cadquery", "OCP"}
HEAVY = KERNEL | {"numpy", "shapely", "ezdxf", "svgwrite", "typst"}
RUN = """
import json, sys
from rosette.cli import main
try:
    main(sys.argv[1:])
except SystemExit as end:
    assert not end.code, end.code
finally:
    print()
    print(json.dumps(sorted(name for name in sys.modules if "." not in name)))
"""


def _loaded(words: list[str]) -> set[str]:
    run = subprocess.run(
        [sys.executable, "-c", RUN, *words], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return set(json.loads(run.stdout.splitlines()[-1]))


@pytest.mark.parametrize(
    "words",
    [["--help"], ["plan", DESIGN], ["plan", DESIGN, "--json"], ["check", DESIGN]],
    ids=lambda words: " ".join(words).replace(DESIGN, "DESIGN"),
)
def test_planning_loads_no_drawing_library(words: list[str]) -> None:
    loaded = _loaded(words)
    assert "click" in loaded
    assert not loaded & HEAVY


def test_sheets_alone_do_not_load_the_kernel(tmp_path: Path) -> None:
    loaded = _loaded(["make", DESIGN, "--no-fixtures", "--out", str(tmp_path / "job")])
    assert {"ezdxf", "svgwrite", "typst"} <= loaded
    assert not loaded & KERNEL
