"""Gauges tried on wedges, rings and channels that are right, and on others that are not, as solids.

What is right comes from the plan: the blank, the radii, the gap, the depth. Every limit is tried
from both sides, a few thousandths of a millimetre off it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from shapely.geometry import LineString, Point, Polygon

from jigs.base import Fixture
from jigs.block_solid import block_solid
from jigs.gauges import ChannelGauge, RingGauge, WedgeGauge
from jigs.gauges_channel import plates
from jigs.terrace import Block, Step
from rosette.geometry.outline import circle
from rosette.patterns.base import Blank
from rosette.plan import Plan
from rosette.plan.model import Channel
from tests.jigs.flat import cut
from tests.jigs.mates import TOUCH, annulus, shared

FIT = 0.01
HAIR = 0.005
"""How near to a limit it is tried (mm)."""


def misfits(plan: Plan, fixture: Fixture, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What is wrong with a gauge."""
    solids = [solid for _, solid in bodies]
    if isinstance(fixture, WedgeGauge):
        return wedge_misfits(plan, fixture)
    if isinstance(fixture, RingGauge):
        return arm_misfits(plan, fixture) + straddling_misfits(plan, fixture, bodies)
    assert isinstance(fixture, ChannelGauge)
    places = [part.places[0] for part, _ in bodies]
    home = [
        solid.translate((-place.x, -place.y, -place.z))
        for solid, place in zip(solids, places, strict=True)
    ]
    return channel_misfits(plan, fixture, home)


# wedges


def wedge_misfits(plan: Plan, gauge: WedgeGauge) -> list[str]:
    """Where the outer end of wedges comes to stand that are right, and off by what is allowed."""
    ring = plan.rings[int(gauge.name.split("-")[1]) - 1]
    assert ring.wedges is not None
    blank, slope = ring.wedges.blank, math.tan(math.pi / ring.wedges.segments)
    half = min(ring.wedges.inner_allowance, ring.wedges.outer_allowance) / 2.0
    allowed = min(1.0, max(0.2, half))
    plate = cut(gauge.parts()[0].block, gauge.thick / 2.0)
    high, low = _shoulders(plate)
    found = []
    end = _sunk(plate, blank, 0.0)
    if abs(end - (high + low) / 2.0) > FIT:
        found.append(f"a right wedge ends at {end}, between shoulders at {low} and {high}")
    for off, name, right in (
        (allowed - 0.02, "wide", True),
        (allowed + 0.02, "wide", False),
        (0.02 - allowed, "narrow", True),
        (-allowed - 0.02, "narrow", False),
    ):
        end = _sunk(plate, blank, 2.0 * off * slope)
        if (low <= end <= high) is not right:
            found.append(f"a wedge too {name} by {off} of radius ends at {end}, {low} to {high}")
    return found + _touching(plate, blank)


def _shoulders(plate: Polygon) -> tuple[float, float]:
    """The heights of the high shoulder, to the left, and of the low one."""
    left, _, right, _ = plate.bounds
    heights = []
    for x in (left + 1.0, right - 1.0):
        heights.append(plate.intersection(LineString([(x, -1e3), (x, 1e3)])).bounds[3])
    return heights[0], heights[1]


def _blank(blank: Blank, wider: float, outer: float) -> Polygon:
    """A blank with its axis along +y, its outer end at a height."""
    a, b = (blank.inner_width + wider) / 2.0, (blank.outer_width + wider) / 2.0
    inner = outer - blank.height
    return Polygon([(-a, inner), (a, inner), (b, outer), (-b, outer)])


def _sunk(plate: Polygon, blank: Blank, wider: float) -> float:
    """Where the outer end stands when a blank is let down into the notch as far as it goes."""
    low, high = plate.bounds[1], plate.bounds[3] + blank.height
    while high - low > 1e-6:
        middle = (low + high) / 2.0
        if _blank(blank, wider, middle).intersection(plate).area > 1e-9:
            low = middle
        else:
            high = middle
    return high


def _touching(plate: Polygon, blank: Blank) -> list[str]:
    """Both sides of a right wedge bear along all that is in the notch."""
    there = _blank(blank, 0.0, _sunk(plate, blank, 0.0))
    band = plate.buffer(0.003)
    corners = list(there.exterior.coords)
    found = []
    for name, side in (("right", corners[1:3]), ("left", corners[3:5])):
        line = LineString(side)
        if line.intersection(band).length < 0.9 * line.length:
            found.append(f"the {name} side of a right wedge does not bear")
    return found


# rings


def arm_misfits(plan: Plan, gauge: RingGauge) -> list[str]:
    """The arm's ends and its window's, along rays from the pivot, and the pin in its hole."""
    ring, gap = _ring_of(plan, gauge)
    arm = cut(gauge.parts()[0].block, gauge.thick / 4.0)
    short = max(gap, 0.05)
    inner, outer = ring.inner_radius, ring.outer_radius
    found = []
    for name, turn, wanted in (
        ("go", 2.0, (inner - gap / 2.0, outer + gap / 2.0)),
        ("no-go", -2.0, (inner + short, outer - short)),
    ):
        ray = LineString(
            [(0, 0), (1e3 * math.cos(math.radians(turn)), 1e3 * math.sin(math.radians(turn)))]
        )
        pieces = list(ray.intersection(arm).geoms)
        ends = [math.hypot(*pieces[-1].coords[i]) for i in (0, -1)]
        if any(abs(a - b) > FIT for a, b in zip(ends, wanted, strict=True)):
            found.append(f"the {name} half of the arm runs from {ends} and not {wanted}")
    off = Point(0, 0).distance(arm) - plan.fixtures.pivot_pin / 2.0
    if abs(off - gauge.process.slide) > FIT:
        found.append(f"the pin stands off by {off}")
    return found


def _ring_of(plan: Plan, gauge: RingGauge) -> tuple[Any, float]:
    ring = plan.rings[int(gauge.name.split("-")[1]) - 1]
    return ring, next(one.gap for one in plan.channels if ring.index in one.rings)


def straddling_misfits(plan: Plan, gauge: RingGauge, bodies: list[tuple[Any, Any]]) -> list[str]:
    """The plate on edge over rings that are as fat and as narrow as can be, and a hair more."""
    ring, gap = _ring_of(plan, gauge)
    part, solid = bodies[1]
    short = max(gap, 0.05)
    flat = cut(part.block, gauge.thick / 4.0)
    level = LineString([(-1.0, gauge.deep / 4.0), (1e3, gauge.deep / 4.0)])
    legs = [one.bounds for one in level.intersection(flat).geoms]
    place = part.places[0]
    home = solid.translate((-place.x, -place.y, -place.z))
    up = home.rotate((0, 0, 0), (1, 0, 0), 90).translate((0, gauge.thick / 2.0, 0))
    found = []
    for name, slot, off, goes in (
        ("go", 0, gap / 2.0 - HAIR, True),
        ("go", 0, gap / 2.0 + HAIR, False),
        ("no-go", 1, -short + HAIR, False),
        ("no-go", 1, -short - HAIR, True),
    ):
        inner, outer = ring.inner_radius - off, ring.outer_radius + off
        mate = annulus(inner, outer, 0.0, ring.tile_thickness + ring.backing)
        # the ring's inner edge meets the leg with the plate's two faces
        edge = math.sqrt(inner**2 - gauge.thick**2 / 4.0) - 1e-4
        # the other slot outside the ring, where there is room for it
        there = up if slot == 0 else up.rotate((0, 0, 0), (0, 0, 1), 180)
        face = legs[0][2] if slot == 0 else -legs[2][0]
        there = there.translate((edge - face, 0, 0))
        if (shared(mate, there) < TOUCH) is not goes:
            found.append(f"the {name} slot over a ring {off} fatter at each edge: {not goes}")
    return found


# channels


def channel_misfits(plan: Plan, gauge: ChannelGauge, solids: list[Any]) -> list[str]:
    """Every tongue on edge in channels at their limits, and a hair more."""
    channel = plan.channels[gauge.channel.index - 1]
    deep = min(0.1, max(0.05, channel.proud / 2.0))
    half, wide = channel.gap / 2.0, max(channel.gap, 0.05)
    found = []
    for one, solid, step in zip(plates(gauge), solids, channel.steps, strict=True):
        shallow = min(0.1, step.depth / 2.0)
        # without a gap the right channel is the tightest: a hair more than that
        right = 0.0 if half > HAIR else HAIR
        tries = [
            ("go", 0.0, right, 0.0, True),
            ("go", 0.0, HAIR - half, 0.0, True),
            ("go", 0.0, -HAIR - half, 0.0, False),
            ("go", 0.0, right, HAIR - shallow, True),
            ("go", 0.0, right, -HAIR - shallow, False),
            ("no-go", 180.0, 0.0, 0.0, False),
            ("no-go", 180.0, wide - HAIR, 0.0, False),
            ("no-go", 180.0, wide + HAIR, 0.0, True),
        ]
        if one.feeler:
            tries += [
                ("too deep", 90.0, 0.0, 0.0, False),
                ("too deep", 90.0, 0.0, deep - HAIR, False),
                ("too deep", 90.0, 0.0, deep + HAIR, True),
            ]
        for name, turn, wider, deeper, goes in tries:
            wood = _wood(channel, wider, deeper)
            width = {"go": one.go, "no-go": one.no}.get(name)
            start = step.inner_radius - wider + 1e-4
            middle = start + width.width / 2.0 if width else one.feeler_radius
            there = _on_edge(solid, turn, gauge.thick, one.half, middle)
            if (shared(wood, there) < TOUCH) is not goes:
                found.append(
                    f"plate {one.number}, {name}: in a channel {wider} wider at each wall and"
                    f" {deeper} deeper it is {not goes} that it goes"
                )
    return found


def _on_edge(solid: Any, turn: float, thick: float, half: float, radius: float) -> Any:
    """A plate on edge over the line to the pivot, a tongue down, its shoulders at height 0."""
    turned = solid.rotate((0, 0, 0), (0, 0, 1), turn).rotate((0, 0, 0), (1, 1, 1), -120)
    return turned.translate((radius, -thick / 2.0, half + 1e-5))


def _wood(channel: Channel, wider: float, deeper: float) -> Any:
    """The top with the channel in it, its face at height 0."""
    steps = [
        (one.inner_radius - wider, one.outer_radius + wider, one.depth + deeper)
        for one in channel.steps
    ]
    radii = sorted({round(r, 9) for a, b, _ in steps for r in (a, b)})

    def depth(radius: float) -> float:
        return max((d for a, b, d in steps if a < radius < b), default=0.0)

    bands = [(b, depth((a + b) / 2.0)) for a, b in zip([0.0, *radii], radii, strict=False)]
    top = 2.0 * max(d for _, _, d in steps)
    nested: tuple[Step, ...] = ()
    above = None
    for i, (radius, depth_there) in enumerate(bands):
        outside = bands[i + 1][1] if i + 1 < len(bands) else 0.0
        if depth_there == outside:
            continue
        nested = (Step(outline=circle(radius), top=top - depth_there, steps=nested),)
        above = radius
    assert above is not None
    block = Block(outline=circle(radii[-1] + 30.0), top=top, steps=nested)
    return block_solid(block).translate((0, 0, -top))


def tries_of(gauge: ChannelGauge) -> Iterator[str]:
    """What a gauge tells, for tests that count."""
    for one in plates(gauge):
        yield from ("go", "no-go", *(("too deep",) if one.feeler else ()))
