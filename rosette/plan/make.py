"""Design → Plan: every ring and channel worked out, or every reason why it can't be made."""

from __future__ import annotations

from rosette.design.model import Design, PlacedRing
from rosette.errors import CannotMakeError, Finding
from rosette.geometry.hidden import HiddenStrip
from rosette.patterns import patterns
from rosette.patterns.base import RingPlan, RingSite
from rosette.plan.channels import lay_out
from rosette.plan.letters import letter_warnings
from rosette.plan.model import FixtureWishes, Job, Plan
from rosette.plan.movement import movements


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
        fixtures=FixtureWishes(clearance=design.fixtures.clearance, text=design.fixtures.text),
        warnings=(*warnings, *layout.warnings, *move_warnings, *letters),
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
            rings.append(patterns()[ring.keys.pattern].plan(ring.keys, _site(design, ring, hidden)))
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
