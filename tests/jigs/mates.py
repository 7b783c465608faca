"""What goes into fixtures, as solids: blanks, rings, pins, bars; and how they stand to one another.

Blanks and rings come from the plan alone (their outlines and each piece's axis), distances and
common volumes from the CAD kernel.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from jigs.block_solid import block_solid
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, Point, circle, polygon
from rosette.patterns.base import Blank, RingPlan

TOUCH = 1e-6
"""Common volume in mm³ up to which two bodies only touch."""


def prism(outline: Outline, low: float, high: float, holes: Iterable[Outline] = ()) -> Any:
    """A closed outline from one height to another, with holes right through."""
    steps = tuple(Step(outline=one, top=0.0) for one in holes)
    return block_solid(Block(outline=outline, top=high - low, steps=steps)).translate((0, 0, low))


def pin(diameter: float, low: float, high: float, at: Point = (0.0, 0.0)) -> Any:
    """An upright cylinder: a pin, bolt, bit or rod."""
    return prism(circle(diameter / 2.0, at), low, high)


def hexagon(across: float, low: float, high: float, at: Point = (0.0, 0.0), turn: float = 0) -> Any:
    """A nut or a bolt's head by its width across flats; a corner points to `turn` degrees."""
    radius = across / math.sqrt(3.0)
    angles = [math.radians(turn + 60.0 * i) for i in range(6)]
    corners = [(at[0] + radius * math.cos(t), at[1] + radius * math.sin(t)) for t in angles]
    return prism(polygon(corners), low, high)


def bar(
    length: float, width: float, low: float, high: float, *, at: Point = (0, 0), turn: float = 0
) -> Any:
    """A straight bar about its middle `at`, its length along `turn` degrees."""
    x, y = length / 2.0, width / 2.0
    outline = polygon([(-x, -y), (x, -y), (x, y), (-x, y)])
    return prism(outline.mapped(math.radians(turn), at), low, high)


def annulus(inner: float, outer: float, low: float, high: float, at: Point = (0.0, 0.0)) -> Any:
    """A flat ring: a glued and trimmed rosette, a channel."""
    return prism(circle(outer, at), low, high, [circle(inner, at)])


def glued_ring(of: RingPlan, low: float, high: float) -> Any:
    """A ring as it comes out of the glue, untrimmed: straight blanks joined, spacers and all.

    Its rims have a flat for every wedge, whose corners lie where the joints' middles are.
    """
    outlines = [_rim(of, outer=outer) for outer in (True, False)]
    return prism(outlines[0], low, high, [outlines[1]])


def _rim(of: RingPlan, *, outer: bool) -> Outline:
    assert of.wedges is not None
    blank = of.wedges.blank
    distance = blank.outer_distance if outer else blank.inner_distance
    radius = distance / math.cos(math.radians(of.wedges.mitre_angle))
    joints = [one.axis + of.wedges.mitre_angle for one in of.pieces if one.axis is not None]
    return polygon(
        (radius * math.cos(math.radians(t)), radius * math.sin(math.radians(t)))
        for t in sorted(t % 360.0 for t in joints)
    )


def wedge(of: Blank, low: float, high: float, *, axis: float = 0.0, grown: float = 0.0) -> Any:
    """One blank about the ring's centre, its axis pointing to `axis` degrees.

    `grown` makes its height larger, half at each end.
    """
    half = grown / 2.0
    middle = (of.inner_distance + of.outer_distance) / 2.0
    corners = [(x + (half if x > middle else -half), y) for x, y in of.outline().points()]
    return prism(polygon(corners).mapped(math.radians(axis)), low, high)


def blanks(of: RingPlan, low: float, high: float, *, grown: float = 0.0) -> list[Any]:
    """Every blank of a ring as a solid where the plan has it, from one height to another."""
    assert of.wedges is not None
    return [
        wedge(of.wedges.blank, low, high, axis=piece.axis, grown=grown)
        for piece in of.pieces
        if piece.axis is not None
    ]


def joints(of: RingPlan, low: float, high: float, width: float) -> list[Any]:
    """A bar along every joint, from the blanks' inner ends to their outer corners."""
    assert of.wedges is not None
    blank = of.wedges.blank
    corner = math.hypot(blank.outer_distance, blank.outer_width / 2)
    start = math.hypot(blank.inner_distance, blank.inner_width / 2)
    found = []
    for piece in of.pieces:
        assert piece.axis is not None
        turn = piece.axis + of.wedges.mitre_angle
        middle = (start + corner) / 2
        at = (middle * math.cos(math.radians(turn)), middle * math.sin(math.radians(turn)))
        found.append(bar(corner - start, width, low, high, at=at, turn=turn))
    return found


def together(several: Iterable[Any]) -> Any:
    """Several solids as one shape."""
    from cadquery import Compound

    return Compound.makeCompound(list(several))


def shared(a: Any, b: Any) -> float:
    """The volume in mm³ that two shapes have in common."""
    return float(a.intersect(b).Volume())


def distance(a: Any, b: Any) -> float:
    """The least distance in mm between two shapes; 0 where they touch or share something."""
    return float(a.distance(b))


def moved(solid: Any, *, by: tuple[float, float, float] = (0, 0, 0), turn: float = 0) -> Any:
    """A solid turned about the z axis by `turn` degrees, then shifted."""
    return solid.rotate((0, 0, 0), (0, 0, 1), turn).translate(by)


def wall_faces(solid: Any, low: float, high: float) -> Any:
    """The upright faces of a solid that reach below `low` and above `high`, as one shape."""
    walls = [
        face
        for face in solid.Faces()
        if (box := face.BoundingBox()).zmax > high - TOUCH and box.zmin < low + TOUCH
    ]
    return together(walls)
