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
    gap = _next_gap(at, 1, pitch)
    held = most(np.array(at), np.array(at)).tolist() if gap < len(at) else []
    while gap < len(at):
        down = _closed(at[gap:], at[gap - 1], pitch)
        stuck = gap + _holding(down, held[gap:], most)
        at[gap:stuck] = down[: stuck - gap]
        if stuck < len(at):
            first = _first_of_run(at, stuck - 1, pitch)
            up = [at[stuck] - pitch * (stuck - j) for j in range(first, stuck)]
            if _holding(up, held[first:stuck], most) == len(up):
                at[first:stuck] = up
        gap = _next_gap(at, stuck + 1, pitch)
    return tuple(at)


def _next_gap(at: Sequence[float], start: int, pitch: float) -> int:
    """The first band from `start` on that stands off the one below; their number where none."""
    return next((i for i in range(start, len(at)) if at[i] - at[i - 1] > pitch), len(at))


def _closed(at: Sequence[float], below: float, pitch: float) -> list[float]:
    """The bands, each come down to the one below it."""
    closed = []
    for start in at:
        below = min(start, below + pitch)
        closed.append(below)
    return closed


def _first_of_run(at: Sequence[float], last: int, pitch: float) -> int:
    """The lowest of the bands that rest on each other up to `last`."""
    first = last
    while first > 0 and at[first] - at[first - 1] <= pitch:
        first -= 1
    return first


def _holding(starts: Sequence[float], wanted: Sequence[int], most: Most) -> int:
    """How many of the bands, from the first on, hold as many as wanted where they start now."""
    points = np.array(starts)
    fewer = np.flatnonzero(most(points, points) < np.array(wanted))
    return int(fewer[0]) if len(fewer) else len(points)
