"""Holes in ceilings, closed by a thin layer so that threads can be drawn across while printing.

A counterbore that is printed with its mouth down ends in a ceiling with a hole in it, and nothing
round the hole holds a thread. With the hole closed by a layer the ceiling is whole and bridges; the
layer is pushed out afterwards. Only what is printed has it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jigs.letters import inside
from jigs.overhang import LONGEST_BRIDGE
from jigs.terrace import Block, Contour, Step

LAYER = 0.3
"""Thickness of the layer (mm): one or two layers of a usual print."""
SAME_HEIGHT = 1e-9


def closed(block: Block, *, over: bool, longest: float = LONGEST_BRIDGE) -> Block:
    """The block with the holes in its ceilings closed, as it lies: as it stands, or turned over.

    Holes wider than `longest` mm stay open: no thread would hold across them.
    """
    if over:
        return _closed_from_above(block, longest)
    steps = tuple(_stopped(step, block, longest) for step in block.steps)
    return replace(block, steps=steps)


def _stopped(step: Step, block: Block, longest: float) -> Step:
    """A step of the top whose holes stop short of the ceilings that they come out in."""
    if _is_hole(step, block, longest) and step.top > block.lowest + SAME_HEIGHT:
        return replace(step, top=step.top + LAYER)
    return replace(step, steps=tuple(_stopped(one, block, longest) for one in step.steps))


def _closed_from_above(block: Block, longest: float) -> Block:
    """Holes that open in a face below the highest come up from below instead, and stop short."""
    moved: list[Step] = []
    steps = tuple(_kept(block.steps, block.top, block, longest, moved))
    under = block.under
    for hole in moved:
        under = _added(under, hole)
    return replace(block, steps=steps, under=under)


def _kept(
    steps: tuple[Step, ...], level: float, block: Block, longest: float, moved: list[Step]
) -> Iterator[Step]:
    for step in steps:
        if _is_hole(step, block, longest) and level < block.highest - SAME_HEIGHT:
            moved.append(replace(step, top=level - LAYER))
        else:
            inner = tuple(_kept(step.steps, step.top, block, longest, moved))
            yield replace(step, steps=inner)


def _is_hole(step: Step, block: Block, longest: float) -> bool:
    """Whether a step of the top is a hole right through that a thread can cross."""
    if isinstance(step.outline, Contour) or step.steps:
        return False
    left, low, right, high = step.outline.bounds()
    if min(right - left, high - low) > longest:
        return False
    return abs(step.top - _bottom_at(block.under, 0.0, step)) < SAME_HEIGHT


def _bottom_at(under: tuple[Step, ...], level: float, hole: Step) -> float:
    for step in under:
        if _holds(step, hole):
            return _bottom_at(step.steps, step.top, hole)
    return level


def _holds(step: Step, hole: Step) -> bool:
    return inside(hole.outline.points()[0], step.outline.points())


def _added(under: tuple[Step, ...], hole: Step) -> tuple[Step, ...]:
    """The steps of the underside with one more, inside that which holds it."""
    for i, step in enumerate(under):
        if _holds(step, hole):
            inner = replace(step, steps=_added(step.steps, hole))
            return (*under[:i], inner, *under[i + 1 :])
    return (*under, hole)
