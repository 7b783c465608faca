"""The picture of docs/offcuts-file.md: the forms an offcut's shape can be given in."""

from __future__ import annotations

from collections.abc import Sequence

from rosette.geometry.outline import Point, line, polygon
from rosette.offcuts.knots import around
from rosette.offcuts.shorthand import curved, taper
from rosette.sheets.block import moved
from rosette.sheets.dimension import horizontal, vertical
from rosette.sheets.drawing import MEDIUM, THICK, Circle, Drawing, Element, Stroke, Text
from rosette.sheets.leaders import leader
from rosette.sheets.marks import arrow

WOOD, BAD = "#e9d9c6", "#8d857c"
SPOT = 0.8


def _wood(points: Sequence[Point]) -> Stroke:
    return Stroke(outline=polygon(points), layer="note", weight=THICK, fill=WOOD)


def _bad(points: Sequence[Point]) -> Stroke:
    return Stroke(outline=polygon(points), layer="note", weight=MEDIUM, fill=BAD)


def _origin() -> list[Element]:
    """Where x and y are counted from."""
    dot = Circle(centre=(0, 0), radius=SPOT, layer="note", colour=None, fill="#000000")
    return [dot, Text(text="0, 0", at=(-1.5, -4.2), height=2.4, anchor="right")]


def _titled(words: str, at: Point) -> Text:
    return Text(text=words, at=at, height=3.2, bold=True)


def _rectangle() -> list[Element]:
    shape = [(0.0, 0.0), (62.0, 0.0), (62.0, 22.0), (0.0, 22.0)]
    return [
        _titled("rectangle = [along x, along y]", (0, 27)),
        _wood(shape),
        *_origin(),
        *horizontal((0, 0), (62, 0), -9, "along x"),
        *vertical((62, 0), (62, 22), 70, "along y"),
        *arrow((12, 11), (34, 11), layer="grain"),
        Text(text="grain = 0", at=(13, 13), height=2.4),
    ]


def _taper() -> list[Element]:
    return [
        _titled('taper, sits = "middle"', (0, 27)),
        _wood(taper(length=62, left=22, right=16)),
        *_origin(),
        *horizontal((0, 0), (62, 3), -9, "length"),
        *vertical((0, 0), (0, 22), -8, "left end"),
        *vertical((62, 3), (62, 19), 70, "right end"),
    ]


def _curved() -> list[Element]:
    return [
        _titled("curved", (0, 33)),
        _wood(curved(length=62, left=18, right=18, rise=9)),
        *_origin(),
        Stroke(outline=line((0, 18), (62, 18)), layer="note", weight=0.18, dashes=(1.2, 0.7)),
        *horizontal((0, 0), (62, 0), -9, "length"),
        *vertical((0, 0), (0, 18), -8, "left end"),
        *vertical((62, 0), (62, 18), 70, "right end"),
        *vertical((31, 18), (31, 27), 31, "rise"),
    ]


def _outline() -> list[Element]:
    corners = [(0.0, 0.0), (62.0, 0.0), (58.0, 18.0), (2.0, 27.0)]
    names = ("1", "2", "3", "4")
    places = ((-3.5, 1.5), (64, 1), (60, 19), (-2.5, 27))
    crack = [(36.0, 14.0), (61.5, 9.0), (61.5, 10.2), (36.0, 15.0)]
    return [
        _titled("outline, with two defects", (0, 33)),
        _wood(corners),
        _bad(around((16.0, 11.0), 4.0)),
        _bad(crack),
        *_origin(),
        *(Text(text=name, at=at, height=2.6, bold=True)
          for name, at in zip(names, places, strict=True)),
        *leader((19.2, 8.6), (26, 5.6), "at, across"),
        *leader((44, 13.6), (40, 16.6), "a crack"),
    ]  # fmt: skip


def forms() -> Drawing:
    """Four offcuts as a maker lays them down, with what is measured on each."""
    parts: list[Element] = []
    for elements, shift in (
        (_rectangle(), (0.0, 58.0)),
        (_taper(), (116.0, 58.0)),
        (_curved(), (0.0, 0.0)),
        (_outline(), (116.0, 0.0)),
    ):
        parts.extend(moved(elements, shift))
    return Drawing(
        name="offcut-forms",
        title="What to measure on an offcut",
        purpose="The forms in which an offcut's shape can be given, and what each measure is.",
        bounds=(-16, -14, 196, 92),
        elements=tuple(parts),
    )
