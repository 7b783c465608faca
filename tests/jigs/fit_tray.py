"""The plan's blanks, as solids, placed in the tray that was made for them."""

from __future__ import annotations

import math
from typing import Any

from jigs.base import Fixture
from jigs.tray import Tray
from rosette.patterns.base import RingPlan
from rosette.plan import Plan
from tests.jigs.mates import TOUCH, blanks, joints, shared, together, wall_faces

FIT = 0.01
"""How far the stand-off may be from the clearance asked for, in mm."""
MOST = 12
"""Blanks held against the walls one by one; they are alike."""


def misfits(plan: Plan, fixture: Fixture, bodies: list[tuple[Any, Any]]) -> list[str]:
    """What is wrong with a ring's wedges in their tray; empty where all stand as they should."""
    assert isinstance(fixture, Tray)
    ((_, solid),) = bodies
    ring = next(one for one in plan.wedge_rings if fixture.name == f"ring-{one.index}-tray")
    return [*wedges_amiss(solid, fixture, ring), *relief_amiss(solid, fixture, ring)]


def wedges_amiss(solid: Any, of: Tray, ring: RingPlan, *, grown: float = 0.0) -> list[str]:
    """No blank reaches into the tray; each stands off wall and post by the clearance."""
    thickness, middle = ring.tile_thickness, of.floor_top + of.depth / 2.0
    found = []
    whole = blanks(ring, of.floor_top, of.floor_top + thickness, grown=grown)
    common = shared(solid, together(whole))
    if common > TOUCH:
        found.append(f"the blanks reach {common} mm³ into the tray")
    # the upper part of each blank, so that what it stands on is not the nearest
    upper = blanks(ring, middle, of.floor_top + thickness, grown=grown)
    walls = wall_faces(solid, of.floor_top, of.top)
    step = max(1, len(upper) // MOST)
    for number, blank in list(enumerate(upper, start=1))[::step]:
        for name, face in zip(("inner", "outer"), _ends(blank), strict=True):
            off = face.distance(walls)
            if abs(off - of.clearance) > FIT:
                found.append(f"the {name} end of blank {number} stands off by {off}")
    return found


def relief_amiss(solid: Any, of: Tray, ring: RingPlan) -> list[str]:
    """Bars along all joints, 0.29 mm wider on either side, as deep as the relief: all air."""
    assert ring.wedges is not None
    wide = ring.wedges.joint + 0.58
    common = shared(solid, together(joints(ring, of.floor_top - 1.0, of.floor_top, wide)))
    return [f"{common} mm³ of floor under the joints"] if common > TOUCH else []


def _ends(blank: Any) -> tuple[Any, Any]:
    """The faces of a blank that look to the centre and away from it."""

    def looks_out(face: Any) -> float:
        middle, normal = face.Center(), face.normalAt()
        return float((middle.x * normal.x + middle.y * normal.y) / math.hypot(middle.x, middle.y))

    ordered = sorted(blank.Faces(), key=looks_out)
    return ordered[0], ordered[-1]
