"""The sawing carrier on its saw: the bar in the slot, the strip on it, the blade through it.

Where the strip lies and how it is cut is found in the parts' own sections: the face of the facing,
the joint of the base along which the blade runs, the face of the set block. What must come off is
the plan's blank.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations, pairwise
from typing import Any

import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon, box

from jigs.base import Fixture
from jigs.hardware import NUTS, SOCKET_HEADS
from jigs.saw_carrier import SawCarrier
from jigs.saw_carrier_blocks import GRIP_HEIGHT, RAIL_HEIGHT
from rosette.geometry.outline import Outline, Point, polygon
from rosette.patterns.base import Blank, RingPlan, Wedges
from rosette.plan import Plan
from tests.jigs.flat import cut_at, disc
from tests.jigs.mates import TOUCH, bar, distance, hexagon, moved, pin, prism, shared, together

FIT = 0.01
FLAT = 1e-3
"""Common area in mm² up to which two flattened outlines only touch."""
HANDS, METAL, STAND_OFF = 75.0, 20.0, 10.0
"""Least distances in mm from the cut: of hands, of screws and nuts, of the stop from a wedge."""
SLOT = (70.0, 110.0, 150.0)
"""Distances from blade to slot that the bar must go to (mm)."""
LONG = 400.0


def misfits(plan: Plan, fixture: Fixture, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What is wrong with a carrier; empty where nothing is."""
    assert isinstance(fixture, SawCarrier)
    return plane_misfits(plan, fixture) + solid_misfits(plan, fixture, bodies)


def ring_of(plan: Plan, made: SawCarrier) -> RingPlan:
    """The ring that a carrier is for."""
    return next(one for one in plan.wedge_rings if made.name == f"ring-{one.index}-saw-carrier")


def _sections(made: SawCarrier, height: float, names: tuple[str, ...] = ()) -> dict[str, Any]:
    return {
        part.name: cut_at(part, part.places[0], height)
        for part in made.parts()
        if not names or part.name in names
    }


def plane_misfits(plan: Plan, made: SawCarrier) -> list[str]:
    """What level cuts tell."""
    ring = ring_of(plan, made)
    wedges, thickness = ring.wedges, ring.tile_thickness
    assert wedges is not None
    beside = _sections(made, made.base + thickness / 2.0)
    above = _sections(made, made.base + thickness + 0.5)
    strip = _strip(beside, wedges)
    return [
        *_wedge(beside, wedges, plan.kerf),
        *_strip_lies_free(strip, beside),
        *_held(strip, above, plan.kerf),
        *_stop(strip, beside, plan.kerf),
        *_apart(beside, "beside the strip"),
        *_apart(above, "above the strip"),
        *_blade(made, thickness),
        *_hands(made),
        *_bar(plan, made),
        *_tracks(made),
    ]


def _face(of: Any) -> tuple[Point, Point]:
    """The edge of the facing that looks to the strip, from left to right."""
    points = list(of.exterior.coords)
    edges = [(a, b) for a, b in pairwise(points) if math.dist(a, b) > 40.0]
    a, b = max(edges, key=lambda one: one[0][1] + one[1][1])
    return (a, b) if a[0] < b[0] else (b, a)


def _end(of: Any, face: tuple[Point, Point]) -> tuple[Point, Point]:
    """The edge of the set block that the strip's end meets, from the fence outwards."""
    (ax, ay), (bx, by) = face
    length = math.dist(*face)
    x, y = (bx - ax) / length, (by - ay) / length

    def along(point: Point) -> float:
        return x * point[0] + y * point[1]

    def out(point: Point) -> float:
        return x * point[1] - y * point[0]

    edges = list(pairwise(of.exterior.coords))
    leaning = [(p, q) for p, q in edges if abs(out(p) - out(q)) > 1.0]
    p, q = min(leaning, key=lambda one: along(one[0]) + along(one[1]))
    return (p, q) if out(p) < out(q) else (q, p)


def _strip(beside: dict[str, Any], wedges: Wedges) -> Any:
    """The strip against the facing, its end at the set block, as long as comes."""
    (ax, ay), (bx, by) = _face(beside["facing"])
    turn, height = math.atan2(by - ay, bx - ax), wedges.blank.height
    end, far = _end(beside["set-block"], _face(beside["facing"]))
    c, s = math.cos(turn), math.sin(turn)
    reach = c * (end[0] - ax) + s * (end[1] - ay)
    whole = affinity.translate(
        affinity.rotate(box(-LONG, 0.0, reach + LONG, height), math.degrees(turn), origin=(0, 0)),
        ax,
        ay,
    )
    return whole.intersection(_left_of(end, far))


def _left_of(a: Point, b: Point) -> Any:
    """The half plane to the left of a line from `a` to `b`."""
    length = math.dist(a, b)
    x, y = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    far = 2000.0
    p, q = (a[0] - far * x, a[1] - far * y), (a[0] + far * x, a[1] + far * y)
    return Polygon([p, q, (q[0] - far * y, q[1] + far * x), (p[0] - far * y, p[1] + far * x)])


def _cut_off(strip: Any, kerf: float) -> Any:
    return strip.intersection(box(kerf / 2.0, -2000.0, 2000.0, 2000.0))


def _wedge(beside: dict[str, Any], wedges: Wedges, kerf: float) -> Iterator[str]:
    """What comes off is the plan's blank, its wide edge at the fence."""
    found = _cut_off(_strip(beside, wedges), kerf)
    blank, corners = wedges.blank, list(found.exterior.coords)[:-1]
    if len(corners) != 4:
        yield f"what comes off has {len(corners)} corners"
        return
    fence = LineString(_face(beside["facing"]))
    at_fence = [one for one in corners if fence.distance(Polygon(disc(1e-3, one))) < 2e-3]
    others = [one for one in corners if one not in at_fence]
    if len(at_fence) != 2:
        yield "no edge of the wedge lies at the fence"
        return
    sizes = (math.dist(*at_fence), math.dist(*others), _height(at_fence, others[0]))
    for name, size, wanted in zip(
        ("wide edge", "narrow edge", "height"),
        sizes,
        (blank.outer_width, blank.inner_width, blank.height),
        strict=True,
    ):
        if abs(size - wanted) > FIT:
            yield f"the {name} of the wedge is {size} and not {wanted}"
    if abs(found.area - _area(blank)) > FIT * blank.height:
        yield "the wedge is not the plan's blank"


def _height(line: list[Point], point: Point) -> float:
    (ax, ay), (bx, by) = line
    return abs((bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)) / math.dist(*line)


def _area(blank: Blank) -> float:
    return (blank.inner_width + blank.outer_width) / 2.0 * blank.height


def _common(a: Any, b: Any) -> float:
    """The area in common, on a grid: edges that all but coincide are a trap without one."""
    return float(shapely.intersection(a, b, grid_size=1e-6).area)


def _strip_lies_free(strip: Any, beside: dict[str, Any]) -> Iterator[str]:
    for name, part in beside.items():
        if _common(strip, part) > FLAT:
            yield f"the strip reaches into the {name}"
    if strip.distance(beside["facing"]) > FIT:
        yield "the strip does not lie at the facing"


def _held(strip: Any, above: dict[str, Any], kerf: float) -> Iterator[str]:
    """The holder presses much of the strip, keeps off the blade and off the wedge."""
    held = strip.intersection(above["holder"])
    if held.area < 25.0 * (strip.bounds[3] - strip.bounds[1]) / 8.0 and held.area < 100.0:
        yield f"the holder presses {held.area} mm² of the strip"
    if any(strip.intersects(Polygon(hole)) for hole in above["holder"].interiors):
        yield "the holder's screws stand in the strip's way"
    off = -kerf / 2.0 - above["holder"].bounds[2]
    if not 4.0 <= off <= 10.0:
        yield f"the holder is {off} from the kerf"


def _stop(strip: Any, beside: dict[str, Any], kerf: float) -> Iterator[str]:
    setting, stop = beside["set-block"], beside["stop"]
    if setting.distance(stop) > FIT or setting.distance(strip) > FIT:
        yield "the set block does not fill the room between stop and strip"
    off = _cut_off(strip, kerf).distance(stop)
    if off < STAND_OFF:
        yield f"the stop stands {off} from the wedge and may trap it"


def _apart(sections: dict[str, Any], where: str) -> Iterator[str]:
    for (a, one), (b, two) in combinations(sections.items(), 2):
        if _common(one, two) > FLAT:
            yield f"{a} and {b} reach into each other {where}"


def _blade(made: SawCarrier, thickness: float) -> Iterator[str]:
    """It runs along the joint of the base, under fence and tie, into the guard, past all metal."""
    plates = ("base", "wing")
    low = _sections(made, 1.0, plates)
    if abs(low["base"].bounds[2]) > FIT or abs(low["wing"].bounds[0]) > FIT:
        yield "the plates do not meet in the cut"
    for height in (1.0, made.base - 0.5):
        for name, part in _sections(made, height, plates).items():
            for hole in getattr(part, "interiors", ()):
                left, _, right, _ = hole.bounds
                if left < METAL and right > -METAL:
                    yield f"a screw of the {name} is {min(abs(left), abs(right))} from the cut"
    high = _sections(made, made.base + thickness + 23.0, ("fence", "tie", "guard"))
    line = LineString([(0.0, -LONG), (0.0, LONG)])
    for name in ("fence", "tie", "guard"):
        if not line.intersects(high[name]):
            yield f"the {name} does not stand 20 mm above the blade"
    for name in ("fence", "tie"):
        left, _, right, _ = high[name].bounds if not high[name].is_empty else (0, 0, 0, 0)
        if left > -30.0 or right < 30.0:
            yield f"the {name} does not tie the plates together"
    covered = line.intersection(high["guard"]).length
    if covered < 45.0:
        yield f"the guard covers {covered} of the blade's way"


def _hands(made: SawCarrier) -> Iterator[str]:
    for name, height in (("rail", made.tall + 5.0), ("grip", 5.0)):
        left, _, right, _ = _sections(made, made.base + height, (name,))[name].bounds
        off = min(abs(left), abs(right))
        if off < HANDS - FIT:
            yield f"the {name} is {off} from the cut"


def _bar(plan: Plan, made: SawCarrier) -> Iterator[str]:
    """It slides in its slot and does not bottom."""
    wishes, part = plan.fixtures, made.parts()[2]
    flat = cut_at(part, part.places[0], -made.bar.height + made.bar.sink + 0.1)
    left, low, right, high = flat.bounds
    off = (wishes.bar_width - (right - left)) / 2.0
    if abs(off - wishes.clearance) > FIT:
        yield f"the bar stands off by {off} on either side"
    if abs(Polygon(flat.exterior).area - (right - left) * (high - low)) > FLAT:
        yield "the bar is not straight along the cut"
    below = part.places[0].z + part.block.lowest
    if not wishes.bar_depth - 1.0 < -below < wishes.bar_depth - 0.2:
        yield f"the bar reaches {-below} into a slot {wishes.bar_depth} deep"
    if abs(part.places[0].z + part.block.highest) > 1e-9:
        yield "the bar does not lie at the base"


def _tracks(made: SawCarrier) -> Iterator[str]:
    """The bar's screws and nuts go to every place of the slot."""
    base, part = made.parts()[0], made.parts()[2]
    shanks = cut_at(part, part.places[0], -0.1)
    through = cut_at(base, base.places[0], made.bar.ledge - 0.1)
    above = cut_at(base, base.places[0], made.bar.ledge + 0.1)
    middle = part.places[0].x
    thread = made.bar.thread
    for hole in shanks.interiors:
        y = Polygon(hole).centroid.y
        if abs(Polygon(hole).centroid.x - middle) > FIT:
            yield "the bar's screws do not stand in its middle"
        for distance_ in SLOT:
            if disc(thread / 2.0, (-distance_, y)).intersects(through):
                yield f"the bar's screw does not reach a slot {distance_} away"
            if _hexagon(NUTS[thread][0], (-distance_, y)).intersects(above):
                yield f"the bar's nut does not go to {distance_}"
            if not disc(NUTS[thread][0] / 2.0, (-distance_, y)).intersects(through):
                yield "the bar's nut falls through"


def _hexagon(across: float, at: Point) -> Any:
    radius = across / math.sqrt(3.0)
    turns = [math.radians(60.0 * i) for i in range(6)]
    return Polygon([(at[0] + radius * math.cos(t), at[1] + radius * math.sin(t)) for t in turns])


def solid_misfits(plan: Plan, made: SawCarrier, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What solids tell: the saw's table with its slot, the strip, every screw and nut."""
    ring, found = ring_of(plan, made), []
    assert ring.wedges is not None
    solids = {part.name: solid for part, solid in bodies}
    strip = _strip(_sections(made, made.base + 0.5), ring.wedges)
    laid = prism(_outline(strip), made.base, made.base + ring.tile_thickness)
    wishes, slot = plan.fixtures, bodies[2][0].places[0].x
    half, deep = wishes.bar_width / 2.0, wishes.bar_depth
    sides = [
        bar(50.0, 900.0, -deep, 0.0, at=(slot + sign * (half + 25.0), 0.0)) for sign in (-1, 1)
    ]
    table = together([*sides, bar(wishes.bar_width, 900.0, -deep - 5.0, -deep, at=(slot, 0.0))])
    for shift in (-150.0, 0.0, 150.0):
        gone = moved(solids["bar"], by=(0.0, shift, 0.0))
        if shared(gone, table) > TOUCH:
            found.append(f"the bar binds {shift} along its slot")
        if abs(distance(gone, sides[0]) - wishes.clearance) > FIT:
            found.append(f"the bar is {distance(gone, sides[0])} from its slot at {shift}")
    for name, solid in solids.items():
        if shared(solid, laid) > TOUCH:
            found.append(f"the strip reaches into the {name}")
    metal = list(_metal(made))
    for name, solid in solids.items():
        if shared(solid, together(metal)) > TOUCH:
            found.append(f"a screw or nut reaches into the {name}")
    low = min(one.BoundingBox().zmin for one in metal)
    if low < -made.bar.height - 1e-6:
        found.append("a screw reaches below the bar")
    return found


def _outline(flat: Any) -> Outline:
    return polygon(list(flat.exterior.coords)[:-1])


def _metal(made: SawCarrier) -> Iterator[Any]:
    """Every screw and nut as it stands, put together from the standards' sizes."""
    frame = made.frame

    def turned(places: tuple[Point, ...]) -> list[Point]:
        return [frame.at(u, v) for u, v in places]

    groups = (
        (turned(frame.facing_screws()), made.facing_height, 0.0),
        (turned(frame.fence_screws()), made.tall, 0.0),
        (turned(frame.rail_screws()), made.tall + RAIL_HEIGHT, 5.3),
        (turned(frame.stop_screws()), made.stop_height, 0.0),
        (list(frame.guard_screws() + frame.tie_screws()), made.tall, 0.0),
        (list(frame.grip_screws()), GRIP_HEIGHT, 5.3),
    )
    for places, height, least in groups:
        length, sunk = made.screw(height, least=least)
        for at in places:
            yield from _screw(5, made.base + height - sunk, length, at)
            yield _nut(5, 0.2, at, frame.mitre if places is groups[3][0] else 0.0)
    bar_x, sunk = made.parts()[2].places[0].x, made.bar.sink
    for y in frame.bar_tracks:
        head = SOCKET_HEADS[made.bar.thread]
        seat = sunk - made.bar.height
        yield pin(head[0], seat - head[1], seat, (bar_x, y))
        yield pin(made.bar.thread, seat, seat + made.bar.length, (bar_x, y))
        yield _nut(made.bar.thread, made.bar.ledge, (bar_x, y), 0.0)


def _screw(thread: int, seat: float, length: float, at: Point) -> list[Any]:
    across, height = SOCKET_HEADS[thread]
    return [pin(across, seat, seat + height, at), pin(thread, seat - length, seat, at)]


def _nut(thread: int, low: float, at: Point, turn: float) -> Any:
    across, height = NUTS[thread]
    return hexagon(across, low, low + height, at, turn)
