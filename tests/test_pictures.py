"""The pictures that the README and docs show are those that the program draws today."""

from __future__ import annotations

import io
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from PIL import Image, ImageChops

import pictures

ROOT = Path(__file__).resolve().parents[1]
REMEDY = "out of date: run patterns_demo/pictures.py, and look at what it drew"


@cache
def _drawn() -> dict[Path, bytes]:
    return dict(pictures.files())


def _kept(suffix: str) -> Iterator[Path]:
    for folder in ("patterns_demo", "docs/pictures"):
        yield from (ROOT / folder).rglob(f"*{suffix}")


def _differ(one: bytes, other: bytes) -> bool:
    a, b = (Image.open(io.BytesIO(data)).convert("RGB") for data in (one, other))
    return a.size != b.size or ImageChops.difference(a, b).getbbox() is not None


def test_no_picture_is_missing_and_none_is_left_over() -> None:
    assert set(_drawn()) == {*_kept(".svg"), *_kept(".png")}


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


def test_another_picture_would_be_found() -> None:
    one, other, *_ = (data for path, data in _drawn().items() if path.suffix == ".png")
    assert not _differ(one, one)
    assert _differ(one, other)
