"""The stages of a mosaic, with what each looks like on the end that is sliced."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from rosette.geometry.outline import Outline, polygon
from rosette.patterns.base import Piece, Stage
from rosette.patterns.mosaic_keys import MosaicKeys
from rosette.patterns.mosaic_tile import Tile, wood_of
from rosette.patterns.mosaic_words import (
    log_taper_words,
    log_words,
    plank_words,
    slice_words,
    taper_words,
)
from rosette.patterns.mosaic_work import Kind, Stack, Work, kinds_of
from rosette.words import Length, say

APART = 3.0
"""Space in mm between the stacks of a picture."""
UPRIGHT = math.pi / 2.0


def stages_of(work: Work, tile: Tile, keys: MosaicKeys) -> tuple[Stage, ...]:
    """Stacks, planks, their taper, the log, its taper, slices, and the tile in the ring."""
    return (
        _stacks(work, tile, keys),
        _planks(work, tile, keys),
        _tapered(work, tile, keys),
        _log(work, tile, keys),
        *(() if tile.tapered_columns else (_log_tapered(tile, keys),)),
        _slices(work, tile, keys),
        _trimmed(tile, keys),
    )


def _box(left: float, bottom: float, right: float, top: float) -> Outline:
    return polygon([(left, bottom), (right, bottom), (right, top), (left, top)])


def _layers(kind: Kind, tile: Tile, keys: MosaicKeys) -> Iterator[tuple[str, float, float]]:
    """Wood, bottom and top of what lies in a stack, the outer edge uppermost."""
    at = 0.0
    plies = [(wood, tile.cell_height) for wood in reversed(kind.woods)]
    edge = (keys.edge_wood, tile.veneer)
    for wood, thickness in (edge, *plies, edge):
        yield wood, at, at + thickness
        at += thickness + tile.glue


def _shape(outline: Outline, wood: str, label: str, number: int, kind: str) -> Piece:
    return Piece(label=label, position=number, wood=wood, kind=kind, outline=outline)


def _places(work: Work) -> Iterator[tuple[Stack, float, float]]:
    """Where each stack stands in a picture, row by row from the upper left: its left and bottom."""
    wide = max(stack.width for stack in work.stacks) + APART
    high = work.height + APART
    a_row = max(1, round(math.sqrt(len(work.stacks) * high / wide)))
    for number, stack in enumerate(work.stacks):
        row, column = divmod(number, a_row)
        yield stack, column * wide, -row * high


def _stacks(work: Work, tile: Tile, keys: MosaicKeys) -> Stage:
    shapes: list[Piece] = []
    for stack, left, bottom in _places(work):
        for row, (wood, low, high) in enumerate(_layers(stack.kind, tile, keys), start=1):
            outline = _box(left, bottom + low, left + stack.width, bottom + high)
            name = f"{stack.kind.name}.{row}"
            shapes.append(_shape(outline, wood, name, len(shapes) + 1, "ply"))
    return Stage(
        title="Stacks of plies, seen on their ends",
        saying=say(
            "{kinds} of the motif's {columns} columns differ: so many stacks, {height} high and"
            " {length} long, the outer edge uppermost; row by row from the upper left {names}.",
            kinds=len(work.stacks),
            columns=tile.columns,
            height=Length(work.height),
            length=Length(work.length, 1),
            names=", ".join(stack.kind.name for stack in work.stacks),
        ),
        sizes=(
            ("height of a stack", work.height),
            ("length, along the grain", work.length),
            ("a ply", tile.cell_height),
            ("an edge veneer", tile.veneer),
            *((f"width of stack {stack.kind.name}", stack.width) for stack in work.stacks),
        ),
        shapes=tuple(shapes),
    )


def _planks(work: Work, tile: Tile, keys: MosaicKeys) -> Stage:
    shapes: list[Piece] = []
    for stack, left, bottom in _places(work):
        planks = [
            (left + work.kerf + number * (work.sawn + work.kerf), work.sawn, "plank")
            for number in range(stack.planks)
        ]
        if work.grip:
            planks.append((left + stack.width - work.grip, work.grip, "offcut"))
        for number, (start, wide, kind) in enumerate(planks, start=1):
            for wood, low, high in _layers(stack.kind, tile, keys):
                outline = _box(start, bottom + low, start + wide, bottom + high)
                name = f"{stack.kind.name}{number}"
                shapes.append(_shape(outline, wood, name, len(shapes) + 1, kind))
    return Stage(
        title="Planks ripped off the stacks",
        saying=plank_words(work),
        sizes=(
            ("plank off the saw, thick", work.sawn),
            ("plank, high", work.height),
            ("plank, long", work.length),
            ("kerf", work.kerf),
            ("held and lost", work.grip),
        ),
        shapes=tuple(shapes),
    )


def _tapered(work: Work, tile: Tile, keys: MosaicKeys) -> Stage:
    wide, narrow = tile.plank
    shapes: list[Piece] = []
    left = 0.0
    for stack in work.stacks:
        middle = left + wide / 2.0
        for wood, low, high in _layers(stack.kind, tile, keys):
            halves = [
                (narrow + (wide - narrow) * level / tile.height) / 2.0 for level in (low, high)
            ]
            outline = polygon(
                [
                    (middle - halves[0], low),
                    (middle + halves[0], low),
                    (middle + halves[1], high),
                    (middle - halves[1], high),
                ]
            )
            shapes.append(_shape(outline, wood, stack.kind.name, len(shapes) + 1, "plank"))
        left += wide + APART
    (saying,) = taper_words(tile)
    return Stage(
        title="Planks planed to wedges" if tile.tapered_columns else "Planks planed parallel",
        saying=saying,
        sizes=(
            ("plank, at the outer edge", wide),
            ("plank, at the inner edge", narrow),
            ("planed off each face at the outer edge", work.trim),
        ),
        shapes=tuple(shapes),
    )


def _of_tile(tile: Tile, keys: MosaicKeys, *, trimmed: bool) -> Iterator[Piece]:
    """A tile's cells, upright: outward is up."""
    for number, cell in enumerate(tile.cells(trimmed=trimmed), start=1):
        wood, name = wood_of(cell, keys)
        yield _shape(cell.outline.mapped(UPRIGHT), wood, name, number, cell.kind)


def _log(work: Work, tile: Tile, keys: MosaicKeys) -> Stage:
    if tile.tapered_columns:
        shapes = tuple(_of_tile(tile, keys, trimmed=False))
    else:
        shapes = tuple(_square_log(tile, keys))
    return Stage(
        title="Log: planks glued side by side, seen on its end",
        saying=log_words(work, tile),
        sizes=(
            ("across, at the outer edge", tile.across(tile.high)),
            (
                "across, at the inner edge",
                tile.across(tile.low if tile.tapered_columns else tile.high),
            ),
            ("height", work.height),
            ("length", work.length),
        ),
        shapes=shapes,
    )


def _square_log(tile: Tile, keys: MosaicKeys) -> Iterator[Piece]:
    """The log of parallel planks before it is planed to a wedge."""
    kinds = {
        column: (kind, column in kind.turned)
        for kind in kinds_of(keys.cells)
        for column in (*kind.upright, *kind.turned)
    }
    wide, left, number = tile.plank[0], -tile.width_at(tile.high) / 2.0, 0
    for column in range(1, tile.columns + 1):
        kind, turned = kinds[column]
        shown = replace(kind, woods=kind.woods[::-1]) if turned else kind
        for wood, low, high in _layers(shown, tile, keys):
            number += 1
            outline = _box(left, tile.low + low, left + wide, tile.low + high)
            yield _shape(outline, wood, f"{kind.name}{column}", number, "plank")
        left += wide + tile.glue


def _log_tapered(tile: Tile, keys: MosaicKeys) -> Stage:
    wide, narrow = tile.width_at(tile.high), tile.width_at(tile.low)
    return Stage(
        title="Log planed to a wedge",
        saying=log_taper_words(tile),
        sizes=(
            ("across, at the outer edge", wide),
            ("across, at the inner edge", narrow),
            ("off each side at the inner edge", (wide - narrow) / 2.0),
            ("first and last column, at the inner edge", tile.outermost),
        ),
        shapes=tuple(_of_tile(tile, keys, trimmed=False)),
    )


def _slices(work: Work, tile: Tile, keys: MosaicKeys) -> Stage:
    """The log from the side, its outer edge up, sliced from the left."""
    wood = keys.cells[0][0]
    shapes = []
    for number in range(1, work.slices + 1):
        start = work.kerf + (number - 1) * (work.slice + work.kerf)
        outline = _box(start, 0.0, start + work.slice, work.height)
        shapes.append(_shape(outline, wood, str(number), number, "slice"))
    rest = work.kerf + work.slices * (work.slice + work.kerf)
    if work.length > rest:
        outline = _box(rest, 0.0, work.length, work.height)
        shapes.append(_shape(outline, wood, "grip", work.slices + 1, "offcut"))
    return Stage(
        title="Slices: the log seen from the side",
        saying=slice_words(work, tile, keys),
        sizes=(
            ("slice off the saw", work.slice),
            ("tile, sanded", keys.tile_thickness),
            ("kerf", work.kerf),
            ("length of a log", work.length),
            ("held and lost", work.grip),
        ),
        shapes=tuple(shapes),
    )


def _trimmed(tile: Tile, keys: MosaicKeys) -> Stage:
    (outer, outer_most), (inner, inner_most) = tile.outer_line, tile.inner_line
    return Stage(
        title="A tile in the ring, trimmed to its arcs through the edge veneers",
        saying=say(
            "What is left of the outer veneer is {outer} at its thinnest and {outer_most} at its"
            " thickest; of the inner one {inner} and {inner_most}.",
            outer=Length(outer),
            outer_most=Length(outer_most),
            inner=Length(inner),
            inner_most=Length(inner_most),
        ),
        sizes=(
            ("inner radius", tile.inner_radius),
            ("outer radius", tile.outer_radius),
            ("a cell, high", tile.cell_height),
            ("a cell, wide, at the middle of the ring", tile.cell_width),
        ),
        shapes=tuple(_of_tile(tile, keys, trimmed=True)),
    )
