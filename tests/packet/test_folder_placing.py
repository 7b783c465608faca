"""A job folder comes into being and is brought up to date; what the maker keeps in it stays."""

from __future__ import annotations

import hashlib
import os
import stat
from pathlib import Path

import pytest

from rosette.errors import InputError
from tests.packet.folders import FIRST, SECOND, contents, files, leftovers, listed, put_files


def test_a_new_folder_holds_exactly_what_was_put_in(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    assert files(out) == FIRST
    assert leftovers(out) == []


def test_every_hash_in_the_manifest_is_that_of_its_file(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    found = {
        name: hashlib.sha256(data).hexdigest()
        for name, data in files(out).items()
        if isinstance(data, bytes)
    }
    assert listed(out) == found


def test_missing_parents_are_made_and_the_folder_is_as_open_as_any_other(tmp_path: Path) -> None:
    out = tmp_path / "a" / "b" / "job"
    plain = tmp_path / "plain"
    plain.mkdir()
    put_files(out, FIRST)
    assert files(out) == FIRST
    assert stat.S_IMODE(out.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)
    assert sorted(os.listdir(tmp_path)) == ["a", "plain"]


def test_a_second_run_replaces_what_the_first_wrote(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    put_files(out, SECOND)
    assert files(out) == SECOND
    assert leftovers(out) == []


def test_everything_of_the_makers_stays_itself(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    (out / "notes.txt").write_text("walnut from the old wardrobe")
    (out / "notes.txt").chmod(0o640)
    os.utime(out / "notes.txt", ns=(1_000_000_000, 2_000_000_001))
    (out / "sheets" / "mine.svg").write_text("<svg mine>")
    (out / "photos").mkdir(mode=0o750)
    (out / "photos" / "empty").mkdir()
    (out / "photos" / "top.jpg").write_bytes(b"jpg")
    os.utime(out / "photos", ns=(3_000_000_000, 4_000_000_000))
    (out / "link").symlink_to("notes.txt")
    (out / "nowhere").symlink_to("gone")
    (out / "away").symlink_to(tmp_path, target_is_directory=True)
    before = (out / "notes.txt").stat()
    put_files(out, SECOND)
    after = (out / "notes.txt").stat()
    assert (after.st_ino, after.st_mtime_ns, after.st_mode) == (
        before.st_ino,
        2_000_000_001,
        before.st_mode,
    )
    photos = (out / "photos").stat()
    assert (stat.S_IMODE(photos.st_mode), photos.st_mtime_ns) == (0o750, 4_000_000_000)
    found = contents(out)
    assert found["sheets/mine.svg"] == b"<svg mine>"
    assert found["photos/empty"] == "folder"
    assert found["photos/top.jpg"] == b"jpg"
    assert found["link"] == "-> notes.txt"
    assert found["nowhere"] == "-> gone"
    assert found["away"] == f"-> {tmp_path}"
    assert {name: found[name] for name in SECOND} == SECOND


def test_the_folders_own_mode_stays(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    out.chmod(0o700)
    put_files(out, SECOND)
    assert stat.S_IMODE(out.stat().st_mode) == 0o700


def test_where_files_can_have_no_second_name_they_are_copied_faithfully(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cannot(*_: object, **__: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", cannot)
    out = tmp_path / "job"
    put_files(out, FIRST)
    (out / "notes.txt").write_text("mine")
    (out / "notes.txt").chmod(0o604)
    os.utime(out / "notes.txt", ns=(1_000_000_000, 2_000_000_000))
    (out / "link").symlink_to("notes.txt")
    placed = put_files(out, SECOND)
    after = (out / "notes.txt").stat()
    assert (stat.S_IMODE(after.st_mode), after.st_mtime_ns) == (0o604, 2_000_000_000)
    assert files(out) == {**SECOND, "notes.txt": b"mine", "link": "-> notes.txt"}
    assert placed.rescued == ()


def test_what_is_no_longer_written_goes_with_the_folder_it_leaves_empty(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, {**FIRST, "fixtures/tray.stl": b"solid"})
    placed = put_files(out, FIRST)
    assert files(out) == FIRST
    assert not (out / "fixtures").exists()
    assert placed.kept == ()


def test_what_is_no_longer_written_but_was_changed_stays_and_is_named(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, {**FIRST, "fixtures/tray.stl": b"solid"})
    (out / "fixtures" / "tray.stl").write_bytes(b"solid, mended")
    assert put_files(out, FIRST).kept == ("fixtures/tray.stl",)
    assert files(out) == {**FIRST, "fixtures/tray.stl": b"solid, mended"}
    assert "fixtures/tray.stl" not in listed(out)
    assert put_files(out, FIRST).kept == ()  # from now on it is the maker's
    assert (out / "fixtures" / "tray.stl").exists()


def test_a_file_in_the_way_is_named_and_nothing_happens(tmp_path: Path) -> None:
    out = tmp_path / "job"
    out.mkdir()
    (out / "packet.pdf").write_bytes(b"my own")
    (out / "sheets").write_bytes(b"a file where a folder goes")
    before = contents(out)
    with pytest.raises(InputError) as raised:
        put_files(out, FIRST)
    told = str(raised.value)
    assert "packet.pdf" in told
    assert "sheets" in told
    assert "--replace" in told
    assert raised.value.exit_code == 2
    assert contents(out) == before
    assert leftovers(out) == []


def test_a_file_changed_since_is_in_the_way_too(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    (out / "packet.pdf").write_bytes(b"pages 1, with my notes")
    before = contents(out)
    with pytest.raises(InputError, match="has been changed since"):
        put_files(out, SECOND)
    assert contents(out) == before


def test_a_file_that_was_deleted_is_simply_made_again(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    (out / "packet.pdf").unlink()
    put_files(out, SECOND)
    assert files(out) == SECOND


def test_replace_keeps_the_older_ones_under_another_name(tmp_path: Path) -> None:
    out = tmp_path / "job"
    put_files(out, FIRST)
    (out / "packet.pdf").write_bytes(b"noted")
    (out / "packet.before.pdf").write_bytes(b"noted earlier")
    (out / "sheets" / "ring.svg").unlink()
    (out / "sheets" / "ring.svg").mkdir()
    (out / "sheets" / "ring.svg" / "inside.txt").write_bytes(b"deep")
    placed = put_files(out, SECOND, replace=True)
    assert dict(placed.replaced) == {
        "packet.pdf": "packet.before-2.pdf",
        "sheets/ring.svg": "sheets/ring.before.svg",
    }
    assert files(out) == {
        **SECOND,
        "packet.before.pdf": b"noted earlier",
        "packet.before-2.pdf": b"noted",
        "sheets/ring.before.svg/inside.txt": b"deep",
    }


def test_a_link_in_the_way_is_not_written_through(tmp_path: Path) -> None:
    out, other = tmp_path / "job", tmp_path / "other"
    put_files(out, {"plan.json": b"{1}"})
    other.mkdir()
    (other / "ring.svg").write_bytes(b"somebody's")
    (out / "sheets").symlink_to(other, target_is_directory=True)
    with pytest.raises(InputError, match="sheets"):
        put_files(out, SECOND)
    put_files(out, SECOND, replace=True)
    assert contents(other) == {"ring.svg": b"somebody's"}
    assert (out / "sheets.before").is_symlink()
    assert files(out)["sheets/ring.svg"] == SECOND["sheets/ring.svg"]


def test_the_makers_own_file_that_agrees_stays_the_makers(tmp_path: Path) -> None:
    out = tmp_path / "job"
    out.mkdir()
    (out / "design.toml").write_bytes(b"schema = 1")
    mine = (out / "design.toml").stat().st_ino
    put_files(out, {**FIRST, "design.toml": b"schema = 1"})
    assert (out / "design.toml").stat().st_ino == mine
    assert "design.toml" in listed(out)
    (out / "design.toml").write_bytes(b"schema = 1 # changed")
    put_files(out, {**FIRST, "design.toml": b"schema = 1 # changed"})
    assert (out / "design.toml").stat().st_ino == mine
    with pytest.raises(InputError, match=r"design\.toml"):
        put_files(out, {**FIRST, "design.toml": b"schema = 1 # another guitar"})
    put_files(out, FIRST)
    assert (out / "design.toml").read_bytes() == b"schema = 1 # changed"
