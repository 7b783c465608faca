"""What a printer's bed holds, and how a shape is turned to lie on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rosette.geometry.outline import Point
from rosette.plan.model import FixtureWishes

MARGIN = 5.0
"""Kept free along each side of the bed (mm): a brim, a skirt, clips (common practice)."""
LEAST_GAP = 0.05
"""Between glued pieces (mm), even where pressed parts have no clearance: there must be glue."""
TURNS = (0.0, 90.0, 45.0, -45.0, 30.0, -30.0, 60.0, -60.0, 15.0, -15.0, 75.0, -75.0)
"""Ways in which a shape is tried on the bed, degrees counter-clockwise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Printer:
    """A printer's bed (mm), and the gap it needs between two faces that are pressed together."""

    width: float
    depth: float
    gap: float

    def turn_for(self, points: Sequence[Point]) -> float | None:
        """How far a shape with these corners is turned to lie on the bed; None: it is too large.

        >>> bed = Printer(width=180, depth=180, gap=0.1)
        >>> bed.turn_for([(0, 0), (170, 0), (170, 20), (0, 20)])
        0.0
        >>> bed.turn_for([(0, 0), (215, 0), (215, 20), (0, 20)])
        45.0
        >>> bed.turn_for([(0, 0), (215, 0), (215, 60), (0, 60)]) is None
        True
        """
        return next((turn for turn in TURNS if self._holds(points, turn)), None)

    def _holds(self, points: Sequence[Point], turn: float) -> bool:
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        xs = [c * x - s * y for x, y in points]
        ys = [s * x + c * y for x, y in points]
        return (
            max(xs) - min(xs) <= self.width - 2.0 * MARGIN + 1e-9
            and max(ys) - min(ys) <= self.depth - 2.0 * MARGIN + 1e-9
        )


def printer_for(wishes: FixtureWishes) -> Printer | None:
    """The printer that a maker's fixtures are made on, or None where they are not printed.

    Pieces are pressed together: the gap is the press fit of the maker's own clearance.
    """
    from jigs.process import process_for

    process = process_for(wishes)
    if process.name != "fdm":
        return None
    gap = max(LEAST_GAP, process.press)
    return Printer(width=wishes.bed_width, depth=wishes.bed_depth, gap=gap)
