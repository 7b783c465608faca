"""The sheets of a cutting plan. This is their register, in the order of work.

To add one: write `rosette/sheets/NAME.py` with
`def cutting_drawings(cutting: CuttingPlan, plan: Plan) -> tuple[Drawing, ...]` and name it in
`MODULES`.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rosette.offcuts.cutplan import CuttingPlan
    from rosette.plan.model import Plan
    from rosette.sheets.drawing import Drawing

MODULES = ("box", "offcut")


def cutting_sheets(cutting: CuttingPlan, plan: Plan) -> tuple[Drawing, ...]:
    """Every sheet of a cutting plan, true to scale, without page frame."""
    return tuple(
        drawing
        for name in MODULES
        for drawing in import_module(f"rosette.sheets.{name}").cutting_drawings(cutting, plan)
    )


def sheets_with(cutting: CuttingPlan, plan: Plan) -> tuple[Drawing, ...]:
    """Every sheet of a plan and its cutting plan, in the order of work.

    The labels say where each wedge comes from; the cutting sheets stand before the saw's.
    """
    from rosette.sheets import sheets
    from rosette.sheets.labels import label_drawings
    from rosette.sheets.origins import origins

    labels = list(label_drawings(plan, origins(cutting)))
    kept: list[Drawing] = []
    for drawing in sheets(plan):
        if drawing.name.startswith("labels-"):
            kept.extend(labels)
            labels = []
        else:
            kept.append(drawing)
    place = next((i for i, one in enumerate(kept) if one.name.startswith("saw-")), len(kept))
    return (*kept[:place], *cutting_sheets(cutting, plan), *kept[place:])


def laser_sheets(cutting: CuttingPlan) -> tuple[Drawing, ...]:
    """A drawing `NAME-laser` of every offcut that is cut, for a laser or CNC: no frame, no page.

    None where the cutting plan asks for no such files; see `rosette.sheets.laser.laser_drawings`.
    """
    from rosette.sheets.laser import laser_drawings

    if cutting.laser_line is None:
        return ()
    return laser_drawings(
        cutting, compensated=cutting.laser_line == "outside", once=cutting.laser_once
    )
