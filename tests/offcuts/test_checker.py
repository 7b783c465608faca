"""The checker accepts sound layouts and rejects every way of spoiling one."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from rosette.offcuts.free import free_layout
from rosette.offcuts.model import Layout, Offcut, Placement, Point
from rosette.offcuts.strip import strip_layout
from tests.offcuts.checker import faults
from tests.offcuts.sizes import TWENTY_FOUR

KERF = 1.0
OFFCUT = Offcut(
    id="S2",
    outline=((0, 0), (150, 0), (146, 62), (3, 70)),
    defects=(((40, 10), (46, 10), (46, 16), (40, 16)),),
)
LAYOUT = strip_layout(OFFCUT, TWENTY_FOUR, kerf=KERF)
FREE = free_layout(OFFCUT, TWENTY_FOUR, kerf=KERF)


def check(layout: Layout, offcut: Offcut = OFFCUT) -> list[str]:
    return faults(offcut, TWENTY_FOUR, layout, kerf=KERF)


def moved(one: Placement, dx: float, dy: float) -> Placement:
    def there(point: Point) -> Point:
        return (point[0] + dx, point[1] + dy)

    a, b, c, d = map(there, one.vertices)
    return replace(one, centre=there(one.centre), vertices=(a, b, c, d))


def turned(one: Placement, degrees: float) -> Placement:
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    x, y = one.centre

    def there(point: Point) -> Point:
        u, v = point[0] - x, point[1] - y
        return (x + cos * u - sin * v, y + sin * u + cos * v)

    a, b, c, d = map(there, one.vertices)
    return replace(one, vertices=(a, b, c, d))


def scaled(one: Placement, by: float) -> Placement:
    x, y = one.centre
    a, b, c, d = ((x + (u - x) * by, y + (v - y) * by) for u, v in one.vertices)
    return replace(one, vertices=(a, b, c, d))


def with_wedge(change: Callable[[Placement], Placement], at: int = 4) -> Layout:
    some = list(LAYOUT.placements)
    some[at] = change(some[at])
    return replace(LAYOUT, placements=tuple(some))


def test_what_the_solvers_give_is_sound() -> None:
    assert LAYOUT.placed >= 10
    assert check(LAYOUT) == []
    assert FREE.placed >= LAYOUT.placed
    assert check(FREE) == []


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        (lambda one: moved(one, 0, 0.01), "apart"),
        (lambda one: moved(one, 300, 0), "outside the wood"),
        (lambda one: turned(one, 0.01), "off the grain"),
        (lambda one: turned(one, 180), "off the grain"),
        (lambda one: scaled(one, 0.999), "height"),
        (lambda one: scaled(one, 1.001), "height"),
        (lambda one: replace(one, flipped=not one.flipped), "off the grain"),
        (lambda one: replace(one, turn=1.0), "its turn"),
        (lambda one: replace(one, order=77), "orders"),
        (lambda one: replace(one, centre=(one.centre[0] + 1, one.centre[1])), "centre"),
        (lambda one: replace(one, vertices=one.vertices[::-1]), "changed over"),
        (lambda one: replace(one, vertices=one.vertices[1:] + one.vertices[:1]), "inner width"),
    ],
)
def test_a_wedge_out_of_place_is_found(
    change: Callable[[Placement], Placement], fault: str
) -> None:
    found = check(with_wedge(change))
    assert any(fault in one for one in found), found


def test_a_knot_under_a_wedge_is_found() -> None:
    x, y = LAYOUT.placements[3].centre
    knot = ((x, y), (x + 0.5, y), (x, y + 0.5))
    found = check(LAYOUT, replace(OFFCUT, defects=(*OFFCUT.defects, knot)))
    assert any("reaches over" in one for one in found), found
    drilled = check(LAYOUT, replace(OFFCUT, holes=(knot,)))
    assert any("reaches over" in one for one in drilled), drilled


def test_a_wider_kerf_and_another_grain_are_found() -> None:
    assert any("apart" in one for one in faults(OFFCUT, TWENTY_FOUR, LAYOUT, kerf=KERF + 0.01))
    assert any("off the grain" in one for one in check(LAYOUT, replace(OFFCUT, grain=0.1)))


def test_two_ways_up_are_found_where_one_was_asked_for() -> None:
    found = faults(OFFCUT, TWENTY_FOUR, LAYOUT, kerf=KERF, one_way=True)
    assert "not all the same way up" in found


def test_a_bound_below_the_wedges_is_found() -> None:
    assert any("bound" in one for one in check(replace(LAYOUT, bound=LAYOUT.placed - 1)))


@pytest.mark.parametrize("step", range(1, len(LAYOUT.cuts) + 1))
def test_a_cut_left_out_is_found(step: int) -> None:
    left = [cut for cut in LAYOUT.cuts if cut.step != step]
    cuts = tuple(replace(cut, step=number) for number, cut in enumerate(left, 1))
    found = check(replace(LAYOUT, cuts=cuts))
    assert any("piece of its own" in one or "from edge to edge" in one for one in found), found


@pytest.mark.parametrize("step", range(1, len(LAYOUT.cuts) + 1))
def test_a_cut_beside_its_line_is_found(step: int) -> None:
    cuts = list(LAYOUT.cuts)
    cut = cuts[step - 1]
    dx, dy = (0.05, 0.0) if cut.kind == "crosscut" else (0.0, 0.05)
    cuts[step - 1] = replace(
        cut,
        start=(cut.start[0] + dx, cut.start[1] + dy),
        end=(cut.end[0] + dx, cut.end[1] + dy),
    )
    assert check(replace(LAYOUT, cuts=tuple(cuts)))


@pytest.mark.parametrize("step", range(1, len(LAYOUT.cuts) + 1))
def test_half_a_cut_is_found(step: int) -> None:
    cuts = list(LAYOUT.cuts)
    cut = cuts[step - 1]
    middle = ((cut.start[0] + cut.end[0]) / 2, (cut.start[1] + cut.end[1]) / 2)
    cuts[step - 1] = replace(cut, end=middle)
    assert any("from edge to edge" in one for one in check(replace(LAYOUT, cuts=tuple(cuts))))


def test_slants_before_crosscuts_are_found() -> None:
    cuts = tuple(replace(cut, step=n) for n, cut in enumerate(LAYOUT.cuts[::-1], 1))
    found = check(replace(LAYOUT, cuts=cuts))
    assert any("after a slant" in one for one in found)
    assert any("runs through wedges" in one or "edge to edge" in one for one in found)
