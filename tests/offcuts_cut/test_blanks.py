"""Blanks of other patterns out of offcuts: sizes, grain and room, by plane geometry alone."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
import shapely

from rosette.cutting_report import cutting_report
from rosette.design import read_design_text
from rosette.offcuts.cutplan import CuttingPlan
from rosette.offcuts.cutting import cut
from rosette.offcuts.model import Offcut
from rosette.offcuts.options import CutOptions
from rosette.offcuts.supply import Stock
from rosette.plan import make_plan
from rosette.plan.model import Plan

DESIGN = """
schema = 1
[instrument]
name = "Blanks"
soundhole_diameter = 90
top_thickness = 3.3
[cutting]
kerf = 0.9
[channel]
bit_diameter = 3.175
[[ring]]
inner_radius = 54
width = 13
tile_thickness = 2.0
{keys}
"""
CHEVRON = 'pattern = "chevron"\nsegments = 24\nangle = 35\nwood = "walnut"'
PLIES = (
    'pattern = "chevron"\nsegments = 24\nangle = 35\n'
    'plies = [{ wood = "walnut", thickness = 1.8 }, { wood = "maple", thickness = 0.9 }]'
)
PAIRS = 'pattern = "radial"\nsegments = 24\nwood = "walnut"\nmirrored_pairs = true'


def _plan(keys: str) -> Plan:
    return make_plan(read_design_text(DESIGN.format(keys=keys).encode()))


def _box() -> list[Stock]:
    outlines = [
        ((0.0, 0.0), (310.0, 0.0), (300.0, 74.0), (5.0, 90.0)),
        ((0.0, 0.0), (420.0, 10.0), (420.0, 80.0), (0.0, 110.0)),
        ((0.0, 0.0), (500.0, 0.0), (500.0, 120.0), (0.0, 120.0)),
    ]
    return [
        Stock(
            wood=Offcut(id=f"{wood}{i}", outline=one, grain=grain, wood=wood, thickness=9.0),
            count=2,
        )
        for wood in ("walnut", "maple")
        for i, (one, grain) in enumerate(zip(outlines, (0.0, 20.0, -95.0), strict=True))
    ]


def wrong(plan: Plan, cutting: CuttingPlan) -> list[str]:
    """What is wrong with the blanks that a cutting plan lays out; empty where nothing is."""
    asked = {p.label: (b, p) for ring in plan.rings for b in ring.blanks for p in b.places}
    found = [f"{label} is missing" for label in asked.keys() - {w.label for w in cutting.wedges}]
    for piece in cutting.touched:
        wood = shapely.Polygon(piece.wood.outline).buffer(1e-6)
        shapes = {}
        for wedge in piece.wedges:
            blank, _ = asked[wedge.label]
            a, b, c, d = wedge.vertices
            shapes[wedge.label] = shapely.Polygon(wedge.vertices)
            if not wood.contains(shapes[wedge.label]):
                found.append(f"{wedge.label} stands out of its wood")
            if wedge.wood != blank.wood or wedge.name != blank.name:
                found.append(f"{wedge.label} is of the wrong kind")
            ends = sorted((math.dist(a, b), math.dist(c, d)))
            if ends != pytest.approx(sorted((blank.inner_width, blank.outer_width)), abs=1e-6):
                found.append(f"{wedge.label} is {ends} wide")
            inner, outer = (
                ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2),
                ((c[0] + d[0]) / 2, (c[1] + d[1]) / 2),
            )
            if abs(math.dist(inner, outer) - blank.height) > 1e-6:
                found.append(f"{wedge.label} is {math.dist(inner, outer)} long")
            axis = math.degrees(math.atan2(outer[1] - inner[1], outer[0] - inner[0]))
            off = (axis + blank.grain - piece.wood.grain + 90.0) % 180.0 - 90.0
            if abs(off) > 1e-6:
                found.append(f"the grain of {wedge.label} is {off} degrees off")
        for one, two in itertools.combinations(shapes, 2):
            apart = shapes[one].distance(shapes[two])
            if apart < cutting.kerf - 1e-6:
                found.append(f"{one} and {two} are {apart} apart")
    return found


@pytest.mark.parametrize("keys", [CHEVRON, PLIES, PAIRS], ids=["chevron", "plies", "pairs"])
@pytest.mark.parametrize("method", ["strip", "free"])
def test_every_blank_comes_out_with_its_grain(keys: str, method: str) -> None:
    plan = _plan(keys)
    options = CutOptions(method=method, effort=200)  # type: ignore[arg-type]
    cutting = cut(plan, _box(), options)
    assert wrong(plan, cutting) == []
    assert cutting.complete
    told = cutting_report(cutting)
    assert all(blank.name in told for blank in plan.rings[0].blanks if blank.name != "wedge")


def test_grain_that_leans_the_other_way_is_seen() -> None:
    """Both kinds of a chevron's wedges are asked for, and one is not the other."""
    plan = _plan(CHEVRON)
    left, right = plan.rings[0].blanks
    assert left.grain == -right.grain != 0.0
    cutting = cut(plan, _box(), CutOptions())
    swapped = replace(
        plan,
        rings=(
            replace(
                plan.rings[0],
                blanks=(replace(left, places=right.places), replace(right, places=left.places)),
            ),
        ),
    )
    assert len([one for one in wrong(swapped, cutting) if "grain" in one]) == 24


def test_blanks_that_lean_unequally_are_left_to_the_hand_and_told_of() -> None:
    plan = _plan('pattern = "radial"\nsegments = 24\nwood = "walnut"\nskew = 12')
    cutting = cut(plan, _box(), CutOptions())
    assert not cutting.wedges
    assert "by-hand" in {one.code for one in cutting.warnings}
