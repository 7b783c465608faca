"""Plans of every sort for proving fixtures: the same ones on every run, spread over the cases.

`generated(100)` gives a hundred plans, `sample(9)` some of them that differ as much as can be.
Solids to place in fixtures (blanks, ring, pins, bars) are in `tests.jigs.mates`, flat sections of
fixtures in `tests.jigs.flat`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from random import Random
from typing import Any

from rosette.design import read_design_text
from rosette.errors import CannotMakeError, InputError
from rosette.plan import Plan, make_plan

DESIGN = """
schema = 1
units = "{units}"
[instrument]
name = "Generated no. {number}"
soundhole_diameter = "{soundhole} mm"
top_thickness = "{top} mm"
{fingerboard}
[cutting]
kerf = "{kerf} mm"
inner_allowance = "{inner_allowance} mm"
outer_allowance = "{outer_allowance} mm"
[channel]
bit_diameter = "{channel_bit} mm"
gap = "{gap} mm"
[fixtures]
text = false
process = "{process}"
{clearance}
bit_diameter = "{bit} mm"
bed_width = "{bed_width} mm"
bed_depth = "{bed_depth} mm"
bar_width = "{bar_width} mm"
bar_depth = "{bar_depth} mm"
pivot_pin = {pin}
router_circle = "{circle} mm"
router_screws = {screws}
router_thread = {thread}
"""
RADIAL = """
[[ring]]
pattern = "radial"
{start}
width = "{width} mm"
segments = {segments}
wood = ["walnut", "maple"]
tile_thickness = "{thickness} mm"
backing = "{backing} mm"
at_centreline = "{centreline}"
glue_line = "{glue} mm"
{spacer}
"""
LINE = """
[[ring]]
pattern = "line"
{start}
width = "{width} mm"
wood = "maple"
tile_thickness = "{thickness} mm"
"""
PROCESSES = ("fdm", "fdm", "cnc", "plywood")
COUNTS = (3, 4, 5, 6, 7, 8, 10, 12, 15, 16, 18, 20, 24, 24, 30, 36, 36, 48, 60, 72, 90, 120)
BEDS = ((180, 180), (220, 220), (250, 210), (256, 256))
TRIES = 50
BARS = ((19.05, 9.5), (15.9, 6.35), (20.0, 8.0), (9.5, 9.5))


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A plan, its number among the generated, and the design it was made from."""

    number: int
    design: str
    plan: Plan

    def __str__(self) -> str:
        rings = "; ".join(
            f"{ring.wedges.segments if ring.wedges else 'line'} at {ring.inner_radius:g}"
            f"-{ring.outer_radius:g}"
            for ring in self.plan.rings
        )
        wishes = self.plan.fixtures
        return f"{self.number}: {wishes.process} {wishes.clearance:g}, {rings}"


def generated(count: int, first: int = 0) -> Iterator[Plan]:
    """The plans from number `first` on; the same number always gives the same plan."""
    return (case.plan for case in cases(count, first))


def cases(count: int, first: int = 0) -> Iterator[Case]:
    """The same with the designs they come from."""
    return (case_of(number) for number in range(first, first + count))


def sample(count: int, of: int = 100) -> list[Plan]:
    """Plans taken evenly out of the first `of`, by a step that meets every process and count."""
    step = max(1, of // count)
    while step > 1 and any(step % factor == 0 for factor in (2, 3, 11)):
        step -= 1
    return [case_of(number * step).plan for number in range(count)]


@cache
def case_of(number: int) -> Case:
    """The plan of one number; what can't be made is drawn again."""
    draw = Random(number)
    for _ in range(TRIES):
        design = _design(number, draw)
        try:
            plan = make_plan(read_design_text(design.encode(), "design.toml"))
        except (CannotMakeError, InputError):
            continue
        return Case(number=number, design=design, plan=plan)
    raise AssertionError(f"none of {TRIES} designs drawn for number {number} can be made")


def _design(number: int, draw: Random) -> str:
    rings, inner, thickest = _rings(number, draw)
    bed, bar = draw.choice(BEDS), draw.choice(BARS)
    process = PROCESSES[number % len(PROCESSES)]
    clearance = draw.choice((None, None, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4))
    board = draw.random() < 0.5
    values: dict[str, Any] = {
        "number": number,
        "units": "in" if number % 5 == 4 else "mm",
        "soundhole": round(2 * inner - draw.uniform(2, min(8, inner)), 2),
        "top": round(thickest + draw.uniform(1, 2.5), 2),
        "fingerboard": f'fingerboard_width = "{draw.choice((54, 57, 57.15))} mm"\n'
        f'fingerboard_reach = "{round(inner * draw.uniform(0.6, 0.95), 2)} mm"'
        if board
        else "",
        "kerf": draw.choice((0.3, 0.9, 1.0, 2.4, 3.2)),
        "inner_allowance": draw.choice((0, 0.5, 1, 1.5, 2)),
        "outer_allowance": draw.choice((0, 0.5, 1, 1.5, 2)),
        "channel_bit": draw.choice((0.8, 1.6, 3.175, 6.35)),
        "gap": draw.choice((0, 0.05, 0.1)),
        "process": process,
        "clearance": "" if clearance is None else f'clearance = "{clearance} mm"',
        "bit": draw.choice((1.5, 2.0, 3.175, 6.35)),
        "bed_width": bed[0],
        "bed_depth": bed[1],
        "bar_width": bar[0],
        "bar_depth": bar[1],
        "pin": draw.choice((3, 4, 5, 6, 6, 8)),
        "circle": draw.choice((44, 50, 60, 70, 90)),
        "screws": draw.choice((2, 3, 4)),
        "thread": draw.choice((3, 4, 5, 6)),
    }
    return DESIGN.format(**values) + rings


def _rings(number: int, draw: Random) -> tuple[str, float, float]:
    """The rings' tables, the innermost radius and the greatest thickness with backing."""
    usual = number % 3 < 2
    inner = round(draw.uniform(44, 60) if usual else draw.uniform(14, 75), 2)
    start, found, thickest = f'inner_radius = "{inner} mm"', "", 0.0
    kinds = draw.choice((("radial",),) * 3 + (("line", "radial", "line"), ("radial", "radial")))
    for i, kind in enumerate(kinds):
        thickness = draw.choice((0.9, 1.6, 2.2, 2.5, 3.0))
        backing = draw.choice((0, 0, 0, 0.5))
        if kind == "line":
            width = draw.choice((1.6, 2.0, 3.5))
            found += LINE.format(start=start, width=width, thickness=thickness)
        else:
            spacer = draw.choice((0, 0, 0.2, 0.5, 1))
            found += RADIAL.format(
                start=start,
                width=round(draw.uniform(8, 22) if usual else draw.uniform(3, 30), 2),
                segments=COUNTS[(number * 5 + i) % len(COUNTS)],
                thickness=thickness,
                backing=backing,
                centreline=("joint", "wedge")[number // 4 % 2],
                glue=draw.choice((0, 0.05)),
                spacer=f'spacer = {{ wood = "maple", thickness = "{spacer} mm" }}'
                if spacer
                else "",
            )
        thickest = max(thickest, thickness + backing)
        # rings that touch share a channel; others have one of their own
        start = f'space = "{draw.choice((0, 0, 2, 4.5))} mm"'
    return found, inner, thickest
