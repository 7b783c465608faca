"""Blocks: a ring sawn from one board in as many curved blocks as wanted, the grain all one way."""

from __future__ import annotations

import math

from rosette.geometry.outline import Outline, Vertex, at_angle
from rosette.keys import RingKeys, key, table
from rosette.keys.kinds import NAME, whole
from rosette.patterns.base import Pattern, Piece, RingPlan, RingSite, Stock
from rosette.words import Length, say


@table
class BlockKeys(RingKeys):
    """The keys of a ring of blocks beside those of every ring."""

    wood: str = key(NAME, "the blocks' wood", example="walnut")
    blocks: int = key(whole(least=3, most=24), "how many blocks", example=6)


def plan_blocks(keys: BlockKeys, site: RingSite) -> RingPlan:
    """Work out a ring of blocks."""
    turn = 360.0 / keys.blocks
    pieces = tuple(
        Piece(
            label=f"{site.index}-{number + 1:02d}",
            position=number + 1,
            wood=keys.wood,
            kind="block",
            outline=_block(site, 90.0 - number * turn, turn),
            axis=90.0,
        )
        for number in range(keys.blocks)
    )
    chord = 2.0 * site.outer_radius * math.sin(math.radians(turn / 2.0))
    width = site.outer_radius - site.inner_radius * math.cos(math.radians(turn / 2.0))
    return RingPlan(
        index=site.index,
        pattern="blocks",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=(keys.wood,),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=pieces,
        steps=(
            say(
                "Cut {count} blanks {long} by {wide}, and saw each to the full-size sheet.",
                count=keys.blocks,
                long=Length(chord),
                wide=Length(width),
            ),
        ),
        stock=(
            Stock(
                name="blank",
                wood=keys.wood,
                count=keys.blocks,
                length=chord,
                width=width,
                thickness=keys.tile_thickness,
            ),
        ),
    )


def _block(site: RingSite, start: float, turn: float) -> Outline:
    """The block that runs clockwise from the direction `start` over `turn` degrees."""
    bulge = math.tan(math.radians(turn) / 4.0)
    inner, outer = site.inner_radius, site.outer_radius
    return Outline(
        (
            Vertex(*at_angle(outer, start - turn), bulge),
            Vertex(*at_angle(outer, start)),
            Vertex(*at_angle(inner, start), -bulge),
            Vertex(*at_angle(inner, start - turn)),
        )
    )


PATTERN = Pattern(
    name="blocks",
    summary="curved blocks, all from one board",
    keys=BlockKeys,
    plan=plan_blocks,  # type: ignore[arg-type]
    example={"wood": "walnut", "blocks": 6},
)
