"""A cutting plan: which offcut gives which wedges, every cut in order, and what stays behind.

Frame: points are in the offcut's own coordinates, mm; degrees counter-clockwise from +x unless
said otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from rosette.errors import Finding
from rosette.geometry.hidden import Visibility
from rosette.offcuts.model import Method, Offcut, Point, Ring, WedgeSize

Face = Literal["marked", "other"]
"""The face of the wood that shows in the ring: the one marked before sawing, or its back."""
Laid = Literal["as it lies", "end for end", "turned over", "turned over sideways"]
"""How a wedge gets from the offcut, wide end up the grain, into the ring, wide end outward.

"as it lies": moved only. "end for end": half a turn flat on the bench, the marked face stays up.
"turned over": about a line across it, so that its ends and its faces change places.
"turned over sideways": about its own axis, so that its sides and its faces change places.
"""
Swing = Literal["square", "left", "right"]
Arrangement = Literal["ups then downs", "as in the wood", "neighbours", "mirrored halves"]
"""How the order round the ring follows from the order in the wood: see `rosette.offcuts.order`."""
Objective = Literal["offcuts", "runs", "remainder"]
"""What is weighed once all wedges are there: fewest offcuts, longest runs, best remainder.

With too little wood for all of them: the most whole rings, then the most wedges, then these.
"""
LaserLine = Literal["outside", "edge"]
"""Where a machine's line runs: half a kerf outside each blank, or on the blank's own edge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutWedge:
    """One wedge, from its place in an offcut to its place in the ring.

    `label` is the plan's ("1-07") for a wedge of the ring, "1-s1" for a spare; `position` is
    None for a spare. `vertices`: inner left, inner right, outer right, outer left. `flipped`:
    its wide end points against the grain's direction. `turn`: how far its axis stands off the
    grain, degrees counter-clockwise. `run` numbers the runs of neighbours in the wood over the
    whole plan. `face` shows in the ring; `laid` says how it gets there.
    """

    ring: int
    label: str
    position: int | None
    wood: str
    offcut: str
    piece: int
    band: int
    order: int
    flipped: bool
    centre: Point
    vertices: tuple[Point, Point, Point, Point]
    turn: float = 0.0
    run: int = 0
    face: Face = "marked"
    laid: Laid = "as it lies"
    visibility: Visibility = Visibility.SEEN
    name: str = "wedge"

    @property
    def spare(self) -> bool:
        """Cut beside those that the ring needs."""
        return self.position is None


@dataclass(frozen=True, slots=True, kw_only=True)
class SawCut:
    """One cut with everything that is set for it; steps count from 1 in every piece of wood.

    `start` and `end` lie on the middle of the kerf. `mitre`: degrees off square. The gauge
    stands between you and the wood, the marked face is up, and `swing` says which end of the
    gauge comes towards you. The wood bears on the gauge with `fence_line`: a slant's band with
    its crosscut edge at the near end, where the grain's direction comes from; a crosscut's wood
    with a straight part of its outline, None where it has no such part. Who would rather leave
    the gauge as it was for the band's first slant turns the wood over where `turn_over` says
    so, so that the band's far edge bears on the gauge.
    `frees`: labels of the wedges of which a slant makes a side. `in_hand`: the longer of the
    two parts that the cut leaves, mm along the gauge from the kerf: what there is to hold.
    """

    step: int
    kind: Literal["crosscut", "slant"]
    band: int
    ring: int
    start: Point
    end: Point
    mitre: float
    swing: Swing
    in_hand: float
    turn_over: bool = False
    fence_line: tuple[Point, Point] | None = None
    frees: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Remainder:
    """Wood that is left of an offcut: `along` and `across` its grain in mm, `area` in mm².

    `useful` where it is worth putting back into the box: see `rosette.offcuts.leftover`.
    """

    outline: Ring
    holes: tuple[Ring, ...]
    defects: tuple[Ring, ...]
    area: float
    along: float
    across: float
    useful: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Holds:
    """What one piece of wood could hold of one ring's wedges alone, by this method.

    `capacity` was found, `bound` is proved: no layout by this method holds more.
    """

    ring: int
    capacity: int
    bound: int

    @property
    def proved(self) -> bool:
        """No layout by this method holds more than was found."""
        return self.capacity >= self.bound


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """One piece of wood of the box: what it gives, how it is cut, what is left of it.

    `piece` counts the copies of an offcut from 1. Wedges stand in the order of their bands. A
    piece that is not touched has no wedges, no cuts, and itself as its only remainder.
    `planed` lists (ring, mm): what its wedges are planed down to for each ring. `tilt`: how far
    the layout as a whole stands off the grain. `bound`: the most wedges of any kind asked for
    that it can hold, proved; `area` is its usable wood in mm². `least_in_hand` is None where
    nothing is sawn.
    """

    wood: Offcut
    piece: int
    count: int
    note: str = ""
    wedges: tuple[CutWedge, ...] = ()
    cuts: tuple[SawCut, ...] = ()
    remainders: tuple[Remainder, ...] = ()
    holds: tuple[Holds, ...] = ()
    bound: int = 0
    proved: bool = False
    area: float = 0.0
    tilt: float = 0.0
    planed: tuple[tuple[int, float], ...] = ()

    @property
    def id(self) -> str:
        """The offcut's name in the box."""
        return self.wood.id

    @property
    def name(self) -> str:
        """The offcut's name, with the number of the piece where the box has several alike."""
        return f"{self.id} ({self.piece} of {self.count})" if self.count > 1 else self.id

    @property
    def touched(self) -> bool:
        """Something is cut from it."""
        return bool(self.wedges)

    @property
    def rings(self) -> tuple[int, ...]:
        """The rings that it gives wedges to."""
        return tuple(sorted({wedge.ring for wedge in self.wedges}))

    @property
    def planings(self) -> tuple[tuple[float, tuple[int, ...]], ...]:
        """The thicknesses to plane to (mm), each with the rings whose wedges get it."""
        told = dict.fromkeys(to for _, to in self.planed)
        rings = dict.fromkeys(self.planed)
        return tuple((to, tuple(ring for ring, mm in rings if mm == to)) for to in told)

    @property
    def least_in_hand(self) -> float | None:
        """The least length that any of its cuts leaves to hold, mm."""
        return min((cut.in_hand for cut in self.cuts), default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """One kind of wedge: what was asked for and what was placed.

    `needed` counts the wedges of the ring, `spares` those asked for beside them; `placed` and
    `spares_placed` what the plan gives of each. `size` is the blank, `mitre` the saw's angle off
    square, `thickness` what the ring's wood is planed to. `fewest` is proved: no plan by this
    method touches fewer offcuts for this kind alone. `arrangement` is the order that it follows.
    """

    ring: int
    wood: str
    size: WedgeSize
    mitre: float
    thickness: float
    needed: int
    placed: int
    spares: int = 0
    spares_placed: int = 0
    fewest: int | None = None
    arrangement: Arrangement = "ups then downs"
    name: str = "wedge"

    @property
    def missing(self) -> int:
        """Wedges of the ring for which no wood was found."""
        return self.needed - self.placed

    @property
    def spares_missing(self) -> int:
        """Spares asked for, for which no wood was found."""
        return max(0, self.spares - self.spares_placed)


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """How one design comes out of one box of offcuts.

    `pieces` holds every piece of the box whose wood is asked for, those that are cut first and
    in the order of cutting; `tallies` one entry a ring and wood. `fewest_offcuts` is proved: no
    plan by this method touches fewer; `interrupted` where the search was stopped and this is
    the best until then. `least_in_hand` is the limit in mm that warnings were given for.
    `box_file` and `box_sha256` say which box, `design_sha256` which design. `laser_line` is
    where the line runs in the files for a laser or CNC, None for no such files; `laser_once`:
    each line a single cut where the edges of neighbours fall together.
    """

    name: str
    method: Method
    kerf: float
    arrangement: Arrangement
    objectives: tuple[Objective, ...]
    faces: Literal["one", "both"]
    pieces: tuple[CutPiece, ...]
    tallies: tuple[Tally, ...]
    fewest_offcuts: int = 0
    grain_tolerance: float = 0.0
    least_in_hand: float = 150.0
    interrupted: bool = False
    box_file: str = ""
    box_sha256: str = ""
    design_sha256: str = ""
    laser_line: LaserLine | None = None
    laser_once: bool = False
    warnings: tuple[Finding, ...] = field(default=())

    @property
    def touched(self) -> tuple[CutPiece, ...]:
        """The pieces that are cut, in the order of cutting."""
        return tuple(piece for piece in self.pieces if piece.touched)

    @property
    def untouched(self) -> tuple[CutPiece, ...]:
        """The pieces that stay as they are."""
        return tuple(piece for piece in self.pieces if not piece.touched)

    @property
    def wedges(self) -> tuple[CutWedge, ...]:
        """Every wedge, piece by piece."""
        return tuple(wedge for piece in self.pieces for wedge in piece.wedges)

    def ring(self, index: int) -> tuple[CutWedge, ...]:
        """The wedges of one ring in the order of their positions, spares last."""
        mine = [wedge for wedge in self.wedges if wedge.ring == index]
        return tuple(
            sorted(mine, key=lambda one: (one.position is None, one.position or 0, one.label))
        )

    def of(self, label: str) -> CutWedge | None:
        """The wedge with this label."""
        return next((wedge for wedge in self.wedges if wedge.label == label), None)

    def cuts(self) -> Iterator[tuple[CutPiece, SawCut]]:
        """Every cut with the piece it is made in, in order."""
        for piece in self.pieces:
            for cut in piece.cuts:
                yield piece, cut

    @property
    def needed(self) -> int:
        """The wedges of all rings."""
        return sum(tally.needed for tally in self.tallies)

    @property
    def placed(self) -> int:
        """Every wedge placed, spares included."""
        return len(self.wedges)

    @property
    def missing(self) -> int:
        """Wedges of the rings for which there is no wood."""
        return sum(tally.missing for tally in self.tallies)

    @property
    def complete(self) -> bool:
        """All wedges of the rings, and all spares asked for."""
        return not self.missing and not any(tally.spares_missing for tally in self.tallies)

    @property
    def yielded(self) -> float:
        """The blanks' share of the usable wood in the pieces that are cut, 0 to 1."""
        wood = sum(piece.area for piece in self.touched)
        sizes = {(one.ring, one.wood, one.name): one.size.area for one in self.tallies}
        blanks = sum(sizes[one.ring, one.wood, one.name] for one in self.wedges)
        return blanks / wood if wood else 0.0
