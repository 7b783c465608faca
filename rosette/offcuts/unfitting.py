"""What to say where a box makes none of the rings asked for: why, and the nearest that it can."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Protocol

from rosette.errors import Finding, finding
from rosette.offcuts.explored import Ask, Kind
from rosette.offcuts.widest import Limit, Widest
from rosette.patterns.base import spares_for
from rosette.words import Length, listed

NARROWEST = 2.0
"""mm: narrower than this nobody makes a ring of wedges."""


class RingOf(Protocol):
    """Makes the ring of a kind, from a least width in steps."""

    def __call__(self, kind: Kind, *, least: int = 0) -> Widest | None:
        """None where its wedges would have no inner edge."""


def nothing_fits(
    ask: Ask, kinds: Sequence[Kind], ring_of: RingOf, too_thin: Sequence[str]
) -> list[Finding]:
    """Why no ring of these kinds fits, and what would."""
    rings = [(kind, ring) for kind in kinds if (ring := ring_of(kind)) is not None]
    if not rings:
        return [_no_inner_edge(kinds)]
    found = [*_held(rings, ask), *_nearest(ask, kinds, ring_of)]
    if too_thin:
        found.append(
            finding(
                "too-thin",
                "",
                "thinner than the {thickness} that the ring's wood has, and so left out: {names};"
                " with --tile the ring may be thinner",
                thickness=Length(ask.design.rings[ask.ring - 1].keys.tile_thickness),
                names=", ".join(too_thin),
            )
        )
    return found


def called(kind: Kind) -> str:
    """A kind of ring in words.

    >>> called(Kind(woods=("walnut", "maple"), segments=24, inner_radius=50.0))
    '24 wedges of walnut and maple'
    """
    return f"{kind.segments} wedges of {listed(kind.woods)}"


def _no_inner_edge(kinds: Sequence[Kind]) -> Finding:
    least = min(kinds, key=lambda one: one.segments)
    return finding(
        "no-inner-edge",
        "",
        "{count} wedges leave no inner edge at {radius} from the centre; take fewer wedges or a"
        " larger inner radius",
        count=least.segments,
        radius=Length(least.inner_radius),
    )


def _level(ask: Ask, ring: Widest) -> int:
    usual = max(spares_for(need.count) for need in ring.needs)
    return min(usual if one == "usual" else one for one in ask.spares)


def _held(rings: Sequence[tuple[Kind, Widest]], ask: Ask) -> Iterator[Finding]:
    """Which kind comes nearest at the narrowest width, and how many wedges it lacks."""

    def share(one: tuple[Kind, Widest]) -> float:
        _, ring = one
        level = _level(ask, ring)
        return min(
            ring.holds(ring.least, at) / (need.count + level) for at, need in enumerate(ring.needs)
        )

    kind, ring = max(rings, key=share)
    level = _level(ask, ring)
    lacking = [
        f"{need.count + level - held} of {need.wood}"
        for at, need in enumerate(ring.needs)
        if (held := ring.holds(ring.least, at)) < need.count + level
    ]
    yield finding(
        "nothing-fits",
        "",
        "no ring asked for comes out of this box; nearest are {ring} at {width}{spares}, for which"
        " {missing} are missing",
        ring=called(kind),
        width=Length(ask.width(ring.least)),
        spares=f" and {level} spares of each wood" if level else "",
        missing=listed(lacking),
    )


def _nearest(ask: Ask, kinds: Sequence[Kind], ring_of: RingOf) -> Iterator[Finding]:
    """The widest ring narrower than asked for, and without spares, of the kinds asked for."""
    best: tuple[Limit, Kind] | None = None
    for kind in kinds:
        ring = ring_of(kind, least=min(0, ask.steps(NARROWEST) + 1))
        if ring is None:
            continue
        number = ring.number_at(ring.least, 0)
        if math.isinf(number):
            continue
        limit = ring.width_with(int(ring.copies.sum()), 0)
        if best is None or limit.width > best[0].width:
            best = (limit, kind)
    if best is None:
        return
    limit, kind = best
    yield finding(
        "nearest",
        "",
        "what it can make: {ring}, {width} wide from {radius} out, with no spares",
        ring=called(kind),
        width=Length(ask.width(limit.width)),
        radius=Length(kind.inner_radius),
    )
