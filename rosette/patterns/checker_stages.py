"""The stages of a checker: panel, slices, bar, strips."""

from __future__ import annotations

import math

from rosette.patterns.base import Piece, Stage
from rosette.patterns.checker_keys import CheckerKeys
from rosette.patterns.checker_making import CheckerMaking
from rosette.patterns.laminate_making import FACE_TRIM
from rosette.patterns.laminate_stages import (
    FEWEST_SHOWN,
    MOST_SHOWN,
    SHOWN,
    beginning,
    drawn,
    leaning,
    slice_stage,
)
from rosette.words import Length, say


def checker_stages(made: CheckerMaking, keys: CheckerKeys) -> tuple[Stage, ...]:
    """Every stage up to the strips."""
    return (
        _panel_stage(made, keys),
        _cut_stage(made, keys),
        _bar_stage(made, keys),
        slice_stage(made.slicing, keys.tile_thickness),
    )


def _panel_stage(made: CheckerMaking, keys: CheckerKeys) -> Stage:
    shapes: list[Piece] = []
    for wood, low, high in _rows(made, keys, made.squares.rows, 0):
        outline = leaning(low, high, 0.0, made.panel_length, 0.0)
        shapes.append(drawn(outline, wood, len(shapes) + 1, 0.0, kind="stick"))
    first, second = keys.wood
    return Stage(
        title="Panel: sticks glued side by side",
        saying=say(
            "Glue {panels} of {rows} sticks side by side, {first} and {second} in turn, the grain"
            " of all along the {length}{sorts}. Plane both faces true to {depth}.",
            panels="one panel" if made.panels == 1 else f"{made.panels} panels",
            rows=keys.rows,
            first=first,
            second=second,
            length=Length(made.panel_length, 1),
            sorts="" if made.sorts == 1 else f", and as many that begin with {second}",
            depth=Length(made.slicing.depth, 1),
        ),
        sizes=(
            ("length, along the grain", made.panel_length),
            ("width", made.squares.width),
            ("thickness, trued", made.slicing.depth),
            ("thickness, as glued", made.slicing.depth + 2.0 * FACE_TRIM),
        ),
        shapes=tuple(shapes),
    )


def _rows(
    made: CheckerMaking, keys: CheckerKeys, rows: tuple[float, ...], turn: int
) -> list[tuple[str, float, float]]:
    """Wood, bottom and top of each row; `turn` 1 begins with the second wood."""
    found = []
    at = 0.0
    for number, wide in enumerate(rows):
        found.append((keys.wood[(number + turn) % 2], at, at + wide))
        at += wide + made.squares.glue
    return found


def _cut_stage(made: CheckerMaking, keys: CheckerKeys) -> Stage:
    cut, along = made.slicing.kerf, made.squares.along
    shapes: list[Piece] = []
    for number in range(min(made.slices, MOST_SHOWN // keys.rows)):
        start = cut + number * (along + cut)
        for wood, low, high in _rows(made, keys, made.squares.rows, 0):
            outline = leaning(low, high, start, start + along, 0.0)
            shapes.append(drawn(outline, wood, len(shapes) + 1, 0.0, kind="square"))
    return Stage(
        title="Slices: the panel cut square across",
        saying=say(
            "Cut {each} square across into {slices} slices {along} long: the first cut squares"
            " off the end, every cut takes {kerf}, {grip} stays in the clamp. A stop that stands"
            " off, and never a hand near so small a piece.",
            each="the panel" if made.panels * made.sorts == 1 else "each panel",
            slices=made.slices,
            along=Length(along, 3),
            kerf=Length(cut),
            grip=Length(made.slicing.grip),
        ),
        sizes=(
            ("length of a slice, along the grain", along),
            ("width of a slice", made.squares.width),
            ("step of the stop", along + cut),
        ),
        shapes=tuple(shapes),
    )


def bar_shapes(
    made: CheckerMaking, keys: CheckerKeys, *, rows: tuple[float, ...]
) -> tuple[Piece, ...]:
    """A bar or strip from above, its rows so wide."""
    squares = made.squares
    shapes: list[Piece] = []
    for column in range(_shown(made)):
        start = column * squares.pitch
        for wood, low, high in _rows(made, keys, rows, column % 2):
            outline = leaning(low, high, start, start + squares.along, 0.0)
            shapes.append(drawn(outline, wood, len(shapes) + 1, 0.0, kind="square"))
    return tuple(shapes)


def _shown(made: CheckerMaking) -> int:
    """Columns of a bar that are drawn: its beginning, so that the squares can be seen."""
    some = math.ceil(SHOWN * made.squares.width / made.squares.pitch)
    return min(made.slabs, max(some, 3 * made.taken + 2, 2 * FEWEST_SHOWN))


def _bar_stage(made: CheckerMaking, keys: CheckerKeys) -> Stage:
    slicing = made.slicing
    return Stage(
        title=(
            "Bar: slices glued, every second one turned"
            if made.sorts == 1
            else "Bar: slices of both panels in turn"
        )
        + beginning(_shown(made), made.slabs),
        saying=say(
            "Glue {slices} slices against a straight fence to {bars} {length} long, {turned}, so"
            " that unlike squares meet.",
            slices=made.slabs if slicing.bars == 1 else f"{slicing.bars} times {made.slabs}",
            bars="a bar" if slicing.bars == 1 else "bars",
            length=Length(slicing.bar_length, 1),
            turned="every second one turned end for end"
            if made.sorts == 1
            else "those of the two sorts of panel in turn",
        ),
        sizes=(
            ("length", slicing.bar_length),
            ("width", made.squares.width),
            ("depth", slicing.depth),
        ),
        shapes=bar_shapes(made, keys, rows=made.squares.rows),
    )
