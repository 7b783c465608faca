"""Why a ring gets no sawing carrier, and what to mind about the one it gets."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.errors import Finding, finding
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import FixtureWishes
from rosette.words import Length

FINEST_KERF = 0.6
"""Finer cuts (mm) are those of hand saws and of small slitting blades (common practice)."""


def too_steep(ring: RingPlan, wedges: Wedges, steepest: float) -> Finding:
    """The cut leans so far that the strip can't be held on a sled."""
    return finding(
        "no-saw-carrier",
        f"ring[{ring.index}].segments",
        "no sawing carrier: {segments} wedges are cut at {mitre:g}° off square, and one holds a"
        " strip up to {steepest:g}°; four wedges or more can be sawn on it, fewer by hand",
        segments=wedges.segments,
        mitre=wedges.mitre_angle,
        steepest=steepest,
    )


def bar_too_small(ring: RingPlan, wishes: FixtureWishes) -> Finding:
    """The saw's slot leaves no bar that takes a screw."""
    return finding(
        "no-saw-carrier",
        "fixtures.bar_width",
        "ring {index} gets no sawing carrier: a slot {width} wide and {depth} deep leaves no bar"
        " that takes an M3 screw; fix the carrier's base to the saw's own mitre gauge instead",
        index=ring.index,
        width=Length(wishes.bar_width),
        depth=Length(wishes.bar_depth),
    )


def warnings_for(ring: RingPlan, kerf: float) -> Iterator[Finding]:
    """What to mind about a carrier."""
    if kerf < FINEST_KERF:
        yield finding(
            "saw-carrier-kerf",
            "cutting.kerf",
            "a kerf of {kerf} is a hand saw's or a small slitting blade's; the sawing carrier of"
            " ring {index} is for a saw with a table and a mitre slot, and takes the kerf into"
            " account: give it that saw's",
            kerf=Length(kerf),
            index=ring.index,
        )
