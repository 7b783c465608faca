"""Pivot plates: holes at the plan's radii, apart from one another, and the router on top."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from random import Random
from typing import Any

import pytest
from shapely.ops import unary_union

from jigs.base import Fixture
from jigs.block_solid import checked_solid
from jigs.pivot_plate import PivotPlate, fixtures
from jigs.pivot_plate_digits import number_steps, number_width
from jigs.pivot_plate_holes import Hole
from jigs.pivot_plate_shapes import around
from jigs.sound import problems
from jigs.terrace import Block
from rosette.design import read_design_text
from rosette.errors import Finding
from rosette.geometry.outline import Outline, polygon
from rosette.plan import Plan, make_plan
from tests.jigs.fit_pivot_plate import plane_misfits, solid_misfits
from tests.jigs.flat import disc, shape
from tests.jigs.plans import sample

DESIGN = """
schema = 1
[instrument]
name = "Pivot"
soundhole_diameter = {soundhole}
top_thickness = 4
[cutting]
kerf = 1
[channel]
bit_diameter = "1/8 in"
[fixtures]
text = {text}
process = "{process}"
clearance = 0.2
pivot_pin = {pin}
router_circle = {circle}
[[ring]]
pattern = "radial"
inner_radius = 54
width = 16
segments = 24
wood = "walnut"
tile_thickness = 2
"""
USUAL = {"soundhole": 96, "text": "false", "process": "fdm", "pin": 6, "circle": 70}


@cache
def _plan(**asked: Any) -> Plan:
    text = DESIGN.format(**{**USUAL, **asked})
    return make_plan(read_design_text(text.encode(), "design.toml"))


@cache
def _plate(**wishes: Any) -> PivotPlate:
    (made,) = fixtures(_plan(**wishes))
    assert isinstance(made, PivotPlate)
    return made


def test_plates_of_every_sort_have_a_hole_for_every_radius() -> None:
    made = [(of, one) for of in sample(10) for one in fixtures(of) if isinstance(one, Fixture)]
    assert len(made) > 8
    for of, one in made:
        assert isinstance(one, PivotPlate)
        assert (one.name, plane_misfits(of, one)) == (one.name, [])


def test_a_ring_is_trimmed_half_a_bit_beside_its_edges() -> None:
    """R 54 to 70 with a 1/8 in bit: 70 + 1.5875 and 54 - 1.5875, worked out by hand."""
    radii = [one.radius for one in _plate().holes]
    for wanted in (71.5875, 52.4125):
        assert min(abs(one - wanted) for one in radii) < 1e-9
    assert radii == sorted(radii)


def test_what_a_caliper_finds_between_opening_and_hole_gives_the_radius() -> None:
    made = _plate()
    across, opening, *webs = (one.size for one in made.checks())
    radii = [web + across / 2 + opening / 2 for web in webs]
    assert radii == pytest.approx([one.radius for one in made.holes], abs=1e-9)


def test_the_same_as_solids() -> None:
    (part,) = _plate().parts()
    solid = checked_solid(part, _plate().name)
    assert solid_misfits(_plan(), _plate(), [(part, solid)]) == []


def test_letters_tell_each_radius_and_leave_the_plate_sound() -> None:
    made = _plate(text="true")
    words = [float(one.label.text) for one in made.holes if one.label]
    assert words == pytest.approx([one.radius for one in made.holes], abs=0.00501)
    (part,) = made.parts()
    assert checked_solid(part, made.name).isValid()


def _moved(made: PivotPlate, by: float) -> tuple[Hole, ...]:
    first, *others = made.holes
    return (replace(first, radius=first.radius + by), *others)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"holes": _moved(_plate(), 0.02)}, "no hole for"),
        ({"holes": _plate().holes[1:]}, "no hole for"),
        ({"hole": 6.3}, "no hole for"),
        ({"opening": 2.0}, "from the opening"),
        ({"sink_depth": 4.1}, "scratch"),
        ({"sink_diameter": 6.8}, "does not go in"),
        ({"screws": ((30.0, 0.0), (-17.0, 30.0), (-17.0, -30.0))}, "does not go through"),
        ({"holes": (*_plate().holes, replace(_plate().holes[0], angle=4.0))}, "between them"),
    ],
    ids=["radius", "missing", "tight", "opening", "shallow", "narrow", "circle", "crowded"],
)
def test_a_plate_that_is_wrong_is_caught(changed: dict[str, Any], said: str) -> None:
    bad = replace(_plate(), **changed)
    assert any(said in one for one in plane_misfits(_plan(), bad))


def test_a_router_too_small_for_the_bit_gets_no_plate() -> None:
    (found,) = fixtures(_plan(circle=18))
    assert isinstance(found, Finding)
    assert (found.code, found.where) == ("no-pivot-plate", "fixtures.router_circle")
    assert "or more would do" in found.text()


def test_more_radii_than_go_round_the_bit_get_no_plate() -> None:
    of = _plan(process="plywood", pin=8)
    channel = of.channels[0]
    steps = [54.0 + 0.2 * i for i in range(80)]
    passes = tuple(replace(channel.passes[0], pivot_radius=radius) for radius in steps)
    (found,) = fixtures(replace(of, channels=(replace(channel, passes=passes),)))
    assert isinstance(found, Finding)
    assert (found.code, found.where) == ("no-pivot-plate", "channel[1]")
    assert "no room left" in found.text()


def test_a_soundhole_too_small_for_the_plate_is_told_apart() -> None:
    (made,) = fixtures(_plan(soundhole=20))
    assert isinstance(made, PivotPlate)
    assert [one.code for one in made.warnings] == ["pivot-plate-without"]
    assert "soundhole" in made.warnings[0].text()


def test_the_line_round_discs_is_their_convex_hull() -> None:
    """shapely's hull of flattened discs; a single disc, one in another and equal ones too."""
    draw = Random(7)
    groups = [[(3.0, 4.0, 2.0)], [(0.0, 0.0, 9.0), (1.0, 1.0, 2.0)]]
    for _ in range(60):
        count = draw.randint(2, 10)
        group = [
            (draw.uniform(-40, 40), draw.uniform(-40, 40), draw.uniform(1, 25))
            for _ in range(count)
        ]
        groups.append([*group, group[0]])
    for group in groups:
        hull = unary_union([disc(r, (x, y)) for x, y, r in group]).convex_hull
        found = shape(around(group))
        assert found.is_valid
        assert found.symmetric_difference(hull).area < 1e-3 * hull.area


def test_every_digit_is_drawn_inside_its_room_and_holds_together() -> None:
    text = "0123456789."
    steps = list(number_steps(text, middle=3.0, baseline=-1.0, height=5.0, top=8.0, depth=0.6))
    half = number_width(text, 5.0) / 2.0
    assert len(steps) == len(text)
    reach = [one.outline.bounds() for one in steps]  # type: ignore[union-attr]
    assert reach[0][0] == pytest.approx(3.0 - half)
    assert reach[-1][2] == pytest.approx(3.0 + half)
    assert all((one[1], one[3]) == pytest.approx((-1.0, 4.0)) for one in reach[:-1])
    assert [len(one.steps) for one in steps] == [1, 0, 0, 0, 0, 0, 1, 0, 2, 1, 0]
    plate = Block(outline=_round(half), top=8.0, steps=tuple(steps))
    assert problems(plate) == ()
    assert all(shape(one.outline).is_valid for one in steps)
    assert len({round(abs(one.outline.area()), 6) for one in steps}) > 6


def _round(half: float) -> Outline:
    """A plate round a line of digits about x = 3."""
    return polygon([(1 - half, -4), (5 + half, -4), (5 + half, 8), (1 - half, 8)])
