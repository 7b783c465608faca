"""Which way up a part is printed, and what hangs in the air whichever way it lies."""

from __future__ import annotations

from dataclasses import dataclass, replace

from jigs.base import Part
from jigs.mesh import Mesh
from jigs.overhang import LONGEST_BRIDGE, Ceiling, ceilings
from jigs.printing import laid_down
from rosette.errors import Finding, finding
from rosette.words import Length

SPECK = 0.5
"""Less than this hangs without harm (mm²)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """How a part is printed: turned over or not, and whether holes in ceilings are closed.

    `hanging` are the ceilings that no bridge holds even so.
    """

    over: bool
    closed: bool
    hanging: tuple[Ceiling, ...]


def lie_of(part: Part, mesh: Mesh, *, longest: float = LONGEST_BRIDGE) -> Lie:
    """The way in which a part is printed best; `mesh` is that of its solid.

    Its own choice holds if nothing hangs. Else it is turned over if nothing hangs then, else holes
    in its ceilings are closed by a thin layer, the one way up or the other. If something hangs
    even so, it is the way in which least does.
    """
    found: list[tuple[bool, tuple[Ceiling, ...]]] = []
    for over in (part.print_over, not part.print_over):
        found.append((over, _ceilings(part, mesh, longest, over=over)))
        if not any(one.hanging > SPECK for one in found[-1][1]):
            return Lie(over=over, closed=False, hanging=())
    best = min(found, key=lambda one: _hangs(one[1]))
    hanging = tuple(one for one in best[1] if one.closed > SPECK)
    closed = any(one.hanging > SPECK >= one.closed for one in best[1])
    return Lie(over=best[0], closed=closed, hanging=hanging)


def _ceilings(part: Part, mesh: Mesh, longest: float, *, over: bool) -> tuple[Ceiling, ...]:
    return ceilings(laid_down(mesh, replace(part, print_over=over)), longest=longest)


def _hangs(found: tuple[Ceiling, ...]) -> tuple[float, float]:
    return (
        round(sum(one.closed for one in found if one.closed > SPECK), 3),
        round(sum(one.hanging for one in found), 3),
    )


def hanging_findings(
    lie: Lie, where: str, *, longest: float = LONGEST_BRIDGE
) -> tuple[Finding, ...]:
    """What hangs in the air: where, how large, what to do. Places are those on the bed."""
    return tuple(
        finding(
            "overhang",
            where,
            "printed {side}, {area} mm² hang in the air at x {x}, y {y}, {z} up, where no bridge of"
            " {longest} or less holds them; let the slicer put supports there",
            side="upside down" if lie.over else "as it stands",
            area=round(one.closed),
            x=Length(one.x, 1),
            y=Length(one.y, 1),
            z=Length(one.z, 1),
            longest=Length(longest, 0),
        )
        for one in lie.hanging
    )
