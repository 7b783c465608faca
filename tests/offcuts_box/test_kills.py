"""A command killed at any moment leaves the box as it was or changed, and nothing is lost."""

from __future__ import annotations

import json
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from rosette.offcuts import read_box
from tests.offcuts_box.jobs import TEXT, cuts, put_box, states
from tests.offcuts_box.killing import FIRST, SECOND, THIRD

ROOT = Path(__file__).resolve().parents[2]
ADD = ["--id", "R", "--wood", "maple", "--thickness", "2.2", "--rectangle", "100", "40"]


def _kills(tmp_path: Path, how: str) -> list[dict[str, object]]:
    run = subprocess.run(
        [sys.executable, "-m", "tests.offcuts_box.killing", str(tmp_path), how],
        cwd=ROOT, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return [json.loads(line) for line in run.stdout.splitlines()]


def test_killed_anywhere_the_box_is_the_one_or_the_other(tmp_path: Path) -> None:
    kills = _kills(tmp_path, "whole")
    assert {one["after kill"] for one in kills} == {FIRST, SECOND}
    assert {one["after next"] for one in kills} == {THIRD}
    assert len(kills) > 10
    for one in kills:
        # what was in place once is kept, what never was is not
        done = one["after kill"] == SECOND
        assert one["kept"] == ([FIRST, SECOND] if done else [FIRST])
        assert one["left"] == []


def test_without_the_systems_exchange_the_next_command_makes_it_whole(tmp_path: Path) -> None:
    kills = _kills(tmp_path, "steps")
    assert {one["after kill"] for one in kills} == {FIRST, "nothing", SECOND}
    assert sum(one["after kill"] == "nothing" for one in kills) <= 2
    assert {one["after next"] for one in kills} == {THIRD}
    for one in kills:
        done = one["after kill"] == SECOND
        assert one["kept"] == ([FIRST, SECOND] if done else [FIRST])
        assert one["left"] == []


@pytest.mark.parametrize("what", ["add", "take"])
def test_commands_killed_at_random_moments(tmp_path: Path, what: str) -> None:
    """Real commands, real kills: some while libraries load, some while they write."""
    rng = random.Random()
    began = time.monotonic()
    assert _run(tmp_path / "whole", what, None)
    usual = time.monotonic() - began
    moments = [0.1, *(rng.uniform(0.6, 1.0) for _ in range(4))]
    ended = [_run(tmp_path / str(i), what, usual * one) for i, one in enumerate(moments)]
    assert not ended[0], "a tenth of the usual time is too little to come to an end"


def _run(folder: Path, what: str, seconds: float | None) -> bool:
    """Run a command, killed after so many seconds; whether it came to its end by itself."""
    folder.mkdir()
    path = put_box(folder)
    words = ADD if what == "add" else [str(cuts(path, {"T": 1}))]
    run = subprocess.Popen(
        [sys.executable, "-m", "rosette", "offcuts", what, str(path), *words],
        cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
    )  # fmt: skip
    try:
        _, told = run.communicate(timeout=seconds)
        assert run.returncode == 0, told
    except subprocess.TimeoutExpired:
        run.send_signal(signal.SIGKILL)
        run.communicate()
    assert read_box(path).offcuts
    if path.read_text() != TEXT:
        assert states(path)[-1] == TEXT
    return run.returncode == 0


def test_a_hand_saved_file_that_a_kill_left_aside_comes_back(tmp_path: Path) -> None:
    from rosette.offcuts.box_file import _hash, change

    path = put_box(tmp_path)
    change(path, lambda old: (old or b"") + b"# one\n")
    # as a kill leaves it between the exchange and the change back: ours in place, theirs aside
    ours = TEXT.encode() + b"# two\n"
    theirs = TEXT.encode() + b"# by hand\n"
    path.write_bytes(ours)
    (tmp_path / "offcuts.toml.before" / f"new-{_hash(ours)}").write_bytes(theirs)
    change(path, lambda old: (old or b"") + b"# three\n")
    assert path.read_bytes() == theirs + b"# three\n"
    assert {ours.decode(), theirs.decode()} <= set(states(path))
