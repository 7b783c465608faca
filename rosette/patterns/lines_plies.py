"""Each ply of a stack of lines: its radii, how far bending stretches it, and how long it is."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import accumulate

from rosette.patterns.base import RingSite, Stock
from rosette.patterns.line import strip_lengths
from rosette.patterns.lines_keys import LinesKeys
from rosette.wood.bending import bend_limits, least_radius, most_thickness

TRUED = 0.5
"""What is planed off both edges of a stack together, since its plies never lie quite even (mm)."""
ROUNDING = 0.005
"""Percent: limits are told to two decimals, and a strain that reads the same is within them."""
SPARE = 1
"""One more of each kind, for the one that cracks on the iron (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ply:
    """One ply in the ring (mm), and how far its outer face is stretched in the bending (percent).

    `dry` and `hot` are what its wood stands; `known` is whether these are known of it. `length`
    is its own: what shows of it, and its ends.
    """

    number: int
    wood: str
    thickness: float
    inner_radius: float
    outer_radius: float
    strain: float
    dry: float
    hot: float
    known: bool
    length: float

    @property
    def needs_heat(self) -> bool:
        """Whether it breaks when it is bent dry."""
        return self.strain > self.dry + ROUNDING

    @property
    def breaks(self) -> bool:
        """Whether it breaks even hot."""
        return self.strain > self.hot + ROUNDING

    def thickest(self, limit: float) -> float:
        """The thickest single ply (mm) that stands this bend with `limit` percent."""
        return most_thickness(self.inner_radius, limit)

    def tightest(self, limit: float) -> float:
        """The least inner radius (mm) that this ply stands by itself with `limit` percent."""
        return least_radius(self.thickness, limit)


def total_thickness(keys: LinesKeys) -> float:
    """All plies and the glue between them (mm)."""
    return sum(ply.thickness for ply in keys.plies) + keys.glue_line * (len(keys.plies) - 1)


def plies_of(keys: LinesKeys, site: RingSite) -> tuple[Ply, ...]:
    """The plies from the inside out.

    Plies that slide on one another bend each about its own middle; plies glued flat bend about
    the middle of the whole stack.
    """
    steps = [ply.thickness + keys.glue_line for ply in keys.plies]
    inner = [site.inner_radius + done for done in accumulate(steps, initial=0.0)][:-1]
    outer = [radius + ply.thickness for radius, ply in zip(inner, keys.plies, strict=True)]
    outer[-1] = site.outer_radius
    middle = (site.inner_radius + site.outer_radius) / 2.0
    made = []
    for number, (ply, a, b) in enumerate(zip(keys.plies, inner, outer, strict=True), start=1):
        about = middle if keys.glued == "flat" else (a + b) / 2.0
        limits = bend_limits(ply.wood)
        hot = limits.hot if keys.bend_limit is None else keys.bend_limit
        made.append(
            Ply(
                number=number,
                wood=ply.wood,
                thickness=ply.thickness,
                inner_radius=a,
                outer_radius=b,
                strain=100.0 * max(0.0, b - about) / about,
                dry=min(limits.dry, hot),
                hot=hot,
                known=limits.known or keys.bend_limit is not None,
                length=strip_lengths(keys.overlap, replace(site, outer_radius=b)).cut_length,
            )
        )
    return tuple(made)


def ply_width(keys: LinesKeys) -> float:
    """How wide a ply is cut, across its grain (mm): it stands on edge in the channel."""
    return keys.tile_thickness + (0.0 if keys.glued == "one by one" else TRUED)


def stock_of(plies: tuple[Ply, ...], keys: LinesKeys) -> tuple[Stock, ...]:
    """The plies to cut, those alike together.

    Bent together they end up as long as the longest; one by one each has its own length.
    """
    longest = max(ply.length for ply in plies)
    kinds: dict[tuple[str, float, float], int] = {}
    for ply in plies:
        kind = ply.wood, ply.thickness, ply.length if keys.glued == "one by one" else longest
        kinds[kind] = kinds.get(kind, 0) + 1
    return tuple(
        Stock(
            name="ply",
            wood=wood,
            count=count,
            length=length,
            width=ply_width(keys),
            thickness=thickness,
            spares=SPARE,
        )
        for (wood, thickness, length), count in kinds.items()
    )


def stepped(plies: tuple[Ply, ...]) -> float:
    """How far the innermost ply stands past the outermost at each end, all cut alike (mm).

    Bent round their middles at r₁ and r₂, plies L long reach L/2r₁ and L/2r₂ to each side; the
    difference is measured at the innermost.
    """
    first, last = ((p.inner_radius + p.outer_radius) / 2.0 for p in (plies[0], plies[-1]))
    length = max(ply.length for ply in plies)
    return length / 2.0 * (1.0 - first / last)


def half_reach(length: float, radius: float) -> float:
    """Degrees to each side of its middle that a strip reaches (mm); at most half way round."""
    return min(180.0, math.degrees(length / 2.0 / radius))
