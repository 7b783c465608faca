"""The reverse question: which rings can this box make?

For each sequence of woods, inner radius and count the widest rings are found, by how many
offcuts they touch and how many spares they leave; of those the choice that none other beats.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry.wedge import most_segments
from rosette.offcuts.capacities import Capacities
from rosette.offcuts.demand import SAME_THICKNESS, wood_key
from rosette.offcuts.explored import Ask, Exploration, Kind, Row, Spares
from rosette.offcuts.model import WedgeSize
from rosette.offcuts.numbering import numbered, worth_in_steps
from rosette.offcuts.supply import Progress, Stock
from rosette.offcuts.tradeoff import candidates, choice
from rosette.offcuts.unfitting import nothing_fits
from rosette.offcuts.widest import Limit, Need, Widest
from rosette.patterns.base import spares_for
from rosette.patterns.radial import blank_for
from rosette.patterns.radial_keys import RadialKeys
from rosette.words import Length, listed


def explore(
    stock: Sequence[Stock],
    ask: Ask,
    *,
    progress: Progress = lambda _done, _of, _doing: None,
    box_file: str = "",
    box_sha256: str = "",
) -> Exploration:
    """What the box can make within the ranges asked for.

    Ctrl-C gives the kinds of ring looked at until then (`Exploration.stopped`), which may be none.
    Same input, same rows.

    Raises:
        CannotMakeError: no ring fits at all; it tells the nearest that do.
    """
    bench = Bench(stock, ask)
    kinds = [
        Kind(woods=woods, segments=count, inner_radius=radius)
        for woods in ask.woods
        for radius in ask.inner_radii
        for count in ask.segments
        if count % len(woods) == 0
    ]
    found: list[tuple[Kind, list[Row]]] = []
    try:
        for done, kind in enumerate(kinds):
            progress(done, len(kinds), f"{kind.segments} wedges of {listed(kind.woods)}")
            found.append((kind, bench.rows(kind)))
        progress(len(kinds), len(kinds), "")
    except KeyboardInterrupt:
        pass  # what was looked at until then is told, and marked so
    rows = numbered(ask, [row for _, some in found for row in some])
    if not rows and len(found) == len(kinds):
        raise CannotMakeError(
            nothing_fits(ask, kinds, bench.ring, bench.too_thin()),
            source=box_file,
            units=ask.units,
        )
    return Exploration(
        ask=ask,
        rows=rows,
        kinds=len(kinds),
        looked_at=len(found),
        nothing=tuple(kind for kind, some in found if not some),
        notes=tuple(bench.notes()),
        box_file=box_file,
        box_sha256=box_sha256,
    )


class Bench:
    """The box and what is known of it, for as long as one question is looked into."""

    def __init__(self, stock: Sequence[Stock], ask: Ask) -> None:
        self.stock, self.ask = stock, ask
        design = ask.design
        keys = design.rings[ask.ring - 1].keys
        assert isinstance(keys, RadialKeys)  # an Ask is made for a ring of wedges
        self.keys, self.cutting = keys, design.cutting
        self.capacities = Capacities(
            [one.wood for one in stock], kerf=design.cutting.kerf, options=ask.options
        )

    def needs(self, kind: Kind) -> tuple[Need, ...]:
        """What each wood has to give, and from which offcuts."""
        times = dict[str, int]()
        named = dict[str, str]()
        for wood in kind.woods:
            key = wood_key(wood)
            named.setdefault(key, wood)
            times[key] = times.get(key, 0) + kind.segments // len(kind.woods)
        return tuple(
            Need(
                wood=named[key],
                count=count,
                offcuts=tuple(
                    at
                    for at, one in enumerate(self.stock)
                    if wood_key(one.wood.wood) == key and self._thick(one)
                ),
            )
            for key, count in times.items()
        )

    def _thick(self, one: Stock) -> bool:
        return one.wood.thickness >= self.keys.tile_thickness - SAME_THICKNESS

    def size(self, kind: Kind) -> Callable[[int], WedgeSize]:
        """The blank of a ring by its width in steps."""

        def sized(width: int) -> WedgeSize:
            return WedgeSize.of(
                blank_for(
                    kind.segments,
                    joint=self.keys.joint,
                    inner_radius=kind.inner_radius - self.cutting.inner_allowance,
                    outer_radius=kind.inner_radius
                    + self.ask.width(width)
                    + self.cutting.outer_allowance,
                )
            )

        return sized

    def ring(self, kind: Kind, *, least: int = 0) -> Widest | None:
        """One kind of ring in this box; None where its wedges would have no inner edge."""
        trimmed = kind.inner_radius - self.cutting.inner_allowance
        if trimmed <= 0.0 or kind.segments > most_segments(trimmed, joint=self.keys.joint):
            return None
        return Widest(
            self.capacities,
            self.needs(kind),
            [one.count for one in self.stock],
            self.size(kind),
            least=least,
            most=self.ask.steps(self.ask.widest),
        )

    def rows(self, kind: Kind) -> list[Row]:
        """The rings of one kind, widest first; numbers and bests come later."""
        ring = self.ring(kind)
        if ring is None:
            return []
        levels = [level_of(one, ring.needs) for one in self.ask.spares]
        limits = choice(ring, levels, worth_in_steps(self.ask))
        rows = [
            self._row(kind, ring, replace(one, spares=ring.spares_with(one, max(levels))))
            for one in limits
        ]
        if self.ask.everything:
            known = {(one.offcuts, one.spares) for one in limits}
            rows += [
                replace(self._row(kind, ring, one), beaten_by=0)
                for one in candidates(ring, levels)
                if (one.offcuts, one.spares) not in known
            ]
        return sorted(rows, key=lambda row: (-row.width, row.offcuts, -row.spares))

    def _row(self, kind: Kind, ring: Widest, limit: Limit) -> Row:
        size = ring.size(limit.width)
        uses = ring.uses(limit.width, limit.spares)
        wood = sum(pieces * self.capacities.areas[at] for at, pieces, _ in uses)
        blanks = sum(need.count + limit.spares for need in ring.needs) * size.area
        return Row(
            number=0,
            kind=kind,
            width=self.ask.width(limit.width),
            size=size,
            offcuts=sum(pieces for _, pieces, _ in uses),
            spares=limit.spares,
            uses=tuple((self.stock[at].wood.id, pieces) for at, pieces, _ in uses),
            yielded=float(blanks / wood),
            proved=limit.proved,
            at_limit=limit.width >= ring.most,
        )

    def too_thin(self) -> list[str]:
        """Offcuts of the woods asked for that are thinner than the ring's wood."""
        asked = {wood_key(wood) for woods in self.ask.woods for wood in woods}
        return [
            one.wood.id
            for one in self.stock
            if wood_key(one.wood.wood) in asked and not self._thick(one)
        ]

    def notes(self) -> Iterator[Finding]:
        """What to tell beside the rows."""
        thin = self.too_thin()
        if thin:
            yield finding(
                "too-thin",
                "",
                "left out, thinner than the {thickness} that the ring's wood has: {names}",
                thickness=Length(self.keys.tile_thickness),
                names=", ".join(thin),
            )
        others = [
            one.index
            for one in self.ask.design.rings
            if one.index != self.ask.ring and isinstance(one.keys, RadialKeys)
        ]
        if others:
            yield finding(
                "other-rings",
                "",
                'the wedges of {others} are not counted here; "rosette cut" weighs all rings'
                " together",
                others=listed([f"ring[{index}]" for index in others]),
            )


def level_of(spares: Spares, needs: Sequence[Need]) -> int:
    """A level of spares as a number of each wood."""
    if spares == "usual":
        return max(spares_for(need.count) for need in needs)
    return spares
