"""The caul on a ring's wedges in their tray, its bolt through both."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from shapely import STRtree, affinity
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot
from shapely.ops import unary_union

from jigs.base import Fixture
from jigs.caul import Caul
from jigs.caul_pads import HEIGHT
from jigs.placing import placed
from jigs.tray import Tray, tray_for
from rosette.patterns.base import RingPlan
from rosette.plan import Plan
from tests.jigs.flat import cut, disc, shape
from tests.jigs.mates import TOUCH, blanks, joints, moved, pin, shared, together

FIT = 0.01
"""How far the bolt's clearance may be from the one asked for, in mm."""
MOST = 12
"""Blanks that are held against the caul as solids; they are alike."""
JUST = 0.05
"""Wedges that are this much less thin than would let the caul down on the tray."""
DIRECTIONS = tuple(math.radians(45.0 * i) for i in range(8))


def misfits(plan: Plan, fixture: Fixture, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What is wrong with a caul; empty where it presses every wedge and nothing else."""
    assert isinstance(fixture, Caul)
    return plane_misfits(plan, fixture) + solid_misfits(plan, fixture, bodies)


def ring_and_tray(plan: Plan, made: Caul) -> tuple[RingPlan, Tray]:
    """What the caul is for."""
    ring = next(one for one in plan.wedge_rings if made.name == f"ring-{one.index}-caul")
    tray = tray_for(plan, ring)
    assert isinstance(tray, Tray)
    return ring, tray


def plane_misfits(plan: Plan, made: Caul) -> list[str]:
    """What level cuts tell."""
    ring, tray = ring_and_tray(plan, made)
    pads = _pieces(cut(made.block(), -0.5))
    walls = cut(tray.block(), (tray.floor_top + tray.top) / 2.0)
    plate = cut(made.block(), made.thickness / 2.0)
    return [
        *_pads_on_wedges(ring, pads),
        *_pads_and_walls(made, tray, pads, walls),
        *_bolt(made, tray, plate, walls),
        *_sights(tray, plate),
        *_rim(made, tray),
    ]


def _pieces(flat: Any) -> list[Polygon]:
    return list(getattr(flat, "geoms", [flat]))


def _flat_blanks(ring: RingPlan) -> list[Polygon]:
    assert ring.wedges is not None
    blank = Polygon(ring.wedges.blank.outline().points())
    axes = [piece.axis for piece in ring.pieces if piece.axis is not None]
    return [affinity.rotate(blank, axis, origin=(0, 0)) for axis in axes]


def _pads_on_wedges(ring: RingPlan, pads: list[Polygon]) -> Iterator[str]:
    """One pad on each wedge, well inside its sides, out to both its ends."""
    assert ring.wedges is not None
    blank = ring.wedges.blank
    wedges, tree = _flat_blanks(ring), STRtree(pads)
    if len(pads) != len(wedges):
        yield f"{len(pads)} pads for {len(wedges)} wedges"
    for number, wedge in enumerate(wedges, start=1):
        on = [pads[i] for i in tree.query(wedge, predicate="intersects")]
        if len(on) != 1 or not wedge.contains(on[0]):
            yield f"wedge {number} has no pad of its own"
            continue
        corners = list(wedge.exterior.coords)
        sides = [LineString(corners[i : i + 2]) for i in (1, 3)]
        if min(on[0].distance(side) for side in sides) < 0.29:
            yield f"the pad of wedge {number} reaches to its joint"
        inner, outer = (LineString([corners[i], corners[i + 1]]) for i in (0, 2))
        ends = on[0].distance(inner), on[0].distance(outer)
        # where wedges are narrow, the pad begins where it is as wide as two lines of a print
        wide = math.dist(*list(on[0].exterior.coords)[0:2]) > 0.81
        if ends[1] > 1.01 or ends[0] > (1.01 if wide else blank.height / 2.0):
            yield f"the pad of wedge {number} ends {ends} from the wedge's ends"


def _pads_and_walls(made: Caul, tray: Tray, pads: list[Polygon], walls: Any) -> Iterator[str]:
    """Off centre by all the play of its bolt, in any direction, no pad comes over the tray."""
    play = (made.hole + tray.hole) / 2.0 - made.bolt if made.bolt else 0.8
    whole = unary_union(pads)
    off = min(
        affinity.translate(whole, play * math.cos(t), play * math.sin(t)).distance(walls)
        for t in DIRECTIONS
    )
    # where wedges are too short to keep the pads inside, `spare` counts on their height alone
    if made.spare > HEIGHT and off <= 0.0:
        yield "a pad comes over wall or post when the caul stands off centre"


def _bolt(made: Caul, tray: Tray, plate: Any, walls: Any) -> Iterator[str]:
    if made.bolt != tray.bolt:
        yield f"the caul is for M{made.bolt}, its tray for M{tray.bolt}"
    if not made.bolt:
        return
    bolt = disc(made.bolt / 2.0)
    for name, flat in (("caul", plate), ("tray", walls)):
        off = bolt.distance(flat)
        if abs(off - (tray.hole - tray.bolt) / 2.0) > FIT:
            yield f"the bolt stands off the {name} by {off}"


def _sights(tray: Tray, plate: Any) -> Iterator[str]:
    """Straight down through each sight hole a mark of the tray's rim is seen."""
    marks = [
        shape(step.outline) for step in tray.block().steps if tray.top - 1.0 < step.top < tray.top
    ]
    if len(marks) != 2:
        yield f"the tray has {len(marks)} marks on its rim"
    for mark in marks:
        if plate.intersects(Spot(mark.centroid)):
            yield "a mark on the tray's rim is covered"


def _rim(made: Caul, tray: Tray) -> Iterator[str]:
    """Fingers get under it somewhere on either side."""
    under = disc(made.radius).difference(shape(tray.block().outline))
    for side in (Spot(-made.radius, 0), Spot(made.radius, 0)):
        room = under.intersection(side.buffer(made.radius / 2.0))
        if room.area < 15.0 * 5.0:
            yield "no finger gets under the rim"


def solid_misfits(plan: Plan, made: Caul, bodies: list[tuple[Any, Any]]) -> list[str]:
    """The same and what is over and under one another, by the CAD kernel."""
    ((_, caul),) = bodies
    ring, tray = ring_and_tray(plan, made)
    ((_, below),) = placed(tray)
    found = []
    whole = blanks(ring, tray.floor_top, tray.floor_top + ring.tile_thickness)
    some = whole[:: max(1, len(whole) // MOST)]
    if shared(caul, together(some)) > TOUCH:
        found.append("the caul reaches into the wedges")
    found += [
        f"the caul stands {off} off a wedge" for one in some if (off := caul.distance(one)) > 1e-6
    ]
    play = (made.hole + tray.hole) / 2.0 - made.bolt if made.bolt else 0.0
    lowered = moved(caul, by=(play, 0, JUST - made.spare))
    if shared(lowered, below) > TOUCH:
        found.append(f"wedges {made.spare - JUST} thinner let the caul down on the tray")
    if not made.spare > 0.25:
        found.append(f"wedges only {made.spare} thinner let the caul down on the tray")
    bars = joints(ring, made.rest, made.rest + 1.0, ring.wedges.joint + 0.58)  # type: ignore[union-attr]
    if shared(caul, together(bars[:: max(1, len(bars) // MOST)])) > TOUCH:
        found.append("no relief over the joints")
    if made.bolt:
        bolt = pin(made.bolt, -20.0, made.rest + 40.0)
        for name, solid in (("caul", caul), ("tray", below)):
            off = bolt.distance(solid)
            if shared(bolt, solid) > TOUCH or abs(off - (made.hole - made.bolt) / 2.0) > FIT:
                found.append(f"the bolt stands off the {name} by {off}")
    return found
