"""Design → Plan: every ring and channel worked out, or every reason why it can't be made."""

from __future__ import annotations

from rosette.design.model import Design, FixtureKeys, PlacedRing
from rosette.errors import CannotMakeError, Finding
from rosette.geometry.hidden import HiddenStrip
from rosette.patterns import pattern
from rosette.patterns.base import RingPlan, RingSite
from rosette.plan.channels import lay_out
from rosette.plan.letters import letter_warnings
from rosette.plan.model import FixtureWishes, Job, Plan
from rosette.plan.movement import movements

CLEARANCES = {"fdm": 0.2, "cnc": 0.1, "plywood": 0.3}
"""Sliding fits in mm by the way of making, where the maker names none (common practice)."""


def make_plan(design: Design) -> Plan:
    """Work out a design.

    Raises:
        CannotMakeError: with every reason at once, each naming what would work.
    """
    hidden = hidden_strip(design)
    rings, refusals = _rings(design, hidden)
    layout = lay_out(design)
    refusals += layout.refusals
    if refusals:
        raise CannotMakeError(refusals, source=design.source, units=design.units)
    moves, move_warnings = movements(design, rings)
    warnings = [w for ring in rings for w in ring.warnings]
    letters = letter_warnings(design, rings)
    job = design.job
    return Plan(
        name=design.instrument.name,
        units=design.units,
        job=Job(
            owner=job.owner or "",
            creator=job.creator or "",
            number=job.number or design.sha256[:8],
            date=job.date.isoformat() if job.date else "",
        ),
        soundhole_diameter=design.instrument.soundhole_diameter,
        top_thickness=design.instrument.top_thickness,
        hidden=hidden,
        kerf=design.cutting.kerf,
        minimum_floor=design.channel.minimum_floor,
        proud=design.channel.proud,
        depth_per_pass=design.channel.depth_per_pass,
        rings=tuple(rings),
        channels=layout.channels,
        movement=tuple(moves),
        fixtures=_wishes(design.fixtures),
        warnings=(*warnings, *layout.warnings, *move_warnings, *letters),
    )


def _wishes(keys: FixtureKeys) -> FixtureWishes:
    clearance = CLEARANCES[keys.process] if keys.clearance is None else keys.clearance
    return FixtureWishes(
        kinds=keys.kinds,
        clearance=clearance,
        text=keys.text,
        process=keys.process,
        bit_diameter=keys.bit_diameter,
        bed_width=keys.bed_width,
        bed_depth=keys.bed_depth,
        bar_width=keys.bar_width,
        bar_depth=keys.bar_depth,
        pivot_pin=keys.pivot_pin,
        router_circle=keys.router_circle,
        router_screws=keys.router_screws,
        router_thread=keys.router_thread,
    )


def hidden_strip(design: Design) -> HiddenStrip | None:
    """The strip under the fingerboard, or None where the design has no fingerboard."""
    width, reach = design.instrument.fingerboard_width, design.instrument.fingerboard_reach
    return None if width is None or reach is None else HiddenStrip(width=width, reach=reach)


def _rings(design: Design, hidden: HiddenStrip | None) -> tuple[list[RingPlan], list[Finding]]:
    rings: list[RingPlan] = []
    refusals: list[Finding] = []
    for ring in design.rings:
        try:
            found = pattern(ring.keys.pattern)
            assert found is not None  # reading the design has found it
            rings.append(found.plan(ring.keys, _site(design, ring, hidden)))
        except CannotMakeError as error:
            refusals += error.findings
    return rings, refusals


def _site(design: Design, ring: PlacedRing, hidden: HiddenStrip | None) -> RingSite:
    return RingSite(
        index=ring.index,
        inner_radius=ring.inner_radius,
        outer_radius=ring.outer_radius,
        kerf=design.cutting.kerf,
        inner_allowance=design.cutting.inner_allowance,
        outer_allowance=design.cutting.outer_allowance,
        hidden=hidden,
    )
