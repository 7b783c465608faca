"""The mosaic: a picture of small squares of end grain, sliced off a glued-up log, round the ring.

Every column of the picture is a stack of plies; planks are sawn off the stacks and glued side by
side to a log, whose end shows the picture; slices of it are the tiles. A taper, of every plank or
of the log, makes them fan.
"""

from __future__ import annotations

import math
from collections import Counter

from rosette.errors import CannotMakeError
from rosette.geometry import wedge
from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import Outline, Vertex
from rosette.patterns.base import Pattern, Piece, RingPlan, RingSite, Seam
from rosette.patterns.mosaic_count import chosen_words, count_of, refusals
from rosette.patterns.mosaic_keys import MosaicKeys
from rosette.patterns.mosaic_stages import stages_of
from rosette.patterns.mosaic_tile import Tile, tile_of, wood_of
from rosette.patterns.mosaic_words import mosaic_warnings, order_words
from rosette.patterns.mosaic_work import blanks_of, stock_of, work_of
from rosette.patterns.radial_pieces import seam_angle, visibility_of
from rosette.patterns.radial_words import last_steps


def plan_mosaic(keys: MosaicKeys, site: RingSite) -> RingPlan:
    """Work out a mosaic.

    Raises:
        CannotMakeError: with every reason, each naming what would work.
    """
    count = count_of(keys, site)
    tile = tile_of(count, keys, site)
    reasons = list(refusals(tile, keys, site))
    if reasons:
        raise CannotMakeError(reasons)
    work = work_of(tile, keys, site)
    stock = stock_of(work, tile, keys)
    stages = stages_of(work, tile, keys)
    tiles = _tiles(tile, keys, site)
    pieces = _pieces(tile, tiles, keys, site)
    return RingPlan(
        index=site.index,
        pattern="mosaic",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=tuple(dict.fromkeys(piece.wood for piece in pieces)),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=pieces,
        steps=(
            *chosen_words(count, keys, site),
            *order_words(work, tile, keys),
            *last_steps(
                site,
                segments=count,
                whole=count % 2 == 1,
                joint=keys.glue_line,
                backing=keys.backing,
            ),
        ),
        warnings=mosaic_warnings(tile, _seam(count, keys, site), site),
        across_grain=_across(keys, site),
        sawn=keys.sawn,
        stock=stock,
        stages=stages,
        blanks=blanks_of(stock, site),
        tiles=tiles,
    )


def _tiles(tile: Tile, keys: MosaicKeys, site: RingSite) -> tuple[Piece, ...]:
    """Every tile as a whole, clockwise from the seam."""
    mitre = wedge.mitre_angle(tile.count)
    seam = seam_angle(tile.count, "joint" if keys.at_centreline == "joint" else "wedge")
    digits = max(2, len(str(tile.count)))
    whole, tiles = tile.outline(), []
    for position in range(1, tile.count + 1):
        axis = seam - (2 * position - 1) * mitre
        outline = whole.mapped(math.radians(axis))
        tiles.append(
            Piece(
                label=f"{site.index}-{position:0{digits}d}",
                position=position,
                wood=keys.cells[0][0],
                kind="tile",
                outline=outline,
                axis=axis,
                visibility=visibility_of(outline, axis, mitre, site),
            )
        )
    return tuple(tiles)


def _pieces(
    tile: Tile, tiles: tuple[Piece, ...], keys: MosaicKeys, site: RingSite
) -> tuple[Piece, ...]:
    """Every cell of every tile, tile by tile."""
    cells = list(tile.cells())
    ways = [
        [(cell.outline.vertices, *wood_of(cell, keys, turned=turned), cell.kind) for cell in cells]
        for turned in (False, keys.repeat == "mirrored")
    ]
    make, pieces = Vertex._make, []
    for whole in tiles:
        turn = math.radians(whole.axis or 0.0)
        cosine, sine = math.cos(turn), math.sin(turn)
        for vertices, wood, name, kind in ways[(whole.position - 1) % 2]:
            # thousands of them: what Outline.mapped does, with the tile's sine and cosine
            placed = Outline(
                tuple(
                    [
                        make((cosine * x - sine * y, sine * x + cosine * y, bulge))
                        for x, y, bulge in vertices
                    ]
                )
            )
            pieces.append(
                Piece(
                    label=f"{whole.label}.{name}",
                    position=whole.position,
                    wood=wood,
                    kind=kind,
                    outline=placed,
                    visibility=site.hidden.visibility(placed)
                    if whole.visibility is Visibility.PARTLY and site.hidden is not None
                    else whole.visibility,
                )
            )
    return tuple(pieces)


def _seam(count: int, keys: MosaicKeys, site: RingSite) -> Seam:
    off = 0.0 if keys.at_centreline == "joint" else wedge.mitre_angle(count)
    return Seam(
        angle=off,
        hidden=site.hidden is not None
        and site.hidden.hides_radial_line(off, site.inner_radius, site.outer_radius),
    )


def _across(keys: MosaicKeys, site: RingSite) -> tuple[tuple[str, float], ...]:
    """What of the outer circumference each wood takes, as if the cells were spread evenly.

    The grain stands upright in the ring, so that all of it moves across the grain.
    """
    counts = Counter(wood for row in keys.cells for wood in row)
    round_it, total = math.tau * site.outer_radius, sum(counts.values())
    return tuple((wood, round_it * count / total) for wood, count in counts.items())


HEART = """
wwwwwwwww
wwmwwwmww
wmrmwmrmw
wmrrmrrmw
wmrrrrrmw
wwmrrrmww
wwwmrmwww
wwwwmwwww
wwwwwwwww
"""

PATTERN = Pattern(
    name="mosaic",
    summary="a picture of small squares of end grain, sliced off a glued-up log",
    keys=MosaicKeys,
    plan=plan_mosaic,  # type: ignore[arg-type]
    example={
        "motif": HEART,
        "palette": {"w": "walnut", "m": "maple", "r": "padauk"},
        "edge_wood": "maple",
        "tiles": 18,
    },
)
