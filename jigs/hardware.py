"""Screws, nuts and pins: nominal sizes from the standards that the tables name (mm)."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """Something to buy: "socket head screw M6 x 40", its standard, how many."""

    what: str
    standard: str
    count: int = 1


CLEARANCE_HOLES: dict[int, tuple[float, float, float]] = {
    3: (3.2, 3.4, 3.6),
    4: (4.3, 4.5, 4.8),
    5: (5.3, 5.5, 5.8),
    6: (6.4, 6.6, 7.0),
    8: (8.4, 9.0, 10.0),
}
"""Thread size to clearance hole: fine, medium, coarse. ISO 273 (values from memory)."""

SOCKET_HEADS: dict[int, tuple[float, float]] = {
    3: (5.5, 3.0),
    4: (7.0, 4.0),
    5: (8.5, 5.0),
    6: (10.0, 6.0),
    8: (13.0, 8.0),
}
"""Thread size to greatest head diameter and height of a socket head screw. ISO 4762."""

NUTS: dict[int, tuple[float, float]] = {
    3: (5.5, 2.4),
    4: (7.0, 3.2),
    5: (8.0, 4.7),
    6: (10.0, 5.2),
    8: (13.0, 6.8),
}
"""Thread size to width across flats and greatest height of a hexagon nut. ISO 4032."""

PARALLEL_PINS: dict[int, tuple[float, float]] = {
    2: (2.0, 2.006),
    3: (3.002, 3.008),
    4: (4.004, 4.012),
    5: (5.004, 5.012),
    6: (6.004, 6.012),
    8: (8.006, 8.015),
}
"""Nominal diameter to the least and greatest of a hardened dowel pin, m6. ISO 8734.

ISO 2338 pins of tolerance h8 run from the nominal diameter less 0.014 (2, 3), 0.018 (4 to 6) or
0.022 (8) up to the nominal.
"""
