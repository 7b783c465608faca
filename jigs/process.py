"""How fixtures are made, and what each way of making asks of walls, corners, fits and letters."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rosette.plan.model import FixtureWishes


@dataclass(frozen=True, slots=True, kw_only=True)
class Process:
    """A way of making, in mm; the figures are common practice.

    `press`, `slide` and `loose` are clearances at each side: pressed in by hand, sliding
    without play to speak of, dropping in. `wall` and `floor` are the least thicknesses of what
    must hold, `feature` that of anything at all. `bit` is the diameter of the cutter that makes
    inside corners, 0 where they may be sharp. `chamfer` breaks the bottom edge. Letters are
    `text_depth` deep and at least `text_height` high; a depth of 0 means that there are none.
    """

    name: str
    press: float
    slide: float
    loose: float
    wall: float
    floor: float
    feature: float
    bit: float
    chamfer: float
    text_depth: float
    text_height: float

    @property
    def inside_radius(self) -> float:
        """The radius that a pocket's inside corners have at the least."""
        return self.bit / 2.0


def process_for(wishes: FixtureWishes) -> Process:
    """The maker's way of making, with the clearance that the coupon found for it.

    `wishes.clearance` is the sliding fit; pressing takes 0.1 less, loose 0.15 more.
    """
    slide = wishes.clearance
    fits = {"press": max(0.0, slide - 0.1), "slide": slide, "loose": slide + 0.15}
    name, bit = wishes.process, wishes.bit_diameter
    if name == "fdm":
        sizes = {"wall": 3.0, "floor": 4.0, "feature": 1.2, "bit": 0.0, "chamfer": 0.4}
        letters = {"text_depth": 0.6, "text_height": 3.0}
    elif name == "cnc":
        sizes = {"wall": 5.0, "floor": 5.0, "feature": 2.0, "bit": bit, "chamfer": 0.0}
        letters = {"text_depth": 0.4, "text_height": 5.0}
    elif name == "plywood":
        sizes = {"wall": 8.0, "floor": 6.0, "feature": 4.0, "bit": bit, "chamfer": 0.0}
        letters = {"text_depth": 0.0, "text_height": 8.0}
    else:
        raise ValueError(f"{name}: no such way of making")
    return Process(name=name, **fits, **sizes, **letters)
