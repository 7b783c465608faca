"""How many tiles go round a mosaic, and what keeps a mosaic from being made."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.errors import CannotMakeError, Finding, finding
from rosette.patterns.base import RingSite
from rosette.patterns.mosaic_keys import MosaicKeys
from rosette.patterns.mosaic_tile import Tile, room, tile_of
from rosette.words import Length, Saying, say

FEWEST, MOST = 6, 180
"""Tiles round a ring."""
MOST_PIECES = 12_000
"""Pieces of a ring, edges counted; more are no work for a hand."""
LEAST_PLY = 0.1
"""A ply thinner than this (mm) is paper."""


def count_of(keys: MosaicKeys, site: RingSite) -> int:
    """The count given, or the even one whose cells come nearest the width asked for.

    Raises:
        CannotMakeError: where it makes more pieces than go into a ring, or halves that differ.
    """
    rows, columns = len(keys.drawn), len(keys.drawn[0])
    most = min(MOST, MOST_PIECES // (columns * (rows + 2)))
    if most < FEWEST or (keys.tiles or 0) > most:
        raise CannotMakeError([_too_many(columns, rows, most, site)])
    if keys.tiles is not None:
        if keys.tiles % 2 and keys.repeat == "mirrored":
            raise CannotMakeError([_odd(keys.tiles, site)])
        return keys.tiles
    wanted = keys.cell_width or 0.0
    counts = range(FEWEST, most + 1, 2)
    return min(counts, key=lambda count: abs(tile_of(count, keys, site).cell_width - wanted))


def _too_many(columns: int, rows: int, most: int, site: RingSite) -> Finding:
    remedy = f"at most {most} tiles would do" if most >= FEWEST else "draw it with fewer cells"
    return finding(
        "too-many-pieces",
        f"{site.where}.tiles",
        "a motif of {columns} × {rows} cells goes round the ring in more than {most} pieces;"
        " {remedy}",
        columns=columns,
        rows=rows,
        most=MOST_PIECES,
        remedy=remedy,
    )


def _odd(tiles: int, site: RingSite) -> Finding:
    return finding(
        "odd-count",
        f"{site.where}.tiles",
        "mirrored tiles take an even count, every second one turned over, and {tiles} is odd;"
        " {fewer} or {more} would do",
        tiles=tiles,
        fewer=max(FEWEST, tiles - 1),
        more=tiles + 1,
    )


def chosen_words(count: int, keys: MosaicKeys, site: RingSite) -> Iterator[Saying]:
    """How the count was chosen, and what the cells come to."""
    if keys.cell_width is None:
        return

    def wide(tiles: int) -> Length:
        return Length(tile_of(tiles, keys, site).cell_width, 3)

    yield say(
        "{count} tiles chosen: they close the ring with cells {width} wide{where}, nearest to the"
        " {wanted} asked for among even counts; {fewer} tiles would give {wider}, {more} would"
        " give {narrower}.",
        count=count,
        width=wide(count),
        where=" at its middle" if keys.taper == "columns" else "",
        wanted=Length(keys.cell_width, 3),
        fewer=count - 2,
        wider=wide(count - 2),
        more=count + 2,
        narrower=wide(count + 2),
    )


def refusals(tile: Tile, keys: MosaicKeys, site: RingSite) -> Iterator[Finding]:
    """Every reason why a tile can't be made."""
    if site.inner_allowance >= site.inner_radius or tile.low <= 0.0:
        yield finding(
            "no-inner-edge",
            "cutting.inner_allowance",
            "the trim reaches past the centre of ring {index}, whose inner radius is {radius}; use"
            " less than that radius",
            index=site.index,
            radius=Length(site.inner_radius),
        )
        return
    if tile.cell_height < LEAST_PLY or tile.bottom < room(tile.count, keys, site)[0] - 1e-9:
        yield _no_room(tile, keys, site)
        return
    if min(tile.plank) <= 0.0 or tile.width_at(tile.low) <= 0.0:
        yield finding(
            "no-width",
            f"{site.where}.tiles",
            "{tiles} tiles of {columns} columns leave no width to a cell between the joints; use"
            " fewer tiles, fewer columns or less glue",
            tiles=tile.count,
            columns=tile.columns,
        )
    elif tile.outermost <= 0.0:
        yield _run_out(tile, site)


def _no_room(tile: Tile, keys: MosaicKeys, site: RingSite) -> Finding:
    low, high = room(tile.count, keys, site)
    glue = (tile.rows - 1) * tile.glue
    height = tile.cell_height if keys.cell_height is not None else LEAST_PLY
    wider = tile.rows * height + glue - (high - low)
    fits = (high - low - glue) / tile.rows
    remedy = f"{site.where}.cell_height"
    if keys.cell_height is None or fits < LEAST_PLY:
        return finding(
            "no-room",
            f"{site.where}.width",
            "edge veneers, joints and the arcs' rise over straight rows leave {left} of the ring"
            " for {rows} rows; make the ring wider by at least {wider}, use more tiles, or draw the"
            " motif with fewer rows",
            left=Length(max(0.0, high - low - glue)),
            rows=tile.rows,
            wider=Length(wider + 0.005),
        )
    return finding(
        "no-room",
        remedy,
        "{rows} rows of {height} take {taken}, and the edge veneers leave {left} of the ring; use"
        " plies of at most {fits}, or make the ring wider by {wider}",
        rows=tile.rows,
        height=Length(height),
        taken=Length(tile.rows * height + glue),
        left=Length(high - low),
        fits=Length(fits - 0.0005, 3),
        wider=Length(wider + 0.005),
    )


def _run_out(tile: Tile, site: RingSite) -> Finding:
    wide, narrow = tile.width_at(tile.high), tile.width_at(tile.low)
    most = int((wide + tile.glue) / ((wide - narrow) / 2.0 + tile.glue) - 1e-9)
    return finding(
        "column-runs-out",
        f"{site.where}.taper",
        "planing the log to a wedge takes {taken} off each side at its inner end, more than a"
        ' column is wide ({column}); taper = "columns" keeps them all, or draw the motif with at'
        " most {most} columns",
        taken=Length((wide - narrow) / 2.0),
        column=Length(tile.plank[0]),
        most=max(1, most),
    )
