"""Plug and pin in every slot and hole of the coupon: their room in the plane, themselves as solids.

All sides of plate, plug and pin are upright, so that the room between them is the same at every
height; a plug that goes in all the way passes through every place on its way in.
"""

from __future__ import annotations

from typing import Any

from shapely import affinity

from jigs.base import Fixture
from jigs.coupon import ALLOWANCES, Coupon
from jigs.letters import inside
from rosette.plan import Plan
from tests.jigs.flat import cut
from tests.jigs.mates import TOUCH, moved, shared, together

FIT = 0.01


def misfits(plan: Plan, fixture: Fixture, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What is wrong with plug and pin in the plate."""
    assert isinstance(fixture, Coupon)
    found = rooms_amiss(fixture, fixture)
    plate, *movers = (solid for _, solid in bodies)
    for (part, _), solid, y in zip(bodies[1:], movers, (0.0, fixture.holes), strict=True):
        (place,) = part.places
        home = moved(solid, by=(-place.x, -place.y, -place.z))
        # turned over above the plate, its top end goes down until it comes out below
        over = home.rotate((0, 0, 0), (1, 0, 0), 180)
        high = fixture.grip + fixture.tall - 1.0
        there = [moved(over, by=(fixture.middle(n), y, high)) for n in range(len(ALLOWANCES))]
        common = shared(plate, together(there))
        if common > TOUCH:
            found.append(f"the {part.name} reaches {common} mm³ into the plate")
    return found


def rooms_amiss(plate: Coupon, tried: Coupon) -> list[str]:
    """Slots and holes of one coupon in which plug or pin of another stand off by something else."""
    flat = cut(plate.parts()[0].block, plate.thick / 2.0)
    found = []
    for part, y in zip(tried.parts()[1:], (0.0, plate.holes), strict=True):
        plug = cut(part.block, tried.grip + 1.0)
        for number, allowed in enumerate(ALLOWANCES):
            there = affinity.translate(plug, plate.middle(number), y)
            off = there.distance(flat)
            if there.intersects(flat) or abs(off - allowed) > FIT:
                found.append(f"the {part.name} stands off by {off} and not by {allowed}")
    return found


def marks(of: Coupon, number: int) -> int:
    """How many marks stand in front of a slot, counted on the plate."""
    plate = of.parts()[0].block
    x, reach = of.middle(number), of.pitch / 2.0
    low = -of.length / 2.0 - ALLOWANCES[-1]
    field = [(x - reach, low), (x + reach, low), (x + reach, low - 20.0), (x - reach, low - 20.0)]
    return sum(inside(step.outline.points()[0], field) for step in plate.steps)
