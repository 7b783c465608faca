"""Where each wedge of a cutting plan comes from, as its label says it."""

from __future__ import annotations

from rosette.offcuts.cutplan import CutPiece, CuttingPlan
from rosette.sheets.label_styles import BACK, MARKED, Origin

LONGEST = 8
"""Letters of an offcut's name on a label."""


def short_name(piece: CutPiece, longest: int) -> str:
    """An offcut's name, cut off after so many letters; "S.2" is the second of several alike."""
    short = piece.id if len(piece.id) <= longest else piece.id[: longest - 1] + "…"
    return f"{short}.{piece.piece}" if piece.count > 1 else short


def origins(cutting: CuttingPlan) -> dict[str, Origin]:
    """Offcut, band and place of each wedge, which face shows, its wood: by the wedge's label."""
    found: dict[str, Origin] = {}
    for piece in cutting.touched:
        name = short_name(piece, LONGEST)
        for wedge in piece.wedges:
            found[wedge.label] = Origin(
                offcut=name,
                place=f"{wedge.band}/{wedge.order}",
                face=MARKED if wedge.face == "marked" else BACK,
                wood=wedge.wood,
                ring=wedge.ring,
            )
    return found
