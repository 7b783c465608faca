"""Half a ring's wedges in their half tray: glued, closed, pressed and trued.

The wedges come from the plan's blank and axes, turned so that the seam lies to the left; the
sanding board is a box that runs along whatever the bed's front face is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from shapely import STRtree, affinity
from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as Spot
from shapely.ops import unary_union

from jigs.base import Fixture
from jigs.half_tray import FAT, RAIL, HalfTray
from jigs.hardware import NUTS
from rosette.geometry.closing import sanded_off
from rosette.geometry.outline import polygon
from rosette.patterns.base import RingPlan
from rosette.plan import Plan
from tests.jigs.flat import cut_at, disc
from tests.jigs.mates import TOUCH, moved, pin, prism, shared, together

FIT = 0.01
SLIVER = 1e-3
"""Common area in mm² up to which outlines only touch: arcs are flattened."""
FAR = 500.0
SCREW = 4.0
PLAY = 0.5
"""How far the cap may stand off its place: 0.25 mm in its own holes, 0.25 mm in the bed's."""
IN = 0.5
"""How far the closing bar goes in with a half that is short."""
RIDE = 0.05
"""How far a fat half may ride up on the wall's pads."""
MOST = 6
"""Wedges that are held against the parts as solids."""
DIRECTIONS = tuple(math.radians(45.0 * i) for i in range(8))


def misfits(plan: Plan, fixture: Fixture, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What is wrong with a half tray; empty where a half is made in it as it should be."""
    assert isinstance(fixture, HalfTray)
    return plane_misfits(plan, fixture) + solid_misfits(plan, fixture, bodies)


def ring_of(plan: Plan, made: HalfTray) -> RingPlan:
    """The ring that it is for."""
    return next(one for one in plan.wedge_rings if made.name == f"ring-{one.index}-half-tray")


def half(plan: Plan, made: HalfTray, *, second: bool = False, fat: float = 0.0) -> list[Polygon]:
    """The wedges of a half as they stand in the tray, from the left round to the right.

    `fat` degrees more than 180 are shared out evenly among them, about the middle of the half.
    """
    ring = ring_of(plan, made)
    wedges = ring.wedges
    assert wedges is not None
    by_position = {one.position: one.axis for one in ring.pieces if one.axis is not None}
    seam = by_position[1] + wedges.mitre_angle - (180.0 if second else 0.0)
    first = 1 + (wedges.half_set if second else 0)
    found = []
    for position in range(first, first + wedges.half_set):
        off = (by_position[position] - seam + 270.0) % 360.0 - 180.0
        axis = 90.0 + off * (180.0 + fat) / 180.0
        found.append(affinity.rotate(_blank(ring, fat), axis, origin=(0, 0)))
    return found


def _blank(ring: RingPlan, fat: float) -> Polygon:
    """A blank with its sides parallel to radial planes that stand a little further apart."""
    assert ring.wedges is not None
    blank, joint = ring.wedges.blank, ring.wedges.joint
    angle = math.radians(ring.wedges.mitre_angle + fat / ring.wedges.half_set / 2.0)
    corners = []
    for x in (blank.inner_distance, blank.outer_distance):
        w = x * math.tan(angle) - joint / (2.0 * math.cos(angle))
        corners.append([(x, w), (x, -w)])
    return Polygon([*corners[0], *corners[1][::-1]])


class Cuts:
    """Level cuts through the parts of a half tray where they stand, each made once."""

    def __init__(self, made: HalfTray) -> None:
        self.parts = {part.name: part for part in made.parts()}
        self._found: dict[tuple[str, float], Any] = {}

    def at(self, name: str, height: float) -> Any:
        """What is solid of a part at a height."""
        if (name, height) not in self._found:
            part = self.parts[name]
            self._found[name, height] = cut_at(part, part.places[0], height)
        return self._found[name, height]


def plane_misfits(plan: Plan, made: HalfTray) -> list[str]:
    """What level cuts tell."""
    cuts, ring = Cuts(made), ring_of(plan, made)
    walls = cuts.at("bed", _standing(made))
    wedges = half(plan, made)
    return [
        *_wedges(made, wedges, walls),
        *_wedges(made, half(plan, made, second=True), walls),
        *_fat_half(plan, made, walls),
        *_lands(made, cuts, wedges),
        *_truing(plan, made, ring, cuts),
        *_sanding(made, cuts),
        *_cap(made, ring, cuts, wedges),
        *_bar(made, cuts, wedges),
        *_screws(made, cuts),
    ]


def _standing(made: HalfTray) -> float:
    """A height between the lands and the top of wall and post, at which no part has a face."""
    return made.floor_top + 0.57 * (made.top - made.floor_top)


def _wedges(made: HalfTray, wedges: list[Polygon], walls: Any) -> Iterator[str]:
    """Every wedge bears on the wall, stands loosely off the post, and reaches into neither."""
    post = [one for one in _pieces(walls) if one.distance(Spot(0, made.rail)) < 1.0]
    wall = unary_union([one for one in _pieces(walls) if one not in post])
    for number, wedge in enumerate(wedges, start=1):
        if wedge.intersection(walls).area > SLIVER:
            yield f"wedge {number} reaches into wall or post"
        off = _outer(wedge).distance(wall)
        if off > FIT:
            yield f"wedge {number} stands {off} off the wall"
        if made.post:
            off = wedge.distance(post[0]) - made.process.loose
            if abs(off) > FIT:
                yield f"wedge {number} stands {off} too far off the post"
    if bool(made.post) != bool(post):
        yield "there is no post"


def _fat_half(plan: Plan, made: HalfTray, walls: Any) -> Iterator[str]:
    """A fat half, whose wedges stand a hair askew, still goes in, but for next to nothing."""
    for number, wedge in enumerate(half(plan, made, fat=FAT), start=1):
        if wedge.buffer(-RIDE).intersection(walls).area > SLIVER:
            yield f"wedge {number} of a fat half does not go in"


def _outer(wedge: Polygon) -> LineString:
    corners = list(wedge.exterior.coords)
    return LineString(corners[2:4])


def _pieces(flat: Any) -> list[Polygon]:
    return list(getattr(flat, "geoms", [flat]))


def _lands(made: HalfTray, cuts: Cuts, wedges: list[Polygon]) -> Iterator[str]:
    """Under every wedge a land of its own, relief under every joint."""
    flat = _pieces(cuts.at("bed", made.floor_top - 0.1))
    tree = STRtree(flat)
    for number, wedge in enumerate(wedges, start=1):
        near = [flat[i] for i in tree.query(wedge)]
        under = [one for one in near if one.intersection(wedge).area > SLIVER]
        if len(under) != 1 or not wedge.buffer(1e-6).contains(under[0]):
            yield f"wedge {number} has no land of its own"
            continue
        corners = list(wedge.exterior.coords)
        if min(under[0].distance(LineString(corners[i : i + 2])) for i in (1, 3)) < 0.29:
            yield f"the land of wedge {number} reaches under a joint"
    through = cuts.at("bed", RAIL / 2.0)
    for hole in through.interiors:
        middle = Polygon(hole).centroid
        if any(wedge.exterior.distance(middle) == 0.0 for wedge in wedges):
            yield "a push-out hole lies under a joint"


def _truing(plan: Plan, made: HalfTray, ring: RingPlan, cuts: Cuts) -> Iterator[str]:
    """Two halves cut off at the rail, one turned half round, leave just a joint between them."""
    assert ring.wedges is not None
    front = cuts.at("bed", RAIL / 2.0).bounds[1]
    fat = half(plan, made, fat=FAT)
    past = front - min(wedge.bounds[1] for wedge in fat)
    corner = max(x for wedge in fat for x, _ in wedge.exterior.coords)
    if abs(past - sanded_off(corner, FAT)) > FIT or abs(past - made.fat) > FIT:
        yield f"a fat half reaches {past} past the rail, and {made.fat} is said"
    for name, wedges in (("true", half(plan, made)), ("fat", fat)):
        trued = unary_union(wedges).intersection(box(-FAR, front, FAR, FAR))
        ends = trued.intersection(LineString([(-FAR, front), (FAR, front)]).buffer(1e-6))
        length = ring.wedges.blank.height
        if sum(one.length / 2.0 for one in _pieces(ends)) < 1.9 * length:
            yield f"the end faces of a {name} half do not lie in the rail's plane"
        off = trued.distance(affinity.rotate(trued, 180.0, origin=(0, 0)))
        if abs(off - ring.wedges.joint) > FIT / 10.0:
            yield f"two {name} halves leave {off} between them for a joint of {ring.wedges.joint}"


def _sanding(made: HalfTray, cuts: Cuts) -> Iterator[str]:
    """A board on the rail's whole length touches nothing but the rail and the wedges."""
    rail = cuts.at("bed", RAIL / 2.0)
    front = rail.bounds[1]
    board = box(-FAR, front - 20.0, FAR, front)
    edge = LineString([(-FAR, front), (FAR, front)])
    if abs(rail.exterior.intersection(edge).length - (rail.bounds[2] - rail.bounds[0])) > FIT:
        yield "the rail does not run the whole length"
    for height, least in ((made.floor_top - 0.1, 0.29), (_standing(made), 0.49)):
        off = cuts.at("bed", height).distance(board)
        if off < least:
            yield f"at {height} the bed stands {off} off the board"
    for height in (made.wedges_top + 0.5, made.wedges_top + 2.0):
        off = cuts.at("cap", height).distance(board)
        if off < PLAY:
            yield f"the cap stands {off} off the board"


def _cap(made: HalfTray, ring: RingPlan, cuts: Cuts, wedges: list[Polygon]) -> Iterator[str]:
    """It rests on every wedge's upper face, on nothing else, wherever its screws let it stand."""
    cap, walls = cuts.parts["cap"], cuts.at("bed", _standing(made))
    pads = _pieces(cuts.at("cap", made.wedges_top + 0.5))
    if abs(cap.places[0].z + cap.block.lowest - made.floor_top - ring.tile_thickness) > 1e-9:
        yield "the cap does not rest on the wedges"
    tree = STRtree(pads)
    for number, wedge in enumerate(wedges, start=1):
        on = [pads[i] for i in tree.query(wedge, predicate="intersects")]
        if len(on) != 1 or not wedge.contains(on[0]):
            yield f"wedge {number} has no pad of its own"
    whole, height = unary_union(pads), ring.wedges.blank.height  # type: ignore[union-attr]
    if height / 5.0 >= PLAY + 0.1:
        off = min(_shifted(whole, PLAY, t).distance(walls) for t in DIRECTIONS)
        if off <= 0.0:
            yield "a pad of the cap comes over wall or post"


def _shifted(flat: Any, by: float, direction: float) -> Any:
    return affinity.translate(flat, by * math.cos(direction), by * math.sin(direction))


def _bar(made: HalfTray, cuts: Cuts, wedges: list[Polygon]) -> Iterator[str]:
    """Its noses press both end faces and nothing else, however far a short half lets them in."""
    bar = cuts.parts["bar"]
    place = bar.places[0]
    if abs(place.z + bar.block.lowest) > 1e-9:
        yield f"the bar's foot stands {place.z + bar.block.lowest} over the bench"
    for height in (_standing(made), RAIL / 2.0, made.floor_top - 0.1):
        flat = cuts.at("bar", height)
        for by in (-10.0, -3.0, 0.0, IN):
            there = affinity.translate(flat, 0.0, by)
            if there.intersection(cuts.at("bed", height)).area > SLIVER:
                yield f"the bar meets the bed at {height}, {by} from its place"
    nose = cuts.at("bar", made.floor_top + 0.4)
    if nose.intersection(unary_union(wedges)).area > SLIVER:
        yield "the bar reaches into the wedges"
    for name, wedge in (("first", wedges[0]), ("last", wedges[-1])):
        held = nose.buffer(1e-3).intersection(wedge.exterior).length
        if held < 0.5 * ring_height(wedge):
            yield f"the bar holds only {held} mm of the {name} end face"


def ring_height(wedge: Polygon) -> float:
    """The height of a blank, from its corners."""
    corners = list(wedge.exterior.coords)
    return LineString(corners[0:2]).distance(LineString(corners[2:4]))


def _screws(made: HalfTray, cuts: Cuts) -> Iterator[str]:
    """They go through both with the clearance of ISO 273, and their heads can't turn."""
    across, _ = NUTS[4]
    flats = {
        "bed": cuts.at("bed", _standing(made)),
        "cap": cuts.at("cap", made.wedges_top + 2.0),
    }
    below = cuts.at("bed", RAIL / 4.0)
    for x, y in made.screws:
        for name, flat in flats.items():
            off = disc(SCREW / 2.0, (x, y)).distance(flat)
            if abs(off - 0.25) > FIT:
                yield f"a screw stands {off} off the {name}"
        heads = [_hexagon(across, (x, y), turn) for turn in (0.0, 30.0)]
        fits = [one.distance(below) for one in heads if one.intersection(below).area < SLIVER]
        if not fits or abs(max(fits) - made.process.slide) > FIT:
            yield f"a screw's head stands {fits} off its slot"
        turned = [_hexagon(across, (x, y), turn + 15.0) for turn in (0.0, 30.0)]
        if made.process.slide < 0.35 and any(
            one.intersection(below).area < SLIVER for one in turned
        ):
            yield "a screw's head turns in its slot"
    if len(made.screws) < 3:
        yield "fewer than three screws hold the cap"


def _hexagon(across: float, at: tuple[float, float], turn: float) -> Polygon:
    radius = across / math.sqrt(3.0)
    angles = [math.radians(turn + 60.0 * i) for i in range(6)]
    return Polygon([(at[0] + radius * math.cos(t), at[1] + radius * math.sin(t)) for t in angles])


def solid_misfits(plan: Plan, made: HalfTray, bodies: list[tuple[Any, Any]]) -> list[str]:
    """The same and what is over and under one another, by the CAD kernel."""
    (_, bed), (_, cap), (_, bar) = bodies
    flat = half(plan, made)
    some = [flat[0], flat[-1], *flat[1 : -1 : max(1, len(flat) // MOST)]]
    wedges = [
        prism(polygon((x, y) for x, y in one.exterior.coords[:-1]), made.floor_top, made.wedges_top)
        for one in some
    ]
    whole, found = together(wedges), []
    for name, solid in (("bed", bed), ("cap", cap), ("bar", bar)):
        if shared(whole, solid) > TOUCH:
            found.append(f"the wedges reach into the {name}")
        if name != "bar" and max(one.distance(solid) for one in wedges) > 1e-6:
            found.append(f"a wedge does not touch the {name}")
    if max(one.distance(bar) for one in wedges[:2]) > 1e-6:
        found.append("the bar does not touch an end face")
    for by in (-5.0, IN):
        there = moved(bar, by=(0, by, 0))
        if shared(there, bed) > TOUCH or shared(there, cap) > TOUCH:
            found.append(f"the bar meets bed or cap {by} from its place")
    top = made.wedges_top + 20.0
    board = prism(
        polygon([(-FAR, -30.0), (FAR, -30.0), (FAR, made.rail), (-FAR, made.rail)]), 0.0, top
    )
    if shared(board, bed) > TOUCH or board.distance(bed) > 1e-6:
        found.append("the sanding board does not run on the bed")
    if board.distance(cap) < PLAY:
        found.append("the sanding board meets the cap")
    # as low as the caps of wedges thinner by all that they stand above the wall
    spare = made.wedges_top - made.top
    if shared(moved(cap, by=(0, 0, -spare)), bed) > TOUCH:
        found.append("thin wedges let the cap down on the bed")
    screws = together([pin(SCREW, 1.0, top, at) for at in made.screws])
    for name, solid in (("bed", bed), ("cap", cap)):
        if shared(screws, solid) > TOUCH:
            found.append(f"a screw does not go through the {name}")
    return found
