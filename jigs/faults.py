"""What people are told where the CAD kernel fails: which part, which edges, what would help."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigs.base import FixtureError, Part
from jigs.sound import problems
from rosette.errors import finding
from rosette.words import Length

if TYPE_CHECKING:
    import cadquery

CODE = "fixture-solid"
ROOM = (
    "nothing was written; give it more room - a wider ring, smaller screws or pin, less clearance -"
    " or leave this fixture out of kinds under [fixtures]"
)
CHANGE = (
    "nothing was written; change one of its sizes a little, by 0.1 mm, or leave this fixture out of"
    " kinds under [fixtures]"
)
TOLD = 3
"""How many outlines in each other's way are told; the rest mostly follow from the first."""


def failure(fixture: str, part: Part, happened: str) -> FixtureError:
    """The error for a part whose solid can't be used.

    Looks for the outlines that are in each other's way; where none are, names the part, its size
    and what happened.
    """
    where = f"{fixture}, {part.name}"
    found = problems(part.block)
    if found:
        told = [finding(CODE, where, one) for one in found[:TOLD]]
        return FixtureError([*told, finding(CODE, where, ROOM)])
    left, low, right, high = part.block.outline.bounds()
    return FixtureError([
        finding(
            CODE,
            where,
            "the part of {width} by {depth}, {height} high, could not be made: {happened}; "
            + CHANGE,
            width=Length(right - left),
            depth=Length(high - low),
            height=Length(part.block.highest - part.block.lowest),
            happened=happened,
        )
    ])  # fmt: skip


def first_fault(shape: cadquery.Shape) -> str:
    """The first face or edge that the kernel says is not sound, by its middle; empty if none."""
    from OCP.BRepCheck import BRepCheck_Analyzer

    analyzer = BRepCheck_Analyzer(shape.wrapped)
    for kind, several in (("an edge", shape.Edges()), ("a face", shape.Faces())):
        for one in several:
            if not analyzer.IsValid(one.wrapped):
                box = one.BoundingBox()
                x, y, z = box.center.toTuple()
                return f"{kind} about ({x:.2f}, {y:.2f}, {z:.2f}) mm is not sound"
    return ""
