"""How the maker wants the wedges cut."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rosette.offcuts.cutplan import LaserLine, Objective
from rosette.offcuts.model import Method, Ways
from rosette.units import MM_PER_INCH, Units

LEAST_IN_HAND: dict[Units, float] = {"mm": 150.0, "in": 6.0 * MM_PER_INCH}
"""mm: less than this in the hand at a saw is warned about (common practice), in round numbers."""
OBJECTIVES: tuple[Objective, ...] = ("offcuts", "runs", "remainder")


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOptions:
    """What `rosette cut` can be asked for.

    `spares` of each kind of wedge beside those of the ring, or "usual" for what
    `rosette.patterns.base.spares_for` says. `everything`: as many wedges as the offcuts hold.
    `skip_hidden`: none of the wedges that the fingerboard hides wholly. `objectives`: what is
    weighed first once all wedges are there. `grain_tolerance` degrees, `least_in_hand` mm.
    `laser_line`: where the line of a laser's or CNC's files runs; None is outside for the free
    method, and no such files for strips. `laser_once`: lines that fall together are one cut.
    `effort`: what the free method may spend on an offcut, in steps; None for its own limit.
    """

    method: Method = "strip"
    grain_tolerance: float = 0.0
    spares: int | Literal["usual"] = 0
    everything: bool = False
    keep_neighbours: bool = False
    mirrored: bool = False
    faces: Literal["one", "both"] = "one"
    skip_hidden: bool = False
    objectives: tuple[Objective, ...] = OBJECTIVES
    least_in_hand: float = LEAST_IN_HAND["mm"]
    laser_line: LaserLine | None = None
    laser_once: bool = False
    effort: int | None = None

    @property
    def line(self) -> LaserLine | None:
        """Where the line of the machine's files runs, None for no such files."""
        return self.laser_line or ("outside" if self.method == "free" else None)

    @property
    def ways(self) -> Ways:
        """Whether neighbours lie head to tail or all the same way up."""
        return "one" if self.keep_neighbours else "both"
