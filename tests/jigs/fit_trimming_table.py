"""The glued ring on its trimming table: first the inner clamp on it, then, trimmed, the outer one.

The ring comes from the plan, untrimmed, with a flat for every wedge; the bit is the shape that it
sweeps while the plate turns.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from shapely import affinity
from shapely.geometry import Polygon
from shapely.ops import unary_union

from jigs.base import Fixture, Part, Place
from jigs.hardware import CLEARANCE_HOLES, NUTS, SOCKET_HEADS
from jigs.pivot_plate import PivotPlate, plate_for
from jigs.placing import at as placed_at
from jigs.terrace import Block
from jigs.trimming_table import INNER_SCREWS, OUTER_SCREWS, THREAD, TrimmingTable
from rosette.geometry.outline import Outline, at_angle, circle, polygon
from rosette.patterns.base import RingPlan
from rosette.plan import Plan
from tests.jigs.flat import cut, cut_at, disc, shape
from tests.jigs.mates import (
    TOUCH,
    annulus,
    glued_ring,
    hexagon,
    pin,
    prism,
    shared,
    together,
)

FIT = 0.01
FLAT = 1e-3
"""Common area in mm² up to which two flattened outlines only touch."""
OVERRUN = 1.0
"""How far the bit goes below the ring (mm), as docs/fixtures/trimming-table.md says."""


def misfits(plan: Plan, fixture: Fixture, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What is wrong with a table; empty where nothing is."""
    assert isinstance(fixture, TrimmingTable)
    return plane_misfits(plan, fixture) + solid_misfits(plan, fixture, bodies)


def ring_of(plan: Plan, made: TrimmingTable) -> RingPlan:
    """The ring that a table is for."""
    return next(one for one in plan.wedge_rings if made.name == f"ring-{one.index}-trimming-table")


def _bit(plan: Plan, ring: RingPlan) -> float:
    return next(one.bit_diameter for one in plan.channels if ring.index in one.rings)


def _rims(ring: RingPlan) -> tuple[Outline, Outline]:
    """The outer and the inner rim of the untrimmed ring: a flat for every wedge."""
    assert ring.wedges is not None
    blank, half = ring.wedges.blank, ring.wedges.mitre_angle
    joints = [one.axis + half for one in ring.pieces if one.axis is not None]
    outer, inner = (
        polygon(at_angle(one / math.cos(math.radians(half)), t) for t in sorted(joints))
        for one in (blank.outer_distance, blank.inner_distance)
    )
    return outer, inner


def _clamps(made: TrimmingTable) -> tuple[Part, Place, Part, Place]:
    _, inner, outer = made.parts()
    return inner, inner.places[0], outer, made.outer_clamp_place


def plane_misfits(plan: Plan, made: TrimmingTable) -> list[str]:
    """What level cuts tell."""
    ring, table = ring_of(plan, made), made.parts()[0].block
    inner, inner_place, outer, outer_place = _clamps(made)
    beside = beside_ring(made)
    rough = Polygon(_rims(ring)[0].points()).difference(Polygon(_rims(ring)[1].points()))
    trimmed = disc(ring.outer_radius).intersection(rough)
    upright = unary_union([_section(table, h) for h in (beside, made.top - 0.05)])
    return [
        *_named(_goes_in(rough, upright), "the ring"),
        *_named(_lands(ring, _section(table, made.land - 0.05)), "the land"),
        *_named(_foot(rough, cut_at(inner, inner_place, beside), made.slide), "the inner clamp"),
        *_named(_foot(trimmed, cut_at(outer, outer_place, beside), made.slide), "the outer clamp"),
        *_passes(plan, ring, made, rough),
        *_bears_on_ring(made),
        *_below_rim(made, inner, outer),
        *_pin(plan, made),
        *_turns_over(plan, ring, made),
    ]


@lru_cache(maxsize=16)
def _section(block: Block, height: float) -> Any:
    return cut(block, height)


@lru_cache(maxsize=4)
def _plate(plan: Plan, channel: int) -> PivotPlate | None:
    """The plate that turns over the table; None where its channel has none."""
    made = plate_for(plan, plan.channels[channel - 1])
    return made if isinstance(made, PivotPlate) else None


def beside_ring(made: TrimmingTable) -> float:
    """A height between the ring's faces."""
    return made.land + made.thickness / 2.0


def _named(found: Iterator[str], name: str) -> list[str]:
    return [f"{name} {one}" for one in found]


def _goes_in(rough: Any, upright: Any) -> Iterator[str]:
    """Seen from above the ring meets nothing that stands beside or above it."""
    if rough.distance(upright) < 0.2:
        yield f"comes within {rough.distance(upright)} of what stands up"


def _lands(ring: RingPlan, below: Any) -> Iterator[str]:
    """It carries the finished ring and keeps away from what the bit cuts."""
    finished = disc(ring.outer_radius).difference(disc(ring.inner_radius))
    carried = below.intersection(finished)
    if carried.area < finished.area - 2.0 * 3.1416 * 0.51 * (ring.inner_radius + ring.outer_radius):
        yield "carries too little of the ring"
    land = [one for one in getattr(below, "geoms", [below]) if one.intersects(finished)]
    if not all(finished.buffer(-0.45).contains(one) for one in land):
        yield "reaches to where the bit cuts"


def _foot(ring: Any, clamp: Any, slide: float) -> Iterator[str]:
    off = ring.distance(clamp)
    if abs(off - slide) > FIT:
        yield f"stands off the ring by {off}"


def _passes(plan: Plan, ring: RingPlan, made: TrimmingTable, rough: Any) -> Iterator[str]:
    """The bit's sweep touches neither the table nor the clamp that holds, and it cuts the ring."""
    bit, table = _bit(plan, ring), made.parts()[0].block
    inner, inner_place, outer, outer_place = _clamps(made)
    outside = disc(ring.outer_radius + bit).difference(disc(ring.outer_radius))
    inside = disc(ring.inner_radius).difference(disc(max(1e-3, ring.inner_radius - bit)))
    if outside.buffer(0.01).intersection(rough).area <= 0 and made.recess:
        yield "the bit finds nothing to trim"
    heights = (made.land - OVERRUN + 0.01, beside_ring(made), made.top - 0.05)
    for name, sweep, part, place in (
        ("outside", outside, inner, inner_place),
        ("inside", inside, outer, outer_place),
    ):
        for height in heights:
            if sweep.intersection(_section(table, height)).area > FLAT:
                yield f"trimming the {name}, the bit meets the table at height {height}"
            if sweep.intersection(cut_at(part, place, height)).area > FLAT:
                yield f"trimming the {name}, the bit meets the clamp at height {height}"
        over = cut_at(part, place, made.land + made.thickness + 0.5)
        if sweep.distance(over) < min(3.0, ring.width / 2.0) - FIT:
            yield f"trimming the {name}, the clamp is {sweep.distance(over)} from the bit"
        held = over.intersection(disc(ring.outer_radius).difference(disc(ring.inner_radius)))
        if held.area < 0.2 * (disc(ring.outer_radius).area - disc(ring.inner_radius).area):
            yield f"trimming the {name}, the clamp holds too little of the ring"


def _bears_on_ring(made: TrimmingTable) -> Iterator[str]:
    """The clamps touch the ring's top and nothing of the table, beside or below."""
    inner, inner_place, outer, outer_place = _clamps(made)
    beside = _section(made.parts()[0].block, beside_ring(made))
    for part, place in ((inner, inner_place), (outer, outer_place)):
        own = cut_at(part, place, beside_ring(made))
        if own.distance(beside) < made.slide - FIT:
            yield f"the {part.name} is {own.distance(beside)} from the table"
        if place.z + part.block.lowest - made.base < 0.3:
            yield f"the {part.name} bears on the recess's floor"
        above = cut_at(part, place, made.land + made.thickness + 0.01)
        below = cut_at(part, place, made.land + made.thickness - 0.01)
        if above.difference(below).area < 1.0:
            yield f"the {part.name} does not come down on the ring"


def _below_rim(made: TrimmingTable, inner: Part, outer: Part) -> Iterator[str]:
    tops = (
        inner.places[0].z + inner.block.highest,
        made.outer_clamp_place.z + outer.block.highest,
    )
    for top in tops:
        if not 0.1 < made.top - top < 1.0:
            yield f"a clamp stands {made.top - top} below the rim"
    if made.parts()[0].block.highest > made.top + 1e-9:
        yield "something stands above the rim"


def _pin(plan: Plan, made: TrimmingTable) -> Iterator[str]:
    """The pin is pressed in, stands up into the pivot plate and not through it."""
    press = max(0.0, plan.fixtures.clearance - 0.1)
    section = _section(made.parts()[0].block, made.pin_foot + 0.1)
    off = disc(plan.fixtures.pivot_pin / 2.0).distance(section)
    if abs(off - press) > FIT:
        yield f"the pin stands off by {off}"
    for channel in plan.channels:
        plate = _plate(plan, channel.index)
        if plate is not None:
            up = made.pin_foot + made.pin_length - made.top
            if not plate.thickness / 2.0 < up < plate.thickness:
                yield f"the pin stands {up} up into a plate {plate.thickness} thick"


def _turns_over(plan: Plan, ring: RingPlan, made: TrimmingTable) -> Iterator[str]:
    """The plate lies on the rim wherever it turns to, with the bit at either edge."""
    channel = next(one for one in plan.channels if ring.index in one.rings)
    plate = _plate(plan, channel.index)
    if plate is None:
        return
    flat = shape(plate.block().outline)
    rim = disc(made.table).difference(disc(made.recess))
    for hole in plate.holes:
        if hole.trims != ring.index:
            continue
        x, y = hole.at
        for turn in (0.0, 77.0, 201.0):
            over = affinity.rotate(
                affinity.translate(flat, -x, -y), turn, origin=(0.0, 0.0)
            ).intersection(rim)
            if over.area < 40.0:
                yield f"the plate does not reach the rim from {hole.radius}"
                break


def solid_misfits(plan: Plan, made: TrimmingTable, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What solids tell: ring, clamp, screws and bit together, once for each edge."""
    ring, found = ring_of(plan, made), []
    table, inner = bodies[0][1], bodies[1][1]
    outer = placed_at(made.outer_clamp_place, _unplaced(bodies[2]))
    low, high = made.land, made.land + made.thickness
    bit, foot = _bit(plan, ring), made.land - OVERRUN
    outside = annulus(ring.outer_radius, ring.outer_radius + bit, foot, made.top + 5.0)
    inside = annulus(max(0.5, ring.inner_radius - bit), ring.inner_radius, foot, made.top + 5.0)
    rough = glued_ring(ring, low, high)
    half = prism(circle(ring.outer_radius), low, high, [_rims(ring)[1]])
    for name, clamp, held, sweep, screws in (
        ("outside", inner, rough, outside, _fasteners(made, made.inner_screws, INNER_SCREWS)),
        ("inside", outer, half, inside, _fasteners(made, made.outer_screws, OUTER_SCREWS)),
    ):
        if shared(together([table, clamp]), held) > TOUCH:
            found.append(f"trimming the {name}, the ring reaches into the fixture")
        if shared(table, clamp) > TOUCH:
            found.append(f"trimming the {name}, the clamp reaches into the table")
        if shared(together([table, clamp]), together(screws)) > TOUCH:
            found.append(f"trimming the {name}, the screws reach into the fixture")
        if shared(together([table, clamp, *screws]), sweep) > TOUCH:
            found.append(f"trimming the {name}, the bit meets the fixture")
    stud = pin(plan.fixtures.pivot_pin, made.pin_foot, made.pin_foot + made.pin_length)
    if shared(table, stud) > TOUCH:
        found.append("the pin does not go in")
    return found


def _unplaced(body: tuple[Part, Any]) -> Any:
    part, solid = body
    place = part.places[0]
    return solid.translate((-place.x, -place.y, -place.z))


def _fasteners(made: TrimmingTable, radius: float, angles: tuple[float, ...]) -> list[Any]:
    """Screws and nuts where they stand while the clamp is tight."""
    across, height = SOCKET_HEADS[THREAD]
    seat = made.land + made.thickness + made.cap - made.sink_depth
    assert CLEARANCE_HOLES[THREAD][1] > THREAD
    found = []
    for angle in angles:
        at = at_angle(radius, angle)
        found.append(pin(across, seat, seat + height, at))
        found.append(pin(THREAD, seat - made.screw, seat, at))
        flats, thick = NUTS[THREAD]
        found.append(hexagon(flats, made.nut_depth - thick, made.nut_depth, at))
        if seat - made.screw < 0.2:
            found.append(pin(200.0, 0.0, 1.0))
    return found
