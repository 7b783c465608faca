"""How hard a caul is pressed, how thick it must be to stay flat, and the bolt that does it."""

from __future__ import annotations

import math

from jigs.caul_pads import HEIGHT
from jigs.hardware import NUTS, Fastener
from jigs.process import Process
from rosette.patterns.base import Wedges

PRESSURE = 0.05
"""N/mm² on the wedges: half a kilogram on every cm² keeps flat pieces flat and squeezes film into
the grooves. The joints are not closed by it but along the ring, so it is a tenth and less of what
glue makers ask for in a joint (common practice)."""
BOW = 0.1
"""How much lower the caul may stand at one end of the wedges than at the other, at that
pressure (mm): levelling takes off more."""
POISSON = 0.35
STIFFNESS = {"fdm": 2000.0, "cnc": 2500.0, "plywood": 6000.0}
"""Modulus of elasticity in N/mm²: printed plastic, plastic sheet, hardwood plywood across its
face (common practice, on the low side)."""
PROOF: dict[int, float] = {3: 1130.0, 4: 1980.0, 5: 3200.0, 6: 4520.0, 8: 8240.0}
"""Proof load in N of a coarse thread of property class 4.6, the weakest that is sold: stress area
times 225 N/mm². ISO 898-1 (values from memory)."""
THINNEST = 6.0
SHEETS = {
    "cnc": (6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0),
    "plywood": (6.5, 9.0, 12.0, 15.0, 18.0, 21.0, 24.0, 27.0, 30.0),
}
"""Thicknesses that sheets are sold in (common practice)."""
BOARD = 18.0
"""The board under the tray, in which the bolt's head is sunk."""
WASHERS: dict[int, tuple[float, float]] = {
    3: (9.0, 0.8),
    4: (12.0, 1.0),
    5: (15.0, 1.0),
    6: (18.0, 1.6),
    8: (24.0, 2.0),
}
"""Thread size to outside diameter and thickness of a large washer. ISO 7093-1 (from memory)."""
LENGTHS = (16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150)
"""Lengths that screws are sold in, ISO 888 (values from memory)."""
THREADS_OUT = 2.0
"""How far a bolt stands out of its nut."""


def force_for(wedges: Wedges, bolt: int) -> float:
    """The force in N that presses a ring: the pressure on all its wedges, or what the bolt bears.

    `bolt` is its thread size, 0 where clamps press.
    """
    blank = wedges.blank
    area = wedges.segments * (blank.inner_width + blank.outer_width) / 2.0 * blank.height
    return min(PRESSURE * area, PROOF[bolt]) if bolt else PRESSURE * area


def slope_allowed(width: float) -> float:
    """The slope in radians at which a caul stands `BOW` off over wedges of `width` mm."""
    return BOW / width


def slope_at_support(
    force: float, radius: float, thickness: float, *, stiffness: float, poisson: float = POISSON
) -> float:
    """Slope in radians, at its rim, of a round plate held up all round and pulled at its middle.

    θ = P·a / (4π·(1 + ν)·D) with D = E·t³ / (12·(1 - ν²)): the derivative at r = a of the
    deflection of a simply supported plate under a central load (Timoshenko and Woinowsky-Krieger,
    Theory of Plates and Shells, article 19). A rim that reaches past the support makes it stiffer.

    Args:
        force: N, at the middle.
        radius: mm, of the circle that it stands on.
        thickness: mm.
        stiffness: modulus of elasticity, N/mm².
        poisson: Poisson's ratio.

    >>> round(slope_at_support(1000, 60, 12, stiffness=2000), 5)
    0.01078
    """
    rigidity = stiffness * thickness**3 / (12.0 * (1.0 - poisson**2))
    return force * radius / (4.0 * math.pi * (1.0 + poisson) * rigidity)


def thickness_against_bow(force: float, radius: float, slope: float, *, process: str) -> float:
    """The thickness in mm at which a plate slopes by `slope` radians; see `slope_at_support`.

    >>> t = thickness_against_bow(1000, 60, 0.005, process="fdm")
    >>> round(slope_at_support(1000, 60, t, stiffness=2000), 9)
    0.005
    """
    rigidity = force * radius / (4.0 * math.pi * (1.0 + POISSON) * slope)
    return float((12.0 * (1.0 - POISSON**2) * rigidity / STIFFNESS[process]) ** (1.0 / 3.0))


def whole_thickness(least: float, process: Process) -> float:
    """A thickness that can be had, at least `least` mm, without its pads.

    Half a millimetre at a time where it is printed, else that of a sheet less the pads' height;
    thicker than any sheet, it is glued up from two.
    """
    least = max(least, THINNEST, process.floor)
    sheets = SHEETS.get(process.name)
    if sheets is None:
        return math.ceil(2.0 * least - 1e-9) / 2.0
    pairs = sorted({a + b for a in sheets for b in sheets})
    whole = next((one for one in (*sheets, *pairs) if one - HEIGHT >= least), None)
    return (math.ceil(least + HEIGHT) if whole is None else whole) - HEIGHT


def bolt_to_buy(bolt: int, upper: float) -> tuple[Fastener, ...]:
    """A bolt from under the board up through tray and caul, its nut and its washers.

    `upper` is the height in mm of the caul's upper face over the tray's underside.
    """
    washer, nut = WASHERS[bolt][1], NUTS[bolt][1]
    least = BOARD + upper + 2.0 * washer + nut + THREADS_OUT
    length = next((one for one in LENGTHS if one >= least), 10 * math.ceil(least / 10.0))
    return (
        Fastener(what=f"hexagon head screw M{bolt} x {length}", standard="ISO 4017"),
        Fastener(what=f"hexagon nut or wing nut M{bolt}", standard="ISO 4032"),
        Fastener(what=f"large washer M{bolt}", standard="ISO 7093-1", count=2),
    )
