"""The stages that every band of plies goes through: block, slabs, bar, strips."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rosette.geometry.outline import Outline, Point, polygon
from rosette.patterns.base import Piece, Stage
from rosette.patterns.laminate import Lay
from rosette.patterns.laminate_making import FACE_TRIM, Making, Slicing
from rosette.units import rounded
from rosette.words import Length, Saying, listed, say

MOST_SHOWN = 240
"""Plies drawn of one stage."""
SHOWN, FEWEST_SHOWN = 12.0, 4
"""How many times as long as wide what is drawn of a bar is, and the repeats it has at the least."""


def drawn(outline: Outline, wood: str, number: int, axis: float, kind: str = "ply") -> Piece:
    """A shape of a stage."""
    return Piece(
        label=str(number), position=number, wood=wood, kind=kind, outline=outline, axis=axis
    )


def levels(lay: Lay, rows: int) -> Iterator[tuple[str, float, float]]:
    """Wood, bottom and top of every ply of a stack."""
    at = 0.0
    for _ in range(rows):
        for ply in lay.plies:
            yield ply.wood, at, at + ply.thickness
            at += ply.thickness + lay.glue


def leaning(bottom: float, top: float, start: float, end: float, slope: float) -> Outline:
    """A parallelogram from `bottom` to `top`, moved along by `slope` for each mm up."""

    def at(x: float, y: float) -> Point:
        return x + slope * y, y

    return polygon([at(start, bottom), at(end, bottom), at(end, top), at(start, top)])


def block_shapes(made: Making) -> tuple[Piece, ...]:
    """The block seen on its side, the grain along it."""
    return tuple(
        drawn(leaning(low, high, 0.0, made.block_length, 0.0), wood, number, 0.0)
        for number, (wood, low, high) in enumerate(levels(made.lay, made.rows), start=1)
    )


def slab_starts(made: Making) -> list[float]:
    """Where each slab of a block begins along its lower edge."""
    sine = made.lay.sine
    step = (made.strip_width + made.kerf) / sine
    return [made.kerf / sine + step * i for i in range(made.block_slabs)]


def slab_shapes(made: Making) -> tuple[Piece, ...]:
    """The block cut across into slabs."""
    wide, slope = made.strip_width / made.lay.sine, made.lay.cotangent
    shown = max(1, MOST_SHOWN // made.plies)
    shapes: list[Piece] = []
    for start in slab_starts(made)[:shown]:
        for wood, low, high in levels(made.lay, made.rows):
            outline = leaning(low, high, start, start + wide, slope)
            shapes.append(drawn(outline, wood, len(shapes) + 1, 0.0))
    return tuple(shapes)


def strip_shapes(
    made: Making, *, rows: int, width: float, sign: float = 1.0, bottom: float = 0.0
) -> list[Piece]:
    """So many repeats of a bar or strip from above, `width` wide; plies lean by `sign`.

    Its lower edge stands at y = `bottom`, its first ply there at x = 0 (or, leaning to the left,
    so far to the right that all of it is).
    """
    lay = made.lay
    slope = sign * lay.cotangent
    start = width * lay.cotangent if sign < 0 else 0.0
    shapes: list[Piece] = []
    for _ in range(rows):
        for ply, wide in zip(lay.plies, lay.widths(), strict=True):
            x = start - slope * bottom
            outline = leaning(bottom, bottom + width, x, x + wide, slope)
            grain = lay.angle if sign > 0 else 180.0 - lay.angle
            shapes.append(drawn(outline, ply.wood, len(shapes) + 1, grain))
            start += wide + lay.gap
    return shapes


def shown_rows(made: Making, width: float = 0.0) -> int:
    """Repeats of a bar or strip that are drawn: its beginning, so that the plies can be seen.

    As many as are `SHOWN` times its width long, or as three straight pieces take.
    """
    lay = made.lay
    some = math.ceil(SHOWN * (width or made.strip_width) / lay.pitch)
    pieces = 3 * made.taken + math.ceil(made.overhang / lay.pitch) + 2
    most = max(1, MOST_SHOWN // len(lay.plies))
    return min(made.repeats, max(some, pieces, FEWEST_SHOWN), max(most, pieces))


def beginning(shown: int, of: int) -> str:
    """What a title says where not all is drawn."""
    return ", its beginning" if shown < of else ""


def slice_shapes(made: Slicing) -> tuple[Piece, ...]:
    """The bar seen on its end, where one ply shows, sliced into strips."""
    wood = made.wood
    shapes = []
    top = made.depth
    for number in range(made.sliced):
        bottom = top - made.strip_thickness
        outline = leaning(bottom, top, 0.0, made.strip_width, 0.0)
        shapes.append(drawn(outline, wood, number + 1, 0.0, kind="strip"))
        top = bottom - made.kerf
    if top > 0:
        left = leaning(0.0, top, 0.0, made.strip_width, 0.0)
        shapes.append(drawn(left, wood, made.sliced + 1, 0.0, kind="offcut"))
    return tuple(shapes)


def stack_stage(made: Making, name: str = "") -> Stage:
    """Plies to a block."""
    woods = listed([f"{ply.wood}" for ply in made.lay.plies])
    return Stage(
        title=f"Block{name}: plies glued to a stack",
        saying=say(
            "Glue {blocks} of {plies} plies each, {times} {woods}, the grain of all along the"
            " {length} of the block: {height} high. Clamp between flat cauls; plane its long sides"
            " true to {depth} deep.",
            blocks="one block" if made.blocks == 1 else f"{made.blocks} blocks",
            plies=made.plies,
            times="once" if made.rows == 1 else f"{made.rows} times",
            woods=woods,
            length=Length(made.block_length, 1),
            height=Length(made.height),
            depth=Length(made.depth, 1),
        ),
        sizes=(
            ("length, along the grain", made.block_length),
            ("height", made.height),
            ("depth, trued", made.depth),
            ("depth, as glued", made.depth + 2.0 * FACE_TRIM),
        ),
        shapes=block_shapes(made),
    )


def slab_stage(made: Making, name: str = "") -> Stage:
    """The block across into slabs."""
    square = made.lay.angle == 90.0
    return Stage(
        title=f"Slabs{name}: the block cut {'square ' if square else ''}across"
        + ("" if square else " at an angle"),
        saying=say(
            "Cut {each}block {how}, into {slabs} slabs {width} wide: the first cut squares off the"
            " end, every cut takes {kerf}, {grip} stays in the clamp. Leave the slabs in the block"
            " as long as you can, and never hold one by hand at the saw.",
            each="the " if made.blocks == 1 else "each ",
            how="square across"
            if square
            else f"across with the saw {rounded(90.0 - made.lay.angle, 2)}° off square"
            f" ({rounded(made.lay.angle, 2)}° to the plies)",
            slabs=made.block_slabs,
            width=Length(made.strip_width),
            kerf=Length(made.kerf),
            grip=Length(made.grip),
        ),
        sizes=(
            ("width of a slab", made.strip_width),
            ("length of a slab", made.slab_length),
            ("step of the stop along the block", (made.strip_width + made.kerf) / made.lay.sine),
        ),
        shapes=slab_shapes(made),
    )


def bar_stage(made: Making, sign: float, name: str = "") -> Stage:
    """Slabs to a bar."""
    rows = shown_rows(made)
    shapes = strip_shapes(made, rows=rows, width=made.strip_width, sign=sign)
    return Stage(
        title=f"Bar{name}: slabs glued end to end" + beginning(rows, made.repeats),
        saying=say(
            "Glue {slabs} slabs end to end against a straight fence, last ply to first ply, so that"
            " the plies go on: {bars} {length} long, {repeats} repeats of {pitch}.",
            slabs=made.slabs if made.bars == 1 else f"{made.bars} times {made.slabs}",
            bars="a bar" if made.bars == 1 else f"{made.bars} bars",
            length=Length(made.bar_length, 1),
            repeats=made.repeats,
            pitch=Length(made.lay.pitch, 3),
        )
        if made.slabs > 1
        else say(
            "Each slab is a bar by itself: {bars}, {length} long, {repeats} repeats of {pitch}.",
            bars="one" if made.bars == 1 else str(made.bars),
            length=Length(made.bar_length, 1),
            repeats=made.repeats,
            pitch=Length(made.lay.pitch, 3),
        ),
        sizes=(
            ("length along an edge", made.bar_length),
            ("width", made.strip_width),
            ("depth", made.depth),
            ("one repeat", made.lay.pitch),
        ),
        shapes=tuple(shapes),
    )


def slice_stage(made: Slicing, tile_thickness: float, name: str = "") -> Stage:
    """The bar into strips."""
    return Stage(
        title=f"Strips{name}: the bar sliced, seen on its end",
        saying=slice_words(made, tile_thickness),
        sizes=(
            ("thickness of a strip, sawn", made.strip_thickness),
            ("thickness of a strip, scraped", tile_thickness),
            ("width", made.strip_width),
            ("length along an edge", made.bar_length),
        ),
        shapes=slice_shapes(made),
    )


def slice_words(made: Slicing, tile_thickness: float) -> Saying:
    """How the bar is sliced."""
    return say(
        "Slice {the} lengthwise into {strips} strips {thick} thick, every cut taking {kerf}, the"
        " last {grip} held and lost; scrape them to {tile}. Push with a stick, or slice between"
        " two boards.",
        the="the bar" if made.bars == 1 else f"each of the {made.bars} bars",
        strips=made.sliced,
        thick=Length(made.strip_thickness),
        kerf=Length(made.kerf),
        grip=Length(made.grip),
        tile=Length(tile_thickness),
    )
