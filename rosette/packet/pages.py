"""The packet: cover, checklist, every sheet, record, in that order."""

from __future__ import annotations

from rosette.output.document import Document, SheetPages
from rosette.packet.checklist import checklist
from rosette.packet.contents import Item
from rosette.packet.cover import cover
from rosette.packet.entry import Entry
from rosette.packet.record import record
from rosette.plan.model import Plan
from rosette.sheets import sheets


def packet_document(plan: Plan, made: tuple[Item, ...], *, paper: str) -> Document:
    """The pages of one job; `made` are the files that lie beside the packet."""
    trays = tuple(one.file for one in made if isinstance(one, Entry) and one.file.endswith(".3mf"))
    return Document(
        title=plan.name,
        paper=paper,
        parts=(
            cover(plan, made, paper=paper, units=plan.units),
            checklist(plan, units=plan.units, trays=trays),
            *(SheetPages(drawing=drawing) for drawing in sheets(plan)),
            record(plan, units=plan.units),
        ),
    )
