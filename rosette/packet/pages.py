"""The packet: cover, every sheet, checklist, record, in that order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rosette.output.document import Document, SheetPages
from rosette.packet.checklist import checklist
from rosette.packet.cover import cover
from rosette.packet.entry import Entry
from rosette.packet.fixtures import Item
from rosette.packet.record import record
from rosette.plan.model import Plan
from rosette.sheets.drawing import Drawing

if TYPE_CHECKING:
    from rosette.offcuts.cutplan import CuttingPlan


def packet_document(
    plan: Plan,
    drawings: tuple[Drawing, ...],
    picture: Drawing,
    *,
    made: tuple[Item, ...],
    paper: str,
    cutting: CuttingPlan | None = None,
) -> Document:
    """The pages of one job, its `drawings` among them; `made` are the files beside the packet."""
    trays = tuple(one.file for one in made if isinstance(one, Entry) and one.file.endswith(".3mf"))
    return Document(
        title=plan.name,
        paper=paper,
        parts=(
            cover(plan, drawings, picture, made=made, paper=paper, units=plan.units),
            *(SheetPages(drawing=drawing) for drawing in drawings),
            checklist(plan, units=plan.units, trays=trays, cutting=cutting),
            record(plan, units=plan.units),
        ),
    )
