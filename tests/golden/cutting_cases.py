"""Goldens of a ring of twelve out of a small box: offcut, box, sources, labels, laser."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from rosette.offcuts.cutplan import CuttingPlan
from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.sheets import box, offcut
from rosette.sheets.cutting import laser_sheets
from rosette.sheets.drawing import Drawing
from rosette.sheets.labels import label_drawings
from rosette.sheets.origins import origins
from tests.properties.designs import design, radial
from tests.sheets_cutting.cutplans import KNOT, cutting, rectangle


@cache
def _cut() -> tuple[Plan, CuttingPlan]:
    plan = make_plan(design([radial(segments=12, width=16.0)]))
    offcuts = [
        rectangle("S1", 64.0, 150.0, defects=(KNOT,)),
        rectangle("S2", 70.0, 60.0, grain=12.0),
        rectangle("S3", 40.0, 20.0),
    ]
    return plan, cutting(plan, offcuts, faces="both")


def _named(name: str, made: Callable[[], tuple[Drawing, ...]]) -> Callable[[], Drawing]:
    return lambda: next(drawing for drawing in made() if drawing.name == name)


def _offcuts() -> tuple[Drawing, ...]:
    plan, cut = _cut()
    return offcut.cutting_drawings(cut, plan)


def _box() -> tuple[Drawing, ...]:
    plan, cut = _cut()
    return box.cutting_drawings(cut, plan)


def _labels() -> tuple[Drawing, ...]:
    plan, cut = _cut()
    return label_drawings(plan, origins(cut))


CUTTING_CASES: dict[str, Callable[[], Drawing]] = {
    "offcut": _named("offcut-S1", _offcuts),
    "offcut-cuts": _named("offcut-S1-cuts", _offcuts),
    "box": _named("box", _box),
    "sources-1": _named("sources-1", _box),
    "labels-with-origins": _named("labels-1", _labels),
    "laser": _named("S1-laser", lambda: laser_sheets(_cut()[1])),
}
