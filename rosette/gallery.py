"""Every ring pattern side by side: a quarter of each, full size, in its woods."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import Any

from rosette.design.read import design_from
from rosette.geometry.outline import Point, polygon
from rosette.patterns import every_pattern
from rosette.patterns.base import Pattern, Piece, RingPlan
from rosette.picture import INK, SPRUCE, ring_elements
from rosette.plan import make_plan
from rosette.sheets.drawing import HAIR, Drawing, Element, Stroke, Text, Window
from rosette.sheets.marks import fitted

INNER, OUTER = 50.0, 68.0
"""Radii in mm of every example."""
SIDE, GAP, WORDS, COLUMNS = 74.0, 6.0, 20.0, 4
"""A picture's side, the space between two, the room for words below each, pictures in a row."""
LONGEST = 48
"""Characters in a line of words below a picture."""
SHADES = "█▓▒░"
"""What woods are told apart by on a terminal, the first wood first."""
LETTERS = "#o+:"
"""The same where a terminal has letters only."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """A pattern and a ring of it."""

    pattern: Pattern
    ring: RingPlan


def examples() -> tuple[Example, ...]:
    """A ring of every pattern there is.

    Raises:
        InputError: another package's pattern, or its example, can't be used.
        CannotMakeError: the same.
    """
    return tuple(_example(one) for one in every_pattern().values())


def _example(pattern: Pattern) -> Example:
    ring = {"pattern": pattern.name, "inner_radius": INNER, "tile_thickness": 2.0}
    if not {"width", "outer_radius"} & set(pattern.example):
        ring["width"] = OUTER - INNER
    tables: dict[str, Any] = {
        "schema": 1,
        "instrument": {"name": pattern.name, "soundhole_diameter": 94, "top_thickness": 3.2},
        "cutting": {"kerf": 0.9},
        "channel": {"bit_diameter": 0.5},
        "ring": [{**ring, **pattern.example}],
    }
    plan = make_plan(design_from(tables, "", f"the example of {pattern.name}"))
    return Example(pattern=pattern, ring=plan.rings[0])


def contact_sheet(shown: Sequence[Example]) -> Drawing:
    """All of them in rows, each with its name and what it is."""
    columns = min(COLUMNS, len(shown))
    rows = -(-len(shown) // columns)
    wide, high = SIDE + GAP, SIDE + WORDS + GAP
    elements: list[Element] = []
    for number, one in enumerate(shown):
        row, column = divmod(number, columns)
        elements += _shown(one, (column * wide, -row * high - SIDE))
    return Drawing(
        name="patterns",
        title="Ring patterns",
        purpose="A quarter of a ring of every pattern, full size.",
        bounds=(-GAP, -rows * high, columns * wide, GAP),
        elements=tuple(elements),
    )


def _shown(one: Example, at: Point) -> Iterator[Element]:
    x, y = at
    frame = (x, y, x + SIDE, y + SIDE)
    corners = [(x, y), (x + SIDE, y), (x + SIDE, y + SIDE), (x, y + SIDE)]
    ground = polygon(corners)
    yield Stroke(outline=ground, layer="note", weight=HAIR, colour=SPRUCE, fill=SPRUCE)
    yield Window(elements=tuple(ring_elements(one.ring)), shift=at, frame=frame)
    yield Stroke(outline=ground, layer="note", weight=HAIR, colour=INK)
    yield Text(text=one.pattern.name, at=(x, y - 5.0), height=3.2, bold=True, colour=INK)
    words = [*wrap(one.pattern.summary, LONGEST)[:2], ", ".join(one.ring.woods)]
    for line, drop in zip(words, (9.5, 13.5, 17.5), strict=False):
        text, height = fitted(line, width=SIDE, height=2.3)
        yield Text(text=text, at=(x, y - drop), height=height, colour=INK)


def sketch(
    ring: RingPlan, *, letters: bool = False, columns: int = 36, rows: int = 12
) -> list[str]:
    """The top of a ring in characters, twice as high as wide; a key of its woods stands apart.

    `letters` takes plain letters, for terminals that have no others.
    """
    marks = marks_of(ring, letters=letters)
    step = (ring.outer_radius * 0.72) / (columns / 2.0)
    pieces = [_area(piece, marks[piece.wood]) for piece in (*ring.pieces, *ring.spacers)]
    lines = []
    for row in range(rows):
        y = ring.outer_radius - (row + 0.5) * 2.0 * step
        found = ""
        near = _near(y, pieces)
        for column in range(columns):
            x = (column + 0.5 - columns / 2.0) * step
            found += next(
                (
                    mark
                    for points, holes, mark, _ in near
                    if _inside((x, y), points) and not any(_inside((x, y), h) for h in holes)
                ),
                " ",
            )
        lines.append(found.rstrip())
    while lines and not lines[-1]:
        lines.pop()
    return lines


_Area = tuple[list[Point], list[list[Point]], str, tuple[float, float]]
"""A piece's outline and holes, its character, its lowest and highest y."""


def _area(piece: Piece, mark: str) -> _Area:
    points = piece.outline.points(0.05)
    heights = [y for _, y in points]
    return points, [hole.points(0.05) for hole in piece.holes], mark, (min(heights), max(heights))


def woods(ring: RingPlan) -> list[str]:
    """Every wood of a ring, its joints' too, the most used first."""
    pieces = (*ring.pieces, *ring.spacers)
    return list(dict.fromkeys([*ring.woods, *(piece.wood for piece in pieces)]))


def marks_of(ring: RingPlan, *, letters: bool = False) -> dict[str, str]:
    """The character that each wood of a ring is sketched in."""
    return dict(zip(woods(ring), (LETTERS if letters else SHADES) * 9, strict=False))


def _near(row: float, pieces: Sequence[_Area]) -> list[_Area]:
    """Those that reach as far as a row of characters."""
    return [one for one in pieces if one[3][0] <= row <= one[3][1]]


def _inside(point: Point, polygon: Sequence[Point]) -> bool:
    x, y = point
    within = False
    for (ax, ay), (bx, by) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            within = not within
    return within
