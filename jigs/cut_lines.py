"""Where seams may run: evenly spread, past holes, pockets and letters."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from jigs.footprint import Feature, Footprint

KEEP_OFF = {"hole": 4.0, "step": 4.0, "letter": 0.6}
"""From a seam to a hole, to the edge of a step that runs along it, to a letter (mm)."""
SMALL = 30.0
"""What is wider than this across a seam (mm) can't be expected to be missed."""
CROSSING = {"hole": 100.0, "step": 20.0, "letter": 12.0}
"""What it costs to cross a small one."""
GRAZING = {"hole": 40.0, "step": 4.0, "letter": 0.0}
"""What it costs to run along the edge of a large one."""
OFF_MIDDLE = 0.3
"""What every millimetre costs that a seam is away from an even share."""
SHARE = 0.25
"""How far it may be away, in shares."""
KEPT = 6


@dataclass(frozen=True, slots=True)
class Lines:
    """Places of seams that run side by side (mm), and how little they please."""

    cost: float
    places: tuple[float, ...]


def lines(foot: Footprint, along: str, low: float, high: float, count: int) -> Iterator[Lines]:
    """Places of `count` seams that run along one axis, between `low` and `high`, best first.

    Places are whole millimetres.
    """
    share = (high - low) / (count + 1)
    choices = [_choices(foot, along, low + share * k, share * SHARE) for k in range(1, count + 1)]
    costed = (
        Lines(sum(cost for cost, _ in one), tuple(at for _, at in one)) for one in product(*choices)
    )
    return iter(sorted(costed, key=lambda one: (one.cost, one.places)))


def _choices(foot: Footprint, along: str, ideal: float, reach: float) -> list[tuple[float, float]]:
    """(cost, place) of the best few places that lie apart."""
    middle = round(ideal)
    places = [float(middle + i) for i in range(-int(reach), int(reach) + 1)]
    ranked = sorted((_cost(foot, along, at) + OFF_MIDDLE * abs(at - ideal), at) for at in places)
    kept: list[tuple[float, float]] = []
    for cost, at in ranked:
        if all(abs(at - other) >= 3.0 for _, other in kept):
            kept.append((cost, at))
        if len(kept) == KEPT:
            break
    return kept


def _cost(foot: Footprint, along: str, at: float) -> float:
    return sum(_cost_of(feature, along, at) for feature in foot.features)


def _cost_of(feature: Feature, along: str, at: float) -> float:
    left, low, right, high = feature.box
    start, end = (left, right) if along == "y" else (low, high)
    off = KEEP_OFF[feature.kind]
    if not start - off < at < end + off:
        return 0.0
    if end - start <= SMALL:
        return CROSSING[feature.kind]
    near = min(abs(at - start), abs(at - end)) < off
    return GRAZING[feature.kind] if near else 0.0
