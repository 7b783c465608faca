"""Whether a petalled line can be cut with the bit at hand and fits its ring, and what would."""

from __future__ import annotations

import math
from collections.abc import Callable

from rosette.errors import CannotMakeError, Finding, finding
from rosette.patterns.base import RingSite
from rosette.patterns.petals_edge import Edge, scallop, wave
from rosette.patterns.petals_keys import MOST_PETALS, PetalsKeys
from rosette.words import Length

STEEPEST = 85.0
"""Degrees between the line and the ring, at the most: past that petals begin to have necks."""
LEAST_LEFT = 0.3
"""Wood left (mm) between the line and the ring's own edge, at the least (common practice)."""


def edge_of(keys: PetalsKeys, site: RingSite) -> Edge:
    """The line that the keys ask for.

    Raises:
        CannotMakeError: where it leaves its ring or can't be cut, with what would work.
    """
    edge = _edge(keys.petals, keys.depth, keys, site)
    reasons = [*_thick_glue(keys, site), *_outside(keys, site)] or [*_uncuttable(edge, keys, site)]
    if reasons or edge is None:
        raise CannotMakeError(reasons)
    return edge


def middle_radius(keys: PetalsKeys, site: RingSite) -> float:
    """Half way between tips and valleys (mm)."""
    return keys.edge_radius or (site.inner_radius + site.outer_radius) / 2.0


def left(keys: PetalsKeys, site: RingSite) -> tuple[float, float]:
    """The least wood left (mm) inside the line and outside it."""
    middle = middle_radius(keys, site)
    return (
        middle - keys.depth / 2.0 - site.inner_radius,
        site.outer_radius - middle - keys.depth / 2.0,
    )


def _edge(petals: int, depth: float, keys: PetalsKeys, site: RingSite) -> Edge | None:
    sign = 1 if keys.toward == "out" else -1
    middle = middle_radius(keys, site)
    if depth / 2.0 >= middle:
        return None
    if keys.shape == "wave":
        return wave(petals, sign=sign, middle=middle, depth=depth)
    return scallop(petals, sign=sign, middle=middle, depth=depth, valley=keys.cutter / 2.0)


def _does(edge: Edge | None, keys: PetalsKeys) -> bool:
    return (
        edge is not None
        and min(edge.petal, edge.valley) >= keys.cutter / 2.0 - 1e-9
        and edge.lean() <= math.radians(STEEPEST)
    )


def _thick_glue(keys: PetalsKeys, site: RingSite) -> list[Finding]:
    """Half the glue comes off a point no rounder than the bit, and half at the joint there."""
    most = keys.cutter / 4.0
    if keys.glue_line <= most + 1e-9:
        return []
    return [
        finding(
            "thick-glue",
            f"{site.where}.glue_line",
            "{glue} of glue leaves too little of points as narrow as a bit of {cutter} makes them;"
            " at most {most} would do",
            glue=Length(keys.glue_line),
            cutter=Length(keys.cutter),
            most=Length(math.floor(most * 100.0 + 1e-6) / 100.0),
        )
    ]


def _outside(keys: PetalsKeys, site: RingSite) -> list[Finding]:
    inside, outside = left(keys, site)
    if min(inside, outside) >= LEAST_LEFT - 1e-9:
        return []
    middle = middle_radius(keys, site)
    deepest = 2.0 * min(middle - site.inner_radius, site.outer_radius - middle) - 2.0 * LEAST_LEFT
    remedy = (
        "petals of at most {deepest} would stay inside"
        if deepest > 0.0
        else "put edge_radius between {low} and {high}"
    )
    return [
        finding(
            "leaves-the-ring",
            f"{site.where}.depth",
            "a line {depth} deep about {middle} comes to within {left} of the ring's edges, and"
            " {least} has to stay; " + remedy,
            depth=Length(keys.depth),
            middle=Length(middle),
            left=Length(min(inside, outside)),
            least=Length(LEAST_LEFT),
            deepest=Length(math.floor(deepest * 100.0 + 1e-6) / 100.0),
            low=Length(site.inner_radius + LEAST_LEFT),
            high=Length(site.outer_radius - LEAST_LEFT),
        )
    ]


def _uncuttable(edge: Edge | None, keys: PetalsKeys, site: RingSite) -> list[Finding]:
    if edge is not None and _does(edge, keys):
        return []

    def deep(depth: float) -> bool:
        return _does(_edge(keys.petals, depth, keys, site), keys)

    def many(petals: int) -> bool:
        return _does(_edge(petals, keys.depth, keys, site), keys)

    room = 2.0 * min(left(keys, site)) + keys.depth - 2.0 * LEAST_LEFT
    depth = _nearest_depth(deep, keys.depth, room)
    petals = _nearest_count(many, keys.petals)
    remedies = [
        *(["a depth of {better}"] if depth is not None else []),
        *(["{petals} petals"] if petals is not None else []),
    ]
    would = f"; {' or '.join(remedies)} would do" if remedies else "; use a smaller bit"
    return [
        finding(
            "uncuttable-line",
            f"{site.where}.petals",
            "{count} petals {depth} deep can't be cut round with a bit of {cutter}: {why}" + would,
            count=keys.petals,
            depth=Length(keys.depth),
            cutter=Length(keys.cutter),
            why=_why(edge, keys),
            better=Length(depth or 0.0),
            petals=petals or 0,
        )
    ]


def _why(edge: Edge | None, keys: PetalsKeys) -> str:
    if edge is None:
        return "they are too shallow to round inward on a ring that itself curves outward"
    if min(edge.petal, edge.valley) < keys.cutter / 2.0 - 1e-9:
        return "it is wider than they are"
    return "they would be narrower at their foot than above it"


def _nearest_depth(does: Callable[[float], bool], asked: float, room: float) -> float | None:
    """The depth nearest to the one asked for that works, to 0.01 mm and inside the ring."""
    most = int(room * 100.0)
    start = round(asked * 100.0)
    for step in range(1, max(most, start) + 1):
        for hundredths in (start - step, start + step):
            if 0 < hundredths <= most and does(hundredths / 100.0):
                return hundredths / 100.0
    return None


def _nearest_count(does: Callable[[int], bool], asked: int) -> int | None:
    for step in range(1, MOST_PETALS):
        for petals in (asked - step, asked + step):
            if 3 <= petals <= MOST_PETALS and does(petals):
                return petals
    return None
