"""The rows of a choice, numbered; what each is best at, and which row beats one left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rosette.offcuts.explored import BESTS, Ask, Best, Row
from rosette.offcuts.tradeoff import beats
from rosette.offcuts.widest import Limit

Block = tuple[tuple[str, ...], float]
"""Woods and inner radius: rows that differ in neither are compared."""


def worth_in_steps(ask: Ask) -> int:
    """What a ring has to be wider to be worth an offcut or a spare, in steps."""
    return max(1, round(ask.worth / ask.step))


def numbered(ask: Ask, rows: Sequence[Row]) -> tuple[Row, ...]:
    """The choice numbered first, so that its numbers stay the same with all the rest beside it."""
    numbers = dict[int, int]()
    for number, at in enumerate(sorted(range(len(rows)), key=lambda at: _beaten(rows[at])), 1):
        numbers[at] = number
    bests = _bests(rows)
    made = [replace(row, number=numbers[at], best=bests.get(at, ())) for at, row in enumerate(rows)]
    chosen = [row for row in made if not _beaten(row)]
    return tuple(
        replace(row, beaten_by=_better(row, chosen, ask)) if _beaten(row) else row for row in made
    )


def _beaten(row: Row) -> bool:
    return row.beaten_by is not None


def _better(row: Row, chosen: Sequence[Row], ask: Ask) -> int:
    """The number of the first row of the choice that beats this one."""
    worth, mine = worth_in_steps(ask), _limit(row, ask)
    return next(
        one.number
        for one in chosen
        if one.kind == row.kind and beats(_limit(one, ask), mine, worth)
    )


def _limit(row: Row, ask: Ask) -> Limit:
    return Limit(
        width=ask.steps(row.width),
        offcuts=row.offcuts,
        spares=row.spares,
        proved=row.proved,
    )


def _bests(rows: Sequence[Row]) -> dict[int, tuple[Best, ...]]:
    """What rows are best at among the choice for the same woods and radius, by their places."""
    blocks: dict[Block, list[int]] = {}
    for at, row in enumerate(rows):
        if not _beaten(row):
            blocks.setdefault((row.kind.woods, row.kind.inner_radius), []).append(at)
    found: dict[int, tuple[Best, ...]] = {}
    for block in blocks.values():
        for best in BESTS:
            at = max(block, key=lambda at: (*_merit(rows[at], best), -at))
            found[at] = (*found.get(at, ()), best)
    return found


def _merit(row: Row, best: Best) -> tuple[float, ...]:
    """How good a row is at something, and what decides among equals."""
    match best:
        case "widest ring":
            return row.width, -row.offcuts, row.spares
        case "fewest offcuts":
            return -row.offcuts, row.width, row.spares
        case "most spares":
            return row.spares, -row.offcuts, row.width
        case "least waste":
            return row.yielded, row.width
