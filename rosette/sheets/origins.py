"""Where each wedge of a cutting plan comes from, as its label says it."""

from __future__ import annotations

from rosette.offcuts.cutplan import CuttingPlan
from rosette.sheets.label_styles import BACK, MARKED, Origin

LONGEST = 8
"""Letters of an offcut's name on a label."""


def origins(cutting: CuttingPlan) -> dict[str, Origin]:
    """Offcut, band and place of each wedge, which face shows, its wood: by the wedge's label."""
    found: dict[str, Origin] = {}
    for piece in cutting.touched:
        short = piece.id if len(piece.id) <= LONGEST else piece.id[: LONGEST - 1] + "…"
        name = f"{short}.{piece.piece}" if piece.count > 1 else short
        for wedge in piece.wedges:
            found[wedge.label] = Origin(
                offcut=name,
                place=f"{wedge.band}/{wedge.order}",
                face=MARKED if wedge.face == "marked" else BACK,
                wood=wedge.wood,
                ring=wedge.ring,
            )
    return found
