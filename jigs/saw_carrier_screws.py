"""Screws of usual lengths through stacked parts, and the bar's own, which slide in a track (mm)."""

from __future__ import annotations

from dataclasses import dataclass

from jigs.hardware import CLEARANCE_HOLES, NUTS, SOCKET_HEADS
from jigs.process import Process
from rosette.plan.model import FixtureWishes

THREAD = 5
"""All screws but the bar's."""
SHANK = CLEARANCE_HOLES[THREAD][1] / 2.0
NUT_DEPTH = NUTS[THREAD][1] + 0.3
"""How deep nuts lie in the underside."""
UNDER = 0.5
"""The screws' ends stay so far above the saw's table."""
LENGTHS = (6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100)
"""Usual lengths of socket head screws, ISO 4762 (values from memory)."""
HEAD_ROOM = 0.3
BAR_WALL = 1.2
"""Left beside a sunk head in the bar: it is held on both sides by the slot."""
BAR_FLOOR = 2.0
"""Left under a sunk head in the bar."""
LEDGE = 0.75
"""Left under the bar's nuts at the least, as a share of what other floors are."""
OFF_BOTTOM = 0.5
"""The bar stays so far off the bottom of its slot."""


def sunk_depth(stack: float, *, least: float = 0.0) -> tuple[int, float]:
    """A usual length, and how deep its head is sunk, for a screw from the top of a stack.

    `stack` is the height of the top above the saw's table, `least` how deep the head lies at
    the least.

    >>> sunk_depth(39.0), sunk_depth(39.0, least=5.3)
    ((35, 3.5), (30, 8.5))
    """
    length = max(one for one in LENGTHS if one <= stack - UNDER - least)
    return length, stack - UNDER - length


def reaching(least: float) -> int:
    """The shortest usual length of at least `least`."""
    return next(one for one in LENGTHS if one >= least)


@dataclass(frozen=True, slots=True, kw_only=True)
class BarFit:
    """The bar in the saw's slot, and the screws that hold the base on it.

    `width` and `height` are the bar's own. A head is sunk `sink` deep in its underside; the nut
    slides in a track in the base, `track` wide, that leaves `ledge` under the nut.
    """

    width: float
    height: float
    thread: int
    length: int
    sink: float
    sink_diameter: float
    track: float
    ledge: float

    @property
    def shank(self) -> float:
        """Radius of the holes that its screws go through."""
        return CLEARANCE_HOLES[self.thread][1] / 2.0

    @property
    def least_base(self) -> float:
        """How thick the base is at the least, so that the screws' ends stay below its top."""
        return self.ledge + NUTS[self.thread][1] + 2.0 * HEAD_ROOM


def bar_fit(wishes: FixtureWishes, process: Process) -> BarFit | None:
    """The bar for a slot, with the thickest screws that it takes; None where it takes none."""
    width = wishes.bar_width - 2.0 * process.slide
    height = wishes.bar_depth - OFF_BOTTOM
    for thread in (5, 4, 3):
        across, head = SOCKET_HEADS[thread]
        diameter, sink = across + 2.0 * process.loose, head + HEAD_ROOM
        if diameter + 2.0 * BAR_WALL > width or sink + BAR_FLOOR > height:
            continue
        across_flats, nut = NUTS[thread]
        length = reaching(height - sink + LEDGE * process.floor + nut + HEAD_ROOM)
        return BarFit(
            width=width,
            height=height,
            thread=thread,
            length=length,
            sink=sink,
            sink_diameter=diameter,
            track=across_flats + 2.0 * process.slide,
            ledge=length - (height - sink) - nut - HEAD_ROOM,
        )
    return None
