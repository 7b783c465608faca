"""Go and no-go gauges: for wedges as they come off the saw, for the trimmed ring, for the channel.

Every limit comes from the plan: what the trim allowance forgives, and what the glue gap leaves.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypedDict

from jigs.base import Check, Fixture, Part
from jigs.gauges_limits import Limits, channel_limits, ring_limits, wedge_step
from jigs.gauges_marks import Marker
from jigs.process import Process, process_for
from rosette.errors import Finding, finding
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Channel, Plan
from rosette.words import Length, say

LARGEST = 180.0
"""A wedge wider than this is measured with a rule (mm)."""
NARROWEST = 3.0
"""A tongue narrower than this breaks off, and a ring narrower than this is let in by eye."""
LEAST_FOOT = 1.0
"""Width of the narrowest notch at its foot."""
SHALLOW = 0.1
"""How much too shallow a channel may be: the ring stands that much prouder, and is levelled."""
LEAST_DEEP = 0.05
"""How much too deep, where the ring stands hardly proud; else half of what it does, up to 0.1."""


class _Common(TypedDict):
    kind: str
    process: Process
    thick: float
    text: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Gauge(Fixture):
    """What every gauge has: how it is made, how thick its plates are, whether with letters."""

    process: Process
    thick: float
    text: bool

    @property
    def marker(self) -> Marker:
        """How its plates are marked."""
        return Marker(process=self.process, top=self.thick, text=self.text)


@dataclass(frozen=True, slots=True, kw_only=True)
class WedgeGauge(_Gauge):
    """A plate with a notch of the wedge's own angle (mm, radians).

    The sides meet at 0, 0; the wedge's axis is +y. Its ends stand at `near` and `far` in the
    right notch; the outer end may be `step` mm off either way.
    """

    mitre_rad: float
    near: float
    far: float
    step: float

    def parts(self) -> tuple[Part, ...]:
        """The plate."""
        from jigs.gauges_wedge import plate

        return (Part(name="plate", title=self.title, block=plate(self)),)

    def checks(self) -> tuple[Check, ...]:
        """The notch across its mouth, at either shoulder."""
        from jigs.gauges_wedge import checks

        return checks(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class RingGauge(_Gauge):
    """A plate that straddles the ring, and an arm that turns about the pivot pin (mm).

    `limits` are the least and the greatest radii and widths; `deep` is how far the slots reach
    over the ring.
    """

    inner_radius: float
    outer_radius: float
    limits: Limits
    pin: float
    deep: float

    def parts(self) -> tuple[Part, ...]:
        """The plate with its two slots, and the arm."""
        from jigs.gauges_ring import parts

        return parts(self)

    def checks(self) -> tuple[Check, ...]:
        """Both slots, and the arm's four steps."""
        from jigs.gauges_ring import checks

        return checks(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelGauge(_Gauge):
    """For every depth of a channel a plate with three tongues (mm)."""

    channel: Channel
    limits: tuple[Limits, ...]
    shallow: float
    deep: float

    def parts(self) -> tuple[Part, ...]:
        """A plate for every depth."""
        from jigs.gauges_channel import parts

        return parts(self)

    def checks(self) -> tuple[Check, ...]:
        """Width and length of every tongue."""
        from jigs.gauges_channel import checks

        return checks(self)


def fixtures(plan: Plan) -> tuple[Fixture | Finding, ...]:
    """A gauge for each ring's wedges, for each ring of wedges, for each channel."""
    found: list[Fixture | Finding] = []
    for ring in plan.wedge_rings:
        assert ring.wedges is not None
        found += (_wedge(plan, ring, ring.wedges), _ring(plan, ring))
    found += (_channel(plan, channel) for channel in plan.channels)
    return tuple(found)


def _common(plan: Plan) -> _Common:
    process = process_for(plan.fixtures)
    thick = {"fdm": 3.0, "cnc": 3.0, "plywood": 4.0}[process.name]
    text = plan.fixtures.text and process.text_depth > 0.0
    return {"kind": "gauges", "process": process, "thick": thick, "text": text}


def _wedge(plan: Plan, ring: RingPlan, wedges: Wedges) -> Fixture | Finding:
    process, blank = process_for(plan.fixtures), wedges.blank
    slope = math.tan(math.radians(wedges.mitre_angle))
    least = max(LEAST_FOOT, process.bit)
    foot = blank.inner_width - 2.0 * (wedge_step(wedges) + 0.2) * slope
    if blank.outer_width > LARGEST:
        return _no_wedge(
            ring,
            "{width} is too wide for a notch; measure the wedges with a rule, and try their angle"
            " as a half set against a straight edge",
            width=Length(blank.outer_width),
        )
    if foot < least:
        return _no_wedge(
            ring,
            "a notch for wedges {width} wide at the inner end can't be made, since it must be"
            " {least} wide at its foot" + ("; print it, or use a finer bit" if process.bit else ""),
            width=Length(blank.inner_width),
            least=Length(least),
        )
    return WedgeGauge(
        name=f"ring-{ring.index}-wedge-gauge",
        title=f"Wedge gauge, ring {ring.index}",
        purpose=f"Tells whether a wedge of ring {ring.index} is right, wide or narrow.",
        why=say(
            "{segments} wedges that are all {off} too wide would make the ring {grown} larger all"
            " round; the gauge's steps stop at what the trim allowance forgives",
            segments=wedges.segments,
            off=Length(2.0 * wedge_step(wedges) * slope),
            grown=Length(wedge_step(wedges)),
        ),
        mitre_rad=math.radians(wedges.mitre_angle),
        near=blank.inner_width / 2.0 / slope,
        far=blank.outer_width / 2.0 / slope,
        step=wedge_step(wedges),
        section=((-LARGEST, 0.0), (LARGEST, 0.0)),
        **_common(plan),
    )


def _no_wedge(ring: RingPlan, template: str, **words: object) -> Finding:
    return finding("no-gauges", f"ring[{ring.index}]", "no wedge gauge: " + template, **words)


def _ring(plan: Plan, ring: RingPlan) -> Fixture | Finding:
    channel = next(one for one in plan.channels if ring.index in one.rings)
    if ring.width < NARROWEST:
        return finding(
            "no-gauges",
            f"ring[{ring.index}]",
            "no ring gauge: {width} is too narrow for one; try the ring in its channel",
            width=Length(ring.width),
        )
    process = process_for(plan.fixtures)
    if ring.width - 1.0 < process.bit:
        return finding(
            "no-gauges",
            "fixtures.bit_diameter",
            "no gauge for ring {index}: a bit of {bit} does not go into a slot for {width}; use a"
            " finer one, or print it",
            index=ring.index,
            bit=Length(process.bit),
            width=Length(ring.width),
        )
    made = RingGauge(
        name=f"ring-{ring.index}-gauge",
        title=f"Ring gauge, ring {ring.index}",
        purpose=f"Tells whether ring {ring.index} is trimmed to fit its channel.",
        why=say(
            "the channel leaves {gap} for glue at each wall: the ring may use up half of that and"
            " no more",
            gap=Length(channel.gap),
        ),
        inner_radius=ring.inner_radius,
        outer_radius=ring.outer_radius,
        limits=ring_limits(ring, channel.gap),
        pin=float(plan.fixtures.pivot_pin),
        deep=ring.tile_thickness + ring.backing + 1.0 + max(1.0, process.inside_radius),
        section=((-1.0, 0.0), (ring.outer_radius + 20.0, 0.0)),
        **_common(plan),
    )
    return made if has_room(made) else _small(ring)


def has_room(gauge: RingGauge) -> bool:
    """Whether the arm has room for a window between the pivot and the ring's inner edge."""
    from jigs.gauges_ring import LEAST_SEEN, WINDOW, window_start

    radius = gauge.limits.inner_go
    return radius > WINDOW and window_start(gauge) + LEAST_SEEN <= math.sqrt(radius**2 - WINDOW**2)


def _small(ring: RingPlan) -> Finding:
    return finding(
        "no-gauges",
        f"ring[{ring.index}]",
        "no ring gauge: inside a radius of {inner} an arm about the pivot has no room for its"
        " window; measure the ring by caliper",
        inner=Length(ring.inner_radius),
    )


def _channel(plan: Plan, channel: Channel) -> Fixture | Finding:
    common = _common(plan)
    limits = tuple(channel_limits(step, channel.gap) for step in channel.steps)
    if any(one.tongue_go(common["thick"]) < NARROWEST for one in limits):
        return finding(
            "no-gauges",
            f"channel[{channel.index}]",
            "no channel gauge: its rings leave a tongue of less than {least}; try the strip itself"
            " and measure the depth with a caliper's tail",
            least=Length(NARROWEST),
        )
    return ChannelGauge(
        name=f"channel-{channel.index}-gauge",
        title=f"Channel gauge, channel {channel.index}",
        purpose=f"Tells whether channel {channel.index} is wide and deep enough, and not too much.",
        why=say(
            "a channel {depth} deep in a {top} top leaves {floor}: too deep can't be mended",
            depth=Length(channel.depth),
            top=Length(plan.top_thickness),
            floor=Length(channel.floor),
        ),
        channel=channel,
        limits=limits,
        shallow=SHALLOW,
        deep=min(SHALLOW, max(LEAST_DEEP, channel.proud / 2.0)),
        section=((-60.0, 0.0), (60.0, 0.0)),
        **_common(plan),
    )
