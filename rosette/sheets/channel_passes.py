"""The router's settings for a channel, step by step and pass by pass."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from rosette.plan.model import Channel, ChannelStep, Pass
from rosette.sheets.block import PAGE_WIDTH, Block, column
from rosette.sheets.dimension import length_text
from rosette.sheets.table import note, table
from rosette.units import Units, number_in, rounded

ROWS, MORE_ROWS = 22, 38
"""Most settings in the table under a section, and in one that stands by itself."""
SAME = 1e-6
"""Two lengths closer than this (mm) are the same."""
_WALLS = {"outer": "outer wall", "inner": "inner wall", "both": "both walls", "clear": "between"}


def bit_text(bit: float, units: Units) -> str:
    """A bit's diameter, to the thousandth of a millimetre where it is not round.

    >>> bit_text(3.175, "mm"), bit_text(6.0, "mm"), bit_text(3.175, "in")
    ('3.175', '6', '0.125 (1/8)')
    """
    return rounded(bit, 3).rstrip("0").rstrip(".") if units == "mm" else length_text(bit, units)


def rings_text(rings: Sequence[int]) -> str:
    """Which rings, in words; those of a channel stand next to each other.

    >>> rings_text([2]), rings_text([1, 2]), rings_text([1, 2, 3, 4])
    ('ring 2', 'rings 1 and 2', 'rings 1 to 4')
    """
    if len(rings) == 1:
        return f"ring {rings[0]}"
    return f"rings {rings[0]} {'and' if len(rings) == 2 else 'to'} {rings[-1]}"


def step_passes(channel: Channel, step: ChannelStep) -> list[Pass]:
    """The passes that belong to one step of a channel, in order."""
    return [
        one
        for one in channel.passes
        if step.top + SAME < one.depth <= step.depth + SAME
        and step.inner_radius - SAME <= one.pivot_radius <= step.outer_radius + SAME
    ]


def passes_tables(channel: Channel, units: Units) -> Iterator[Block]:
    """For each step a table of settings, with a column to tick for each depth."""
    bit = channel.bit_diameter
    for number, step in enumerate(channel.steps, start=1):
        passes = step_passes(channel, step)
        depths = sorted({one.depth for one in passes})
        settings = [one for one in passes if one.depth == depths[0]]
        words = f"Router, bit {bit_text(bit, units)}"
        if len(channel.steps) > 1:
            words += f", step {number}: {rings_text(step.rings)}"
        down = ", ".join(length_text(depth, units) for depth in depths)
        words += f". All of these settings at each depth in turn: {down}."
        starts = [0, *range(ROWS, len(settings), MORE_ROWS)]
        for start, end in pairwise([*starts, len(settings)]):
            rows = _rows(settings[start:end], start, bit, depths, units)
            lead = words if start == 0 else f"{words} Continued."
            yield column([note(lead, PAGE_WIDTH, bold=True), rows], gap=2.0)


def _rows(
    settings: Sequence[Pass], start: int, bit: float, depths: Sequence[float], units: Units
) -> Block:
    ticks = [number_in(depth, units) for depth in depths] if len(depths) <= 4 else []
    head = ("", "cuts", "pivot to bit's centre", "to its near edge", "to its far edge", *ticks)
    rows = [head]
    for number, one in enumerate(settings, start=start + 1):
        lengths = (one.pivot_radius, one.pivot_radius - bit / 2.0, one.pivot_radius + bit / 2.0)
        rows.append(
            (
                str(number),
                _WALLS[one.wall],
                *(length_text(size, units) for size in lengths),
                *("" for _ in ticks),
            )
        )
    return table(rows, align="rlrrr" + "c" * len(ticks))
