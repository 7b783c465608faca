"""Cutting plan → words for the bench: what to take out of the box, cut by cut, 80 columns wide."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from rosette.offcuts.cutplan import Arrangement, CutPiece, CuttingPlan, SawCut, Tally
from rosette.offcuts.stretches import stretches
from rosette.patterns.base import spares_for
from rosette.report import WIDTH, table, wrapped
from rosette.units import Units, format_length, rounded
from rosette.words import numbered

_ORDER = {
    "ups then downs": "all that point up the wood in order, then the others back (1 3 5 ... 6 4 2),"
    " each of these turned end for end: the marked face shows all round",
    "as in the wood": "as in the wood, 1 2 3 4 ..., every other one turned over, so that its back"
    " shows",
    "neighbours": "as in the wood, 1 2 3 4 ..., all sawn the same way up: neighbours in the wood"
    " stay neighbours",
    "mirrored halves": "neighbours in the wood stand on either side of the centreline, so that the"
    " left half mirrors the right",
}
_WEIGHED = {"offcuts": "fewest offcuts", "runs": "longest runs", "remainder": "best remainder"}


def cutting_report(cutting: CuttingPlan, units: Units = "mm") -> str:
    """The whole cutting plan as plain text, lengths in `units`."""
    return "\n".join(_Report(cutting, units).lines()) + "\n"


class _Report:
    """One cutting plan told in one unit."""

    def __init__(self, cutting: CuttingPlan, units: Units) -> None:
        self.cutting = cutting
        self.units: Units = units

    def length(self, mm: float, decimals: int = 2) -> str:
        return format_length(mm, self.units, decimals=decimals)

    def lines(self) -> Iterator[str]:
        cutting = self.cutting
        title = f"{cutting.name}: the wedges out of the box"
        yield from wrapped(title, indent="")
        yield "=" * min(WIDTH, len(title))
        if cutting.interrupted:
            told = (
                "this is the best plan until then" if cutting.touched else "nothing was found yet"
            )
            yield from wrapped(f"STOPPED BEFORE THE END: {told}.", lead="! ")
        yield from _pairs(self.summary())
        for tally in cutting.tallies:
            yield from _pairs([(f"Ring {tally.ring}, {_kind(tally)}", _counted(tally))])
        yield from self.more()
        for piece in cutting.touched:
            yield ""
            yield from self.piece(piece)
        yield ""
        yield from self.order()
        yield ""
        yield from self.left()
        yield ""
        yield from self.warnings()

    def more(self) -> Iterator[str]:
        """How many spares the wood that is cut anyway would still give, if none are asked for."""
        cutting = self.cutting
        if cutting.missing or any(tally.spares_placed for tally in cutting.tallies):
            return
        spare = sum(
            held.capacity - len(piece.wedges)
            for piece in cutting.touched
            for held in piece.holds
            if piece.rings == (held.ring,)
        )
        if spare:
            usual = sum(spares_for(tally.needed) for tally in cutting.tallies)
            told = f"none asked for; the offcuts cut hold {spare} more (usual: {usual})"
            yield from _pairs([("Spares", told)])

    def summary(self) -> Iterator[tuple[str, str]]:
        cutting = self.cutting
        if cutting.method == "strip":
            yield "Method", "strip: crosscuts, then slanted cuts, each from edge to edge"
        else:
            yield "Method", "free: along each wedge's outline (fret saw, laser, CNC)"
        if cutting.box_file:
            yield "Box", cutting.box_file
        yield "Kerf", self.length(cutting.kerf)
        if cutting.grain_tolerance:
            yield "Grain", f"wedges may stand up to {cutting.grain_tolerance:g}° off it"
        names = ", ".join(piece.name for piece in cutting.touched) or "none"
        yield "Offcuts cut", f"{len(cutting.touched)} of {len(cutting.pieces)}: {names}"
        if cutting.touched and not cutting.missing:
            yield "", self.proof()
        yield "Weighed", ", then ".join(_WEIGHED[one] for one in cutting.objectives)
        if cutting.touched:
            yield (
                "Wood used",
                f"{rounded(100 * cutting.yielded, 0)} % of what is cut becomes blanks",
            )

    def proof(self) -> str:
        cutting, number = self.cutting, len(self.cutting.touched)
        if number == cutting.fewest_offcuts:
            return "Proved: the wedges do not come out of fewer."
        return f"Proved only that fewer than {cutting.fewest_offcuts} are not enough."

    def piece(self, piece: CutPiece) -> Iterator[str]:
        given = " and ".join(
            f"{sum(w.ring == ring for w in piece.wedges)} for ring {ring}" for ring in piece.rings
        )
        yield from _heading(f"Offcut {piece.name}: {given}")
        thick = self.length(piece.wood.thickness)
        planed = "; ".join(
            f"plane the wedges of {numbered(rings)} to {self.length(to)}"
            for to, rings in piece.planings
        )
        rows = [("Wood", f"{piece.wood.wood}, {thick} thick{'; ' if planed else ''}{planed}")]
        if piece.note:
            rows.append(("Note", piece.note))
        for held in piece.holds:
            if held.ring in piece.rings:
                rows.append((f"Holds of ring {held.ring}", _holds(held.capacity, held.bound)))
        if piece.tilt:
            rows.append(("Laid", f"{rounded(piece.tilt, 2, plus=True)}° off the grain as a whole"))
        if piece.least_in_hand is not None:
            rows.append(("Least to hold", self.length(piece.least_in_hand, 0)))
        yield from _pairs(rows)
        yield from self.crosscuts(piece)
        for _, band in groupby(
            (cut for cut in piece.cuts if cut.kind == "slant"), key=lambda cut: cut.band
        ):
            yield from self.band(piece, list(band))
        if not piece.cuts:
            yield from wrapped(f"Wedges: {', '.join(w.label for w in piece.wedges)}")

    def crosscuts(self, piece: CutPiece) -> Iterator[str]:
        cuts = [cut for cut in piece.cuts if cut.kind == "crosscut"]
        if not cuts:
            return
        yield from wrapped(f"Crosscuts, {self.gauge(cuts[0])}")
        end, reach = _reach(piece, cuts)
        rows = [
            (str(cut.step), self.length(at), self.length(cut.in_hand, 0))
            for cut, at in zip(cuts, reach, strict=True)
        ]
        yield from table(
            ("cut", f"kerf's middle, from where the grain's arrow {end}", "to hold"), rows
        )

    def gauge(self, cut: SawCut) -> str:
        if cut.fence_line is None:
            return "square to the grain; no straight edge bears on the gauge, so fix a batten:"
        edge = f"the straight edge of {self.length(math.dist(*cut.fence_line), 0)} at the gauge"
        if cut.swing == "square":
            return f"square, {edge}, marked face up:"
        return f"gauge {rounded(cut.mitre, 2)}° off square, {_toward(cut)}, {edge}, marked face up:"

    def band(self, piece: CutPiece, cuts: Sequence[SawCut]) -> Iterator[str]:
        labels = [w.label for w in piece.wedges if w.band == cuts[0].band]
        mitre = rounded(cuts[0].mitre, 2)
        yield from wrapped(
            f"Band {cuts[0].band}, gauge {mitre}° off square, near edge at the gauge,"
            f" marked face up; gives {', '.join(labels)}:"
        )
        rows = [
            (
                str(cut.step),
                f"{cut.swing} end",
                "other face up" if cut.turn_over else "as it lies",
                " and ".join(cut.frees),
                self.length(cut.in_hand, 0),
            )
            for cut in cuts
        ]
        head = ("cut", "towards you", "or gauge kept", "makes a side of", "to hold")
        yield from table(head, rows)

    def order(self) -> Iterator[str]:
        cutting = self.cutting
        yield from _heading("Order round the ring")
        ways = dict.fromkeys(tally.arrangement for tally in cutting.tallies)
        for way in ways:
            yield from wrapped(f"{self.whose(way)}: {_ORDER[way]}.")
        names = {(p.id, p.piece): p.name for p in cutting.touched}
        for tally in cutting.tallies:
            kind = (tally.wood, tally.name)
            mine = [one for one in cutting.ring(tally.ring) if (one.wood, one.name) == kind]
            rows = [
                (one.places, names[one.wedges[0].offcut, one.wedges[0].piece], one.laid)
                for one in stretches([one for one in mine if not one.spare])
            ]
            alone = f", {_kind(tally)}" if self.several(tally.ring) else ""
            yield from wrapped(f"Ring {tally.ring}{alone}:")
            yield from table(("places", "from", "laid"), rows)
            where = Counter(names[one.offcut, one.piece] for one in mine if one.spare)
            if where:
                told = ", ".join(f"{number} from {name}" for name, number in where.items())
                yield from wrapped(f"Spares: {told}.")
        if any(self.several(tally.ring) for tally in cutting.tallies):
            yield from wrapped("Of several woods: 1-9 are the places of this wood from 1 to 9.")

    def whose(self, way: Arrangement) -> str:
        """Of which wedges an order is told, where there are several orders."""
        mine = [tally for tally in self.cutting.tallies if tally.arrangement == way]
        if len(mine) == len(self.cutting.tallies):
            return "Clockwise from the seam"
        told = ", ".join(f"ring {tally.ring}, {_kind(tally)}" for tally in mine)
        return f"{told[0].upper()}{told[1:]}, clockwise from the seam"

    def several(self, ring: int) -> bool:
        """Whether a ring is of more than one wood or kind of blank."""
        return sum(tally.ring == ring for tally in self.cutting.tallies) > 1

    def left(self) -> Iterator[str]:
        yield from _heading("What is left")
        rows = [
            (
                piece.name,
                f"{self.length(one.along, 0)} along the grain",
                f"{self.length(one.across, 0)} across",
            )
            for piece in self.cutting.touched
            for one in piece.remainders
            if one.useful
        ]
        if rows:
            yield from table(("of", "worth keeping", ""), rows)
        else:
            yield from wrapped("Nothing worth keeping of the offcuts that are cut.")
        whole = ", ".join(piece.name for piece in self.cutting.untouched)
        if whole:
            yield from wrapped(f"Not touched: {whole}.")

    def warnings(self) -> Iterator[str]:
        if not self.cutting.warnings:
            yield "Nothing to warn of."
            return
        yield from _heading("Before you cut, think over")
        for one in self.cutting.warnings:
            yield from wrapped(one.text(self.units), lead="! ")


def _pairs(rows: Iterable[tuple[str, str]]) -> Iterator[str]:
    for name, value in rows:
        yield from wrapped(value, lead=f"{name:<17} ")


def _heading(text: str) -> Iterator[str]:
    lines = wrapped(text, indent="")
    yield from lines
    yield "-" * len(lines[-1])


def _counted(tally: Tally) -> str:
    parts = [f"{tally.placed} of {tally.needed} wedges"]
    if tally.spares or tally.spares_placed:
        parts.append(f"{tally.spares_placed} spares")
    if tally.missing:
        parts.append(f"{tally.missing} MISSING")
    return ", ".join(parts)


def _holds(capacity: int, bound: int) -> str:
    if capacity == bound:
        return f"{capacity} at the most: proved"
    return f"{capacity} were found; more than {bound} are impossible"


def _toward(cut: SawCut) -> str:
    return f"its {cut.swing} end towards you"


def _reach(piece: CutPiece, cuts: Sequence[SawCut]) -> tuple[str, list[float]]:
    """How far each crosscut's middle is from the end that cutting starts from, and which end."""
    axis = math.radians(piece.wood.grain + piece.tilt)
    ux, uy = math.cos(axis), math.sin(axis)
    wood = [x * ux + y * uy for x, y in piece.wood.outline]
    middles = [
        (cut.start[0] + cut.end[0]) / 2.0 * ux + (cut.start[1] + cut.end[1]) / 2.0 * uy
        for cut in cuts
    ]
    if middles[0] <= middles[-1]:
        return "starts", [at - min(wood) for at in middles]
    return "points", [max(wood) - at for at in middles]


def _kind(tally: Tally) -> str:
    """A wood, and what is cut of it where that is not simply wedges."""
    return tally.wood if tally.name == "wedge" else f"{tally.wood} ({tally.name})"
