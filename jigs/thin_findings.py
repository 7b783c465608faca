"""What is too thin to make or to hold, told with its place and what to do about it."""

from __future__ import annotations

from jigs.mesh import Mesh
from jigs.process import Process
from jigs.thickness import Measured, thin_places
from rosette.errors import Finding, finding
from rosette.words import Length

LEAST_GAP = 0.4
"""A narrower gap closes up in printing: one line of a usual nozzle (mm)."""
_WORDS = {
    "feature": (
        "thin-feature",
        "only {size} is left at x {x}, y {y}, {height} high; {least} is the least that can be made",
    ),
    "wall": (
        "thin-wall",
        "a wall is {size} thick and {height} high at x {x}, y {y}; {least} is the least that holds",
    ),
    "floor": (
        "thin-floor",
        "a floor is {size} thick at x {x}, y {y}; {least} is the least that can be made",
    ),
    "gap": (
        "narrow-gap",
        "a pocket is {size} wide at x {x}, y {y}, and nothing narrower than {least} can be made",
    ),
}


def thin_findings(mesh: Mesh, process: Process, where: str) -> tuple[Finding, ...]:
    """What of a part is too thin for its way of making; places are in the part's coordinates.

    `where` names the part, for what the findings say.
    """
    gap = process.bit or LEAST_GAP
    found = thin_places(mesh, feature=process.feature, wall=process.wall, gap=gap)
    least = {"feature": process.feature, "wall": process.wall, "floor": process.feature, "gap": gap}
    return tuple(_told(one, least[one.kind], where) for one in found)


def worst_findings(mesh: Mesh, process: Process, where: str) -> tuple[Finding, ...]:
    """The worst of `thin_findings` of each sort."""
    found = thin_findings(mesh, process, where)
    return tuple({one.code: one for one in reversed(found)}.values())[::-1]


def _told(one: Measured, least: float, where: str) -> Finding:
    code, words = _WORDS[one.kind]
    if one.kind == "gap" and least > LEAST_GAP:
        words += "; a thinner bit gets in, if it reaches down"
    return finding(
        code,
        where,
        words,
        size=Length(one.size),
        height=Length(one.height),
        x=Length(one.x),
        y=Length(one.y),
        least=Length(least),
    )
