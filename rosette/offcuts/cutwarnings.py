"""What to think over before the first cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rosette.errors import Finding, finding
from rosette.offcuts.cutplan import CutPiece, CuttingPlan
from rosette.offcuts.demand import Want
from rosette.offcuts.order import mirrors_itself
from rosette.offcuts.supply import Stock
from rosette.patterns.base import CutBlank
from rosette.words import Length


def warnings(
    cutting: CuttingPlan, stock: Sequence[Stock], asked: Sequence[Want]
) -> Iterator[Finding]:
    """Everything to be told of a cutting plan, most dangerous first."""
    yield from _in_hand(cutting)
    if cutting.interrupted:
        yield finding(
            "interrupted",
            "",
            "the search was stopped: this is the best plan of the offcuts looked at until then,"
            " and another may touch fewer"
            if cutting.touched
            else "the search was stopped before anything was found",
        )
    yield from _too_thin(stock, asked)
    yield from _spares(cutting)
    if cutting.arrangement == "mirrored halves":
        yield from _unmirrored(asked)
    yield from _no_fence(cutting)


def _in_hand(cutting: CuttingPlan) -> Iterator[Finding]:
    short = [
        (piece.least_in_hand, piece)
        for piece in cutting.touched
        if piece.least_in_hand is not None and piece.least_in_hand < cutting.least_in_hand
    ]
    if short:
        least, piece = min(short, key=lambda one: one[0])
        yield finding(
            "short-in-hand",
            _where(piece),
            "the cuts leave as little as {least} to hold, less than {limit} in {count};"
            " fix such a piece to a longer carrier (double-sided tape or a hot-glued"
            " batten), clamp it to the gauge, and keep your fingers off it",
            least=Length(least, 0),
            limit=Length(cutting.least_in_hand, 0),
            count=_count(len(short), len(cutting.touched)),
        )


def _count(some: int, of: int) -> str:
    if of == 1:
        return "the one offcut that is cut"
    return f"all {of} offcuts" if some == of else f"{some} of the {of} offcuts"


def _too_thin(stock: Sequence[Stock], asked: Sequence[Want]) -> Iterator[Finding]:
    for want in asked:
        thin = [
            one.wood
            for one in stock
            if want.suits(one.wood.wood) and not want.thick_enough(one.wood.thickness)
        ]
        if thin:
            yield finding(
                "too-thin",
                f"ring[{want.ring}]",
                "{names} left out: thinner than the {thickness} that the ring's {wood} has",
                names=", ".join(wood.id for wood in thin),
                thickness=Length(want.thickness),
                wood=want.wood,
            )


def _spares(cutting: CuttingPlan) -> Iterator[Finding]:
    for tally in cutting.tallies:
        if not tally.missing and tally.spares_missing:
            yield finding(
                "spares-missing",
                f"ring[{tally.ring}]",
                "{missing} of the {spares} spares of {wood} are missing; the wedges of the ring"
                " are all there",
                missing=tally.spares_missing,
                spares=tally.spares,
                wood=tally.wood,
            )


def _unmirrored(asked: Sequence[Want]) -> Iterator[Finding]:
    for want in asked:
        if not mirrors_itself(want):
            yield finding(
                "not-mirrored",
                f"ring[{want.ring}]",
                "the {wood} wedges do not stand in pairs on either side of the centreline, so"
                " their order runs round the ring",
                wood=want.wood,
            )


def by_hand(blanks: Sequence[tuple[int, CutBlank]]) -> Iterator[Finding]:
    """What no layout is made for: blanks, each with its ring, whose sides lean unequally."""
    for ring, blank in blanks:
        yield finding(
            "by-hand",
            f"ring[{ring}]",
            "{count} of {name} in {wood} are not laid out in the offcuts: their two sides lean"
            " unequally; mark them out on the wood by hand, with the sheets cut out as patterns",
            count=len(blank.places),
            name=blank.name,
            wood=blank.wood,
        )


def _no_fence(cutting: CuttingPlan) -> Iterator[Finding]:
    for piece in cutting.touched:
        if any(cut.kind == "crosscut" and cut.fence_line is None for cut in piece.cuts):
            yield finding(
                "no-straight-edge",
                _where(piece),
                "no straight edge runs along the grain, so nothing bears on the gauge; plane one,"
                " or fix a straight batten along the grain",
            )


def _where(piece: CutPiece) -> str:
    number = f"[{piece.piece}]" if piece.count > 1 else ""
    return f"offcut[{piece.id}]{number}"
