"""Patterns that other packages offer, found by their entry points.

A package names them in its pyproject.toml, under the group `rosette.patterns`:

    [project.entry-points."rosette.patterns"]
    sunburst = "my_rings.sunburst:PATTERN"
"""

from __future__ import annotations

import math
from collections.abc import Collection
from functools import cache
from importlib.metadata import EntryPoint, entry_points

from rosette.errors import CannotMakeError, InputError, finding
from rosette.keys import RingKeys
from rosette.patterns.base import Pattern, Piece, RingPlan, RingSite

GROUP = "rosette.patterns"
OVER = 1e-6
"""How much more than its annulus, relatively, a ring's pieces may cover."""


@cache
def others(taken: frozenset[str]) -> dict[str, Pattern]:
    """The patterns of other packages by their names; `taken` are names that are ours.

    Raises:
        InputError: with a finding for each that can't be used, naming its package.
    """
    found: dict[str, Pattern] = {}
    problems = []
    for point in sorted(entry_points(group=GROUP), key=lambda one: (one.name, one.value)):
        problem = ""
        try:
            offered = point.load()
        except Exception as error:  # another's code may fail in any way
            offered, problem = None, f"it can't be loaded ({type(error).__name__}: {error})"
        problem = problem or _problem(point, offered, {*taken, *found})
        if problem:
            problems.append(
                finding(
                    "bad-pattern",
                    "",
                    "the package {package} offers a pattern {name} that can't be used: {problem};"
                    " correct or remove that package",
                    package=_package(point),
                    name=point.name,
                    problem=problem,
                )
            )
        else:
            found[point.name] = _checked(offered, _package(point))
    if problems:
        raise InputError(problems)
    return found


def _package(point: EntryPoint) -> str:
    return point.dist.name if point.dist else point.value


def _problem(point: EntryPoint, offered: object, taken: Collection[str]) -> str:
    if not isinstance(offered, Pattern):
        return "it is not a rosette.patterns.base.Pattern"
    if offered.name != point.name:
        return f"it calls itself {offered.name}"
    if offered.name in taken:
        return "there is one of that name already"
    if not (isinstance(offered.keys, type) and issubclass(offered.keys, RingKeys)):
        return "its keys are no RingKeys"
    return ""


def _checked(pattern: Pattern, package: str) -> Pattern:
    """The same pattern, its rings looked over before anything is made of them."""

    def plan(keys: RingKeys, site: RingSite) -> RingPlan:
        ring = pattern.plan(keys, site)
        problem = problem_of(ring, site)
        if problem:
            raise CannotMakeError(
                [
                    finding(
                        "bad-pattern",
                        site.where,
                        "the pattern {name} of the package {package} {problem}; ask who wrote it",
                        name=pattern.name,
                        package=package,
                        problem=problem,
                    )
                ]
            )
        return ring

    return Pattern(
        name=pattern.name,
        summary=pattern.summary,
        keys=pattern.keys,
        plan=plan,
        example=pattern.example,
    )


def problem_of(ring: RingPlan, site: RingSite) -> str:
    """What is plainly wrong with a ring that a pattern gives; empty where nothing is.

    Its pieces must lie in its annulus and cover no more than that holds, and every
    sentence and count that sheets rely on must be there.
    """
    if not ring.pieces:
        return "gives a ring without pieces"
    if not ring.steps:
        return "gives a ring without steps"
    labels = [piece.label for piece in ring.pieces]
    if len(set(labels)) != len(labels):
        return "gives two pieces one label"
    pieces = (*ring.pieces, *ring.spacers)
    astray = next((piece.label for piece in pieces if not _stays(piece, site)), "")
    if astray:
        return f"lets piece {astray} stand out of the ring"
    annulus = math.pi * (site.outer_radius**2 - site.inner_radius**2)
    over = sum(map(_area, pieces)) > annulus * (1.0 + OVER)
    return "gives pieces that lie over one another" if over else ""


def _area(piece: Piece) -> float:
    return abs(piece.outline.area()) - sum(abs(hole.area()) for hole in piece.holes)


def _stays(piece: Piece, site: RingSite) -> bool:
    """Whether the corners of a piece lie in the annulus."""
    slack = 1e-6 * site.outer_radius
    edges = (piece.outline, *piece.holes)
    distances = [math.hypot(x, y) for edge in edges for x, y in edge.points()]
    return (
        max(distances) <= site.outer_radius + slack and min(distances) >= site.inner_radius - slack
    )
