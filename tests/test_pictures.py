"""The pictures that the README and docs show are those that the program draws today."""

from __future__ import annotations

import io
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from PIL import Image, ImageChops, ImageDraw, ImageStat

import pictures

ROOT = Path(__file__).resolve().parents[1]
REMEDY = "out of date: run patterns_demo/pictures.py, and look at what it drew"


@cache
def _drawn() -> dict[Path, bytes]:
    return dict(pictures.files())


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
    assert set(_drawn()) == set(_kept())


def test_every_drawing_is_current() -> None:
    old = [
        path.relative_to(ROOT).as_posix()
        for path, data in _drawn().items()
        if path.suffix == ".svg" and path.read_bytes() != data
    ]
    assert old == [], REMEDY


def test_every_picture_is_current() -> None:
    old = [
        path.relative_to(ROOT).as_posix()
        for path, data in _drawn().items()
        if path.suffix == ".png" and _differ(path.read_bytes(), data)
    ]
    assert old == [], REMEDY


def test_a_small_change_would_be_found() -> None:
    data = next(data for path, data in _drawn().items() if path.suffix == ".png")
    changed = Image.open(io.BytesIO(data)).convert("RGB")
    ImageDraw.Draw(changed).rectangle((300, 300, 320, 320), fill="#ff0000")
    stream = io.BytesIO()
    changed.save(stream, "PNG")
    assert not _differ(data, data)
    assert _differ(data, stream.getvalue())
