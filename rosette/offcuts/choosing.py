"""Which piece of wood gives which wedges: all that are needed, and of those the best choice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rosette.offcuts.allocate import Dealer, Take, deal_out, dealer, weighable
from rosette.offcuts.choose import fewest
from rosette.offcuts.cutplan import Objective
from rosette.offcuts.demand import Want, wood_key
from rosette.offcuts.layouts import FoundOut
from rosette.offcuts.menus import Kitchen
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Source, Supply

MOST_SHARED = 5
"""Offcuts, the largest first, of which it is tried whether two rings can share them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """A piece of wood, and the way in which wedges are taken from it."""

    source: Source
    take: Take | None


def groups(asked: Sequence[Want]) -> list[list[int]]:
    """Kinds of wedge that compete for the same wood, by their numbers."""
    groups: dict[str, list[int]] = {}
    for number, want in enumerate(asked):
        groups.setdefault(wood_key(want.wood), []).append(number)
    return list(groups.values())


def chosen(
    found: Supply,
    asked: Sequence[Want],
    kerf: float,
    options: CutOptions,
    *,
    found_out: FoundOut,
    share_for_fewest: bool = True,
) -> list[Given]:
    """One way to cut every piece of wood, or none, in the order of the sources.

    Two rings may share a piece where wood is short, and `share_for_fewest` to touch fewer.
    """
    kitchen = Kitchen(wants=asked, kerf=kerf, options=options, found_out=found_out)
    takes: dict[int, Take | None] = {}
    together = groups(asked)
    serving = [
        [at for at, one in enumerate(found.sources) if set(kinds) & one.layouts.keys()]
        for kinds in together
    ]
    deals = deal_out(
        [
            _dealer(
                [found.sources[at] for at in mine],
                kinds,
                asked,
                kitchen,
                share_for_fewest=share_for_fewest,
            )
            for kinds, mine in zip(together, serving, strict=True)
        ],
        [[asked[kind].ring for kind in kinds] for kinds in together],
        [[asked[kind].needed for kind in kinds] for kinds in together],
    )
    for kinds, mine, deal in zip(together, serving, deals, strict=True):
        takes.update(zip(mine, deal.takes, strict=True))
        if options.everything:
            for at in mine:
                takes[at] = _filled(found.sources[at], takes[at], kinds, asked, kitchen)
    return [Given(source=one, take=takes.get(at)) for at, one in enumerate(found.sources)]


def enough(
    found: Supply, asked: Sequence[Want], kerf: float, options: CutOptions, found_out: FoundOut
) -> bool:
    """Whether all that is asked for comes out of it: as `chosen`, but the numbers alone."""
    kitchen = Kitchen(wants=asked, kerf=kerf, options=options, found_out=found_out)
    return all(_enough(found, kinds, asked, kitchen) for kinds in groups(asked))


def _enough(found: Supply, kinds: Sequence[int], asked: Sequence[Want], kitchen: Kitchen) -> bool:
    sources = [one for one in found.sources if set(kinds) & one.layouts.keys()]
    needs = [asked[kind].count for kind in kinds]
    objectives, every = kitchen.options.objectives, range(len(kinds))
    menus = [kitchen.counts(source, kinds) for source in sources]
    if dealer(needs, menus, objectives, first=needs).best(every) is not None:
        return True
    if len(kinds) == 1:
        return False
    for at in _largest(sources):
        menus[at] += kitchen.shared_counts(sources[at], kinds)
    return (
        weighable(needs, menus)
        and dealer(needs, menus, objectives, first=needs).best(every) is not None
    )


def _largest(sources: Sequence[Source]) -> list[int]:
    """The pieces of which it is tried whether two rings can share them."""
    return sorted(range(len(sources)), key=lambda at: -sources[at].area)[:MOST_SHARED]


def _dealer(
    sources: Sequence[Source],
    kinds: Sequence[int],
    asked: Sequence[Want],
    kitchen: Kitchen,
    *,
    share_for_fewest: bool,
) -> Dealer:
    """Deals the pieces of one wood out to its kinds."""
    needs = [asked[kind].count for kind in kinds]
    first = [asked[kind].needed for kind in kinds]
    objectives = kitchen.options.objectives
    menus = [
        [] if least is None else kitchen.menu(source, kinds, least)
        for source, least in zip(sources, _useful(sources, kinds, needs, objectives), strict=True)
    ]
    plain = dealer(needs, menus, objectives, first=first)
    if len(kinds) == 1:
        return plain
    every = plain.best(range(len(kinds)))
    if every and sum(every.counts) == sum(needs):
        number = sum(take is not None for take in every.takes)
        if not share_for_fewest or number <= _fewest(kinds, asked, sources):
            return plain
    largest = _largest(sources)
    shared = [
        [*menu, *kitchen.shared(sources[at], kinds)] if at in largest else menu
        for at, menu in enumerate(menus)
    ]
    # Sharing is tried only where all kinds can still be weighed together.
    if not weighable(needs, shared):
        return plain
    return dealer(needs, shared, objectives, first=first)


def _useful(
    sources: Sequence[Source],
    kinds: Sequence[int],
    needs: Sequence[int],
    objectives: Sequence[Objective],
) -> list[int | None]:
    """The least that each piece gives where it is among the fewest; None where it can't be.

    It has to give what the largest of the others lack. In a box of a thousand that spares
    looking at every number of wedges in every piece. 1 where it is not known beforehand.
    """
    if len(kinds) > 1 or objectives[0] != "offcuts":
        return [1] * len(sources)
    layouts = [source.layouts.get(kinds[0]) for source in sources]
    holds = [layout.placed if layout else 0 for layout in layouts]
    number = fewest(holds, needs[0])
    if number is None:
        return [1] * len(sources)
    largest = sorted(holds, reverse=True)
    # Of a piece that is itself among the largest this counts it twice: then it is of use anyway.
    others = sum(largest[: max(0, number - 1)])
    least = max(1, needs[0] - others)
    return [least if held >= least else None for held in holds]


def _filled(
    source: Source,
    take: Take | None,
    kinds: Sequence[int],
    asked: Sequence[Want],
    kitchen: Kitchen,
) -> Take | None:
    """As many wedges as the piece holds: of the kind it was taken for, else of the scarcest."""
    if take is None:
        kind = max(
            kinds,
            key=lambda one: (
                getattr(source.layouts.get(one), "placed", 0) / max(1, asked[one].needed),
                -one,
            ),
        )
        return kitchen.full(source, kind)
    return kitchen.filled(source, take)


def _fewest(kinds: Sequence[int], asked: Sequence[Want], sources: Sequence[Source]) -> int:
    """A number of offcuts below which the wedges of one wood can't be had: proved.

    By each kind's bounds alone, and by area for all kinds together.
    """
    found = 0
    for kind in kinds:
        bounds = [source.bound(kind, asked[kind].size) for source in sources]
        number = fewest(bounds, asked[kind].needed)
        found = max(found, len(sources) if number is None else number)
    left = sum(asked[kind].needed * asked[kind].size.area for kind in kinds)
    by_area = 0
    for area in sorted((source.area for source in sources), reverse=True):
        if left <= 0.0:
            break
        left -= area
        by_area += 1
    return max(found, by_area)


def fewest_for(
    kinds: Sequence[int], asked: Sequence[Want], found: Supply, given: Sequence[Given]
) -> int:
    """The proved least number of offcuts for the kinds of one wood."""
    sources = [one for one in found.sources if set(kinds) & one.layouts.keys()]
    touched = sum(
        one.take is not None and bool(set(kinds) & one.source.layouts.keys()) for one in given
    )
    return min(touched, _fewest(kinds, asked, sources))
