"""What a box does allow where it lacks wood for a design: the nearest designs, each tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rosette.design.model import Design, PlacedRing
from rosette.geometry.hidden import Visibility
from rosette.offcuts.cutplan import CuttingPlan
from rosette.offcuts.cutting import cut
from rosette.offcuts.demand import wood_key
from rosette.offcuts.feasible import FREE_EFFORT, Feasible
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Progress, Stock
from rosette.plan.make import make_plan
from rosette.units import MM_PER_INCH, Units
from rosette.words import Length, Saying, say

STEPS = {"mm": 0.1, "in": MM_PER_INCH / 100.0}
"""mm: how finely a narrower ring is looked for."""
NARROWEST = 0.25
"""Of the width that was asked for: a ring narrower than this is another ring."""
MOST_COUNTS = 12
"""How many counts on either side are tried."""
TOLERANCE = 5.0
"""degrees off the grain that are tried where none were allowed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """One thing that works: in words, as lines for the design file, as options of the command.

    `toml` goes into the ring's table in place of the keys that say the same; `flags` are added
    to the command, those that it names in place of what was there. `design` and `options` are
    what was tried.
    """

    what: Saying
    toml: str
    flags: str
    design: Design
    options: CutOptions


def alternatives(
    design: Design,
    stock: Sequence[Stock],
    options: CutOptions,
    cutting: CuttingPlan,
    *,
    progress: Progress = lambda _done, _of, _doing: None,
) -> tuple[Alternative, ...]:
    """The nearest things that the box allows, each planned and cut before it is offered."""
    search = _Search(design=design, stock=stock, options=options, feasible=Feasible(stock=stock))
    short = [one.ring for one in cutting.tallies if one.missing or one.spares_missing]
    kinds: list[tuple[str, Callable[[], Iterator[Alternative]]]] = [
        ("other ways to cut", search.other_ways),
        ("fewer spares", lambda: search.fewer_spares(cutting)),
        ("hidden wedges left out", search.hidden_left_out),
    ]
    for ring in dict.fromkeys(short):
        kinds += [
            ("a narrower ring", lambda ring=ring: search.narrower(ring)),  # type: ignore[misc]
            ("other counts", lambda ring=ring: search.counts(ring)),  # type: ignore[misc]
            ("other woods", lambda ring=ring: search.woods(ring, cutting)),  # type: ignore[misc]
        ]
    found: list[Alternative] = []
    for done, (doing, kind) in enumerate(kinds):
        progress(done, len(kinds), f"Trying {doing}")
        found += kind()
    return tuple(found)


@dataclass(slots=True, kw_only=True)
class _Search:
    """One design that lacks wood, and one box."""

    design: Design
    stock: Sequence[Stock]
    options: CutOptions
    feasible: Feasible

    @property
    def units(self) -> Units:
        return self.design.units

    def other_ways(self) -> Iterator[Alternative]:
        """The same design, cut otherwise."""
        asked = self.options
        tried: list[tuple[CutOptions, str, Saying]] = []
        if asked.keep_neighbours:
            tried.append(
                (
                    replace(asked, keep_neighbours=False),
                    "without --keep-neighbours",
                    say("sawn head to tail, which wastes less wood, it comes out of the box"),
                )
            )
        if asked.method == "strip":
            tried.append(
                (
                    replace(asked, method="free", effort=FREE_EFFORT),
                    "--method free",
                    say("cut along the outlines (fret saw, laser, CNC) it comes out of the box"),
                )
            )
        if not asked.grain_tolerance:
            tried.append(
                (
                    replace(asked, grain_tolerance=TOLERANCE),
                    f"--grain-tolerance {TOLERANCE:g}",
                    say(
                        "with wedges up to {degrees:g}° off the grain it comes out of the box",
                        degrees=TOLERANCE,
                    ),
                )
            )
        for options, flags, what in tried:
            if self.feasible.works(self.design, options):
                yield from self._offered(what, flags=flags, options=options)

    def fewer_spares(self, cutting: CuttingPlan) -> Iterator[Alternative]:
        """Fewer spares, where only they are missing."""
        if cutting.missing or not any(one.spares_missing for one in cutting.tallies):
            return
        for spares in range(max(one.spares for one in cutting.tallies) - 1, -1, -1):
            options = replace(self.options, spares=spares)
            if self.feasible.works(self.design, options):
                what = say("with {spares} spares of each kind it comes out of the box",
                           spares=spares)  # fmt: skip
                yield from self._offered(what, flags=f"--spares {spares}", options=options)
                return

    def hidden_left_out(self) -> Iterator[Alternative]:
        """Only the wedges that show."""
        if self.options.skip_hidden:
            return
        plan = make_plan(self.design)
        hidden = sum(
            piece.visibility is Visibility.HIDDEN
            for ring in plan.wedge_rings
            for piece in ring.pieces
        )
        options = replace(self.options, skip_hidden=True)
        if hidden and self.feasible.works(self.design, options):
            what = say(
                "without the {hidden} wedges that the fingerboard hides it comes out of the box;"
                " fill their place with any wood as thick",
                hidden=hidden,
            )
            yield from self._offered(what, flags="--skip-hidden", options=options)

    def narrower(self, ring: int) -> Iterator[Alternative]:
        """The widest ring that works, by bisection: what fits a ring fits a narrower one too."""
        placed = self.design.rings[ring - 1]
        step = STEPS[self.units]
        width = placed.outer_radius - placed.inner_radius

        def of(steps: int) -> Design:
            return self._narrowed(ring, steps * step)

        low, high = int(NARROWEST * width / step), int((width - 1e-9) / step)
        if low < 1 or not self.feasible.works(of(low), self.options):
            return
        while low < high:
            middle = (low + high + 1) // 2
            if self.feasible.works(of(middle), self.options):
                low = middle
            else:
                high = middle - 1
        design = of(low)
        keys = design.rings[ring - 1].keys
        lines = [
            f"{name} = {self._number(value)}"
            for name, value in (("width", keys.width), ("outer_radius", keys.outer_radius))
            if value is not None
        ]
        what = say("ring {ring} only {width} wide comes out of the box",
                   ring=ring, width=Length(low * step))  # fmt: skip
        yield from self._offered(what, toml="\n".join(lines), design=design)

    def counts(self, ring: int) -> Iterator[Alternative]:
        """Fewer, wider wedges and more, narrower ones: the nearest count each way that works."""
        keys: Any = self.design.rings[ring - 1].keys
        now = self._segments(ring)
        woods = len(keys.wood)
        step = woods if woods % 2 == 0 or now % 2 else 2 * woods
        for sign, words in ((-1, "fewer and wider"), (1, "more and narrower")):
            for number in range(1, MOST_COUNTS + 1):
                count = now + sign * number * step
                if count < 3:
                    break
                design = self._changed(ring, segments=count, segment_width=None)
                if self.feasible.works(design, self.options):
                    what = say("{count} wedges in ring {ring}, {words}, come out of the box",
                               count=count, ring=ring, words=words)  # fmt: skip
                    yield from self._offered(what, toml=f"segments = {count}", design=design)
                    break

    def woods(self, ring: int, cutting: CuttingPlan) -> Iterator[Alternative]:
        """Another wood of the box under the fingerboard; else for all wedges that lack wood."""
        plan = make_plan(self.design)
        pieces = next(one for one in plan.rings if one.index == ring).pieces
        lacking = {one.wood for one in cutting.tallies if one.ring == ring and one.missing}
        others = {wood_key(one.wood.wood): one.wood.wood for one in self.stock}
        for key, wood in others.items():
            if any(wood_key(one) == key for one in lacking):
                continue
            for hidden_only in (True, False):
                changed = tuple(
                    wood
                    if piece.wood in lacking
                    and not (hidden_only and piece.visibility is not Visibility.HIDDEN)
                    else piece.wood
                    for piece in pieces
                )
                if changed == tuple(piece.wood for piece in pieces):
                    continue
                design = self._changed(ring, wood=_shortest(changed))
                if self.feasible.works(design, self.options):
                    where = "under the fingerboard" if hidden_only else "instead"
                    what = say("with {wood} {where} ring {ring} comes out of the box",
                               wood=wood, where=where, ring=ring)  # fmt: skip
                    yield from self._offered(
                        what, toml=_wood_line(_shortest(changed)), design=design
                    )
                    break

    def _offered(
        self,
        what: Saying,
        *,
        toml: str = "",
        flags: str = "",
        design: Design | None = None,
        options: CutOptions | None = None,
    ) -> Iterator[Alternative]:
        """Only what comes out of the box when it is cut."""
        design, options = design or self.design, options or self.options
        if cut(make_plan(design), self.stock, options).complete:
            yield Alternative(what=what, toml=toml, flags=flags, design=design, options=options)

    def _segments(self, ring: int) -> int:
        plan = make_plan(self.design)
        wedges = next(one for one in plan.rings if one.index == ring).wedges
        assert wedges is not None  # only rings of wedges lack wood
        return wedges.segments

    def _number(self, mm: float) -> str:
        return f"{mm / MM_PER_INCH:.4f}" if self.units == "in" else f"{mm:.4g}"

    def _narrowed(self, ring: int, width: float) -> Design:
        placed = self.design.rings[ring - 1]
        changes: dict[str, Any] = {}
        if placed.keys.width is not None:
            changes["width"] = width
        if placed.keys.outer_radius is not None:
            changes["outer_radius"] = placed.inner_radius + width
        return self._changed(ring, **changes)

    def _changed(self, ring: int, **changes: Any) -> Design:
        """The design with other keys in one ring; rings that follow on it move along."""
        rings: list[PlacedRing] = []
        edge = self.design.instrument.soundhole_diameter / 2.0
        for one in self.design.rings:
            keys = replace(one.keys, **changes) if one.index == ring else one.keys
            inner, outer = keys.inner_radius, keys.outer_radius
            inner = edge + (keys.space or 0.0) if inner is None else inner
            outer = inner + (keys.width or 0.0) if outer is None else outer
            rings.append(
                PlacedRing(index=one.index, keys=keys, inner_radius=inner, outer_radius=outer)
            )
            edge = outer
        return replace(self.design, rings=tuple(rings))


def _shortest(woods: tuple[str, ...]) -> tuple[str, ...]:
    """The shortest sequence that, repeated, gives these woods.

    >>> _shortest(("ash", "oak", "ash", "oak")), _shortest(("ash", "oak", "ash"))
    (('ash', 'oak'), ('ash', 'oak', 'ash'))
    """
    for length in range(1, len(woods) + 1):
        if len(woods) % length == 0 and woods[:length] * (len(woods) // length) == woods:
            return woods[:length]
    return woods


def _wood_line(woods: Sequence[str]) -> str:
    """The key as TOML, in lines that a page can hold."""
    from rosette.keys.show import toml_value

    quoted = [str(toml_value(wood)) for wood in woods]
    if len(quoted) == 1:
        return f"wood = {quoted[0]}"
    lines, line = [], "wood = ["
    for number, one in enumerate(quoted):
        more = f"{one}{',' if number < len(quoted) - 1 else ']'}"
        if len(line) + 1 + len(more) > 76:
            lines.append(line)
            line = f"  {more}"
        else:
            line += more if line.endswith("[") else f" {more}"
    return "\n".join([*lines, line])
