"""The glue-up tray: a ring's wedges stand in it against a wall and round a post.

Everything is in ring coordinates, show face up, the neck at 12 o'clock: the sizes here, the
reasons in docs/fixtures.md and docs/decisions.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from jigs.base import Check, Fixture, Part
from jigs.terrace import Block
from jigs.tray_findings import refusal_for, too_fine, warnings_for
from jigs.tray_floor import Floor, floor_for
from jigs.tray_words import Line, lines_for
from rosette.errors import Finding
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.words import say

BASE = 4.0
"""Thickness under the relief grooves."""
RELIEF = 1.0
"""Depth of the relief grooves under the wedges."""
WALL = 5.0
"""Thickness of the wall; the corner relief leaves 3.4 mm of it."""
CORNER_RELIEF = 1.6
"""Radius of the relief in each corner: a 3.175 mm (1/8 in) cutter gets into it."""
PROUD = 0.5
"""How far the wedges stand above wall and post, or a third of their thickness if that is less."""
LEAST_SAGITTA = 0.1
"""Flats that stand less than this inside the circle through their corners can't be made."""
CHAMFER = 0.4
MARK_DEPTH = 0.6
"""Depth of marks and letters: two or three layers of a print."""
CLEARANCE_HOLES = ((6, 6.6), (5, 5.5), (4, 4.5), (3, 3.4))
"""Thread and clearance hole, medium fit, ISO 273."""
POST_AROUND_HOLE = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray(Fixture):
    """Sizes of one tray (mm, degrees).

    `flats` tells whether wall and post have a flat for every wedge or are round; `wall` and
    `post` are then apothems or radii. `turn` is the direction of the first wedge's axis, and
    wedges follow it clockwise. `floor_top` is what the wedges stand on.
    """

    segments: int
    turn: float
    clearance: float
    flats: bool
    wall: float
    post: float
    floor: Floor
    floor_top: float
    top: float
    bolt: int
    hole: float
    text: tuple[Line, ...]

    @property
    def mitre_rad(self) -> float:
        """Half the angle from wedge to wedge, in radians."""
        return math.pi / self.segments

    @property
    def seam(self) -> float:
        """Direction in degrees of the joint before the first wedge."""
        return self.turn + 180.0 / self.segments

    @property
    def outer(self) -> float:
        """Apothem or radius of the plate."""
        return self.wall + WALL

    @property
    def depth(self) -> float:
        """Height of wall and post above what the wedges stand on."""
        return self.top - self.floor_top

    def across(self) -> tuple[float, float]:
        """Its width and its depth on the bench, neck away."""
        from jigs.tray_block import plate_outline

        left, low, right, high = plate_outline(self).bounds()
        return right - left, high - low

    def block(self) -> Block:
        """Its shape, in ring coordinates."""
        from jigs.tray_block import tray_block

        return tray_block(self)

    def checks(self) -> tuple[Check, ...]:
        """Across post and wall where they have two sides, between them, and the wall's height."""
        from jigs.tray_checks import tray_checks

        return tray_checks(self)

    def parts(self) -> tuple[Part, ...]:
        """The one plate."""
        return (Part(name="plate", title=self.title, block=self.block()),)


def fixtures(plan: Plan) -> tuple[Tray | Finding, ...]:
    """The tray of every ring of wedges, or why it can't be made and what would work."""
    return tuple(tray_for(plan, ring) for ring in plan.wedge_rings)


def tray_for(plan: Plan, ring: RingPlan) -> Tray | Finding:
    """The tray of one ring."""
    wedges, clearance = ring.wedges, plan.fixtures.clearance
    assert wedges is not None
    blank = wedges.blank
    refusal, floor = refusal_for(ring, wedges, clearance), floor_for(wedges)
    if refusal is not None or floor is None:
        return refusal or too_fine(ring, wedges)
    flats = has_flats(wedges, clearance)
    corner = math.hypot(blank.outer_distance, blank.outer_width / 2.0)
    post = blank.inner_distance - clearance
    bolt, hole = _hole(post)
    lines, unsaid = lines_for(plan, ring, post=post, hole=hole)
    depth = ring.tile_thickness - proud_of(ring.tile_thickness)
    tray = Tray(
        name=f"ring-{ring.index}-tray",
        kind="tray",
        why=say(
            "{segments} wedges stand in it at once, each in its place, so that errors show before"
            " there is glue on them",
            segments=wedges.segments,
        ),
        title=f"Glue-up tray, ring {ring.index}",
        purpose=(
            f"Holds the {wedges.segments} wedges of ring {ring.index} in their places while they"
            " are glued to one another."
        ),
        segments=wedges.segments,
        turn=_first_axis(ring),
        clearance=clearance,
        flats=flats,
        wall=(blank.outer_distance if flats else corner) + clearance,
        post=post,
        floor=floor,
        floor_top=BASE + RELIEF,
        top=BASE + RELIEF + depth,
        bolt=bolt,
        hole=hole,
        text=lines,
    )
    from jigs.tray_checks import section_line

    warnings = (*unsaid, *warnings_for(tray, ring))
    return replace(tray, warnings=warnings, section=section_line(tray))


def proud_of(thickness: float) -> float:
    """How far wedges of a thickness stand above the wall, so that a flat caul presses them."""
    return min(PROUD, thickness / 3.0)


def has_flats(wedges: Wedges, clearance: float) -> bool:
    """Whether the wall has a flat for every wedge, or is round.

    A ring of wedges turns in flats that stand off it by c until the corners of its blanks
    come up against them: by φ = β - acos((xₒ + c)/R), with R the distance of the corners and β
    their angle from the axis. Flats guide as long as φ is at most β/2, stand out from a circle
    by something that can be made, and are at least half left by their corner relief.

    """
    blank = wedges.blank
    outer, half = blank.outer_distance, blank.outer_width / 2.0
    side = 2.0 * (outer + clearance) * math.tan(math.pi / wedges.segments)
    return (
        math.hypot(outer, half) - outer >= LEAST_SAGITTA
        and side >= 4.0 * CORNER_RELIEF
        and turn_in_flats(outer, half, clearance) <= math.atan2(half, outer) / 2.0
    )


def turn_in_flats(outer: float, half_width: float, clearance: float) -> float:
    """How far blanks turn either way inside flats that stand `clearance` off them, in radians.

    `outer` is the distance of the blanks' outer ends from the centre. They turn for ever (told
    as π) where the flats stand further out than their corners.

    >>> round(math.degrees(turn_in_flats(71.5, 71.5 * math.tan(math.pi / 12), 0.2)), 2)
    0.61
    """
    corner = math.hypot(outer, half_width)
    if outer + clearance >= corner:
        return math.pi
    return math.atan2(half_width, outer) - math.acos((outer + clearance) / corner)


def _hole(post: float) -> tuple[int, float]:
    """The largest bolt that the post takes, and the diameter of its hole; 0 where none."""
    for bolt, hole in CLEARANCE_HOLES:
        if hole / 2.0 + POST_AROUND_HOLE <= post:
            return bolt, hole
    return 0, 0.0


def _first_axis(ring: RingPlan) -> float:
    axes = [one.axis for one in ring.pieces if one.kind == "wedge" and one.position == 1]
    if not axes or axes[0] is None:
        raise ValueError(f"ring {ring.index} has no first wedge with an axis")
    return axes[0]
