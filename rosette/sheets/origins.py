"""Where each wedge of a cutting plan comes from, as its label says it."""

from __future__ import annotations

from dataclasses import replace

from rosette.offcuts.cutplan import CutPiece, CuttingPlan, CutWedge
from rosette.sheets.label_styles import BACK, MARKED, Origin

LONGEST = 8
"""Letters of an offcut's name on a label."""


def short_name(piece: CutPiece, longest: int) -> str:
    """An offcut's name, cut off after so many letters; "S.2" is the second of several alike."""
    short = piece.id if len(piece.id) <= longest else piece.id[: longest - 1] + "…"
    return f"{short}.{piece.piece}" if piece.count > 1 else short


def leaves(wedge: CutWedge) -> tuple[CutWedge, ...]:
    """A blank by each of the wedges it gives: both of a pair that is sawn apart ("2-07+08")."""
    first, pair, second = wedge.label.partition("+")
    if not pair:
        return (wedge,)
    other = f"{first.rpartition('-')[0]}-{second}"
    return replace(wedge, label=first), replace(wedge, label=other, position=int(second))


def origins(cutting: CuttingPlan) -> dict[str, Origin]:
    """Offcut, band and place of each wedge, which face shows, its wood: by the wedge's label."""
    found: dict[str, Origin] = {}
    for piece in cutting.touched:
        name = short_name(piece, LONGEST)
        for wedge in (leaf for one in piece.wedges for leaf in leaves(one)):
            found[wedge.label] = Origin(
                offcut=name,
                place=f"{wedge.band}/{wedge.order}",
                face=MARKED if wedge.face == "marked" else BACK,
                wood=wedge.wood,
                ring=wedge.ring,
            )
    return found
