"""Places where no job folder can go, disks that refuse, and manifests that lie."""

from __future__ import annotations

import errno
import json
import os
from pathlib import Path

import pytest

from rosette.errors import InputError
from rosette.packet import folder as folder_module
from rosette.packet import tree
from rosette.packet.manifest import ManifestError, read_manifest
from tests.packet.folders import FIRST, SECOND, contents, files, leftovers, put_files


def _refusal(out: Path, **options: bool) -> str:
    with pytest.raises(InputError) as raised:
        put_files(out, SECOND, **options)
    assert raised.value.exit_code == 2
    return str(raised.value)


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "job").write_bytes(b"a file")
    assert "is a file, not a folder" in _refusal(tmp_path / "job")
    assert "not a folder" in _refusal(tmp_path / "job" / "inside")
    assert contents(tmp_path) == {"job": b"a file"}


def test_the_folder_one_stands_in_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "job" / "deep").mkdir(parents=True)
    for here in ("job", "job/deep"):
        monkeypatch.chdir(tmp_path / here)
        assert "working inside that folder" in _refusal(tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    assert "working inside" in _refusal(Path("."))
    put_files(Path("new"), FIRST)
    assert files(tmp_path / "job" / "new") == FIRST


def test_a_whole_disk_is_no_job_folder() -> None:
    assert "whole disk" in _refusal(Path("/"))
    assert "whole disk" in _refusal(Path("/proc"))


@pytest.mark.parametrize("name", ["", " ", "a\0b", "x" * 300, "/proc/no/such"])
def test_impossible_names_get_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    assert "--out" in _refusal(Path(name) if name else Path(" "))
    assert contents(tmp_path) == {}


def test_a_link_is_followed_and_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "job").symlink_to("real", target_is_directory=True)
    (tmp_path / "later").symlink_to("made-now", target_is_directory=True)
    for name, real in (("job", "real"), ("later", "made-now")):
        put_files(tmp_path / name, FIRST)
        put_files(tmp_path / name, SECOND)
        assert (tmp_path / name).is_symlink()
        assert files(tmp_path / real) == SECOND


def test_a_link_that_leads_in_a_circle_gets_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to("b")
    (tmp_path / "b").symlink_to("a")
    assert "--out" in _refusal(tmp_path / "a")
    assert sorted(os.listdir(tmp_path)) == ["a", "b"]


def test_write_protected_places_get_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    allowed = os.access
    for locked in (out, tmp_path):
        with monkeypatch.context() as patched:
            patched.setattr(
                os,
                "access",
                lambda path, mode, locked=locked: path != locked and allowed(path, mode),
            )
            assert "write-protected" in _refusal(out)
    assert files(out) == FIRST


@pytest.mark.parametrize(
    ("code", "words"),
    [
        (errno.ENOSPC, "disk is full"),
        (errno.EACCES, "may not write"),
        (errno.EROFS, "only be read"),
    ],
)
@pytest.mark.parametrize("after", [0, 1, 3])
def test_a_disk_that_refuses_midway_leaves_the_folder_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int, words: str, after: int
) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    (out / "notes.txt").write_bytes(b"mine")
    before, calls = contents(out), [0]
    write = folder_module._write

    def full(path: Path, data: bytes) -> None:
        calls[0] += 1
        if calls[0] > after:
            raise OSError(code, os.strerror(code))
        write(path, data)

    monkeypatch.setattr(folder_module, "_write", full)
    assert words in _refusal(out)
    assert words in _refusal(tmp_path / "fresh")
    assert contents(out) == before
    assert sorted(os.listdir(tmp_path)) == ["job"]


def test_a_shelf_full_of_files_is_no_job_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tree, "MOST", 3)
    for number in range(4):
        (tmp_path / "job" / str(number)).mkdir(parents=True)
    assert "folder of its own" in _refusal(tmp_path / "job")


HOSTILE = [
    b"",
    b"not json",
    b"[]",
    b"\xff\xfe",
    b"[" * 100_000,
    b'{"schema": "rosette.manifest/2", "files": []}',
    b'{"schema": "rosette.manifest/1"}',
    b'{"schema": "rosette.manifest/1", "design": 7, "files": {}}',
]
PATHS = ["../victim", "/etc/victim", "a/../../victim", "", ".", "a//b", "a\\..\\b", "C:x", "a\nb"]


def _with_file(file: object, sha: object = "0" * 64) -> bytes:
    return json.dumps(
        {
            "schema": "rosette.manifest/1",
            "version": "1",
            "design": {"name": "x", "file": "x", "sha256": "0" * 64},
            "files": [{"file": file, "what": "x", "sha256": sha}],
            "missing": [],
        }
    ).encode()


@pytest.mark.parametrize(
    "data",
    [*HOSTILE, *(_with_file(p) for p in PATHS), _with_file(3), _with_file("a", "short")],
)
def test_a_manifest_that_cannot_be_trusted_stops_the_run(tmp_path: Path, data: bytes) -> None:
    with pytest.raises(ManifestError):
        read_manifest(data)
    out, victim = tmp_path / "job", tmp_path / "victim"
    victim.write_bytes(b"precious")
    put_files(out, FIRST)
    (out / "manifest.json").write_bytes(data)
    before = contents(tmp_path)
    told = _refusal(out)
    assert "manifest.json" in told
    assert "--replace" in told
    assert contents(tmp_path) == before
    put_files(out, SECOND, replace=True)
    assert victim.read_bytes() == b"precious"
    assert files(out) == {
        **SECOND,
        **{name.replace(".", ".before."): data for name, data in FIRST.items()},
        "manifest.before.json": data,
    }


def test_a_manifest_that_names_a_file_through_a_link_deletes_nothing(tmp_path: Path) -> None:
    out, other = tmp_path / "job", tmp_path / "other"
    put_files(out, {**FIRST, "fixtures/tray.stl": b"solid"})
    (out / "fixtures").rename(other)
    (out / "fixtures").symlink_to(other, target_is_directory=True)
    put_files(out, SECOND)
    assert (other / "tray.stl").read_bytes() == b"solid"
    assert (out / "fixtures").is_symlink()


def test_something_else_in_the_work_folders_place_is_not_touched(tmp_path: Path) -> None:
    work = tmp_path / ".job.rosette-work"
    work.mkdir()
    (work / "mine.txt").write_bytes(b"mine")
    assert "is not this tool's" in _refusal(tmp_path / "job")
    assert contents(tmp_path) == {
        ".job.rosette-work": "folder",
        ".job.rosette-work/mine.txt": b"mine",
    }


def test_braces_and_odd_bytes_in_names_are_only_names(tmp_path: Path) -> None:
    out = tmp_path / "{job} \udcff\n"
    put_files(out, FIRST)
    put_files(out, SECOND)
    (out / "packet.pdf").write_bytes(b"changed")
    assert "{job}" in _refusal(out)
    assert leftovers(out) == []
