"""The pivot plate under its router, on its pin, with the bit at every radius of the plan.

Holes are found in the block's own section; what they should be comes from the plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations
from typing import Any

from shapely.geometry import Polygon

from jigs.base import Fixture
from jigs.hardware import CLEARANCE_HOLES, PARALLEL_PINS, SOCKET_HEADS
from jigs.pivot_plate import PivotPlate
from rosette.plan import Plan
from rosette.plan.model import Channel
from tests.jigs.flat import cut, disc
from tests.jigs.mates import TOUCH, distance, pin, shared, together

FIT = 0.01
EXACT = 1e-4
"""Sections are flattened; a hole's middle is still true to this (mm)."""
LEAST_WEB = 1.99
MOST = 8
"""Pins that are held against the plate as solids."""


def misfits(plan: Plan, fixture: Fixture, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What is wrong with a plate; empty where nothing is."""
    assert isinstance(fixture, PivotPlate)
    return plane_misfits(plan, fixture) + solid_misfits(plan, fixture, bodies)


def channel_of(plan: Plan, made: PivotPlate) -> Channel:
    """The channel that a plate is for."""
    return next(one for one in plan.channels if made.name == f"channel-{one.index}-pivot-plate")


def wanted(plan: Plan, channel: Channel) -> dict[str, float]:
    """The radii that the plan asks for, from the finished edges that they must give."""
    half = channel.bit_diameter / 2.0
    found = {f"pass {i}": one.pivot_radius for i, one in enumerate(channel.passes)}
    for step in channel.steps:
        found[f"the outer wall of {step.rings}"] = step.outer_radius - half
        found[f"the inner wall of {step.rings}"] = step.inner_radius + half
    for ring in plan.wedge_rings:
        if ring.index in channel.rings:
            found[f"outside of ring {ring.index}"] = ring.outer_radius + half
            found[f"inside of ring {ring.index}"] = ring.inner_radius - half
    if channel.index == 1:
        found["soundhole"] = plan.soundhole_diameter / 2.0 - half
    return found


def plane_misfits(plan: Plan, made: PivotPlate) -> list[str]:
    """What level cuts tell."""
    channel = channel_of(plan, made)
    upper = cut(made.block(), made.sink_depth + 0.1)
    holes = [Polygon(one) for one in upper.interiors]
    openings = [one for one in holes if one.contains(disc(channel.bit_diameter / 2.0))]
    across = plan.fixtures.pivot_pin + 2.0 * made_clearance(plan)
    screws = [disc(1.0, at) for at in made.screws]
    others = [*openings, *(one for one in holes if any(one.contains(at) for at in screws))]
    pins = [one for one in holes if one not in others and _is_round(one, across)]
    return [
        *_opening(channel, openings),
        *_radii(plan, channel, made, pins),
        *_apart(upper, holes),
        *_screws(plan, made, upper),
    ]


def made_clearance(plan: Plan) -> float:
    """The sliding fit asked for."""
    return plan.fixtures.clearance


def _is_round(hole: Polygon, across: float) -> bool:
    left, low, right, high = hole.bounds
    return abs(right - left - across) < FIT and abs(high - low - across) < FIT


def _opening(channel: Channel, openings: list[Polygon]) -> Iterator[str]:
    if len(openings) != 1:
        yield f"{len(openings)} openings for the bit"
        return
    off = openings[0].exterior.distance(disc(channel.bit_diameter / 2.0))
    if off < 1.49:
        yield f"the bit turns {off} from the opening"
    if math.hypot(*openings[0].centroid.coords[0]) > EXACT:
        yield "the bit does not stand in the middle of its opening"


def _radii(plan: Plan, channel: Channel, made: PivotPlate, pins: list[Polygon]) -> Iterator[str]:
    """Every radius has its hole, and no pin stands in the way of the bit."""
    radii = [math.hypot(*one.centroid.coords[0]) for one in pins]
    told = " ".join(one.saying.text() for one in made.warnings)
    for name, radius in wanted(plan, channel).items():
        if min((abs(one - radius) for one in radii), default=radius) > EXACT and name not in told:
            yield f"no hole for {name}, {radius}"
    for radius in radii:
        if radius < (channel.bit_diameter + plan.fixtures.pivot_pin) / 2.0 + 1.0:
            yield f"the bit meets the pin at {radius}"
    if len(radii) != len(made.holes):
        yield f"{len(made.holes)} holes are listed and {len(radii)} are there"


def _apart(upper: Any, holes: list[Polygon]) -> Iterator[str]:
    for a, b in combinations(holes, 2):
        if a.distance(b) < LEAST_WEB:
            yield f"two holes have only {a.distance(b)} between them"
    for one in holes:
        if upper.exterior.distance(one) < LEAST_WEB:
            yield f"a hole is {upper.exterior.distance(one)} from the edge"


def _screws(plan: Plan, made: PivotPlate, upper: Any) -> Iterator[str]:
    """The router's screws, equally spaced on its circle, in some direction."""
    wishes = plan.fixtures
    lower = cut(made.block(), made.sink_depth - 0.1)
    turn = math.degrees(math.atan2(made.screws[0][1], made.screws[0][0]))
    for k in range(wishes.router_screws):
        angle = math.radians(turn + 360.0 * k / wishes.router_screws)
        at = (
            wishes.router_circle / 2.0 * math.cos(angle),
            wishes.router_circle / 2.0 * math.sin(angle),
        )
        if upper.intersects(disc(CLEARANCE_HOLES[wishes.router_thread][1] / 2.0 - FIT, at)):
            yield f"screw {k + 1} of the router does not go through"
        if lower.intersects(disc(SOCKET_HEADS[wishes.router_thread][0] / 2.0 + 0.05, at)):
            yield f"the head of screw {k + 1} does not go in"
        if not upper.intersects(disc(SOCKET_HEADS[wishes.router_thread][0] / 2.0, at)):
            yield f"the head of screw {k + 1} has nothing to bear on"
    if made.sink_depth < SOCKET_HEADS[wishes.router_thread][1] + 0.3:
        yield "the screws' heads scratch the soundboard"


def solid_misfits(plan: Plan, made: PivotPlate, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What solids tell: the pin in each hole in turn, the bit, the router's screws."""
    (_, plate), found = bodies[0], []
    channel, wishes = channel_of(plan, made), plan.fixtures
    bit = pin(channel.bit_diameter, -5.0, made.thickness + 10.0)
    shank, head = wishes.router_thread, SOCKET_HEADS[wishes.router_thread]
    mates = [bit]
    for at in made.screws:
        low = made.sink_depth - head[1]
        mates += [pin(shank, made.sink_depth, made.thickness + 5.0, at)]
        mates += [pin(head[0], low, made.sink_depth, at)]
    step = max(1, len(made.holes) // MOST)
    pins = [pin(wishes.pivot_pin, -8.0, made.thickness - 1.0, one.at) for one in made.holes[::step]]
    if shared(plate, together([*mates, *pins])) > TOUCH:
        found.append("bit, pin or screws reach into the plate")
    for one, solid in zip(made.holes[::step], pins, strict=True):
        off = distance(plate, solid)
        if abs(off - wishes.clearance) > FIT:
            found.append(f"the pin stands off by {off} at {one.radius}")
        if (
            abs(distance(bit, solid) - (one.radius - (channel.bit_diameter + wishes.pivot_pin) / 2))
            > FIT
        ):
            found.append(f"bit and pin are not {one.radius} apart")
    least = PARALLEL_PINS[wishes.pivot_pin][1] - wishes.pivot_pin
    if least > 2.0 * wishes.clearance:
        found.append("a pin of the greatest size does not go in")
    return found
