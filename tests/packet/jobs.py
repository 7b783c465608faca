"""Whole jobs run as a user runs them, and what they leave."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
DAMSON = ROOT / "patterns_demo" / "damson-parlour" / "design.toml"
HERON = ROOT / "patterns_demo" / "heron-dreadnought" / "design.toml"
SMALL = """
schema = 1
units = "mm"
[instrument]
name = "One line"
soundhole_diameter = "100 mm"
top_thickness = "4 mm"
[cutting]
kerf = "1 mm"
[channel]
bit_diameter = "3.175 mm"
[[ring]]
pattern = "line"
inner_radius = "55 mm"
width = "4 mm"
wood = "maple"
tile_thickness = "2 mm"
"""
"""A design whose job is soon made, for tests that look at the folder and not into its files."""


def environment(**more: str) -> dict[str, str]:
    """This process's environment, with the checkout on the path from any folder."""
    return {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1", **more}


def make(*words: str, folder: Path = ROOT, **env: str) -> subprocess.CompletedProcess[str]:
    """`rosette make` as a process."""
    return subprocess.run(
        [sys.executable, "-m", "rosette", "make", *words],
        cwd=folder,
        env=environment(**env),
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
        check=False,
    )


def manifest(out: Path) -> dict[str, Any]:
    """The manifest of a job folder."""
    found: dict[str, Any] = json.loads((out / "manifest.json").read_text("utf-8"))
    return found


def hashes(out: Path) -> dict[str, str]:
    """Hash by path of every file in a folder."""
    return {
        path.relative_to(out).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(out.rglob("*"))
        if path.is_file()
    }


def is_gone(process: int) -> bool:
    """Whether a process has ended, or does within ten seconds."""
    for _ in range(200):
        try:
            state = Path(f"/proc/{process}/stat").read_text("utf-8").rpartition(")")[2].split()[0]
        except FileNotFoundError:
            return True
        if state in "ZX":
            return True
        time.sleep(0.05)
    return False
