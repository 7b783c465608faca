"""A range of sizes: each folder whole, bad rows apart, crashes told, a stopped run gone on with."""

from __future__ import annotations

import csv
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from rosette.errors import InputError
from rosette.packet import size_run
from rosette.packet.size_run import MADE, NOT_MADE, THERE, Outcome, Wishes, make_range
from rosette.packet.size_table import Row, read_sizes

ROOT = Path(__file__).resolve().parents[2]
DESIGN = """
schema = 1
[instrument]
name = "Sizes"
soundhole_diameter = 80
top_thickness = 3.2
[cutting]
kerf = 0.9
[channel]
bit_diameter = 3.175
[fixtures]
text = false
[[ring]]
pattern = "radial"
inner_radius = 50
width = 14
segments = 12
wood = "walnut"
tile_thickness = 2.0
"""
TABLE = "name,inner_radius,width,segments\nsmall,45,12,12\nbad,45,12,2\nlarge,55,14,16\n"


def _command(folder: Path, *more: str) -> list[str]:
    (folder / "design.toml").write_text(DESIGN)
    (folder / "sizes.csv").write_text(TABLE)
    words = ["jigs", "design.toml", "--make", "tray", "--sizes", "sizes.csv", "--out", "range"]
    return [sys.executable, "-m", "rosette", *words, *more]


def _run(folder: Path, *more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        _command(folder, *more),
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )


def _states(folder: Path) -> dict[str, str]:
    with (folder / "range" / "sizes.csv").open(encoding="utf-8") as file:
        return {row["size"]: row["state"] for row in csv.DictReader(file)}


def test_a_range_is_stopped_gone_on_with_and_then_left_alone(tmp_path: Path) -> None:
    run = subprocess.Popen(
        _command(tmp_path, "--cores", "1"),
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    assert run.stderr is not None
    for line in run.stderr:
        if "small: made" in line:
            break
    os.kill(run.pid, signal.SIGINT)
    told = run.stderr.read()
    assert run.wait(timeout=60) == 130
    assert "goes on from there" in told
    assert "Traceback" not in told
    deadline = time.monotonic() + 10
    while _alive(run.pid) and time.monotonic() < deadline:
        time.sleep(0.1)
    assert not _alive(run.pid)
    place = tmp_path / "range"
    assert sorted(os.listdir(place)) == ["sizes.csv", "small"]
    assert _states(tmp_path)["small"] == MADE

    second = _run(tmp_path)
    assert second.returncode == 1, second.stderr
    assert _states(tmp_path) == {"small": THERE, "bad": NOT_MADE, "large": MADE}
    assert "bad, line 3:" in second.stdout
    assert "segments = 16" in (place / "large" / "design.toml").read_text()
    wanted = {"ring-1-tray.step", "ring-1-tray.3mf", "fixtures.pdf", "ring-1-tray.png"}
    assert wanted <= set(os.listdir(place / "large"))

    rows = read_sizes(tmp_path / "sizes.csv", tmp_path / "design.toml")
    wishes = Wishes(out=place, kinds=("tray",), paper="a4")
    assert [_settles(row, wishes) for row in rows] == [True, True, True]
    (place / "large" / "ring-1-tray.stl").write_text("damaged")
    assert [_settles(row, wishes) for row in rows] == [True, True, False]


def _settles(row: Row, wishes: Wishes) -> bool:
    """Whether a row needs no making."""
    return size_run._settled(row, wishes) is not None


def _alive(group: int) -> bool:
    """Whether any process of a group is left."""
    try:
        os.killpg(group, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.fixture
def rows(tmp_path: Path) -> tuple[Row, ...]:
    (tmp_path / "design.toml").write_text(DESIGN)
    lines = [f"s{i},{45 + i},12,12" for i in range(8)]
    (tmp_path / "t.csv").write_text("\n".join(["name,inner_radius,width,segments", *lines]))
    return read_sizes(tmp_path / "t.csv", tmp_path / "design.toml")


def test_a_size_that_crashes_the_kernel_stops_no_other(
    tmp_path: Path, rows: tuple[Row, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A pool that dies at one size, whichever rows it was working on, is stood in for here."""

    def pooled(todo: list[Row], _: Wishes, workers: int) -> Iterator[Outcome | None]:
        at_work = todo[:workers]
        for row in todo:
            if row.name == "s4" and row in at_work:
                yield None
                return
            yield Outcome(name=row.name, line=row.line, state=MADE, what="")
            at_work = [*at_work, *todo[todo.index(row) + workers :][:1]]

    monkeypatch.setattr(size_run, "_pooled", pooled)
    wishes = Wishes(out=tmp_path / "range", kinds=("tray",), paper="a4")
    for cores in (1, 2, 3, 8):
        found = make_range(rows, wishes, cores=cores, told=lambda _: None)
        assert [one.name for one in found] == [row.name for row in rows]
        assert [one.name for one in found if one.state == NOT_MADE] == ["s4"]
        assert "crashed" in found[4].what


def test_a_list_of_sizes_that_is_not_ours_is_not_written_over(
    tmp_path: Path, rows: tuple[Row, ...]
) -> None:
    place = tmp_path / "range"
    place.mkdir()
    (place / "sizes.csv").write_text("my,own,list\n")
    with pytest.raises(InputError, match="another's"):
        make_range(
            rows, Wishes(out=place, kinds=("tray",), paper="a4"), cores=1, told=lambda _: None
        )
    assert (place / "sizes.csv").read_text() == "my,own,list\n"
