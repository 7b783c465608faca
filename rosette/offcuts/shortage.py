"""Too little wood, said so that the maker knows what is missing and what would do instead."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.design.model import Design
from rosette.errors import CannotMakeError, Finding, finding
from rosette.offcuts.alternatives import Alternatives
from rosette.offcuts.alternatives_changes import together
from rosette.offcuts.box import Box
from rosette.offcuts.cutplan import CuttingPlan, Tally
from rosette.offcuts.demand import wood_key
from rosette.words import Length, Saying, Word, numbered


def shortage(
    design: Design, box: Box, cutting: CuttingPlan, found: Alternatives
) -> CannotMakeError:
    """The refusal: what is missing for each ring and wood, and what works instead."""
    return CannotMakeError(
        [*missing(box, cutting), *_instead(found)], source=box.source, units=design.units
    )


def missing(box: Box, cutting: CuttingPlan) -> Iterator[Finding]:
    """Which rings are whole for all that, and a finding for each ring and wood that lacks any."""
    whole = whole_rings(cutting)
    if whole and cutting.missing:
        yield finding(
            "whole-rings",
            "",
            "{rings} can be cut whole: wood goes to whole rings first",
            rings=numbered(whole),
        )
    for tally in cutting.tallies:
        words: dict[str, Word] = {
            "missing": tally.missing,
            "needed": tally.needed,
            "wood": tally.wood,
            "thickness": Length(tally.thickness),
        }
        where = f"ring[{tally.ring}]"
        if tally.missing:
            yield finding("not-enough-wood", where, _sentence(tally, box, cutting), **words)
        elif tally.spares_missing:
            words |= {"missing": tally.spares_missing, "spares": tally.spares}
            yield finding(
                "not-enough-spares",
                where,
                "all {needed} wedges of {wood} are there, but {missing} of the {spares} spares"
                " are missing",
                **words,
            )


def whole_rings(cutting: CuttingPlan) -> list[int]:
    """The rings of wedges that lack none, whatever spares they lack."""
    short = {one.ring for one in cutting.tallies if one.missing}
    return sorted({one.ring for one in cutting.tallies} - short)


def _sentence(tally: Tally, box: Box, cutting: CuttingPlan) -> str:
    lead = "{missing} of {needed} wedges of {wood} are missing"
    same = [one for one in box.offcuts if wood_key(one.wood) == wood_key(tally.wood)]
    if not same:
        return lead + "; the box holds no {wood} at all"
    if all(one.thickness < tally.thickness for one in same):
        return lead + "; all the {wood} in the box is thinner than the ring's {thickness}"
    wanted = {one.ring for one in cutting.tallies if wood_key(one.wood) == wood_key(tally.wood)}
    together = " for all rings together" if len(wanted) > 1 else ""
    return lead + "; the box does not hold enough {wood} of {thickness} or more" + together


def _instead(found: Alternatives) -> Iterator[Finding]:
    if not found.offered:
        yield finding("no-alternative", "", _nothing(found))
        return
    yield finding(
        "how-to",
        "",
        "what the box does allow, nearest first, each cut to try it.\n"
        "  Lines go into the ring's table in place of the keys that say the same,\n"
        "  options behind the command:",
    )
    for one in found.offered:
        lines = one.toml.splitlines()
        if one.flags:
            lines.append(f"and with {one.flags}" if lines else one.flags)
        ready = Saying(":{ready}", (("ready", "".join(f"\n    {line}" for line in lines)),))
        mark = "\n  " if len(one.parts) > 1 else " "
        said = together([Saying("instead:"), *one.parts], mark)
        yield Finding(code="instead", where="", saying=together([said, ready], ""))
    if found.cut_short:
        yield finding(
            "cut-short",
            "",
            "the search was cut short: all of these work, but something nearer may work too",
        )


def _nothing(found: Alternatives) -> str:
    if found.cut_short:
        return (
            "nothing near this design was found before the search was cut short: add offcuts, or"
            " see what the box allows with rosette explore"
        )
    return (
        "nothing near this design comes out of the box either: add offcuts, or see what the box"
        " allows with rosette explore"
    )
