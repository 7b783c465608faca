"""A run killed at any moment, two runs at once, and what came into the folder meanwhile."""

from __future__ import annotations

import json
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from rosette.errors import InputError
from rosette.packet import folder as folder_module
from rosette.packet.target import find_target
from rosette.packet.work import working
from tests.packet.folders import FIRST, SECOND, contents, files, leftovers, put_files

ROOT = Path(__file__).resolve().parents[2]


def _kills(tmp_path: Path, how: str, before: str) -> list[dict[str, object]]:
    run = subprocess.run(
        [sys.executable, "-m", "tests.packet.killing", str(tmp_path), how, before],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return [json.loads(line) for line in run.stdout.splitlines()]


def test_killed_anywhere_the_folder_is_as_it_was_or_wholly_new(tmp_path: Path) -> None:
    kills = _kills(tmp_path, "whole", "old")
    assert {one["after kill"] for one in kills} == {"first", "second"}
    assert [one for one in kills if one["after next"] != "third" or one["left"]] == []
    assert len(kills) > 40


def test_killed_anywhere_a_new_folder_is_not_there_or_whole(tmp_path: Path) -> None:
    kills = _kills(tmp_path, "whole", "new")
    assert {one["after kill"] for one in kills} == {"nothing", "second alone"}
    assert [one for one in kills if one["after next"] != "third alone" or one["left"]] == []


def test_without_the_systems_exchange_the_next_run_makes_it_whole(tmp_path: Path) -> None:
    kills = _kills(tmp_path, "steps", "old")
    assert {one["after kill"] for one in kills} == {"first", "nothing", "second"}
    assert sum(one["after kill"] == "nothing" for one in kills) <= 2
    assert [one for one in kills if one["after next"] != "third" or one["left"]] == []


def test_two_runs_at_once_take_turns(tmp_path: Path) -> None:
    out = tmp_path / "job"
    runs = [
        threading.Thread(target=put_files, args=(out, wanted)) for wanted in [FIRST, SECOND] * 4
    ]
    for run in runs:
        run.start()
    for run in runs:
        run.join()
    assert files(out) in (FIRST, SECOND)
    assert leftovers(out) == []


def test_a_run_that_does_not_end_is_told_of_in_a_sentence(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    target = find_target(out)
    with (
        working(target),
        pytest.raises(InputError, match="another run"),
        working(target, patience=0.2),
    ):
        pass
    assert leftovers(out) == []


def test_what_comes_into_the_folder_at_the_last_moment_is_not_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    (out / "notes.txt").write_bytes(b"old words")
    change = folder_module._change_places

    def late(staged: Path, target: object) -> None:
        (out / "new.txt").write_bytes(b"just saved")
        (out / "notes.tmp").write_bytes(b"new words")
        (out / "notes.tmp").rename(out / "notes.txt")
        (out / "packet.pdf").write_bytes(b"pages 1, signed")
        (out / "empty").mkdir()
        change(staged, target)

    monkeypatch.setattr(folder_module, "_change_places", late)
    placed = put_files(out, SECOND)
    assert set(placed.rescued) == {"new.txt", "notes.before.txt", "packet.before.pdf"}
    assert files(out) == {
        **SECOND,
        "notes.txt": b"old words",
        "new.txt": b"just saved",
        "notes.before.txt": b"new words",
        "packet.before.pdf": b"pages 1, signed",
    }
    assert contents(out)["empty"] == "folder"


def test_what_comes_to_stand_there_meanwhile_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "job"
    change = folder_module._change_places

    def late(staged: Path, target: object) -> None:
        out.mkdir()
        change(staged, target)

    monkeypatch.setattr(folder_module, "_change_places", late)
    with pytest.raises(InputError, match="run it again"):
        put_files(out, FIRST)
    assert contents(tmp_path) == {"job": "folder"}
