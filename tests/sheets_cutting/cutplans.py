"""Cutting plans for sheets to draw: a ruler's rectangles and scraps, many wedges and few."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

from rosette.offcuts.cutplan import CuttingPlan
from rosette.offcuts.cutting import cut
from rosette.offcuts.model import Offcut
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Stock
from rosette.plan import make_plan
from rosette.plan.model import Plan
from tests.offcuts.scraps import scrap
from tests.properties.designs import design, line, radial

KNOT = ((40.0, 10.0), (52.0, 8.0), (55.0, 21.0), (43.0, 24.0))
LONG_NAME = "the long piece under the window, left of the vice"
INCHES: dict[str, Any] = {
    "units": "in",
    "instrument": {
        "soundhole_diameter": 3.6,
        "top_thickness": 0.14,
        "fingerboard_width": 2.2,
        "fingerboard_reach": 1.8,
    },
    "cutting": {"kerf": 0.035, "inner_allowance": 0.06, "outer_allowance": 0.06},
    "channel": {"bit_diameter": 0.04, "proud": 0.008, "gap": 0.002, "minimum_floor": 0.03},
}


def rectangle(name: str, length: float, width: float, **more: Any) -> Offcut:
    """An offcut measured with a ruler, its grain along its length."""
    outline = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return replace(
        Offcut(id=name, outline=outline, wood="walnut", thickness=2.4), **more
    )  # fmt: skip


def scraps(*seeds: int, wood: str = "walnut") -> list[Offcut]:
    """Invented scraps of one wood."""
    return [replace(scrap(seed), wood=wood, thickness=2.4) for seed in seeds]


def cutting(
    plan: Plan, offcuts: Sequence[Offcut], *, count: int = 1, **options: Any
) -> CuttingPlan:
    """The plan's wedges and two spares of each kind out of these offcuts."""
    stock = [Stock(wood=one, count=count) for one in offcuts]
    return cut(plan, stock, CutOptions(**{"spares": 2, **options}))


def _rings(*rings: dict[str, Any], **tables: Any) -> Plan:
    return make_plan(design([*rings], **tables))


def _one(**keys: Any) -> Plan:
    return _rings(radial(**keys), line())


def _two_rings() -> Plan:
    return _rings(
        radial(segments=24, width=9.0, wood=["walnut", "maple"]),
        radial(segments=48, inner_radius=None, width=6.0, tile_thickness=2.0),
    )


def _inches() -> Plan:
    return _rings(radial(segments=24, inner_radius=2.1, width=0.7, tile_thickness=0.09), **INCHES)


MAKERS: dict[str, Callable[[], tuple[Plan, CuttingPlan]]] = {}


def _case(
    name: str, plan: Callable[[], Plan], offcuts: Callable[[], Sequence[Offcut]], **how: Any
) -> None:
    def make() -> tuple[Plan, CuttingPlan]:
        made = plan()
        return made, cutting(made, offcuts(), **how)

    MAKERS[name] = make


_case(
    "rectangles, both faces",
    _one,
    lambda: [
        rectangle("S1", 120.0, 60.0, defects=(KNOT,)),
        rectangle("S2", 60.0, 90.0),
        rectangle("S3", 20.0, 40.0),
    ],
    faces="both",
)
_case("bent scraps", lambda: _one(segments=24), lambda: scraps(1, 2, 5, 7, 11, 12))
_case("bent scraps, one way up", _one, lambda: scraps(5, 13, 14), keep_neighbours=True)
_case(
    "bent scraps, tilted",
    lambda: _one(segments=30),
    lambda: scraps(3, 6, 15),
    grain_tolerance=4.0,
)
_case("free", lambda: _one(segments=24), lambda: scraps(3, 4, 8), method="free")
_case(
    "free, few and sharp",
    lambda: _one(segments=6, inner_radius=50.0, width=14.0),
    lambda: [rectangle("A", 95.0, 170.0), rectangle("B", 60.0, 160.0, grain=20.0)],
    method="free",
    grain_tolerance=10.0,
)
_case("one long strip", lambda: _one(segments=60), lambda: [rectangle("L", 24.0, 900.0)])
_case("long along the grain", _one, lambda: [rectangle(LONG_NAME, 620.0, 24.0)])
_case(
    "a hundred and eighty",
    lambda: _one(segments=180, width=8.0),
    lambda: [rectangle("S1", 44.0, 200.0, grain=97.0), rectangle("S2", 60.0, 90.0)],
)
_case(
    "hair-thin",
    lambda: _one(segments=200, width=1.5, inner_radius=60.0),
    lambda: [rectangle("S1", 30.0, 130.0), *scraps(21)],
)
_case(
    "tiny pieces",
    _one,
    lambda: [
        rectangle("T1", 21.5, 14.0),
        rectangle("T2", 22.0, 26.0),
        rectangle("T3", 47.0, 14.5),
    ],
    count=2,
)
_case(
    "few and large",
    lambda: _one(segments=5, inner_radius=50.0, width=20.0),
    lambda: [rectangle("A", 60.0, 230.0), rectangle("B", 90.0, 120.0)],
)
_case(
    "in inches", _inches, lambda: [rectangle("S1", 130.0, 60.0, defects=(KNOT,)), *scraps(31, 32)]
)
_case("two rings, two woods", _two_rings, lambda: [*scraps(9, 10, 16), *scraps(17, wood="maple")])
_case("a large box", _one, lambda: scraps(*range(40, 64)))
_case("too little", _one, lambda: [rectangle("S/1: *?", 70.0, 60.0)])


@cache
def case(name: str) -> tuple[Plan, CuttingPlan]:
    return MAKERS[name]()
