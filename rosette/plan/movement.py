"""How far each ring would move between the shop and the weather the guitar will meet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rosette.design.model import AirKeys, Design
from rosette.errors import Finding, finding
from rosette.patterns.base import RingPlan
from rosette.plan.model import Movement
from rosette.units import rounded
from rosette.wood.moisture import (
    HIGHEST_LINEAR,
    LOWEST_LINEAR,
    dimension_change,
    equilibrium_moisture,
)
from rosette.wood.species import Species, known_woods, nearest_wood, species


def movements(design: Design, rings: Sequence[RingPlan]) -> tuple[list[Movement], list[Finding]]:
    """Movement of every ring whose grain runs outward, in each climate given, with its warnings."""
    if design.climate is None:
        return [], []
    climate = design.climate
    cases = [(n, a) for n, a in (("dry", climate.dry), ("humid", climate.humid)) if a is not None]
    warnings = [*_range_warnings([("build", climate.build), *cases])]
    found: list[Movement] = []
    for ring in rings:
        woods = {wood: species(wood) for wood, _ in ring.across_grain}
        missing = [wood for wood, known in woods.items() if known is None]
        warnings += (_unknown(ring, wood) for wood in missing)
        if ring.across_grain and not missing:
            known = {wood: one for wood, one in woods.items() if one is not None}
            found += (_movement(ring, known, climate.build, name, air) for name, air in cases)
    return found, warnings


def moisture_in(air: AirKeys) -> float:
    """Equilibrium moisture content, in percent, of wood kept in this air."""
    return equilibrium_moisture(temperature=air.temperature, humidity=air.humidity)


def _movement(
    ring: RingPlan, woods: dict[str, Species], build: AirKeys, case: str, air: AirKeys
) -> Movement:
    moisture_build, moisture = moisture_in(build), moisture_in(air)
    change = sum(
        dimension_change(length, woods[wood].across(ring.sawn), moisture - moisture_build)
        for wood, length in ring.across_grain
    )
    joints = ring.wedges.segments if ring.wedges else len({piece.position for piece in ring.pieces})
    return Movement(
        ring=ring.index,
        case=case,
        temperature=air.temperature,
        humidity=air.humidity,
        moisture_build=moisture_build,
        moisture=moisture,
        radius=ring.outer_radius,
        circumference_change=change,
        per_joint=change / joints,
        sources=tuple(dict.fromkeys(f"{w.name}: {w.source}" for w in woods.values())),
    )


def _range_warnings(cases: Sequence[tuple[str, AirKeys]]) -> Iterator[Finding]:
    for name, air in cases:
        moisture = moisture_in(air)
        if not LOWEST_LINEAR <= moisture <= HIGHEST_LINEAR:
            yield finding(
                "outside-range",
                f"climate.{name}",
                "wood there holds {moisture} % water; the figures for movement hold from"
                " {low:g} to {high:g} %, so take this one as rough",
                moisture=rounded(moisture, 1),
                low=LOWEST_LINEAR,
                high=HIGHEST_LINEAR,
            )


def _unknown(ring: RingPlan, wood: str) -> Finding:
    near = nearest_wood(wood)
    return finding(
        "unknown-wood",
        f"ring[{ring.index}].wood",
        "no movement figures are known for {wood}, so this ring's movement is not told; {advice}",
        wood=wood,
        advice=f"did you mean {near}?" if near else f"known are {', '.join(known_woods()[:6])}, …",
    )
