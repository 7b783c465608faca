"""Bands closed up: no stray shaving of wood between two bands that could rest on each other."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rosette.offcuts.bands import Most


def settled(starts: Sequence[float], most: Most, *, pitch: float) -> tuple[float, ...]:
    """The same bands, holding no fewer wedges, with as few gaps between them as can be.

    Two bands `pitch` mm apart share one crosscut; a gap between them costs another, and a gap
    of hundredths a cut that no saw makes. Each band that stands off the one below comes down to
    it; where it holds fewer there, the bands below, as far as they rest on each other, go up.
    """
    at = list(starts)
    held = most(np.array(at), np.array(at)).tolist() if at else []
    for i in range(1, len(at)):
        if at[i] - at[i - 1] <= pitch:
            continue
        down = at[i - 1] + pitch
        if _hold([down], held[i : i + 1], most):
            at[i] = down
            continue
        first = _first_of_run(at, i - 1, pitch)
        up = [at[i] - pitch * (i - j) for j in range(first, i)]
        if _hold(up, held[first:i], most):
            at[first:i] = up
    return tuple(at)


def _first_of_run(at: Sequence[float], last: int, pitch: float) -> int:
    """The lowest of the bands that rest on each other up to `last`."""
    first = last
    while first > 0 and at[first] - at[first - 1] <= pitch:
        first -= 1
    return first


def _hold(starts: Sequence[float], wanted: Sequence[int], most: Most) -> bool:
    """Whether bands that start there hold at least as many as wanted."""
    points = np.array(starts)
    return bool(np.all(most(points, points) >= np.array(wanted)))
