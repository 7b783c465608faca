"""`rosette new`: from answers to a file that can be made, and never over a file that is there."""

from __future__ import annotations

import os
import pty
import select
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from rosette.design import read_design, read_design_text
from rosette.plan import make_plan
from tests.cli.run import rosette

ROOT = Path(__file__).resolve().parents[2]

EVERY_OPTION = """
--units mm --name Otter --soundhole 100 --fingerboard-width 58 --fingerboard-reach 51 --top 3.1
--tile 1.6 --inner-radius 54 --width 15 --bit 2 --kerf 0.5 --segment-width 12 --wood walnut
--wood maple
"""


@pytest.mark.parametrize("words", [[], ["-"]], ids=["nothing", "dash"])
@pytest.mark.parametrize("kind", ["parlour", "steel", "classical"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_it_prints_a_design_that_can_be_made(kind: str, units: str, words: list[str]) -> None:
    ran = rosette("new", *words, "--kind", kind, "--units", units)
    assert (ran.code, ran.err) == (0, "")
    plan = make_plan(read_design_text(ran.out.encode()))
    assert plan.units == units


def test_it_writes_a_file(tmp_path: Path) -> None:
    file = tmp_path / "otter.toml"
    ran = rosette("new", str(file), "--kind", "steel", "--name", "Otter", "--top", "3.2")
    assert (ran.code, ran.err) == (0, "")
    assert f"rosette check {file}" in ran.out
    design = read_design(file)
    assert (design.instrument.name, design.instrument.top_thickness) == ("Otter", 3.2)
    assert os.listdir(tmp_path) == ["otter.toml"]
    umask = os.umask(0)
    os.umask(umask)
    assert stat.S_IMODE(file.stat().st_mode) == 0o666 & ~umask


def test_every_option_ends_up_in_the_file() -> None:
    ran = rosette("new", *EVERY_OPTION.split())
    assert (ran.code, ran.err) == (0, "")
    design = read_design_text(ran.out.encode())
    told = design.instrument
    assert (told.name, told.soundhole_diameter, told.top_thickness) == ("Otter", 100, 3.1)
    assert (told.fingerboard_width, told.fingerboard_reach) == (58, 51)
    assert (design.channel.bit_diameter, design.cutting.kerf) == (2, 0.5)
    (ring,) = design.rings
    assert (ring.inner_radius, ring.outer_radius) == (54, 69)
    assert ring.keys.tile_thickness == 1.6
    assert ring.keys.wood == ("walnut", "maple")  # type: ignore[attr-defined]
    assert "NOT MEASURED" not in ran.out


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        ([], 2, "--soundhole: is missing"),
        (["--top", "3"], 2, "--kerf: is missing"),
        (["--kind", "ukulele"], 2, "--kind: ukulele is not one of"),
        (["--kind", "steel", "--top", "three"], 2, '--top: "three" can\'t be read as a length'),
        (["--kind", "steel", "--top", "0"], 2, "--top: 0 is too small"),
        (["--kind", "steel", "--top", "3,2"], 2, "write decimals with a point"),
        (["--kind", "steel", "--segments", "24.0"], 2, '--segments: "24.0" is not a whole number'),
        (["--kind", "steel", "--segments", "2"], 2, "--segments: 2 is not between 3 and 720"),
        (["--kind", "steel", "--wood", ""], 2, "--wood: it is blank"),
        (["--kind", "steel", "--name", "a\nb"], 2, '--name: "a\\nb" holds a character'),
        (["--kind", "steel", "--space", "3", "--inner-radius", "60"], 2, "--space: does not go"),
        (["--kind", "steel", "--tile", "4"], 1, "goes through the 3.00 mm top"),
        (["--kind", "steel", "--bit", "30"], 1, "does not go into a channel"),
        (["--kind", "steel", "--inner-radius", "20"], 1, "inside the soundhole"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)
def test_answers_that_do_not_do(tmp_path: Path, words: list[str], code: int, told: str) -> None:
    file = tmp_path / "guitar.toml"
    ran = rosette("new", str(file), *words)
    assert (ran.code, ran.out) == (code, "")
    assert told in ran.err
    assert not os.listdir(tmp_path)


def test_a_file_that_is_there_stays(tmp_path: Path) -> None:
    file = tmp_path / "guitar.toml"
    file.write_text("mine")
    ran = rosette("new", str(file), "--kind", "steel")
    assert ran.code == 2
    assert "there is such a file already, and it stays as it is; give another name" in ran.err
    assert file.read_text() == "mine"


def test_places_where_no_file_can_go(tmp_path: Path) -> None:
    dangling = tmp_path / "link.toml"
    dangling.symlink_to(tmp_path / "nowhere")
    for place, told in [
        (tmp_path, "this is a folder; give a file's name"),
        (tmp_path / "none" / "guitar.toml", "make it first"),
        (dangling, "there is such a file already"),
        (tmp_path / ("n" * 300), "File name too long"),
    ]:
        ran = rosette("new", str(place), "--kind", "steel")
        assert ran.code == 2
        assert told in ran.err
    assert os.listdir(tmp_path) == ["link.toml"]


def test_a_file_that_comes_meanwhile_stays(tmp_path: Path) -> None:
    from rosette.cli.new_file import write_new
    from rosette.errors import InputError

    file = tmp_path / "guitar.toml"
    file.write_text("mine")
    with pytest.raises(InputError, match="there is such a file already"):
        write_new(file, b"ours")
    assert (file.read_text(), os.listdir(tmp_path)) == ("mine", ["guitar.toml"])


def test_a_disk_without_links_will_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from rosette.cli.new_file import write_new

    def no_links(*_: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", no_links)
    write_new(tmp_path / "guitar.toml", b"ours")
    assert os.listdir(tmp_path) == ["guitar.toml"]
    assert (tmp_path / "guitar.toml").read_bytes() == b"ours"


def _at_a_terminal(folder: Path, typed: list[str]) -> tuple[int, str]:
    """Run `rosette new` at a terminal of its own, typing a line whenever it waits."""
    here, there = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "rosette", "new"],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=there,
        stdout=there,
        stderr=there,
        start_new_session=True,
    )
    os.close(there)
    said, lines, deadline = b"", [*typed], time.monotonic() + 60
    while time.monotonic() < deadline:
        if select.select([here], [], [], 0.1)[0]:
            try:
                said += os.read(here, 4096)
            except OSError:
                break
        elif said.endswith(b": ") and lines:
            os.write(here, f"{lines.pop(0)}\n".encode())
            said += b" "
    os.close(here)
    return process.wait(timeout=20), said.decode()


def test_a_conversation(tmp_path: Path) -> None:
    typed = ["steel", "in", "Otter", "4", "2 1/4", "", "1/8", "1/4", "5/64", "", "2", "1/8"]
    code, said = _at_a_terminal(tmp_path, [*typed, "", "2.5", "24", "walnut, maple", ""])
    assert code == 0, said
    # a quarter inch goes through the top, a two inch bit does not fit, 2.5 is no count
    assert "goes through the 0.125 in (1/8) top" in said
    assert "does not go into a channel" in said
    assert '"2.5" is not a whole number' in said
    text = (tmp_path / "otter.toml").read_text(encoding="utf-8")
    assert 'tile_thickness = "5/64 in"' in text
    design = read_design(tmp_path / "otter.toml")
    assert design.instrument.fingerboard_reach == pytest.approx(2 * 25.4)
    assert design.rings[0].keys.wood == ("walnut", "maple")  # type: ignore[attr-defined]
    make_plan(design)


@pytest.mark.parametrize(
    ("width", "reach", "where"),
    [("57", "none", "--fingerboard-width"), ("none", "46", "--fingerboard-reach")],
)
def test_half_a_fingerboard_is_told_how_to_be_made_whole(
    width: str, reach: str, where: str
) -> None:
    ran = rosette(
        *("new", "--kind", "steel", "--fingerboard-width", width, "--fingerboard-reach", reach)
    )
    assert ran.code == 2
    assert ran.err.startswith(where)
    assert "measure both, or give none for both" in ran.err
