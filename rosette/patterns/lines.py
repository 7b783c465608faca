"""A stack of lines: several plies, bent and glued into one strip that goes round the ring."""

from __future__ import annotations

from rosette.errors import CannotMakeError
from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import circle
from rosette.patterns.base import CutBlank, Pattern, Piece, Place, RingPlan, RingSite, Stock
from rosette.patterns.line import ends_warnings, strip_lengths
from rosette.patterns.lines_keys import LinesKeys
from rosette.patterns.lines_plies import Ply, plies_of, stock_of
from rosette.patterns.lines_words import (
    lines_stages,
    lines_steps,
    lines_warnings,
    would_break,
    wrong_width,
)


def plan_lines(keys: LinesKeys, site: RingSite) -> RingPlan:
    """Work out a stack of lines.

    Raises:
        CannotMakeError: where the plies do not come to the ring's width, or would break.
    """
    reasons = list(wrong_width(keys, site))
    plies = plies_of(keys, site) if not reasons else ()
    reasons += would_break(plies, keys, site)
    if reasons:
        raise CannotMakeError(reasons)
    strip, stock = strip_lengths(keys.overlap, site), stock_of(plies, keys)
    return RingPlan(
        index=site.index,
        pattern="lines",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=tuple(dict.fromkeys(ply.wood for ply in plies)),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=tuple(_piece(ply, site) for ply in plies),
        steps=lines_steps(plies, strip, keys, site),
        warnings=(*lines_warnings(plies, keys, site), *ends_warnings(strip, site)),
        strip=strip,
        stock=stock,
        stages=lines_stages(plies, keys, site),
        blanks=tuple(_blank(kind, one, site) for kind, one in enumerate(stock, start=1)),
    )


def _piece(ply: Ply, site: RingSite) -> Piece:
    outline = circle(ply.outer_radius)
    return Piece(
        label=f"{site.index}-{ply.number:02d}",
        position=ply.number,
        wood=ply.wood,
        kind="line",
        outline=outline,
        holes=(circle(ply.inner_radius),),
        visibility=Visibility.SEEN if site.hidden is None else site.hidden.visibility(outline),
    )


def _blank(kind: int, stock: Stock, site: RingSite) -> CutBlank:
    return CutBlank(
        name=stock.name,
        wood=stock.wood,
        inner_width=stock.width,
        outer_width=stock.width,
        height=stock.length,
        thickness=stock.thickness,
        places=tuple(
            Place(label=f"{site.index}-ply-{kind}-{number:02d}", position=number)
            for number in range(1, stock.count + 1)
        ),
    )


PATTERN = Pattern(
    name="lines",
    summary="several lines in one: plies bent and glued into a strip that goes round the ring",
    keys=LinesKeys,
    plan=plan_lines,  # type: ignore[arg-type]
    example={
        "width": 2.6,
        "plies": [
            {"wood": "walnut", "thickness": 0.6},
            {"wood": "maple", "thickness": 0.4},
            {"wood": "padauk", "thickness": 0.6},
            {"wood": "maple", "thickness": 0.4},
            {"wood": "walnut", "thickness": 0.6},
        ],
    },
)
