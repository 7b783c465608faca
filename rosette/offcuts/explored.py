"""What is asked of a box of offcuts alone, and the choice of rings that comes back."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from rosette.design.model import Design
from rosette.errors import Finding
from rosette.offcuts.model import WedgeSize
from rosette.offcuts.options import CutOptions
from rosette.units import Units

Spares = int | Literal["usual"]
Best = Literal["widest ring", "fewest offcuts", "most spares", "least waste"]
BESTS: tuple[Best, ...] = ("widest ring", "fewest offcuts", "most spares", "least waste")


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """The ranges to look through (mm).

    `woods` are sequences that repeat round the ring. Widths run from `narrowest` to `widest` in
    steps of `step`. A ring has to be `worth` wider to be listed beside one that touches fewer
    offcuts or leaves more spares. `design` and `ring` (its index from 1) give all the rest:
    kerf, trim, joints, thickness. `everything` keeps what is not worth it, marked so. `like`:
    the design is the maker's own; else it is made up of what is usual, and `assumed` names its
    keys that somebody has to measure. `units` are those of the maker, who is told in them.
    """

    woods: tuple[tuple[str, ...], ...]
    segments: tuple[int, ...]
    inner_radii: tuple[float, ...]
    narrowest: float
    widest: float
    design: Design
    ring: int
    units: Units = "mm"
    step: float = 0.1
    worth: float = 0.5
    spares: tuple[Spares, ...] = (0, "usual")
    options: CutOptions = field(default_factory=CutOptions)
    everything: bool = False
    like: bool = False
    assumed: frozenset[str] = frozenset()

    def width(self, steps: int) -> float:
        """A width in mm by its number of steps above the narrowest."""
        return round(self.narrowest + steps * self.step, 9)

    def steps(self, width: float) -> int:
        """The last step at which a ring is no wider than this.

        >>> import dataclasses
        >>> names = {one.name: None for one in dataclasses.fields(Ask)}
        >>> ask = Ask(**{**names, "narrowest": 10.0, "step": 0.1})
        >>> ask.steps(25.0), ask.steps(10.0), ask.steps(9.95), ask.width(3)
        (150, 0, -1, 10.3)
        """
        return math.floor((width - self.narrowest) / self.step + 1e-6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A ring but for its width: woods, count and inner radius (mm)."""

    woods: tuple[str, ...]
    segments: int
    inner_radius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One ring that the box can make (mm, degrees).

    `width` is the widest, to the step asked for, that `offcuts` pieces of wood hold together
    with `spares` more wedges of each wood; `spares` is how many there are up to the most asked
    for. `proved`: no wider ring of the kind does; `at_limit`: it is as wide as was asked for.
    `uses` names offcuts that do, with how many pieces of each. `yielded`: the blanks' share of
    their usable wood. `best` says what it is best at among the rows of its woods and radius.
    `beaten_by` is the number of a row that touches no more offcuts, leaves no fewer spares and
    is about as wide; None for the rows of the choice.
    """

    number: int
    kind: Kind
    width: float
    size: WedgeSize
    offcuts: int
    spares: int
    uses: tuple[tuple[str, int], ...]
    yielded: float
    proved: bool
    at_limit: bool
    best: tuple[Best, ...] = ()
    beaten_by: int | None = None

    @property
    def mitre(self) -> float:
        """The saw's angle off square in degrees."""
        return 180.0 / self.kind.segments

    @property
    def outer_radius(self) -> float:
        """The ring's outer radius in mm."""
        return self.kind.inner_radius + self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class Exploration:
    """The choice that a box offers, in the order of woods, radius, count and width.

    `kinds` were to be looked at, `looked_at` were: fewer where the search was stopped.
    `nothing` lists the kinds of which no ring fits at all. `notes` are to be told with it.
    """

    ask: Ask
    rows: tuple[Row, ...]
    kinds: int
    looked_at: int
    nothing: tuple[Kind, ...] = ()
    notes: tuple[Finding, ...] = ()
    box_file: str = ""
    box_sha256: str = ""

    @property
    def stopped(self) -> bool:
        """Not everything asked for was looked at."""
        return self.looked_at < self.kinds

    @property
    def choice(self) -> tuple[Row, ...]:
        """The rows that no other beats."""
        return tuple(row for row in self.rows if row.beaten_by is None)

    def row(self, number: int) -> Row | None:
        """The row with this number."""
        return next((row for row in self.rows if row.number == number), None)
