"""The caul's sizes as a block of flat steps."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.caul import EDGE, MARK_DEPTH, SIGHT, Caul
from jigs.caul_pads import HEIGHT
from jigs.caul_press import WASHERS
from jigs.letters import engraving, extent_of
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, Point, circle, polygon

ARROW: tuple[Point, ...] = ((0.0, 0.0), (-2.0, -5.0), (2.0, -5.0))
DASH: tuple[Point, ...] = ((-0.4, 0.0), (-0.4, 5.0), (0.4, 5.0), (0.4, 0.0))
TO_SIGHT = 1.5
"""From a sight hole to the mark that points to it."""
LETTERS = 6.0


def caul_block(caul: Caul) -> Block:
    """A round plate with a pad for every wedge under it."""
    return Block(
        outline=circle(caul.radius),
        top=caul.thickness,
        steps=(*_holes(caul), *_marks(caul), *_letters(caul)),
        under=tuple(caul.pads.steps(caul.axes, -HEIGHT)),
        chamfer=min(caul.process.chamfer, 0.4),
    )


def _holes(caul: Caul) -> Iterator[Step]:
    if caul.hole:
        yield Step(outline=circle(caul.hole / 2.0), top=0.0)
    for sight in caul.sights:
        yield Step(outline=circle(SIGHT / 2.0, sight), top=0.0)


def _washer(caul: Caul) -> float:
    """The radius of what is kept free for the washer."""
    return WASHERS[caul.bolt][0] / 2.0 + 1.0 if caul.bolt else 0.0


def _marks(caul: Caul) -> Iterator[Step]:
    """An arrowhead at 12 o'clock, a line at 6 o'clock, where the washer leaves room."""
    (_, high), (_, low) = caul.sights
    for shape, tip in ((ARROW, high - SIGHT / 2.0 - TO_SIGHT), (DASH, low + SIGHT / 2 + TO_SIGHT)):
        outline = _shifted(shape, tip)
        if abs(tip) - 5.0 > _washer(caul) + 1.0:
            yield Step(outline=outline, top=caul.thickness - MARK_DEPTH)


def _shifted(shape: tuple[Point, ...], y: float) -> Outline:
    return polygon((px, py + y) for px, py in shape)


def _letters(caul: Caul) -> Iterator[Step]:
    """Which ring it is for, above the bolt, where there is room for it."""
    depth = caul.process.text_depth
    if not caul.label or not depth:
        return
    height = max(LETTERS, caul.process.text_height)
    baseline, extent = _washer(caul) + 3.0, extent_of(caul.label, height)
    over = baseline + extent.high
    free = caul.sights[0][1] - SIGHT / 2.0 - TO_SIGHT - 5.0 - EDGE
    if over < free and math.hypot(over, extent.width / 2.0) < caul.radius - EDGE:
        yield from engraving(
            caul.label,
            middle=0.0,
            baseline=baseline - extent.low,
            height=height,
            top=caul.thickness,
            depth=depth,
        )
