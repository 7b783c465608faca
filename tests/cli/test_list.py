"""`rosette list`: what there is to choose from, with pictures."""

from __future__ import annotations

import math
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image

from rosette.cli.list import command
from rosette.gallery import LETTERS, examples, marks_of, sketch
from rosette.patterns import MODULES


@pytest.mark.parametrize("one", examples(), ids=lambda one: one.pattern.name)
def test_a_pattern_is_sketched_where_its_wood_lies(one: object) -> None:
    """The characters of a sketch stand for as much wood as lies in the part that it shows."""
    from rosette.gallery import Example

    assert isinstance(one, Example)
    ring = one.ring
    lines = sketch(ring, letters=True, columns=144, rows=48)
    step = ring.outer_radius * 0.72 / 72
    shown = sum(len(line.replace(" ", "")) for line in lines) * 2 * step**2
    low, half = ring.outer_radius - 48 * 2 * step, ring.outer_radius * 0.72

    def disk(radius: float) -> float:
        """What of a disk lies above `low` and within `half` of the middle, by Simpson's rule."""
        parts = 2000
        total = 0.0
        for i in range(parts + 1):
            x = -half + 2 * half * i / parts
            height = max(0.0, math.sqrt(max(0.0, radius**2 - x**2)) - low)
            total += height * (1 if i in (0, parts) else 4 if i % 2 else 2)
        return total * 2 * half / parts / 3

    wanted = disk(ring.outer_radius) - disk(ring.inner_radius)
    assert shown == pytest.approx(wanted, rel=0.03, abs=0.4 * ring.outer_radius * step)
    assert set("".join(lines)) - {" "} <= set(marks_of(ring, letters=True).values()) <= set(LETTERS)


def test_every_pattern_is_shown_within_80_columns() -> None:
    run = CliRunner().invoke(command, ["patterns"])
    assert run.exit_code == 0
    lines = run.output.splitlines()
    assert max(map(len, lines)) <= 80
    told = [line[40:] for line in lines]
    assert [name for name in MODULES if name not in told] == []


def test_a_terminal_without_blocks_gets_letters() -> None:
    run = subprocess.run(
        [sys.executable, "-m", "rosette", "list", "patterns"],
        env={"PYTHONIOENCODING": "ascii", "PYTHONPATH": str(Path(__file__).parents[2])},
        capture_output=True,
        check=True,
    )
    assert b"#" in run.stdout
    assert b"?" not in run.stdout


def test_the_contact_sheet_is_written(tmp_path: Path) -> None:
    sheet = tmp_path / "patterns.png"
    run = CliRunner().invoke(command, ["patterns", "--picture", str(sheet)])
    assert run.exit_code == 0
    with Image.open(sheet) as picture:
        assert picture.width > 1000
        assert len(set(picture.convert("RGB").resize((40, 40)).getdata())) > 20


def test_woods_name_their_sources() -> None:
    run = CliRunner().invoke(command, ["woods"])
    assert run.exit_code == 0
    assert max(map(len, run.output.splitlines())) <= 80
    (walnut,) = [line for line in run.output.splitlines() if line.startswith("black walnut")]
    assert "0.190" in walnut
    assert "0.274" in walnut
    assert "walnut" in walnut[40:]
    assert "Table 13-5" in run.output
