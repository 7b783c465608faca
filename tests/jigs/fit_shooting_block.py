"""How wedges lie in a shooting block: held against its parts, not against how they were drawn.

A wedge comes from the plan's blank, its sides made fat where they are. It is laid with one side
along the face of the fence that is found in the block and pushed along it until its outer end
meets the stop that is found there.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

from shapely import affinity
from shapely.geometry import Point, Polygon, box

from jigs.base import Fixture
from jigs.hardware import NUTS
from jigs.shooting_block import (
    BEHIND_SCREW,
    FROM_EDGE,
    RAIL,
    THREAD,
    WASHER,
    ShootingBlock,
    fat_for,
)
from jigs.shooting_block_station import INSET
from jigs.sound import problems
from rosette.geometry.outline import polygon
from rosette.patterns.base import Blank
from rosette.plan import Plan
from tests.jigs import mates
from tests.jigs.flat import cut, cut_at, shape

Spot = tuple[float, float]
FIT = 0.01
"""How far the trued side may be from where it should be (mm)."""
TOUCH = 1e-4
"""Common area in mm² up to which two outlines only touch: arcs are flattened."""


def misfits(plan: Plan, fixture: Fixture, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What is wrong with wedges, clamp and edge; empty where all is well."""
    assert isinstance(fixture, ShootingBlock)
    return plane_misfits(plan, fixture) + solid_misfits(plan, fixture, bodies)


def plane_misfits(plan: Plan, made: ShootingBlock, *, wider: float = 0.0) -> list[str]:
    """The same by plane geometry; `wider` makes the wedges wider than the plan's."""
    found = [str(one) for part in made.parts() for one in problems(part.block)]
    for hand, side in (("right", 2), ("left", 1)):
        found += [f"{hand}: {one}" for one in _wedge_misfits(made, plan, hand, side, wider)]
    return found + _clamp_misfits(made, plan) + _edge_misfits(made)


def blank_of(made: ShootingBlock, plan: Plan) -> Blank:
    """The true wedge that the block is for."""
    wedges = plan.rings[made.ring - 1].wedges
    assert wedges is not None
    return wedges.blank


def _wedge_misfits(
    made: ShootingBlock, plan: Plan, hand: str, side: int, wider: float
) -> list[str]:
    blank = blank_of(made, plan)
    fat = fat_for(blank, 180.0 / made.segments)
    fence, stop, others = _standing(made, hand)
    out_by = {"rough": fat}
    fats = {"rough": (fat, fat)} if side == 1 else {"rough": (0.0, fat), "true": (0.0, 0.0)}
    found = []
    for name, (at_fence, at_edge) in fats.items():
        corners = _wedge(blank, at_fence, at_edge, wider)
        laid = _laid(corners, fence, stop)
        low = [laid[2][1], laid[3][1]]
        wanted = -out_by.get(name, 0.0)
        if max(abs(y - wanted) for y in low) > FIT:
            found.append(f"the {name} wedge's side is at {low} and not at {wanted}")
        found += [f"the {name} wedge {one}" for one in _collisions(laid, fence, stop, others)]
    return found


def _wedge(blank: Blank, at_fence: float, at_edge: float, wider: float) -> list[Spot]:
    """Fence side from narrow to wide, then edge side from wide to narrow, axis along +x."""
    a, b = blank.inner_width / 2.0, blank.outer_width / 2.0
    c = blank.height / math.hypot(blank.height, b - a)
    top, low = at_fence / c + wider / 2.0, at_edge / c + wider / 2.0
    return [(0.0, a + top), (blank.height, b + top), (blank.height, -b - low), (0.0, -a - low)]


def _standing(made: ShootingBlock, hand: str) -> tuple[Polygon, Polygon, list[Polygon]]:
    """Fence, stop and whatever else stands above the table, the left hand's mirrored."""
    block, stops, _ = made.parts()
    middle = (made.table + made.wall_top) / 2.0
    mirror = -1.0 if hand == "left" else 1.0
    walls = [_mirrored(one, mirror) for one in _pieces(cut(block.block, middle))]
    place = stops.places[0 if hand == "right" else 1]
    stop = _mirrored(cut_at(stops, place, middle), mirror)
    mine = [one for one in walls if one.centroid.x > 0.0]
    behind = [one for one in mine if one.centroid.y > made.screw[1] and one.contains(_heel(made))]
    (fence,) = [one for one in mine if one not in behind]
    return fence, stop, [one for one in walls if one is not fence]


def _heel(made: ShootingBlock) -> Point:
    """A point right behind the clamp screw: the bar's heel stands there."""
    x, y = made.screw
    return Point(x, y + BEHIND_SCREW + 1.0)


def _pieces(flat: Any) -> list[Polygon]:
    return list(getattr(flat, "geoms", [flat]))


def _mirrored(flat: Any, sign: float) -> Any:
    return affinity.scale(flat, sign, 1.0, origin=(0.0, 0.0))


def _laid(corners: list[Spot], fence: Polygon, stop: Polygon) -> list[Spot]:
    """The wedge with its first side on the fence's long face, pushed out against the stop."""
    a, b = _face(fence)
    (px, py), (qx, qy) = corners[0], corners[1]
    turn = math.atan2(b[1] - a[1], b[0] - a[0]) - math.atan2(qy - py, qx - px)
    c, s = math.cos(turn), math.sin(turn)
    turned = [(c * (x - px) - s * (y - py), s * (x - px) + c * (y - py)) for x, y in corners]
    ux, uy = _unit(a, b)
    ax, ay = c, s  # the wedge's axis, square to its outer end
    end = ax * turned[1][0] + ay * turned[1][1]
    wall = min(ax * x + ay * y for x, y in stop.exterior.coords)
    start = ax * a[0] + ay * a[1]
    along = (wall - start - end) / (ax * ux + ay * uy)
    return [(x + a[0] + along * ux, y + a[1] + along * uy) for x, y in turned]


def _face(fence: Polygon) -> tuple[Spot, Spot]:
    """The long side of the fence that looks to the working edge, from the narrow end outwards."""
    ring: list[Spot] = [(x, y) for x, y in fence.exterior.coords]
    sides = sorted(pairwise(ring), key=lambda one: -math.dist(*one))
    ends = min(sides[:2], key=lambda one: _looks_up(fence, *one))
    low, high = sorted(ends, key=lambda one: one[1])
    return low, high


def _looks_up(fence: Polygon, a: Spot, b: Spot) -> float:
    """How much a side looks away from the wedge: towards the middle of the block, and up."""
    x, y = (a[0] + b[0]) / 2 - fence.centroid.x, (a[1] + b[1]) / 2 - fence.centroid.y
    return y - x


def _unit(a: Spot, b: Spot) -> Spot:
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _collisions(
    laid: list[Spot], fence: Polygon, stop: Polygon, others: list[Polygon]
) -> list[str]:
    """What the wedge meets where it lies, and as it slides in along the fence from inside."""
    wedge = Polygon(laid)
    found = []
    if wedge.intersection(fence).area > TOUCH or wedge.intersection(stop).area > TOUCH:
        found.append("reaches into the fence or the stop")
    ends, length = laid[:2], math.dist(*laid[:2])
    face = fence.exterior.intersection(Polygon(wedge.exterior).buffer(1e-3)).length
    if face < 0.35 * length:
        found.append(f"has only {face} mm of its side on the fence")
    if stop.exterior.intersection(wedge.buffer(1e-3)).length < 1.0:
        found.append("has next to nothing against the stop")
    if wedge.distance(Polygon(stop)) > 1e-6:
        found.append("is off the stop")
    ux, uy = _unit(*ends)
    for step in range(1, 6):
        by = -length * step / 5.0
        there = affinity.translate(wedge, by * ux, by * uy)
        if any(there.intersection(one).area > TOUCH for one in (fence, stop)):
            found.append(f"meets fence or stop {-by} mm before its place")
    if any(wedge.intersection(one).area > TOUCH for one in others):
        found.append("meets what else stands on the block")
    return found


def _clamp_misfits(made: ShootingBlock, plan: Plan) -> list[str]:
    """The bar lies on wedge and heel, its screw goes through, its nut is held, it draws back."""
    block, _, bars = made.parts()
    found = []
    thickness = plan.rings[made.ring - 1].tile_thickness
    if any(abs(place.z - made.table - thickness) > 1e-9 for place in bars.places):
        found.append("a bar does not lie on the wedge")
    x, y = made.screw
    if y < FROM_EDGE:
        found.append(f"the hand is {y} mm from the edge")
    bar = cut_at(bars, bars.places[0], made.table + thickness + made.bar / 2.0)
    held = bar.intersection(shape(made.mapped(made.station.true_wedge()))).area
    if held < 10.0:
        found.append(f"the bar holds {held} mm² of the wedge")
    drawn = affinity.translate(bar, 0.0, 14.0)
    hole = cut(block.block, made.table - 0.5)
    for name, flat in (("bar", bar), ("drawn bar", drawn), ("block", hole)):
        off = Point(x, y).distance(flat) - THREAD / 2.0
        if not 0.25 - FIT < off < 1.0:
            found.append(f"the screw stands off the {name} by {off}")
    nut, bottom = Polygon(_hexagon(NUTS[THREAD][0] / 2.0, (x, y))), cut(block.block, 1.0)
    # a cutter's round corners would hold the nut's; the flats stand back for that
    wanted = made.process.slide + made.process.inside_radius * (1.0 - math.sqrt(0.75))
    off = nut.distance(bottom.boundary)
    if nut.intersection(bottom).area > TOUCH or not made.process.slide - FIT < off < wanted + FIT:
        found.append(f"the nut stands off its pocket by {off}")
    below = made.table + thickness + made.bar + WASHER - made.screw_length
    if not 0.0 < below < 2.0:
        found.append(f"the screw ends {below} mm above the bench")
    return found


def _hexagon(apothem: float, at: Spot) -> list[Spot]:
    corner = apothem / math.cos(math.pi / 6.0)
    angles = [math.radians(60.0 * i) for i in range(6)]
    return [(at[0] + corner * math.cos(t), at[1] + corner * math.sin(t)) for t in angles]


def _edge_misfits(made: ShootingBlock) -> list[str]:
    """Only the rail reaches the plane of the sole; all above it stands back."""
    found = []
    for part in made.parts():
        for place in part.places:
            for height in (RAIL / 2.0, RAIL + 0.5, made.table + 0.1, made.table + 5.0):
                own = height - place.z
                if not part.block.lowest < own < part.block.highest:
                    continue
                low = cut_at(part, place, height).bounds[1]
                if low < (0.0 if height < RAIL else INSET) - 1e-9:
                    found.append(f"{part.name} reaches to {low} at {height}")
    rail = cut(made.parts()[0].block, RAIL / 2.0)
    edge = box(-made.half, -1.0, made.half, 0.0)
    if abs(rail.exterior.intersection(edge).length - 2.0 * made.half) > 1e-6:
        found.append("the rail does not run the whole length")
    return found


def solid_misfits(plan: Plan, made: ShootingBlock, bodies: list[tuple[Any, Any]]) -> list[str]:
    """The true wedge in the right station, by the CAD kernel."""
    fence, stop, _ = _standing(made, "right")
    laid = _laid(_wedge(blank_of(made, plan), 0.0, 0.0, 0.0), fence, stop)
    wedge = mates.prism(polygon(laid[::-1]), made.table, made.table + made.thickness)
    found = []
    for part, solid in bodies:
        if mates.shared(wedge, solid) > 1e-4:
            found.append(f"the wedge reaches into the {part.name}")
    if mates.distance(wedge, bodies[1][1]) > 1e-3:
        found.append("the wedge is off the stop")
    if abs(wedge.BoundingBox().ymin) > FIT:
        found.append(f"the wedge's side is at {wedge.BoundingBox().ymin}")
    return found
