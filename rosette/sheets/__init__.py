"""Sheets, one file each: a plan in, drawings out. This is their register, in the order of work.

To add one: write `rosette/sheets/NAME.py` with `def drawings(plan: Plan) -> tuple[Drawing, ...]`
and name it in `MODULES`.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rosette.plan.model import Plan
    from rosette.sheets.drawing import Drawing

MODULES = ("ring", "wedge", "saw", "making", "labels", "gauges", "assembly", "channel")


def sheets(plan: Plan) -> tuple[Drawing, ...]:
    """Every sheet of a plan, true to scale, without page frame."""
    return tuple(
        drawing
        for name in MODULES
        for drawing in import_module(f"rosette.sheets.{name}").drawings(plan)
    )
