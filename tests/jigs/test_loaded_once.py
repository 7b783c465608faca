"""The CAD kernel takes seconds to load: a job loads it in one process, and there once."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from pathlib import Path

from tests.jigs.trays import DESIGN, USUAL

ROOT = Path(__file__).resolve().parents[2]
WATCH = """
import os, sys

class Watch:
    def find_spec(self, name, path=None, target=None):
        if name == "cadquery":
            with open(os.environ["LOADED"], "a") as told:
                print(os.getpid(), file=told)

sys.meta_path.insert(0, Watch())
"""


def test_a_folder_of_fixtures_loads_the_kernel_once(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text(WATCH)
    design, loaded = tmp_path / "design.toml", tmp_path / "loaded"
    design.write_text(DESIGN.format(**{**USUAL, "segments": 6}))
    wanted = ["--make", "tray", "--make", "caul", "--out", str(tmp_path / "out")]
    subprocess.run(
        [sys.executable, "-m", "rosette", "jigs", str(design), *wanted],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(tmp_path), "LOADED": str(loaded)},
        check=True,
        capture_output=True,
    )
    assert {one.suffix for one in (tmp_path / "out").rglob("*")} >= {".step", ".stl", ".3mf"}
    assert list(Counter(loaded.read_text().split()).values()) == [1]
