"""Plans and trays for the tests, each made once."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

import jigs
from jigs.block_solid import block_solid
from jigs.tray import Tray
from rosette.design import read_design_text
from rosette.patterns.base import RingPlan
from rosette.plan import Plan, make_plan

if TYPE_CHECKING:
    import cadquery

DESIGN = """
schema = 1
[instrument]
name = "{name}"
soundhole_diameter = {soundhole}
top_thickness = 6
[cutting]
kerf = 0.9
inner_allowance = {allowance}
outer_allowance = {allowance}
[channel]
bit_diameter = 0.4
[fixtures]
clearance = {clearance}
text = {text}
[[ring]]
pattern = "radial"
inner_radius = {inner}
width = {width}
segments = {segments}
wood = "walnut"
{spacer}
tile_thickness = {thickness}
backing = {backing}
at_centreline = "{centreline}"
"""
USUAL = {
    "name": "Damson parlour no. 3",
    "soundhole": 30,
    "allowance": 1.5,
    "clearance": 0.2,
    "text": "false",
    "inner": 52,
    "width": 18,
    "segments": 36,
    "spacer": "",
    "thickness": 2.2,
    "backing": 0,
    "centreline": "joint",
}
SPACER = 'spacer = { wood = "maple", thickness = 0.5 }'

CASES: dict[str, dict[str, Any]] = {
    "triangle": {"segments": 3},
    "hexagon with spacers": {"segments": 6, "spacer": SPACER, "centreline": "wedge"},
    "17, a wedge at 12": {"segments": 17, "centreline": "wedge", "clearance": 0.1},
    "36": {"segments": 36},
    "72 with spacers": {"segments": 72, "spacer": SPACER, "clearance": 0.3},
    "180": {"segments": 180},
    "hair-thin": {"segments": 48, "inner": 50, "width": 1.5},
    "hair-thin, no allowance": {"segments": 24, "width": 1.5, "allowance": 0},
    "small": {"segments": 12, "inner": 20, "width": 8},
    "tiny": {"segments": 8, "inner": 6, "width": 8, "soundhole": 10},
    "no clearance": {"segments": 90, "clearance": 0},
    "thin": {"segments": 24, "thickness": 0.9},
}


@cache
def _plan(asked: tuple[tuple[str, Any], ...]) -> Plan:
    text = DESIGN.format(**{**USUAL, **dict(asked)})
    return make_plan(read_design_text(text.encode(), "design.toml"))


def plan(**asked: Any) -> Plan:
    """The plan of one ring of wedges: the usual one, but for what is asked."""
    return _plan(tuple(sorted(asked.items())))


def ring(**asked: Any) -> RingPlan:
    """Its ring."""
    return plan(**asked).rings[0]


def tray(**asked: Any) -> Tray:
    """Its tray."""
    (made,) = jigs.fixtures(plan(**asked))
    assert isinstance(made, Tray)
    return made


@cache
def solid(made: Tray) -> cadquery.Solid:
    """The solid of a tray, unchecked."""
    return block_solid(made.block())
