"""What every piece of wood of the box holds of every kind of wedge."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rosette.offcuts.demand import Want
from rosette.offcuts.layouts import FoundOut
from rosette.offcuts.model import Layout, Offcut, WedgeSize
from rosette.offcuts.options import CutOptions

Progress = Callable[[int, int, str], None]
"""Called with steps done, steps in all, and what is being done now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One offcut of the box and how many there are of it, all alike."""

    wood: Offcut
    count: int = 1
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One piece of wood, with what it holds of each kind of wedge.

    `layouts` go by the number of the want; None where it was never looked at because the
    search was stopped. A want that the wood does not suit is not among them. `area` is its
    usable wood in mm².
    """

    wood: Offcut
    piece: int
    count: int
    note: str
    area: float
    layouts: dict[int, Layout | None]

    def bound(self, want: int, size: WedgeSize) -> int:
        """No more wedges than this come out of it."""
        if want not in self.layouts:
            return 0
        layout = self.layouts[want]
        return int(self.area / size.area) if layout is None else layout.bound


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """Every piece of wood that serves anything; `stopped` where some were not looked at."""

    sources: tuple[Source, ...]
    stopped: bool


def supply(
    stock: Sequence[Stock],
    wants: Sequence[Want],
    *,
    kerf: float,
    options: CutOptions,
    progress: Progress,
    found_out: FoundOut,
    effort: int | None = None,
) -> Supply:
    """Lay out every offcut for every kind of wedge it suits, the largest offcuts first.

    `effort`: see `rosette.offcuts.layouts.layout_of`.
    A `KeyboardInterrupt` ends the search early: what was not looked at is marked so.
    """
    areas = [found_out.region(one.wood).area for one in stock]
    found: dict[tuple[int, WedgeSize], Layout] = {}
    todo = [
        (at, size)
        for at in sorted(range(len(stock)), key=lambda at: -areas[at])
        for size in dict.fromkeys(w.size for w in wants if _serves(stock[at].wood, w))
    ]
    stopped = False
    try:
        for done, (at, size) in enumerate(todo):
            progress(done, len(todo), f"Looking at {stock[at].wood.id}")
            found[at, size] = found_out.layout(
                stock[at].wood, size, kerf=kerf, options=options, effort=effort
            )
        progress(len(todo), len(todo), "Choosing")
    except KeyboardInterrupt:
        stopped = True
    sources = []
    for at, one in enumerate(stock):
        layouts = {
            i: found.get((at, want.size)) for i, want in enumerate(wants) if _serves(one.wood, want)
        }
        sources += [
            Source(
                wood=one.wood, piece=piece, count=one.count, note=one.note, area=areas[at],
                layouts=layouts,
            )
            for piece in range(1, one.count + 1)
            if layouts
        ]  # fmt: skip
    return Supply(sources=tuple(sources), stopped=stopped)


def _serves(wood: Offcut, want: Want) -> bool:
    return want.suits(wood.wood) and want.thick_enough(wood.thickness)
