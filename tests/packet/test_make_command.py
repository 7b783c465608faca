"""`rosette make` at the command line: refusals and their exit codes, the bar, a design inside."""

from __future__ import annotations

import os
import pty
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.packet.folders import contents
from tests.packet.jobs import DAMSON, ROOT, environment, make, manifest

FAST = "--no-fixtures"


def _words(run: subprocess.CompletedProcess[str]) -> str:
    assert "Traceback" not in run.stderr
    assert run.stdout == ""
    return " ".join(run.stderr.split())


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([str(DAMSON)], "--out"),
        (["no-such.toml", "--out", "job"], "no such file"),
        ([".", "--out", "job"], "folder"),
        ([str(DAMSON), "--out", "job", "--paper", "b5"], "--paper"),
        ([str(DAMSON), "--out", "a-file"], "is a file, not a folder"),
        ([str(DAMSON), "--out", "a-file/job"], "not a folder"),
        ([str(DAMSON), "--out", "."], "working inside that folder"),
        ([str(DAMSON), "--out", ""], "--out"),
        ([str(DAMSON), "--out", "/proc/job"], "--out"),
    ],
)
def test_wrong_input_gets_a_sentence_and_exit_code_2(
    tmp_path: Path, words: list[str], told: str
) -> None:
    (tmp_path / "a-file").write_text("mine", "utf-8")
    run = make(*words, FAST, folder=tmp_path)
    assert run.returncode == 2
    assert told in _words(run)
    assert contents(tmp_path) == {"a-file": b"mine"}


def test_a_ring_that_cannot_be_made_ends_with_1_and_writes_nothing(tmp_path: Path) -> None:
    design = tmp_path / "deep.toml"
    design.write_text(
        DAMSON.read_text("utf-8").replace("tile_thickness = 2.0", "tile_thickness = 9")
    )
    run = make(str(design), "--out", "job", FAST, folder=tmp_path)
    assert run.returncode == 1
    assert "deepest that works" in _words(run)
    assert not (tmp_path / "job").exists()


def test_the_design_may_lie_in_its_own_job_folder(small: Path, tmp_path: Path) -> None:
    job = tmp_path / "job"
    job.mkdir()
    mine = job / "design.toml"
    mine.write_bytes(small.read_bytes())
    inode = mine.stat().st_ino
    for line in ("", "# a thought\n"):
        mine.write_bytes(mine.read_bytes() + line.encode())
        run = make("job/design.toml", "--out", "job", FAST, folder=tmp_path)
        assert run.returncode == 0, run.stderr
        assert mine.stat().st_ino == inode
    listed = {one["file"]: one for one in manifest(job)["files"]}
    assert listed["design.toml"]["yours"] is True
    other = tmp_path / "other.toml"
    other.write_bytes(small.read_bytes())
    run = make("other.toml", "--out", "job", FAST, folder=tmp_path)
    assert run.returncode == 2
    assert "design.toml" in _words(run)
    run = make("other.toml", "--out", "job", FAST, "--replace", folder=tmp_path)
    assert run.returncode == 0
    assert "design.before.toml" in run.stdout
    assert (job / "design.before.toml").stat().st_ino == inode


def test_fixtures_left_out_leave_the_folder_and_changed_ones_stay(
    whole: tuple[Path, subprocess.CompletedProcess[str]], tmp_path: Path
) -> None:
    out = tmp_path / "job"
    shutil.copytree(whole[0], out)
    tray = out / "fixtures" / "ring-1-tray.stl"
    tray.write_bytes(tray.read_bytes() + b"mended")
    run = make(str(DAMSON), "--out", str(out), FAST)
    assert run.returncode == 0
    assert [path.name for path in (out / "fixtures").iterdir()] == ["ring-1-tray.stl"]
    assert "fixtures/ring-1-tray.stl" in run.stdout


SLOWED = """
import sys
import rosette.cli.make as make
from rosette.cli import main
make.SLOW = {slow}
main(sys.argv[1:])
"""


@pytest.mark.parametrize(("slow", "shown"), [(-1.0, True), (1e9, False)])
def test_a_bar_shows_on_a_terminal_once_it_is_slow(
    small: Path, tmp_path: Path, slow: float, shown: bool
) -> None:
    ours, theirs = pty.openpty()
    run = subprocess.Popen(
        [
            *(sys.executable, "-c", SLOWED.format(slow=slow)),
            *("make", str(small), FAST, "--out", str(tmp_path / "job")),
        ],
        cwd=ROOT,
        env=environment(TERM="xterm", COLUMNS="80"),
        stdout=subprocess.PIPE,
        stderr=theirs,
    )
    os.close(theirs)
    said = b""
    while True:
        try:
            piece = os.read(ours, 65536)
        except OSError:
            break
        if not piece:
            break
        said += piece
    os.close(ours)
    assert run.stdout is not None
    assert b"packet.pdf" in run.stdout.read()
    assert run.wait() == 0
    assert (b"100%" in said and b"Setting the packet" in said) == shown
    run.stdout.close()
