"""Where each ring of a design starts and ends."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rosette.errors import Finding, finding
from rosette.keys.show import key_path
from rosette.units import LengthError, Units, parse_length
from rosette.words import Length

AGREE = 1e-6
"""A width and an outer radius that differ by less than this, in mm, say the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Radii:
    """A ring's edges (mm); None where the file does not tell, which is a finding of its own."""

    inner: float | None
    outer: float | None


def place(
    rings: Iterable[Mapping[str, object]], soundhole_radius: float | None, units: Units
) -> tuple[list[Radii], list[Finding]]:
    """Place rings from the inside out, and say what does not fit together.

    Each starts at its own inner_radius, or `space` (0 where not given) beyond the one before;
    the first needs one of the two, its space counting from the soundhole's edge. A value that
    can't be read leaves its ring without a place: that it can't is told elsewhere.
    """
    placed: list[Radii] = []
    findings: list[Finding] = []
    edge = soundhole_radius
    for index, ring in enumerate(rings):
        lengths = {name: _length(ring[name], units) for name in _PLACING if name in ring}
        if index == 0 and not {"inner_radius", "space"} & lengths.keys():
            findings.append(_no_start())
            edge = None
        inner = _inner(lengths, edge)
        problem = _problem(lengths, inner, index)
        if problem is not None:
            findings.append(problem)
        edge = None if problem is not None else _outer(lengths, inner)
        placed.append(Radii(inner=inner, outer=edge))
    return placed, findings


_PLACING = ("inner_radius", "space", "width", "outer_radius")


def _length(value: object, units: Units) -> float | None:
    try:
        length = parse_length(value, units)
    except LengthError:
        return None
    return length if length >= 0 else None


def _inner(lengths: Mapping[str, float | None], edge: float | None) -> float | None:
    if "inner_radius" in lengths:
        return lengths["inner_radius"]
    space = lengths.get("space", 0.0)
    return None if edge is None or space is None else edge + space


def _outer(lengths: Mapping[str, float | None], inner: float | None) -> float | None:
    if "outer_radius" in lengths:
        return lengths["outer_radius"]
    width = lengths.get("width")
    return None if inner is None or width is None else inner + width


def _problem(
    lengths: Mapping[str, float | None], inner: float | None, index: int
) -> Finding | None:
    """An outer radius that contradicts the inner one, or the width."""
    outer, width = lengths.get("outer_radius"), lengths.get("width")
    if outer is None or inner is None:
        return None
    where = key_path(("ring", index, "outer_radius"))
    if outer <= inner:
        return finding(
            "placement",
            where,
            "{outer} is not outside the ring's inner radius, {inner}; make it larger",
            outer=Length(outer),
            inner=Length(inner),
        )
    if width and abs(inner + width - outer) > AGREE:
        return finding(
            "placement",
            where,
            "{outer} and a width of {width} do not agree: from {inner} that width ends at {end};"
            " keep one of the two",
            outer=Length(outer, 4),
            width=Length(width, 4),
            inner=Length(inner, 4),
            end=Length(inner + width, 4),
        )
    return None


def _no_start() -> Finding:
    return finding(
        "placement",
        key_path(("ring", 0, "inner_radius")),
        "is missing, and so is space: say where the first ring starts, for example"
        " inner_radius = 52 from the centre, or space = 3 from the soundhole's edge",
    )
