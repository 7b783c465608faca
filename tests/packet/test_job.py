"""The whole job: what the folder holds, the same bytes every time, and what a failure leaves."""

from __future__ import annotations

import hashlib
import json
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import jsonschema
import pypdfium2
import pytest

from rosette.design import read_design
from rosette.packet import contents as contents_module
from rosette.packet import make_job
from rosette.packet.contents import Part
from tests.packet.folders import contents, leftovers
from tests.packet.jobs import (
    DAMSON,
    HERON,
    ROOT,
    SMALL,
    environment,
    hashes,
    is_gone,
    make,
    manifest,
)

SCHEMA = json.loads((ROOT / "docs" / "schemas" / "manifest.schema.json").read_text("utf-8"))
POINTS_PER_MM = 72 / 25.4
STANDARD_SHEETS = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "letter": (215.9, 279.4)}
"""mm: ISO 216, and 8.5 × 11 in."""


@pytest.fixture(scope="module")
def sheets_only(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job folder without fixtures."""
    out = tmp_path_factory.mktemp("sheets") / "job"
    assert make(str(HERON), "--out", str(out), "--no-fixtures").returncode == 0
    return out


@pytest.fixture(scope="module")
def soon_made(small: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The job folder of a small design."""
    out = tmp_path_factory.mktemp("soon") / "job"
    assert make(str(small), "--out", str(out), "--no-fixtures").returncode == 0
    return out


def test_everything_promised_is_there(
    whole: tuple[Path, subprocess.CompletedProcess[str]],
) -> None:
    out, run = whole
    assert run.returncode == 0, run.stderr
    found = set(hashes(out))
    assert {
        *("plan.json", "packet.pdf", "picture.svg", "picture.png", "manifest.json", "design.toml"),
        *(f"fixtures/ring-1-tray.{kind}" for kind in ("step", "stl", "3mf")),
    } <= found
    svg = {Path(name).stem for name in found if name.startswith("sheets/") and name.endswith("svg")}
    dxf = {Path(name).stem for name in found if name.startswith("sheets/") and name.endswith("dxf")}
    assert svg == dxf
    assert len(svg) >= 7


def test_the_manifest_lists_every_file_with_its_hash_and_keeps_its_schema(
    whole: tuple[Path, subprocess.CompletedProcess[str]],
) -> None:
    out, _ = whole
    listed = manifest(out)
    jsonschema.Draft202012Validator(SCHEMA).validate(listed)
    found = hashes(out)
    del found["manifest.json"]
    assert {one["file"]: one["sha256"] for one in listed["files"]} == found
    assert listed["design"]["sha256"] == hashlib.sha256(DAMSON.read_bytes()).hexdigest()
    assert listed["design"]["file"] == "design.toml"
    assert listed["missing"] == []
    assert (out / "design.toml").read_bytes() == DAMSON.read_bytes()


@pytest.mark.parametrize("file", ["../plan.json", "/plan.json", "a/../b", "a\\b", "", "a//b"])
def test_the_schema_can_refuse(file: str) -> None:
    listed = {
        "schema": "rosette.manifest/1",
        "version": "1",
        "design": {"name": "x", "file": "x", "sha256": "0" * 64},
        "files": [{"file": file, "what": "x", "sha256": "0" * 64}],
        "missing": [],
    }
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(SCHEMA).validate(listed)


def test_the_last_words_fit_a_terminal_and_name_what_to_open(
    whole: tuple[Path, subprocess.CompletedProcess[str]],
) -> None:
    out, run = whole
    assert run.stderr == ""
    assert f"{len(hashes(out))} files" in run.stdout
    assert str(out / "packet.pdf") in run.stdout
    told = run.stdout.replace(str(out), "job")
    assert max(map(len, told.splitlines())) <= 80


def test_the_same_design_gives_the_same_bytes_whenever_and_wherever(
    whole: tuple[Path, subprocess.CompletedProcess[str]], tmp_path: Path
) -> None:
    out, _ = whole
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "design.toml").write_bytes(DAMSON.read_bytes())
    run = make(
        *("elsewhere/design.toml", "--out", "again"),
        folder=tmp_path,
        PYTHONHASHSEED="4711",
        TZ="Pacific/Kiritimati",
        LC_ALL="C",
        HOME=str(tmp_path),
        SOURCE_DATE_EPOCH="1",
    )
    assert run.returncode == 0, run.stderr
    assert hashes(tmp_path / "again") == hashes(out)


def test_no_order_of_hashing_shows_in_the_files(sheets_only: Path, tmp_path: Path) -> None:
    """The other folder's order is another one every time."""
    out = tmp_path / "job"
    run = make(str(HERON), "--out", str(out), "--no-fixtures", PYTHONHASHSEED="42")
    assert run.returncode == 0, run.stderr
    assert hashes(out) == hashes(sheets_only)


def test_a_second_run_changes_nothing_and_keeps_notes(small: Path, soon_made: Path) -> None:
    (soon_made / "notes.txt").write_text("mine", "utf-8")
    before = contents(soon_made)
    assert make(str(small), "--out", str(soon_made), "--no-fixtures").returncode == 0
    assert contents(soon_made) == before
    (soon_made / "notes.txt").unlink()


@pytest.mark.parametrize(
    ("units", "words", "paper"),
    [
        ("in", [], "letter"),
        ("in", ["--units", "mm"], "a4"),
        ("in", ["--paper", "A3"], "a3"),
        ("mm", ["--units", "in", "--paper", "a4"], "a4"),
    ],
    ids=["inches", "inches told in mm", "a3", "mm told in inches on a4"],
)
def test_the_packet_is_printed_on_the_paper_of_its_units(
    units: str, words: list[str], paper: str, tmp_path: Path
) -> None:
    design, out = tmp_path / "design.toml", tmp_path / "job"
    design.write_text(SMALL.replace('units = "mm"', f'units = "{units}"'), "utf-8")
    assert make(str(design), "--out", str(out), "--no-fixtures", *words).returncode == 0
    document = pypdfium2.PdfDocument(out / "packet.pdf")
    size = sorted(one / POINTS_PER_MM for one in document[0].get_size())
    assert size == pytest.approx(sorted(STANDARD_SHEETS[paper]), abs=0.01)
    told = " ".join(document[0].get_textpage().get_text_range().split())
    assert f"Lengths below are {'millimetres' if 'mm' in words else 'inches'}" in told


def test_without_the_kernel_everything_else_is_made_and_the_rest_is_named(tmp_path: Path) -> None:
    """A cadquery that fails as the real one does where the system lacks a library."""
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    failure = "libGL.so.1: cannot open shared object file: No such file or directory"
    (shelf / "cadquery.py").write_text(f"raise ImportError({failure!r})\n", "utf-8")
    out = tmp_path / "job"
    run = make(str(DAMSON), "--out", str(out), PYTHONPATH=os.pathsep.join([str(shelf), str(ROOT)]))
    assert run.returncode == 0, run.stderr
    assert run.stderr == ""
    listed = manifest(out)
    jsonschema.Draft202012Validator(SCHEMA).validate(listed)
    names = [f"fixtures/ring-1-tray{kind}" for kind in (".step", ".stl", ".3mf")]
    assert [one["file"] for one in listed["missing"]] == names
    assert not (out / "fixtures").exists()
    document = pypdfium2.PdfDocument(out / "packet.pdf")
    cover = "".join(document[page].get_textpage().get_text_range() for page in range(3))
    for told in (run.stdout, cover):
        assert "fixtures/ring-1-tray.step" in told
        assert "apt-get install libgl1" in " ".join(told.split())


@pytest.mark.parametrize("at", range(len(contents_module.PARTS)))
def test_a_part_that_fails_leaves_the_folder_as_it_was(
    small: Path, soon_made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: int
) -> None:
    def fails(*_: object) -> object:
        raise RuntimeError("out of ink")

    before = contents(soon_made)
    parts = list(contents_module.PARTS)
    parts[at] = Part(doing="", share=1, make=fails)  # type: ignore[arg-type]
    monkeypatch.setattr("rosette.packet.job.PARTS", tuple(parts))
    out = soon_made if at else tmp_path / "new"
    with pytest.raises(RuntimeError, match="out of ink"):
        make_job(read_design(small), out, record=b"", paper="a4", fixtures=False)
    assert contents(soon_made) == before
    assert not (tmp_path / "new").exists()


def _start(design: Path, out: Path, *words: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "rosette", "make", str(design), "--out", str(out), *words],
        cwd=ROOT,
        env=environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def test_killed_at_random_the_folder_is_whole(small: Path, soon_made: Path) -> None:
    before = hashes(soon_made)
    chance = random.Random(20)
    for _ in range(5):
        with _start(small, soon_made, "--no-fixtures", "--paper", "a3") as run:
            time.sleep(chance.uniform(0.05, 1.5))
            run.kill()
        after = hashes(soon_made)
        listed = {one["file"]: one["sha256"] for one in manifest(soon_made)["files"]}
        assert listed.items() <= after.items()
        if run.returncode != 0:
            assert after == before
        before = after
    assert make(str(small), "--out", str(soon_made), "--no-fixtures").returncode == 0
    assert leftovers(soon_made) == []


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_asked_to_stop_it_stops_cleanly(tmp_path: Path, number: signal.Signals) -> None:
    out = tmp_path / "job"
    with _start(HERON, out) as run:
        children = Path(f"/proc/{run.pid}/task/{run.pid}/children")
        while not children.read_text("utf-8"):  # it has begun when its helper has
            time.sleep(0.02)
        helper = int(children.read_text("utf-8"))
        run.send_signal(number)
        told, complaint = run.communicate(timeout=60)
    assert run.returncode == 130
    assert "Traceback" not in complaint
    assert "nothing was changed" in complaint
    assert told == ""
    assert is_gone(helper)
    assert list(tmp_path.iterdir()) == []


def test_two_whole_runs_at_once_leave_one_whole_folder(small: Path, tmp_path: Path) -> None:
    out = tmp_path / "job"
    with (
        _start(small, out, "--no-fixtures") as one,
        _start(small, out, "--no-fixtures", "--paper", "a3") as two,
    ):
        complaints = one.communicate()[1] + two.communicate()[1]
    assert {one.returncode, two.returncode} <= {0, 2}, complaints
    assert 0 in {one.returncode, two.returncode}
    listed = {entry["file"]: entry["sha256"] for entry in manifest(out)["files"]}
    found = hashes(out)
    del found["manifest.json"]
    assert listed == found
    assert leftovers(out) == []
