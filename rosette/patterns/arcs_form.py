"""An arc as it is sawn out of a flat blank: its chord and rise, how many come out of a blank.

The rough arc stands `trim` outside the finished one on every edge. Its ends run parallel to the
radial planes at ±half, `extra` mm beyond them (less than 0: inside). Derivations:
docs/formulas.md, "Arcs out of blanks".
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.geometry import wedge
from rosette.geometry.outline import Outline

HALF_ROUND = math.pi / 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A rough arc: its radii (mm), half the angle between its planes (rad), and `extra` (mm)."""

    inner_radius: float
    outer_radius: float
    half_rad: float
    extra: float

    @property
    def inner_half(self) -> float:
        """Half the angle (rad) that its inner edge takes."""
        return self.half_rad + math.asin(self.extra / self.inner_radius)

    @property
    def outer_half(self) -> float:
        """Half the angle (rad) that its outer edge takes."""
        return self.half_rad + math.asin(self.extra / self.outer_radius)

    @property
    def chord(self) -> float:
        """Its length from corner to corner (mm), along the blank."""
        return 2.0 * self.outer_radius * math.sin(self.outer_half)

    @property
    def rise(self) -> float:
        """From its inner corners to the top of its outer edge (mm), across the blank."""
        return self.outer_radius - self.inner_radius * math.cos(self.inner_half)

    def pitch(self, kerf: float) -> float:
        """From one arc to the next one nested into it (mm).

        Arcs of one radius nest by sliding along their middle. The inner corners of the upper one
        come nearest to the outer edge of the lower: there the kerf must fit, so
        √((Ri·sin θ)² + (Ri·cos θ + p)²) = Ro + k.
        """
        across = self.inner_radius * math.sin(self.inner_half)
        return math.sqrt((self.outer_radius + kerf) ** 2 - across**2) - self.inner_radius * (
            math.cos(self.inner_half)
        )

    def per_blank(self, length: float, width: float, kerf: float) -> tuple[int, int]:
        """How many come out of a blank: rows of nested arcs, and how many side by side."""
        if self.chord > length + 1e-9 or self.rise > width + 1e-9:
            return 0, 0
        rows = int((width - self.rise) / self.pitch(kerf) + 1e-9) + 1
        return rows, int((length + kerf) / (self.chord + kerf) + 1e-9)

    def outline(self, direction: float = 90.0) -> Outline:
        """Its edges about the ring's centre, its middle in `direction` degrees."""
        return wedge.finished_outline(
            self.inner_radius,
            self.outer_radius,
            direction,
            inner_half=self.inner_half,
            outer_half=self.outer_half,
        )


def rough_arc(
    inner_radius: float, outer_radius: float, half_rad: float, *, joint: float, trim: float
) -> Arc:
    """The arc to saw out for a finished one between two radii and two radial planes (mm)."""
    return Arc(
        inner_radius=inner_radius - trim,
        outer_radius=outer_radius + trim,
        half_rad=half_rad,
        extra=trim - joint / 2.0,
    )


def longest_half(
    inner_radius: float,
    outer_radius: float,
    *,
    length: float,
    width: float,
    joint: float = 0.0,
    trim: float = 0.0,
) -> float:
    """Half the angle (rad) of the longest arc that a blank yields; 0 or less where it yields none.

    Its length bounds the outer chord, its width the rise from the inner corners. A segment of
    chord 21 and rise 6 has the radius 12.1875 and takes 118.98° (a handbook's table of circular
    segments):

    >>> half = longest_half(12.1874, 12.1875, length=21, width=6.0001)
    >>> round(math.degrees(2 * half), 1)
    119.0
    """
    inner, outer, extra = inner_radius - trim, outer_radius + trim, trim - joint / 2.0
    by_length = math.asin(min(1.0, length / 2.0 / outer)) - math.asin(extra / outer)
    reach = (outer - width) / inner
    if reach >= 1.0:
        return 0.0
    by_width = math.acos(max(0.0, reach)) - math.asin(extra / inner)
    return min(by_length, by_width)


def across_share(half_rad: float) -> float:
    """How much of an arc's length moves with the weather, its grain along its chord.

    At φ from its middle the grain leans φ off the ring, and a strain across the grain shows along
    the ring as its sin²φ part; the mean of that over ±θ is 1/2 − sin 2θ/4θ.

    >>> round(across_share(math.pi / 2), 12)
    0.5
    """
    return 0.5 - math.sin(2.0 * half_rad) / (4.0 * half_rad) if half_rad > 1e-6 else 0.0
