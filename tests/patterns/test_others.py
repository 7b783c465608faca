"""Patterns of other packages: found, used, refused where they are unsound."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = Path(__file__).parent / "example_package"
DESIGN = """
schema = 1
[instrument]
name = "A ring of blocks"
soundhole_diameter = 94
top_thickness = 2.9
[cutting]
kerf = 0.9
[channel]
bit_diameter = 3.175
[[ring]]
pattern = "blocks"
inner_radius = 50
width = 12
tile_thickness = 2.0
wood = "walnut"
blocks = 8
"""


def _installed(folder: Path) -> Path:
    """The example package as an installer would leave it: its files, and what it offers."""
    site = folder / "site"
    shutil.copytree(PACKAGE / "example_rings", site / "example_rings")
    project = tomllib.loads((PACKAGE / "pyproject.toml").read_text())["project"]
    info = site / f"example_rings-{project['version']}.dist-info"
    info.mkdir()
    (info / "METADATA").write_text(
        f"Metadata-Version: 2.1\nName: {project['name']}\nVersion: {project['version']}\n"
    )
    offered = project["entry-points"]["rosette.patterns"]
    lines = [f"{name} = {value}" for name, value in offered.items()]
    (info / "entry_points.txt").write_text("\n".join(["[rosette.patterns]", *lines, ""]))
    return site


def _run(folder: Path, site: Path, *words: str) -> subprocess.CompletedProcess[str]:
    design = folder / "design.toml"
    if not design.exists():
        design.write_text(DESIGN)
    path = f"{ROOT}:{site}"
    return subprocess.run(
        [sys.executable, "-m", "rosette", *words, str(design)],
        cwd=folder,
        env={"PYTHONPATH": path, "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=False,
    )


def _changed(site: Path, old: str, new: str) -> None:
    module = site / "example_rings" / "blocks.py"
    text = module.read_text()
    assert old in text
    module.write_text(text.replace(old, new))


def test_a_ring_of_another_package_is_planned(tmp_path: Path) -> None:
    run = _run(tmp_path, _installed(tmp_path), "plan", "--json")
    assert run.returncode == 0, run.stderr
    (ring,) = json.loads(run.stdout)["rings"]
    assert ring["pattern"] == "blocks"
    assert len(ring["pieces"]) == 8
    assert ring["stock"][0]["count"] == 8


def test_without_the_package_the_pattern_is_unknown(tmp_path: Path) -> None:
    run = _run(tmp_path, tmp_path, "check")
    assert run.returncode == 2
    assert '"blocks" is not a known pattern' in run.stderr


def test_its_keys_are_read_as_strictly_as_ours(tmp_path: Path) -> None:
    (tmp_path / "design.toml").write_text(DESIGN.replace("blocks = 8", "blocs = 8"))
    run = _run(tmp_path, _installed(tmp_path), "check")
    assert run.returncode == 2
    assert "ring[1].blocs" in run.stderr
    assert "blocks" in run.stderr.partition("ring[1].blocs")[2]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('name="blocks",\n    summary', 'name="block",\n    summary', "it calls itself block"),
        ("import math\n", "import maths\n", "No module named 'maths'"),
        ("PATTERN = Pattern(", "PATTERN = dict(", "is not a rosette.patterns.base.Pattern"),
    ],
)
def test_a_package_that_can_not_be_used_is_named(
    tmp_path: Path, old: str, new: str, told: str
) -> None:
    site = _installed(tmp_path)
    _changed(site, old, new)
    run = _run(tmp_path, site, "check")
    assert run.returncode == 2
    assert "the package example-rings offers a pattern blocks" in run.stderr
    assert told in run.stderr
    assert "Traceback" not in run.stderr


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("turn = 360.0 / keys.blocks\n", "turn = 361.0 / keys.blocks\n", "lie over one another"),
        ("_block(site, 90.0 -", "_block(replace(site, outer_radius=99.0), 90.0 -", "stand out"),
        ("number + 1:02d", "1:02d", "two pieces one label"),
        ("pieces=pieces,", "pieces=(),", "without pieces"),
    ],
)
def test_rings_that_are_unsound_are_refused(tmp_path: Path, old: str, new: str, told: str) -> None:
    site = _installed(tmp_path)
    _changed(site, "import math\n", "import math\nfrom dataclasses import replace\n")
    _changed(site, old, new)
    run = _run(tmp_path, site, "plan")
    assert run.returncode == 1
    assert told in run.stderr
    assert "example-rings" in run.stderr
