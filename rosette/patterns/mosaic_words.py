"""What a mosaic says: the order of work from plies to tiles, and its warnings."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from rosette.errors import Finding, finding
from rosette.patterns.base import RingSite, Seam
from rosette.patterns.mosaic_keys import MosaicKeys
from rosette.patterns.mosaic_tile import Tile
from rosette.patterns.mosaic_work import Kind, Stack, Work
from rosette.patterns.radial_words import delicate_warnings, seam_warnings
from rosette.units import rounded
from rosette.words import Length, Saying, listed, say

THINNEST = 0.5
"""A plank or ply thinner than this (mm) breaks in planing and gluing (common practice)."""
UNEVEN = 2.0
"""An edge line that swells to more than this many times its least width reads as scalloped."""


def order_words(work: Work, tile: Tile, keys: MosaicKeys) -> Iterator[Saying]:
    """From the plies to the tiles, a sentence a step."""
    yield say(
        "Thickness plies to {ply} and edge veneers to {edge} (of several layers where yours are"
        " thinner). Glue them face to face, the grain of all along the {length}, into the stacks"
        " below, an edge veneer at both ends of each: every stack must come to {height}, or the"
        " rows do not meet.",
        ply=Length(tile.cell_height),
        edge=Length(tile.veneer),
        length=Length(work.length, 1),
        height=Length(work.height),
    )
    for stack in work.stacks:
        yield stack_words(stack)
    yield plank_words(work)
    yield from taper_words(tile)
    yield log_words(work, tile)
    if not tile.tapered_columns:
        yield log_taper_words(tile)
    yield slice_words(work, tile, keys)
    yield turned_words(keys)


def runs(woods: tuple[str, ...]) -> str:
    """A column's plies in words, neighbours of one wood counted together.

    >>> runs(("walnut", "walnut", "maple"))
    '2 walnut, 1 maple'
    """
    return ", ".join(f"{len(list(same))} {wood}" for wood, same in groupby(woods))


def columns_words(kind: Kind) -> str:
    """The columns that a stack serves.

    >>> columns_words(Kind(name="A", woods=("a", "b"), upright=(1, 3), turned=(2,)))
    'columns 1 and 3, and turned end for end column 2'
    """

    def named(numbers: tuple[int, ...]) -> str:
        return f"column{'s' if len(numbers) > 1 else ''} {listed(numbers)}"

    if not kind.turned:
        return named(kind.upright)
    return f"{named(kind.upright)}, and turned end for end {named(kind.turned)}"


def stack_words(stack: Stack) -> Saying:
    """One stack's plies, columns, size."""
    return say(
        "Stack {name}, for {columns}: from the outer edge in: {plies}. {count} {width} wide, for"
        " {planks} planks{each}.",
        name=stack.kind.name,
        columns=columns_words(stack.kind),
        plies=runs(stack.kind.woods),
        count="One" if stack.count == 1 else f"{stack.count} of them, each",
        width=Length(stack.width, 1),
        planks=stack.planks,
        each="" if stack.count == 1 else " each",
    )


def plank_words(work: Work) -> Saying:
    """Stacks into planks."""
    return say(
        "Mark the outer edge on every stack. Rip each lengthwise into planks {sawn} thick, square"
        " to the plies, so that every plank shows all of them: the first cut trues the side, every"
        " cut takes {kerf}, the last {grip} are held and lost. One plank of each stack is to"
        " spare. Push with a stick, or stick the stack to a longer and wider carrier.",
        sawn=Length(work.sawn),
        kerf=Length(work.kerf),
        grip=Length(work.grip),
    )


def taper_words(tile: Tile) -> Iterator[Saying]:
    """Planks to their thickness."""
    wide, narrow = tile.plank
    if tile.tapered_columns:
        yield say(
            "Plane every plank to a wedge, {wide} at its outer edge and {narrow} at its inner edge:"
            " on a sled that leans {angle}°, both faces alike, so that the plies stay square to"
            " its middle.",
            wide=Length(wide, 3),
            narrow=Length(narrow, 3),
            angle=rounded(180.0 / tile.fans, 3),
        )
    else:
        yield say(
            "Plane every plank on both faces to {wide}, parallel.",
            wide=Length(wide, 3),
        )


def log_words(work: Work, tile: Tile) -> Saying:
    """Planks to a log."""
    return say(
        "Glue {planks} planks side by side, in the order of the columns and outer edges up, to"
        " {logs}: {width} across at the outer edge, {height} high, {length} long. Press the rows"
        " into line on a flat caul before you tighten the clamps.",
        planks="the" if tile.columns == 1 else str(tile.columns),
        logs="a log" if work.logs == 1 else f"each of {work.logs} logs",
        width=Length(tile.across(tile.high)),
        height=Length(work.height),
        length=Length(work.length, 1),
    )


def log_taper_words(tile: Tile) -> Saying:
    """The log to a wedge."""
    return say(
        "Plane both sides of the log, {angle}° off upright, to a wedge: it stays {wide} across at"
        " the outer edge and comes to {narrow} at the inner.",
        angle=rounded(180.0 / tile.count, 2),
        wide=Length(tile.width_at(tile.high)),
        narrow=Length(tile.width_at(tile.low)),
    )


def slice_words(work: Work, tile: Tile, keys: MosaicKeys) -> Saying:
    """The log into slices."""
    return say(
        "Square off an end, then slice {logs} into {slices} slices {thick} thick, {kerf} a cut, in"
        " a mitre box or against a stop that stands off; the last {grip} are held and lost. Of"
        " these {tiles} are tiles, the others spares. Sand them to {tile}, end grain up.",
        logs="the log" if work.logs == 1 else "each log",
        slices=work.slices,
        thick=Length(work.slice),
        kerf=Length(work.kerf),
        grip=Length(work.grip),
        tiles=tile.count,
        tile=Length(keys.tile_thickness),
    )


def turned_words(keys: MosaicKeys) -> Saying:
    """How the tiles follow one another."""
    if keys.repeat == "mirrored":
        return say(
            "Mark the same face of every slice as it leaves the saw. Lay the tiles out with that"
            " face up and down in turn, the first one up: neighbours mirror each other at the"
            " joint."
        )
    return say(
        "Mark the same face of every slice as it leaves the saw, and lay all tiles with it up."
        " Size the end grain with thin glue before the joints are glued."
    )


def mosaic_warnings(tile: Tile, seam: Seam, site: RingSite) -> tuple[Finding, ...]:
    """What to think over before this ring is cut."""
    return (
        *seam_warnings(seam, site),
        *_own(tile, site),
        *delicate_warnings(site, inner_chord=tile.height, halves=tile.count % 2 == 0),
    )


def _own(tile: Tile, site: RingSite) -> Iterator[Finding]:
    if tile.count % 2:
        yield finding(
            "odd-count",
            f"{site.where}.tiles",
            "{tiles} tiles make no two equal halves: the last one has to be fitted to its opening,"
            " and its outer columns lose by it; {fewer} or {more} close from two halves",
            tiles=tile.count,
            fewer=max(6, tile.count - 1),
            more=tile.count + 1,
        )
    thin = min(tile.cell_height, *tile.plank)
    if thin < THINNEST:
        ply = tile.cell_height <= min(tile.plank)
        yield finding(
            "thin-cells",
            f"{site.where}.{'cell_height' if ply else 'tiles'}",
            "{what} come to {thin}; under {least} they break in planing: {remedy}",
            what="plies" if ply else "planks",
            thin=Length(thin, 3),
            least=Length(THINNEST),
            remedy="fewer rows or a wider ring"
            if ply
            else "fewer tiles or columns, or a larger ring",
        )
    if not tile.tapered_columns and tile.outermost < tile.plank[0] / 2.0:
        yield finding(
            "narrow-columns",
            f"{site.where}.taper",
            "the first and last column come to {left} at the inner edge, of {wide}: the picture"
            ' is cut there; taper = "columns" keeps every cell',
            left=Length(tile.outermost),
            wide=Length(tile.plank[0]),
        )
    least, most = max(tile.outer_line, tile.inner_line, key=lambda line: line[1] / line[0])
    if most > UNEVEN * least:
        yield finding(
            "uneven-edge",
            f"{site.where}.edge_left",
            "the rows are straight and the rims are arcs: the line that is left of the edge"
            " veneers swells from {least} to {most} in every {part}; more of them or a wider line"
            " would look even",
            least=Length(least),
            most=Length(most),
            part="column" if tile.tapered_columns else "tile",
        )
