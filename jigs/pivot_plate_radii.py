"""Which radii a pivot plate needs, and what is said where one can't be had."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jigs.pivot_plate_holes import CLEARING, Wanted
from rosette.errors import Finding, finding
from rosette.plan.model import Channel, Plan
from rosette.words import Length

SAME = 1e-6
USES = {"outer": "outer wall", "inner": "inner wall", "both": "both walls", "clear": CLEARING}


def wanted_radii(plan: Plan, channel: Channel) -> tuple[Wanted, ...]:
    """Pivot to bit centre (mm) of every pass, and of what else is cut on the same pivot."""
    found: list[Wanted] = []
    for one in (*_passes(channel), *_trims(plan, channel), *_soundhole(plan, channel)):
        same = next((i for i, o in enumerate(found) if abs(o.radius - one.radius) <= SAME), None)
        if same is None:
            found.append(one)
            continue
        other = found[same]
        uses = other.use.split(", ")
        if one.use not in uses:
            uses.append(one.use)
        found[same] = Wanted(
            radius=other.radius,
            use=", ".join(uses),
            cuts=other.cuts or one.cuts,
            ring=other.ring or one.ring,
            inside=other.inside or one.inside,
        )
    return tuple(found)


def _passes(channel: Channel) -> Iterator[Wanted]:
    for one in channel.passes:
        yield Wanted(radius=one.pivot_radius, use=USES[one.wall], cuts=True)


def _trims(plan: Plan, channel: Channel) -> Iterator[Wanted]:
    half = channel.bit_diameter / 2.0
    for ring in plan.wedge_rings:
        if ring.index in channel.rings:
            outside, inside = ring.outer_radius + half, ring.inner_radius - half
            yield Wanted(radius=outside, use=f"outside of ring {ring.index}", ring=ring.index)
            yield Wanted(
                radius=inside, use=f"inside of ring {ring.index}", ring=ring.index, inside=True
            )


def _soundhole(plan: Plan, channel: Channel) -> Iterator[Wanted]:
    if channel.index == 1:
        radius = (plan.soundhole_diameter - channel.bit_diameter) / 2.0
        yield Wanted(radius=radius, use="soundhole")


def small_base(channel: Channel, circle: float, least: float) -> Finding:
    """Why no plate goes on this router."""
    return finding(
        "no-pivot-plate",
        "fixtures.router_circle",
        "channel {index} gets no pivot plate: its router's screws on a circle of {circle} leave no"
        " room for a bit of {bit}; a router with its screws on {least} or more would do",
        index=channel.index,
        circle=Length(circle),
        bit=Length(channel.bit_diameter),
        least=Length(least),
    )


def no_hole(plan: Plan, channel: Channel, missing: Sequence[Wanted], nearest: float) -> Finding:
    """Why a channel's passes can't all be had on one plate."""
    smallest = min(one.radius for one in missing)
    if smallest < nearest:
        words = (
            "channel {index} gets no pivot plate: a radius of {radius} puts the {pin} mm pin too"
            " near the bit; {nearest} is the least. A thinner pivot_pin or a smaller bit makes"
            " room, or rout it with a compass whose pin stands under the router"
        )
    else:
        words = (
            "channel {index} gets no pivot plate: there is no room left for the pin hole at"
            " {radius}; a larger bit needs fewer settings, a thinner pivot_pin smaller holes"
        )
    return finding(
        "no-pivot-plate",
        f"channel[{channel.index}]",
        words,
        index=channel.index,
        radius=Length(smallest),
        pin=plan.fixtures.pivot_pin,
        nearest=Length(nearest),
    )


def left_out(channel: Channel, missing: Sequence[Wanted]) -> Iterator[Finding]:
    """What the plate can't do beside the channel itself."""
    for one in missing:
        yield finding(
            "pivot-plate-without",
            f"channel[{channel.index}]",
            "the pivot plate of channel {index} has no hole for the {use}: at {radius} the pin"
            " would stand too near the bit or the router's screws; a thinner pivot_pin makes room,"
            " or cut it by hand",
            index=channel.index,
            use=one.use,
            radius=Length(one.radius),
        )
