"""Goldens of a fixture's sheets: a made-up press of three parts, and its lid by itself."""

from __future__ import annotations

from collections.abc import Callable

from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.sheets.drawing import Drawing
from rosette.sheets.fixture import drawings
from tests.properties.designs import design, radial
from tests.sheets.press import PRESS, alone, lid


def _plan() -> Plan:
    return make_plan(design([radial(segments=12, width=16.0)]))


def _sheet(number: int) -> Callable[[], Drawing]:
    return lambda: drawings(PRESS, _plan())[number]


FIXTURE_CASES: dict[str, Callable[[], Drawing]] = {
    "fixture-assembly": _sheet(0),
    "fixture-parts": _sheet(1),
    "fixture-alone": lambda: drawings(alone(lid()), _plan())[0],
}
