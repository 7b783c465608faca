"""Too little wood, said so that the maker knows what is missing and what would do instead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rosette.design.model import Design
from rosette.errors import CannotMakeError, Finding, finding
from rosette.offcuts.alternatives import Alternative
from rosette.offcuts.box import Box
from rosette.offcuts.cutplan import CuttingPlan, Tally
from rosette.offcuts.demand import wood_key
from rosette.words import Length, Saying, Word


def shortage(
    design: Design, box: Box, cutting: CuttingPlan, offered: Sequence[Alternative]
) -> CannotMakeError:
    """The refusal: what is missing for each ring and wood, and what works instead."""
    return CannotMakeError(
        [*missing(box, cutting), *_instead(offered)], source=box.source, units=design.units
    )


def missing(box: Box, cutting: CuttingPlan) -> Iterator[Finding]:
    """One finding for each ring and wood that lacks wedges or spares."""
    for tally in cutting.tallies:
        words: dict[str, Word] = {
            "missing": tally.missing,
            "needed": tally.needed,
            "wood": tally.wood,
            "thickness": Length(tally.thickness),
        }
        where = f"ring[{tally.ring}]"
        if tally.missing:
            yield finding("not-enough-wood", where, _sentence(tally, box), **words)
        elif tally.spares_missing:
            words |= {"missing": tally.spares_missing, "spares": tally.spares}
            yield finding(
                "not-enough-spares",
                where,
                "all {needed} wedges of {wood} are there, but {missing} of the {spares} spares"
                " are missing",
                **words,
            )


def _sentence(tally: Tally, box: Box) -> str:
    lead = "{missing} of {needed} wedges of {wood} are missing"
    same = [one for one in box.offcuts if wood_key(one.wood) == wood_key(tally.wood)]
    if not same:
        return lead + "; the box holds no {wood} at all"
    if all(one.thickness < tally.thickness for one in same):
        return lead + "; all the {wood} in the box is thinner than the ring's {thickness}"
    return lead + "; the box does not hold enough {wood} of {thickness} or more"


def _instead(offered: Sequence[Alternative]) -> Iterator[Finding]:
    if not offered:
        yield finding(
            "no-alternative",
            "",
            "nothing near this design comes out of the box either: add offcuts, or see what the"
            " box allows with rosette explore",
        )
    for one in offered:
        ready = "".join(f"\n    {line}" for line in (one.toml or one.flags).splitlines())
        what = Saying(
            template=f"instead: {one.what.template}:{{ready}}",
            words=(*one.what.words, ("ready", ready)),
        )
        yield Finding(code="instead", where="", saying=what)
