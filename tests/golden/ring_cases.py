"""Goldens of a rosette of one ring between two lines: the maps, the labels, the picture.

Their names are those that the first demo's sheets have.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from rosette.picture import picture
from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.sheets import assembly, labels, ring
from rosette.sheets.drawing import Drawing
from tests.properties.designs import design, line, radial


@cache
def _plan() -> Plan:
    wedges = radial(
        segments=12,
        width=16.0,
        wood=["walnut", "cherry"],
        spacer={"wood": "maple", "thickness": 0.5},
        at_centreline="wedge",
    )
    return make_plan(design([wedges, line(wood="ebony")]))


def named(name: str, made: Callable[[Plan], tuple[Drawing, ...]]) -> Callable[[], Drawing]:
    """A case: the drawing of that name among those that one sheet makes of this plan."""
    return lambda: next(drawing for drawing in made(_plan()) if drawing.name == name)


RING_CASES: dict[str, Callable[[], Drawing]] = {
    "ring-1": named("ring-1", ring.drawings),
    "rosette": named("rosette", ring.drawings),
    "assembly-1": named("assembly-1", assembly.drawings),
    "labels-1": named("labels-1", labels.drawings),
    "picture": lambda: picture(_plan()),
}
