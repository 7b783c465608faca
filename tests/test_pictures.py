"""The pictures that the README and docs show are those that the program draws today."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from PIL import Image, ImageChops, ImageDraw, ImageStat

import pictures
from fixture_pictures import MARK, Shot
from jigs.render_png import words_of

ROOT = Path(__file__).resolve().parents[1]
REMEDY = "out of date: run patterns_demo/pictures.py, and look at what it drew"


@cache
def _drawn() -> dict[Path, pictures.Make]:
    return dict(pictures.files())


@cache
def _shots() -> dict[Path, Shot]:
    return pictures.fixture_shots()


def _kept() -> Iterator[Path]:
    yield from (ROOT / "patterns_demo").glob("*/picture.*")
    yield from (ROOT / "docs" / "pictures").iterdir()


def _differ(one: bytes, other: bytes) -> bool:
    """Whether two pictures differ by more than the last bit of a machine's arithmetic."""
    a, b = (Image.open(io.BytesIO(data)).convert("RGB") for data in (one, other))
    if a.size != b.size:
        return True
    return max(ImageStat.Stat(ImageChops.difference(a, b)).mean) > 0.05


def test_no_picture_is_missing_and_none_is_left_over() -> None:
    assert {*_drawn(), *_shots()} == set(_kept())


def test_every_drawing_is_current() -> None:
    old = [
        path.relative_to(ROOT).as_posix()
        for path, make in _drawn().items()
        if path.suffix == ".svg" and path.read_bytes() != make()
    ]
    assert old == [], REMEDY


def test_every_picture_is_current() -> None:
    """Of the demos' pictures the first stands for all: their drawings are held to the letter."""
    old = [
        path.relative_to(ROOT).as_posix()
        for path, make in _drawn().items()
        if path.suffix == ".png" and _is_looked_at(path) and _differ(path.read_bytes(), make())
    ]
    assert old == [], REMEDY


def _is_looked_at(path: Path) -> bool:
    return path.name != "picture.png" or path.parent == pictures.FIRST.parent


def test_a_small_change_would_be_found() -> None:
    data = next(make for path, make in _drawn().items() if path.suffix == ".png")()
    changed = Image.open(io.BytesIO(data)).convert("RGB")
    ImageDraw.Draw(changed).rectangle((300, 300, 320, 320), fill="#ff0000")
    stream = io.BytesIO()
    changed.save(stream, "PNG")
    assert not _differ(data, data)
    assert _differ(data, stream.getvalue())


def test_every_picture_of_a_fixture_is_current() -> None:
    """Told by the mark in the file: a hash of the parts shown and of the code that draws them.

    Drawing them all would take a second each; one is drawn below.
    """
    old = [
        path.relative_to(ROOT).as_posix()
        for path, shot in _shots().items()
        if words_of(path.read_bytes()).get(MARK) != shot.mark()
    ]
    assert old == [], REMEDY


def test_the_mark_stands_for_the_picture() -> None:
    path, shot = next(
        (path, shot) for path, shot in _shots().items() if shot.name == "fixture-caul"
    )
    assert not _differ(path.read_bytes(), shot.png())
    assert replace(shot, apart=True).mark() != shot.mark()
    other = next(one for one in _shots().values() if one.fixture != shot.fixture)
    assert replace(shot, fixture=other.fixture).mark() != shot.mark()
