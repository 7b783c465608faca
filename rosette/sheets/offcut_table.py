"""The saw's settings for one offcut, cut by cut, with what stays in the hand and the cautions."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rosette.offcuts.cutplan import CutPiece, CuttingPlan, SawCut
from rosette.sheets.block import PAGE_WIDTH, Block, column
from rosette.sheets.offcut_marks import TURNED, Lie
from rosette.sheets.table import caution, heading, note, steps, table
from rosette.units import Units, format_angle, format_length, number_in

HEAD = ("cut", "kind", "mitre", "gauge left alone", "from the cut before", "in the hand", "frees")
SIZE = 2.2
SHAVING = "shaving"
"""Less than a kerf from the cut before."""
ROWS = 20
"""Cuts in one block of the table, so that a page takes two of them."""


def cut_tables(piece: CutPiece, *, kerf: float, units: Units) -> list[Block]:
    """Every cut in order, in tables of `ROWS` cuts or so."""
    rows = _rows(piece, kerf, units)
    parts = max(1, -(-len(rows) // ROWS))
    return [
        table(
            [HEAD, *rows[i * len(rows) // parts : (i + 1) * len(rows) // parts]],
            align="clclrrl",
            size=SIZE,
            bold_first=True,
        )
        for i in range(parts)
    ] if rows else []  # fmt: skip


def _rows(piece: CutPiece, kerf: float, units: Units) -> list[tuple[str, ...]]:
    lie = Lie.of(piece)
    before: dict[tuple[str, int], SawCut] = {}
    rows: list[tuple[str, ...]] = []
    for cut in piece.cuts:
        line = (cut.kind, cut.band if cut.kind == "slant" else 0)
        rows.append(
            (
                str(cut.step),
                "crosscut" if cut.kind == "crosscut" else f"slant, band {cut.band}",
                _mitre(cut),
                _left_alone(cut),
                _apart(before.get(line), cut, lie, kerf, units),
                number_in(cut.in_hand, units, decimals=1),
                ", ".join(cut.frees),
            )
        )
        before[line] = cut
    return rows


def _mitre(cut: SawCut) -> str:
    return "square" if cut.swing == "square" else f"{format_angle(cut.mitre)} {cut.swing}"


def _left_alone(cut: SawCut) -> str:
    if cut.kind == "crosscut":
        return "" if cut.fence_line is not None else "no straight edge"
    return "turn over" if cut.turn_over else "as it lies"


def _apart(before: SawCut | None, cut: SawCut, lie: Lie, kerf: float, units: Units) -> str:
    """The wood between this kerf and the one before, at the near and the far edge of a band."""
    if before is None:
        return "trim"
    mine, other = _ends(cut, lie), _ends(before, lie)
    if cut.kind == "crosscut":
        left = abs(mine[0][1] - other[0][1]) - kerf
        return number_in(left, units) if left > 0.0 else SHAVING
    gaps = [
        abs(mine[i][0] - other[i][0]) - (_slant(mine, kerf) + _slant(other, kerf)) / 2.0
        for i in (0, 1)
    ]
    return " / ".join(number_in(gap, units) if gap > 0.0 else SHAVING for gap in gaps)


def _ends(cut: SawCut, lie: Lie) -> tuple[tuple[float, float], tuple[float, float]]:
    """A cut's two ends (u, v), the near one first."""
    near, far = sorted((lie.turned(cut.start), lie.turned(cut.end)), key=lambda one: one[1])
    return near, far


def _slant(ends: tuple[tuple[float, float], tuple[float, float]], kerf: float) -> float:
    """What a slant's kerf takes along the band."""
    (u0, v0), (u1, v1) = ends
    return kerf * math.hypot(u1 - u0, v1 - v0) / (v1 - v0)


def method(piece: CutPiece, cutting: CuttingPlan, units: Units, width: float) -> Block:
    """How to go about this offcut."""
    kerf = format_length(cutting.kerf, units)
    if not piece.cuts:
        texts = [
            "Mark the face that is drawn here and the grain's arrow on the wood. Stick this sheet"
            " on it, or trace it.",
            f"Saw round each blank on the waste side of its line: {kerf} is left for the kerf"
            " between any two.",
            "Stick its label on each blank as it comes off, the arrow to the wide end.",
        ]
        return _method(texts, piece, width)
    texts = [
        "Mark the face that is drawn here and the grain's arrow on the wood, before any cut.",
        "Crosscuts first, in order: marked face up, the blue edge at the gauge, the gauge between"
        " you and the wood."
        if any(cut.fence_line for cut in piece.cuts if cut.kind == "crosscut")
        else "Crosscuts first, in order. The wood has no straight edge along the grain: fix it to"
        " a straight carrier.",
        "Then each band's slants: the grain's arrow away from you, the near edge at the gauge, as"
        " the bands are drawn. Left and right: which end of the gauge comes towards you."
        " Who leaves the gauge alone after a band's first slant turns the band over, far edge at"
        " the gauge, where the table says so.",
        f"The blade takes the grey: {kerf}. The wood left from the cut before is told between the"
        " kerfs, along the grain for a crosscut, at the near / far edge for a slant.",
        "Stick its label on each blank as it comes off, the arrow to the wide end.",
    ]
    return _method(texts, piece, width)


def _method(texts: list[str], piece: CutPiece, width: float) -> Block:
    if any(wedge.face == "other" for wedge in piece.wedges):
        texts.append(
            f"{TURNED} behind a number: this blank goes into the ring turned over, and the face"
            " that is not marked shows."
        )
    return column([heading("In order", size=3.0), steps(texts, width)], gap=2.0)


def hand(piece: CutPiece, cutting: CuttingPlan, units: Units) -> list[Block]:
    """What stays in the hand at the least, and the cautions at the saw."""
    if not piece.cuts or piece.least_in_hand is None:
        return [caution(_dust(), PAGE_WIDTH)]
    least = piece.least_in_hand
    steps_ = [cut.step for cut in piece.cuts if cut.in_hand <= least + 1e-6]
    words = (
        f"Least left in the hand: {format_length(least, units, decimals=1)},"
        f" at cut {_listed(steps_)}."
    )
    texts = []
    if least < cutting.least_in_hand:
        texts.append(
            f"{words} That is less than {format_length(cutting.least_in_hand, units, decimals=0)}:"
            " stick the wood to a longer carrier or clamp it to the gauge for every cut that"
            " leaves less. No finger nearer the blade than the saw's manual allows."
        )
    texts.append(
        "Small pieces are thrown when they catch between stop and blade: let the stop stand off,"
        " use a zero-clearance insert, and pick blanks up only when the blade stands still."
    )
    lead = [] if least < cutting.least_in_hand else [note(words, PAGE_WIDTH, bold=True)]
    return [*lead, caution([*texts, *_dust()], PAGE_WIDTH)]


def _dust() -> list[str]:
    return [
        "Hardwood dust harms the lungs and some woods sensitise: extraction and a mask. The"
        " saw's manual and the local rules come before this sheet."
    ]


def _listed(numbers: Sequence[int]) -> str:
    shown = ", ".join(str(number) for number in numbers[:4])
    return shown + (" and others" if len(numbers) > 4 else "")
