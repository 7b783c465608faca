"""What gets installed: releases that satisfy pyproject.toml, and a wheel with all of its data."""

from __future__ import annotations

import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def _constraints() -> list[Requirement]:
    lines = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    return [Requirement(line) for line in lines if line and not line.startswith("#")]


def test_every_constraint_names_one_release_and_no_place_to_fetch_it_from() -> None:
    assert len(_constraints()) > 50
    for one in _constraints():
        assert one.url is None
        assert [spec.operator for spec in one.specifier] == ["=="]


def test_every_requirement_has_a_release_that_satisfies_it() -> None:
    extras = PROJECT["optional-dependencies"].values()
    wanted = PROJECT["dependencies"] + [name for extra in extras for name in extra]
    pinned: dict[str, list[str]] = {}
    for one in _constraints():
        pinned.setdefault(canonicalize_name(one.name), []).append(next(iter(one.specifier)).version)
    for requirement in map(Requirement, wanted):
        releases = pinned[canonicalize_name(requirement.name)]
        assert all(requirement.specifier.contains(release) for release in releases), requirement


def test_the_wheel_holds_every_file_of_the_program_and_nothing_else(tmp_path: Path) -> None:
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        cwd=ROOT, check=True, capture_output=True,
    )  # fmt: skip
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        held = {name for name in archive.namelist() if ".dist-info/" not in name}
        licences = {Path(name).name for name in archive.namelist() if "/licenses/" in name}
    listed = subprocess.run(
        ["git", "ls-files", "-z", "-co", "--exclude-standard", "rosette", "jigs"],
        cwd=ROOT, check=True, capture_output=True, text=True,
    )  # fmt: skip
    assert held == {name for name in listed.stdout.split("\0") if name}
    assert {"LICENSE", "OFL.txt"} <= licences
