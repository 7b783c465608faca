"""What is engraved on the tray's post: which ring it is for, in letters that fit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from unicodedata import normalize

from jigs.letters import can_engrave, extent_of
from rosette.errors import Finding, finding
from rosette.patterns.base import RingPlan
from rosette.plan.model import Plan
from rosette.units import number_in

TALLEST, SMALLEST = 6.0, 3.0
"""Heights of a capital: below 3 mm a 0.4 mm nozzle can't draw the strokes apart."""
LEADING = 1.7
"""From baseline to baseline, in capital heights."""
DESCENT = 0.35
"""How far letters reach below the baseline, in capital heights."""
ASCENT = 1.05
"""How far they reach above it; accents stand only in the name, above the hole."""
ROUND_HOLE = 2.5
MARKS = 11.0
"""The marks at 12 and 6 o'clock take this much of the post from its edge inwards."""
EDGE = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of words, centred on the centreline; `height` is that of a capital (mm)."""

    text: str
    baseline: float
    height: float


def lines_for(
    plan: Plan, ring: RingPlan, *, post: float, hole: float
) -> tuple[tuple[Line, ...], tuple[Finding, ...]]:
    """The lines that fit on the post, and a finding for what is left out.

    The name stands above the centre hole and count and radii below it; on a small post the
    count takes the name's place.
    """
    if not plan.fixtures.text:
        return (), ()
    assert ring.wedges is not None
    count = f"ring {ring.index}, {ring.wedges.segments} wedges"
    radii = f"R {_number(ring.inner_radius, plan)} to {_number(ring.outer_radius, plan)}"
    radii += f" {plan.units}"
    name = normalize("NFC", plan.name)
    unknown = can_engrave(name)
    name = "" if unknown else name
    wanted = tuple(text for text in (name, count, radii) if text)
    lines: tuple[Line, ...] = ()
    for above, below in (((name,), (count, radii)), ((count,), (radii,))):
        lines = lines or _laid_out(above, below, post=post, start=hole / 2.0 + ROUND_HOLE)
    said = [line.text for line in lines]
    findings = [_unknown(unknown, ring)] if unknown else []
    unsaid = [text for text in wanted if text not in said]
    return lines, (*findings, *([_no_room(unsaid, ring)] if unsaid else []))


def _unknown(letters: str, ring: RingPlan) -> Finding:
    return finding(
        "tray-text",
        "instrument.name",
        "the name is not engraved on the glue-up tray of ring {index}: {letters} can't be",
        index=ring.index,
        letters=" ".join(letters),
    )


def _no_room(texts: list[str], ring: RingPlan) -> Finding:
    return finding(
        "tray-text",
        f"ring[{ring.index}]",
        "the post of the glue-up tray has no room to engrave {texts}; write it on by hand",
        texts=" and ".join(f'"{text}"' for text in texts),
    )


def _number(length: float, plan: Plan) -> str:
    text = number_in(length, plan.units)
    return text.rstrip("0").rstrip(".")


def _laid_out(
    above: tuple[str, ...], below: tuple[str, ...], *, post: float, start: float
) -> tuple[Line, ...]:
    """Lines above and below the hole, `start` from the centre; none where they are too small."""
    room = post - MARKS - start
    height = min(TALLEST, room / (ASCENT + DESCENT + LEADING * (len(below) - 1)))
    if height < SMALLEST:
        return ()
    rows = [(text, start - extent_of(text, height).low) for text in above if text]
    rows += [(text, -start - height * (ASCENT + LEADING * i)) for i, text in enumerate(below)]
    lines = (_fitted(text, baseline, height, post) for text, baseline in rows)
    return tuple(line for line in lines if line)


def _fitted(text: str, baseline: float, height: float, post: float) -> Line | None:
    """The line in capitals as tall as the post's width allows there, or None."""
    extent = extent_of(text, height)
    if not extent.width or baseline + extent.high > post - MARKS:
        return None
    far = max(abs(baseline + extent.low), abs(baseline + extent.high))
    half = math.sqrt(max(0.0, (post - EDGE) ** 2 - far**2))
    fitting = min(height, height * 2.0 * half / max(extent.width, 2.0 * half))
    return Line(text=text, baseline=baseline, height=fitting) if fitting >= SMALLEST else None
