"""The checklist's lines for wedges that come out of offcuts instead of strips."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rosette.output.document import Block, Caution, Tick
from rosette.patterns.base import RingPlan, Wedges
from rosette.units import Units, format_angle, rounded
from rosette.words import Length, Word, say

if TYPE_CHECKING:
    from rosette.offcuts.cutplan import CutPiece, CuttingPlan


def cutting_steps(
    cutting: CuttingPlan, ring: RingPlan, wedges: Wedges, units: Units
) -> Iterator[Block]:
    """From the box to the labelled wedges of one ring."""
    pieces = [piece for piece in cutting.touched if ring.index in piece.rings]
    given = ", ".join(f"{piece.name} ({_wedges_of(piece, ring.index)})" for piece in pieces)
    yield _tick(units, "Take out of the box: {given}. Their sheets show every cut.", given=given)
    yield _tick(
        units,
        "On each of them mark the face that is up on its sheet, chalk an arrow along the grain,"
        " and stick or trace the sheet on it; measure the sheet's bars first.",
    )
    if cutting.method == "free":
        yield _tick(
            units,
            "Cut the wedges out along their outlines, label each as it comes free, and keep what"
            " its sheet marks as worth keeping.",
        )
    else:
        yield from _at_the_saw(cutting, pieces, wedges, units)
    if wedges.leaves == 2:
        yield _tick(
            units,
            "Each of these is two wedges, one upon the other. Number both on their sides with an"
            " arrow to the wide end, stick the piece to a carrier, saw it through its thickness,"
            " and open the pair like a book, the hinge at the joint between them: the sawn faces"
            " are the show faces.",
        )
    yield _tick(
        units,
        "Plane the wedges to {thick}, and lay them out by their labels; the ring's sources on their"
        " sheet say which are turned.",
        thick=Length(ring.tile_thickness),
    )
    yield _tick(
        units,
        "When the last wedge is cut, bring the box up to date with the job's folder: rosette"
        " offcuts take puts what is worth keeping back into it.",
    )


def strip_steps(wedges: Wedges) -> int:
    """How many of a radial ring's first steps `cutting_steps` stands for.

    Stock, set-up, the cuts of each wood, the marks: see `rosette.patterns.radial_words`.
    """
    return 3 + len(wedges.woods)


def _at_the_saw(
    cutting: CuttingPlan, pieces: list[CutPiece], wedges: Wedges, units: Units
) -> Iterator[Block]:
    held = [piece.least_in_hand for piece in pieces if piece.least_in_hand is not None]
    if held and min(held) < cutting.least_in_hand:
        saying = say(
            "Some of these cuts leave only {least} to hold. Fix such a band to a longer carrier"
            " before you cut it (double-sided tape, a batten with hot glue), clamp the carrier to"
            " the gauge, and keep your hands off the wood.",
            least=Length(min(held), 0),
        )
        yield Caution(text=saying.text(units))
    yield _tick(
        units,
        "Make the crosscuts in the order of their numbers, and number the bands as they come off.",
    )
    yield _tick(
        units,
        "Set the saw {mitre}° off square. Cut {half} wedges of scrap and stand them against a"
        " straight edge: they must make {angle} before good wood is cut.",
        mitre=rounded(wedges.mitre_angle, 2),
        half=wedges.half_set,
        angle=format_angle(wedges.half_set * wedges.included_angle),
    )
    yield _tick(
        units,
        "Saw each band into wedges in the order of the numbers, and label each wedge as it leaves"
        " the saw, arrow to its wide end.",
    )


def _wedges_of(piece: CutPiece, ring: int) -> str:
    count = sum(wedge.ring == ring for wedge in piece.wedges)
    return f"{count} wedge{'s' if count != 1 else ''}"


def _tick(units: Units, template: str, **words: Word) -> Tick:
    return Tick(text=say(template, **words).text(units))
