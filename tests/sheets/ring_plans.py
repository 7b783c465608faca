"""Rings at the ends of what a map of one must hold, and one of each usual kind."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

from rosette.design import read_design
from rosette.picture import picture
from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.sheets.drawing import Drawing
from tests.properties.designs import design, line, radial

DEMOS = Path(__file__).resolve().parents[2] / "patterns_demo"
SPACER = {"wood": "maple", "thickness": 0.5}
TWO, THREE = ["walnut", "maple"], ["walnut", "curly maple", "Indian rosewood"]
SEVEN = ["walnut", "cherry", "ash", "oak", "ebony", "holly", "sycamore"]
LONG = "a wood whose name goes on and on, as names of woods with a story do"


def _one(**keys: Any) -> Callable[[], Plan]:
    return lambda: make_plan(design([radial(**keys)]))


def _hair_thin() -> Plan:
    ring = radial(segments=48, inner_radius=48.0, width=1.5, wood=TWO)
    table = {"kerf": 0.3, "inner_allowance": 0.5, "outer_allowance": 0.5}
    return make_plan(design([ring], cutting=table))


def _no_fingerboard() -> Plan:
    table = {"fingerboard_width": 0.4, "fingerboard_reach": 200.0}
    return make_plan(design([radial(segments=18)], instrument=table))


def _small() -> Plan:
    table = {"soundhole_diameter": 36.0, "fingerboard_reach": 18.0}
    return make_plan(design([radial(segments=20, inner_radius=20.0, width=9.0)], instrument=table))


def _narrow_fingerboard() -> Plan:
    return make_plan(design([radial(segments=24)], instrument={"fingerboard_width": 30.0}))


def _inches() -> Plan:
    return make_plan(read_design(DEMOS / "heron-dreadnought" / "design.toml"))


def _several() -> Plan:
    return make_plan(read_design(DEMOS / "linnet-classical" / "design.toml"))


def _lines_alone() -> Plan:
    return make_plan(design([line(inner_radius=50.0), line(space=2.0, width=1.6)]))


MAKERS: dict[str, Callable[[], Plan]] = {
    "three wedges": _one(segments=3),
    "six wedges": _one(segments=6),
    "seven woods": _one(segments=7, wood=SEVEN),
    "twenty-four with spacers": _one(segments=24, wood=THREE, spacer=SPACER, at_centreline="wedge"),
    "thirty-six": _one(segments=36),
    "forty-eight, fine": _one(segments=48, width=10.0, wood=TWO, glue_line=0.05),
    "seventy-two": _one(segments=72, width=12.0, wood=TWO, at_centreline="wedge"),
    "a hundred and eighty": _one(segments=180, width=8.0, wood=TWO),
    "seven hundred and twenty": _one(segments=720),
    "hair-thin": _one(segments=36, inner_radius=60.0, width=1.5, wood=TWO),
    "hair-thin and fine": _one(segments=360, inner_radius=60.0, width=1.5, wood=TWO),
    "hair-thin, with little to trim": _hair_thin,
    "large": _one(segments=30, inner_radius=70.0, width=25.0),
    "small": _small,
    "long names": _one(segments=12, wood=[LONG, LONG + "!"]),
    "no fingerboard over it": _no_fingerboard,
    "a narrow fingerboard": _narrow_fingerboard,
    "in inches": _inches,
    "several rings": _several,
    "lines alone": _lines_alone,
}


@cache
def plan_of(name: str) -> Plan:
    return MAKERS[name]()


@cache
def picture_of(name: str) -> Drawing:
    return picture(plan_of(name))


@cache
def drawings_of(name: str, sheet: str) -> tuple[Drawing, ...]:
    drawn: tuple[Drawing, ...] = import_module(f"rosette.sheets.{sheet}").drawings(plan_of(name))
    return drawn
