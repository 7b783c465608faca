"""The blank of a wedge whose grain leans off the radius, exactly (mm, degrees).

The blank is a trapezoid between the two parallel edges of a strip whose grain runs square across
it. Its sides are parallel to the two radial planes at ±`half` from the wedge's middle, each half a
joint inside them; seen from the grain, which leans by `lean` counter-clockwise off the wedge's
middle, they stand at half − lean and −(half + lean). u runs along the grain from the ring's
centre, v square to it, to the left. Derivation: docs/patterns/radial.md, "A leaning grain".
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.geometry.outline import Outline, Point, polygon


@dataclass(frozen=True, slots=True, kw_only=True)
class LeaningBlank:
    """A wedge's blank: its ends stand `inner` and `outer` from the ring's centre along the grain.

    `left` and `right` are the saw's angles off square for its two sides, in degrees, positive
    where the side leans to the left on its way out; `joint` is the width of the joints in mm.
    """

    inner: float
    outer: float
    left: float
    right: float
    joint: float

    @property
    def height(self) -> float:
        """The strip's width: along the grain, from end to end."""
        return self.outer - self.inner

    def side(self, u: float, *, left: bool) -> float:
        """Where a side stands at `u`."""
        angle = math.radians(self.left if left else self.right)
        inside = self.joint / 2.0 / math.cos(angle)
        return u * math.tan(angle) + (-inside if left else inside)

    def width(self, u: float) -> float:
        """From side to side at `u`."""
        return self.side(u, left=True) - self.side(u, left=False)

    @property
    def inner_width(self) -> float:
        """The narrow end."""
        return self.width(self.inner)

    @property
    def outer_width(self) -> float:
        """The wide end."""
        return self.width(self.outer)

    @property
    def slope(self) -> float:
        """Tangent of the angle between the line through both ends' middles and the grain."""
        return (math.tan(math.radians(self.left)) + math.tan(math.radians(self.right))) / 2.0

    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Inner left, inner right, outer right, outer left, as (u, v)."""
        return (
            (self.inner, self.side(self.inner, left=True)),
            (self.inner, self.side(self.inner, left=False)),
            (self.outer, self.side(self.outer, left=False)),
            (self.outer, self.side(self.outer, left=True)),
        )

    def outline(self) -> Outline:
        """Its corners, the grain along +x."""
        return polygon(self.corners())

    def strip_length(self, count: int, *, kerf: float) -> float:
        """Length in mm of strip for `count` of them head to tail, every second turned end for end.

        Turned by half a turn in its plane a trapezoid keeps the directions of its sides, so that
        the cuts go left, right, left … at the two angles. Along the strip's middle each wedge
        takes its mean width and each cut kerf/cos of its angle; the slanted ends take half the
        height times their tangents. The first and last cut that square nothing off lean the
        lesser way, where the count lets them.
        """
        if count == 0:
            return 0.0
        less, more = sorted((abs(self.left), abs(self.right)))
        one, two = math.radians(less), math.radians(more)
        mean = (self.inner_width + self.outer_width) / 2.0
        cuts = (count // 2) / math.cos(two) + ((count - 1) // 2) / math.cos(one)
        last = two if count % 2 else one
        ends = self.height / 2.0 * (math.tan(one) + math.tan(last))
        return count * mean + kerf * cuts + ends


def leaning_blank(
    *, half: float, lean: float, joint: float, inner_radius: float, outer_radius: float
) -> LeaningBlank:
    """The least such blank that holds the wedge between two radii with its allowances on.

    `half` is half the wedge's angle and `lean` how far its grain leans, counter-clockwise
    positive, in degrees; half + |lean| below 90. The wedge reaches furthest along the grain on
    its outer arc: where the grain's own direction lies within it, at `outer_radius`, else at the
    arc's nearer corner; and least at its inner corner further from the grain.

    >>> blank = leaning_blank(half=7.5, lean=0, joint=0, inner_radius=52, outer_radius=72)
    >>> [round(n, 5) for n in (blank.inner_width, blank.outer_width, blank.height)]
    [13.57472, 18.95796, 20.44487]
    """
    off = math.radians(abs(lean))
    taken_in, taken_out = (
        math.radians(half) - math.asin(min(1.0, joint / (2.0 * radius)))
        for radius in (inner_radius, outer_radius)
    )
    return LeaningBlank(
        inner=inner_radius * math.cos(off + taken_in),
        outer=outer_radius * math.cos(max(0.0, off - taken_out)),
        left=half - lean,
        right=-half - lean,
        joint=joint,
    )
