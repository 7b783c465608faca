"""Whether the sheets' lettering can show the maker's own words."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.design.model import Design
from rosette.errors import Finding, finding
from rosette.lettering import missing_glyphs
from rosette.patterns.base import RingPlan

ALWAYS_THERE = "\u0148"
"""The lettering has every letter up to here (Latin, with most of its accents); telling so
without opening the font keeps planning quick."""
TOLD = 8


def letter_warnings(design: Design, rings: list[RingPlan]) -> Iterator[Finding]:
    """One for each of the maker's words that would print as boxes."""
    for where, text in _words(design, rings):
        unsure = "".join(letter for letter in text if letter > ALWAYS_THERE)
        missing = missing_glyphs(unsure) if unsure else ""
        if missing:
            yield finding(
                "no-such-letters",
                where,
                "the sheets' lettering has no {letters}, so boxes are printed instead: write it in"
                " letters such as A to Z",
                letters=missing if len(missing) <= TOLD else f"{missing[:TOLD]} …",
            )


def _words(design: Design, rings: list[RingPlan]) -> Iterator[tuple[str, str]]:
    yield "instrument.name", design.instrument.name
    for key in ("owner", "creator", "number"):
        yield f"job.{key}", getattr(design.job, key) or ""
    for ring in rings:
        yield f"ring[{ring.index}].wood", "".join(ring.woods)
        yield f"ring[{ring.index}].spacer.wood", "".join(ring.spacer_woods)
