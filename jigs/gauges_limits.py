"""How far wedges, rings and channels may be off: from what the plan forgives (mm)."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import ChannelStep

LEAST_STEP, LARGEST_STEP = 0.2, 1.0
"""Steps of the wedge gauge: smaller ones can't be seen, larger ones are no help."""
LEAST_SLACK = 0.05
"""What an edge may fall short even where there is no gap for glue."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Radii between which two edges must lie, from where it still goes to where it no longer may.

    Of a ring `inner_go` and `outer_go` are the fattest that go, of a channel the tightest.
    """

    inner_go: float
    outer_go: float
    inner_no: float
    outer_no: float

    def slot_go(self, thick: float) -> float:
        """A slot for the fattest ring, in a plate `thick` mm that stands across it.

        A plate across a ring meets its inner edge with both faces and its outer edge between
        them: R - √(r² - (t/2)²).
        """
        return self.outer_go - _inside(self.inner_go, thick)

    def slot_no(self, thick: float) -> float:
        """A slot into which the narrowest ring that is allowed just goes."""
        return self.outer_no - _inside(self.inner_no, thick)

    def tongue_go(self, thick: float) -> float:
        """A tongue for the tightest channel: √(R² - (t/2)²) - r, since it stands across a bend."""
        return _inside(self.outer_go, thick) - self.inner_go

    def tongue_no(self, thick: float) -> float:
        """A tongue that just goes into the widest channel that is allowed."""
        return _inside(self.outer_no, thick) - self.inner_no


def _inside(radius: float, thick: float) -> float:
    return math.sqrt(radius**2 - thick**2 / 4.0)


def wedge_step(wedges: Wedges) -> float:
    """How far a wedge may stand out of its notch, or sink into it.

    That far the whole ring would shift outwards or inwards if every wedge were so: half of the
    smaller trim allowance, which leaves the other half for the glue-up and the trimming.
    """
    half = min(wedges.inner_allowance, wedges.outer_allowance) / 2.0
    return min(LARGEST_STEP, max(LEAST_STEP, half))


def ring_limits(ring: RingPlan, gap: float) -> Limits:
    """A ring may take half of the gap at each edge, and fall short by as much as the gap."""
    short = max(gap, LEAST_SLACK)
    return Limits(
        inner_go=ring.inner_radius - gap / 2.0,
        outer_go=ring.outer_radius + gap / 2.0,
        inner_no=ring.inner_radius + short,
        outer_no=ring.outer_radius - short,
    )


def channel_limits(step: ChannelStep, gap: float) -> Limits:
    """A channel may take the other half of the gap at each wall, and be too wide by the gap."""
    wide = max(gap, LEAST_SLACK)
    return Limits(
        inner_go=step.inner_radius + gap / 2.0,
        outer_go=step.outer_radius - gap / 2.0,
        inner_no=step.inner_radius - wide,
        outer_no=step.outer_radius + wide,
    )
