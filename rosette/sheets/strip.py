"""Wedges cut head to tail out of one strip, the strip turned over after every cut (mm).

Derived: along the strip's middle every wedge takes (inner + outer width)/2 and every cut
kerf/cos α; the cuts lean right and left in turn. The wide edge of each wedge lies on the edge
that stands at the fence while it is cut, so a stop at the fence is set to the outer width.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from rosette.geometry.outline import Outline, polygon
from rosette.offcuts.options import LEAST_IN_HAND
from rosette.patterns.base import Blank, Wedges
from rosette.units import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class StripCut:
    """One cut: what its kerf takes of the strip's middle line, from `left` to `right` (mm).

    `lean` is how much further right its upper end is than its lower.
    """

    left: float
    right: float
    lean: float

    def edges(self) -> tuple[float, float, float, float]:
        """Where its kerf stands: lower left, lower right, upper right, upper left."""
        half = self.lean / 2.0
        return self.left - half, self.right - half, self.right + half, self.left + half


def kerf_along(kerf: float, mitre: float) -> float:
    """What a cut at `mitre` degrees off square takes of the strip's length: k/cos α.

    >>> round(kerf_along(3.175, 15.0), 3)
    3.287
    """
    return kerf / math.cos(math.radians(mitre))


def pitch(blank: Blank, *, kerf: float, mitre: float) -> float:
    """From one cut to the next along the strip's middle: a wedge's mean width and a kerf."""
    return (blank.inner_width + blank.outer_width) / 2.0 + kerf_along(kerf, mitre)


def strip_cuts(blank: Blank, *, kerf: float, mitre: float, count: int) -> tuple[StripCut, ...]:
    """The cuts for `count` wedges, one more than wedges: the first trims the strip's end.

    The first wedge's wide edge lies below; its lower left corner is x = 0.
    """
    taper = (blank.outer_width - blank.inner_width) / 2.0
    along, step = kerf_along(kerf, mitre), pitch(blank, kerf=kerf, mitre=mitre)
    return tuple(
        StripCut(
            left=taper / 2.0 + step * i - along,
            right=taper / 2.0 + step * i,
            lean=taper if i % 2 == 0 else -taper,
        )
        for i in range(count + 1)
    )


def strip_wedges(blank: Blank, *, kerf: float, mitre: float, count: int) -> tuple[Outline, ...]:
    """The wedges as they lie in the strip, lower edge y = 0: lower left corner first."""
    cuts = strip_cuts(blank, kerf=kerf, mitre=mitre, count=count)
    shapes: list[Outline] = []
    for before, after in pairwise(cuts):
        _, low_left, high_left, _ = before.edges()
        low_right, _, _, high_right = after.edges()
        top = blank.height
        shapes.append(
            polygon([(low_left, 0.0), (low_right, 0.0), (high_right, top), (high_left, top)])
        )
    return tuple(shapes)


def strip_to_take(length: float, wedges: Wedges, units: Units) -> float:
    """The strip to take for wedges that come to `length`: the two outer cuts and the least to hold.

    The saw's manual may ask for more.
    """
    return length + 2.0 * kerf_along(wedges.kerf, wedges.mitre_angle) + LEAST_IN_HAND[units]


def rise_and_run(mitre: float, runs: tuple[float, ...], *, most: float) -> tuple[float, float]:
    """A right-angled triangle that sets the mitre: the longest run whose rise is `most` or less.

    >>> rise, run = rise_and_run(5.0, (114.3, 50.0), most=58.0)
    >>> round(rise, 2), run
    (10.0, 114.3)
    """
    slope = math.tan(math.radians(mitre))
    for run in runs:
        if run * slope <= most:
            return run * slope, run
    return most, most / slope
