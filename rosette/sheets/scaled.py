"""Pieces of wood in rows, to the largest scale at which they stand on a page."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rosette.sheets.block import PAGE_HEIGHT, Block, rows_of

SCALES = (1.0, 0.5, 0.4, 0.25, 0.2, 0.1, 0.05)


def scaled_rows(
    cells: Callable[[float], Sequence[Block]],
    *,
    above: Callable[[float], float],
    width: float,
    between: float,
    gap: float,
    many: float,
) -> tuple[float, list[Block]]:
    """The scale, and the rows of `cells` drawn to it.

    It is the largest at which all rows fit below what is `above` them (mm high, at a scale); of
    what takes more than one page whatever its scale, `many` or the next at which no row is wider
    than `width`.
    """

    def tried(scale: float) -> list[Block]:
        return rows_of(cells(scale), width=width, gap=between)

    def narrow(rows: Sequence[Block]) -> bool:
        return all(row.width <= width for row in rows)

    for scale in SCALES:
        rows = tried(scale)
        high = above(scale) + sum(row.height + gap for row in rows)
        if high <= PAGE_HEIGHT and narrow(rows):
            return scale, rows
    smaller = [scale for scale in SCALES if scale <= many]
    found = ((scale, tried(scale)) for scale in smaller)
    last = SCALES[-1]
    return next((one for one in found if narrow(one[1])), (last, tried(last)))
