"""The choice as a table of at most 80 columns, in the box's units."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import groupby
from textwrap import wrap

from rosette.offcuts.explored import Exploration, Kind, Row
from rosette.units import MM_PER_INCH, Units, format_length, nearest_fraction, number_in, rounded
from rosette.words import listed

WIDTH = 80


def lines(exploration: Exploration, units: Units | None = None) -> Iterator[str]:
    """The table in `units` (the box's own where None)."""
    told = _Table(exploration, units or exploration.ask.units)
    yield from told.lines()


class _Table:
    """One exploration told in one unit."""

    def __init__(self, exploration: Exploration, units: Units) -> None:
        self.found, self.units = exploration, units

    def length(self, mm: float, decimals: int = 2) -> str:
        return format_length(mm, self.units, decimals=decimals)

    def lines(self) -> Iterator[str]:
        found = self.found
        title = f"What {found.box_file or 'the box'} can make"
        yield title
        yield "=" * min(WIDTH, len(title))
        yield from self.setting()
        if found.stopped:
            yield ""
            yield from paragraph(f"STOPPED EARLY: {looked_at(found)}; {_until_then(found)}")
        if not found.rows:
            return
        for _, rows in groupby(found.rows, key=lambda row: (row.kind.woods, row.kind.inner_radius)):
            yield ""
            mine = list(rows)
            heading = list(paragraph(block_title(mine[0], self.units)))
            yield from heading
            yield "-" * len(heading[-1])
            yield from _columns(self.head(), [self.cells(row) for row in mine])
        yield from self.foot()

    def setting(self) -> Iterator[str]:
        ask = self.found.ask
        keys, cutting = ask.design.rings[ask.ring - 1].keys, ask.design.cutting
        usual = "" if ask.like else " (what is not given as an option is what is usual)"
        yield from paragraph(
            f"Kerf {self.length(cutting.kerf)}, trim {self.length(cutting.inner_allowance)} inside"
            f" and {self.length(cutting.outer_allowance)} outside, the ring's wood"
            f" {self.length(keys.tile_thickness)} thick{usual}."
        )
        ends = dict.fromkeys(self.length(width) for width in (ask.narrowest, ask.widest))
        yield from paragraph(
            f"Each row is the widest ring that so many offcuts hold. Looked at:"
            f" {' to '.join(ends)} wide."
        )

    def head(self) -> tuple[str, ...]:
        finer = ("or 1/64",) if self.units == "in" else ()
        return (
            "row", "wedges", f"width, {self.units}", *finer, "offcuts", "spares", "yield", "best at"
        )  # fmt: skip

    def cells(self, row: Row) -> tuple[str, ...]:
        tenths = self.units == "mm" and abs(row.width - round(row.width, 1)) < 1e-6
        width = number_in(row.width, self.units, decimals=1 if tenths else 2)
        if row.at_limit:
            width += "+"
        elif not row.proved:
            width += "?"
        else:
            width += " "
        last = ", ".join(row.best)
        if row.beaten_by is not None:
            last = f"(row {row.beaten_by} does better)"
        return (
            str(row.number),
            str(row.kind.segments),
            width,
            *((_sixty_fourths(row.width),) if self.units == "in" else ()),
            str(row.offcuts),
            str(row.spares),
            f"{rounded(100.0 * row.yielded, 0)} %",
            last,
        )

    def foot(self) -> Iterator[str]:
        found, rows = self.found, self.found.rows
        yield ""
        if self.units == "in":
            yield from paragraph("Or 1/64: the width in sixty-fourths, rounded down, so it fits.")
        if any(row.at_limit for row in rows):
            yield from paragraph("+ as wide as was asked for; it may go wider.")
        if any(not row.proved and not row.at_limit for row in rows):
            yield from paragraph(
                "? the widest that was found; that no wider one fits is not proved."
            )
        if any(row.proved and not row.at_limit for row in rows):
            bare = "A width without a mark" if any(_marked(row) for row in rows) else "Each width"
            yield from paragraph(
                f"{bare} is proved: of its sort no ring {self.length(found.ask.step)} wider fits."
            )
        yield from paragraph(
            "Yield: the share of the offcuts' good wood that becomes wedges. Spares: more wedges"
            " of each wood, beside those of the ring."
        )
        if found.nothing:
            yield from paragraph(f"Not to be had: {missing_words(found.nothing)}.")
        for note in found.notes:
            yield from paragraph(note.text(self.units)[0].upper() + note.text(self.units)[1:] + ".")


def looked_at(found: Exploration) -> str:
    """How far a search that was stopped has come, in words."""
    verb = "was" if found.looked_at == 1 else "were"
    return f"{found.looked_at} of {found.kinds} sorts of ring {verb} looked at"


def _until_then(found: Exploration) -> str:
    if found.rows:
        return "what follows is the choice among those."
    if found.looked_at:
        return f"nothing was found yet, for {missing_words(found.nothing)} are not to be had."
    return "nothing was found yet."


def _sixty_fourths(length: float) -> str:
    """The longest whole number of 1/64 in that a length in mm holds: a ring must not be wider.

    >>> _sixty_fourths(15.748), _sixty_fourths(15.875), _sixty_fourths(25.4)
    ('39/64', '5/8', '1')
    """
    parts = math.floor(length / MM_PER_INCH * 64.0 + 1e-6)
    return nearest_fraction(parts * MM_PER_INCH / 64.0)


def _marked(row: Row) -> bool:
    return row.at_limit or not row.proved


def block_title(row: Row, units: Units) -> str:
    """What the rows of one sequence of woods and one radius have in common, in words."""
    woods = row.kind.woods
    turn = " in turn" if len(woods) > 1 else ""
    told = f"{listed(woods)}{turn}, from {format_length(row.kind.inner_radius, units)} out"
    return told[0].upper() + told[1:]


def missing_words(kinds: Sequence[Kind]) -> str:
    """Kinds of ring in words, those that differ only in their count drawn together.

    >>> missing_words([Kind(woods=("maple",), segments=n, inner_radius=50.0) for n in (12, 18, 24)])
    '12, 18 or 24 wedges of maple'
    """
    told = dict.fromkeys((kind.woods, kind.segments) for kind in kinds)
    groups: dict[tuple[str, ...], list[str]] = {}
    for woods, count in told:
        groups.setdefault(woods, []).append(str(count))
    return "; ".join(
        f"{listed(counts, 'or')} wedges of {listed(woods)}" for woods, counts in groups.items()
    )


def paragraph(text: str) -> Iterator[str]:
    """Words in lines of at most 80 columns."""
    yield from wrap(text, WIDTH, break_long_words=True, break_on_hyphens=False)


def _columns(head: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Numbers to the right, the last column to the left."""
    widths = [max(len(row[i]) for row in (head, *rows)) for i in range(len(head) - 1)]
    lead = sum(widths) + 2 * len(widths) + 1
    for row in (head, *rows):
        cells = [f"{cell:>{width}}" for cell, width in zip(row, widths, strict=False)]
        last = wrap(row[-1], WIDTH - lead) or [""]
        yield ("  ".join(cells) + f"   {last[0]}").rstrip()
        for more in last[1:]:
            yield " " * lead + more
