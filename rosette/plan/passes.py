"""Router passes: where the bit's centre goes, and how deep, for one step of a channel."""

from __future__ import annotations

import math

from rosette.plan.model import Pass

LEAST_OVERLAP = 1.0 / 3.0
"""Neighbouring clearing passes overlap by this share of the bit or more."""
MOST_PASSES = 400
"""A channel that takes more settings than this is a slip in the bit or the depth per pass."""


def pivot_radii(inner_radius: float, outer_radius: float, bit: float) -> list[tuple[float, str]]:
    """Settings pivot to bit centre (mm) between two walls: the walls first, then clearing.

    The wall passes stand half a bit inside each wall. Where the bit fills the channel one
    setting cuts both.

    >>> [(round(radius, 3), wall) for radius, wall in pivot_radii(10, 16, 2)]
    [(15.0, 'outer'), (11.0, 'inner'), (13.667, 'clear'), (12.333, 'clear')]
    >>> pivot_radii(10, 12, 2)
    [(11.0, 'both')]
    """
    outer, inner = outer_radius - bit / 2.0, inner_radius + bit / 2.0
    span = outer - inner
    if span <= 1e-9:
        return [((outer + inner) / 2.0, "both")]
    gaps = math.ceil(span / (bit * (1.0 - LEAST_OVERLAP)) - 1e-9)
    clearing = [(outer - span * i / gaps, "clear") for i in range(1, gaps)]
    return [(outer, "outer"), (inner, "inner"), *clearing]


def depths(top: float, bottom: float, per_pass: float) -> list[float]:
    """Total depth of each pass from `top` to `bottom` (mm), none over `per_pass` deeper.

    >>> depths(0, 2.0, 0.8)
    [0.8, 1.6, 2.0]
    """
    count = max(1, math.ceil((bottom - top) / per_pass - 1e-9))
    return [*(top + per_pass * i for i in range(1, count)), bottom]


def passes_for(
    *,
    inner_radius: float,
    outer_radius: float,
    top: float,
    depth: float,
    bit: float,
    per_pass: float,
) -> tuple[Pass, ...]:
    """Every pass of one step, shallowest first: at each depth the walls, then the clearing."""
    settings = pivot_radii(inner_radius, outer_radius, bit)
    return tuple(
        Pass(pivot_radius=radius, depth=down, wall=wall)
        for down in depths(top, depth, per_pass)
        for radius, wall in settings
    )


def pass_count(*, width: float, depth: float, bit: float, per_pass: float) -> float:
    """About how many passes a step would take, told without making them."""
    return (width / (bit * (1.0 - LEAST_OVERLAP)) + 2.0) * (depth / per_pass + 1.0)
