"""Channels: which rings share one, how deep each part goes, and whether the top allows it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rosette.design.model import Design, PlacedRing
from rosette.errors import Finding, finding
from rosette.plan.model import Channel, ChannelStep
from rosette.plan.passes import MOST_PASSES, pass_count, passes_for
from rosette.words import Length

SAME = 1e-6
"""Two lengths closer than this (mm) are the same."""
THINNEST_SLIVER = 0.8
"""Soundboard left narrower than this (mm) between two channels breaks out (common practice)."""
WIDEST_GAP, USUAL_GAP = 0.76, 0.05
"""Room for glue, mm: both walls together at the most, each wall with epoxy (common practice)."""
WIDEST_KERF = 3.2
"""A full-width table-saw blade's cut, mm (common practice)."""
MARGIN = 3.0
"""Soundboard usually left between the soundhole's edge and the first ring, mm (common practice)."""


@dataclass(frozen=True, slots=True)
class Layout:
    """The channels of a design, with why it can't be made and what to think over."""

    channels: tuple[Channel, ...]
    refusals: tuple[Finding, ...]
    warnings: tuple[Finding, ...]


def lay_out(design: Design) -> Layout:
    """Group the rings into channels and work each one out."""
    refusals = list(_placing_refusals(design))
    channels: list[Channel] = []
    if not refusals:
        for index, group in enumerate(_groups(design), start=1):
            trouble = list(_depth_refusals(design, group)) or list(_bit_refusals(design, group))
            refusals += trouble
            if not trouble:
                channels.append(_channel(design, group, index))
    warnings = [
        *_fit_warnings(design),
        *_margin_warnings(design),
        *_sliver_warnings(design, channels),
    ]
    warnings += (w for channel in channels for w in _floor_warnings(design, channel))
    return Layout(tuple(channels), tuple(refusals), tuple(warnings))


def _placing_refusals(design: Design) -> Iterator[Finding]:
    first = design.rings[0]
    hole = design.instrument.soundhole_diameter / 2.0
    if first.inner_radius < hole - SAME:
        yield finding(
            "in-soundhole",
            f"ring[{first.index}].inner_radius",
            "ring {index} starts at {radius}, inside the soundhole, whose radius is {hole};"
            " start it at {hole} or more",
            index=first.index,
            radius=Length(first.inner_radius),
            hole=Length(hole),
        )
    gap = design.channel.gap
    if gap >= first.inner_radius - SAME:
        yield finding(
            "gap-too-wide",
            "channel.gap",
            "a gap of {gap} takes the channel past the centre of ring {index}, whose inner radius"
            " is {radius}; {usual} at each wall is usual",
            gap=Length(gap),
            index=first.index,
            radius=Length(first.inner_radius),
            usual=Length(USUAL_GAP),
        )
    for a, b in pairwise(design.rings):
        if b.inner_radius < a.outer_radius - SAME:
            yield finding(
                "rings-overlap",
                f"ring[{b.index}].inner_radius",
                "ring {b} starts at {start}, before ring {a} ends at {end}; start it at {end} or"
                " more (rings stand in the file from the inside out)",
                a=a.index,
                b=b.index,
                start=Length(b.inner_radius),
                end=Length(a.outer_radius),
            )


def _groups(design: Design) -> list[tuple[PlacedRing, ...]]:
    """Rings that touch, or whose walls would meet, share a channel."""
    groups: list[list[PlacedRing]] = []
    for ring in design.rings:
        if groups and ring.inner_radius - groups[-1][-1].outer_radius <= _together(design):
            groups[-1].append(ring)
        else:
            groups.append([ring])
    return [tuple(group) for group in groups]


def _together(design: Design) -> float:
    return 2.0 * design.channel.gap + SAME


def depth_of(design: Design, ring: PlacedRing) -> float:
    """How deep a ring is let into the top (mm): its thickness and backing, less what is proud."""
    return ring.keys.tile_thickness + ring.keys.backing - design.channel.proud


def _depth_refusals(design: Design, group: Sequence[PlacedRing]) -> Iterator[Finding]:
    top, least = design.instrument.top_thickness, design.channel.minimum_floor
    deepest = top - least
    for ring in group:
        depth = depth_of(design, ring)
        where = f"ring[{ring.index}].tile_thickness"
        if depth <= 0:
            yield finding(
                "not-let-in",
                where,
                "ring {index} would stand {proud} proud, all of its thickness, and not be let in at"
                " all; make channel.proud less than {thick}",
                index=ring.index,
                proud=Length(design.channel.proud),
                thick=Length(ring.keys.tile_thickness + ring.keys.backing),
            )
        elif top - depth < least - 1e-9:
            yield _too_deep(design, ring, depth, deepest)


def _too_deep(design: Design, ring: PlacedRing, depth: float, deepest: float) -> Finding:
    thickest = deepest + design.channel.proud - ring.keys.backing
    left = design.instrument.top_thickness - depth
    lead = (
        "a channel {depth} deep leaves {left} of the {top} top, and {least} must stay"
        if left > 0
        else "a channel {depth} deep goes through the {top} top"
    )
    if deepest <= 0 or thickest <= 0:
        remedy = "; no channel works: see instrument.top_thickness and channel.minimum_floor"
    else:
        remedy = "; the deepest that works is {deepest}, with tile_thickness {thickest} or less"
    return finding(
        "floor-too-thin",
        f"ring[{ring.index}].tile_thickness",
        lead + remedy,
        depth=Length(depth),
        left=Length(left),
        top=Length(design.instrument.top_thickness),
        least=Length(design.channel.minimum_floor),
        deepest=Length(deepest),
        thickest=Length(thickest),
    )


def bit_for(design: Design, group: Sequence[PlacedRing]) -> float:
    """The bit of a channel in mm: the smallest its rings ask for, else the design's."""
    own = [ring.keys.bit_diameter for ring in group if ring.keys.bit_diameter is not None]
    return min(own, default=design.channel.bit_diameter)


def _steps(design: Design, group: Sequence[PlacedRing]) -> Iterator[ChannelStep]:
    """Each depth in turn: the runs of rings that go at least as deep, from where the last ended."""
    gap, top = design.channel.gap, 0.0
    levels: list[float] = []
    for depth in sorted(depth_of(design, ring) for ring in group):
        if not levels or depth > levels[-1] + SAME:
            levels.append(depth)
    for level in levels:
        for run in _runs([r for r in group if depth_of(design, r) >= level - SAME]):
            yield ChannelStep(
                rings=tuple(ring.index for ring in run),
                inner_radius=run[0].inner_radius - gap,
                outer_radius=run[-1].outer_radius + gap,
                top=top,
                depth=level,
                floor=design.instrument.top_thickness - level,
            )
        top = level


def _runs(rings: Sequence[PlacedRing]) -> Iterator[list[PlacedRing]]:
    run = [rings[0]]
    for ring in rings[1:]:
        if ring.index != run[-1].index + 1:
            yield run
            run = []
        run.append(ring)
    yield run


def _bit_refusals(design: Design, group: Sequence[PlacedRing]) -> Iterator[Finding]:
    bit = bit_for(design, group)
    steps = list(_steps(design, group))
    narrowest = min(steps, key=lambda step: step.outer_radius - step.inner_radius)
    width = narrowest.outer_radius - narrowest.inner_radius
    if bit > width + 1e-9:
        yield finding(
            "bit-too-wide",
            f"ring[{narrowest.rings[0]}].bit_diameter",
            "a bit of {bit} does not go into a channel {width} wide; give this ring a bit_diameter"
            " of {width} or less",
            bit=Length(bit, 3),
            width=Length(width, 3),
        )
        return
    for step in steps:
        count = pass_count(
            width=step.outer_radius - step.inner_radius,
            depth=step.depth - step.top,
            bit=bit,
            per_pass=design.channel.depth_per_pass,
        )
        if count > MOST_PASSES:
            yield finding(
                "too-many-passes",
                "channel.depth_per_pass",
                "a bit of {bit} going {per_pass} deeper each time takes over {most} passes; use a"
                " larger bit or deeper passes",
                bit=Length(bit, 4),
                per_pass=Length(design.channel.depth_per_pass, 4),
                most=MOST_PASSES,
            )
            return


def _channel(design: Design, group: Sequence[PlacedRing], index: int) -> Channel:
    bit, steps = bit_for(design, group), tuple(_steps(design, group))
    deepest = max(steps, key=lambda step: step.depth)
    return Channel(
        index=index,
        rings=tuple(ring.index for ring in group),
        inner_radius=group[0].inner_radius - design.channel.gap,
        outer_radius=group[-1].outer_radius + design.channel.gap,
        depth=deepest.depth,
        floor=deepest.floor,
        bit_diameter=bit,
        gap=design.channel.gap,
        proud=design.channel.proud,
        steps=steps,
        passes=tuple(
            one
            for step in steps
            for one in passes_for(
                inner_radius=step.inner_radius,
                outer_radius=step.outer_radius,
                top=step.top,
                depth=step.depth,
                bit=bit,
                per_pass=design.channel.depth_per_pass,
            )
        ),
    )


def _fit_warnings(design: Design) -> Iterator[Finding]:
    gap, kerf = design.channel.gap, design.cutting.kerf
    if 2.0 * gap > WIDEST_GAP + SAME:
        yield finding(
            "wide-gap",
            "channel.gap",
            "a gap of {gap} at each wall would be seen; {usual} is usual, and {most} in all the"
            " most",
            gap=Length(gap),
            usual=Length(USUAL_GAP),
            most=Length(WIDEST_GAP),
        )
    if kerf > WIDEST_KERF + SAME:
        yield finding(
            "wide-kerf",
            "cutting.kerf",
            "a saw's cut of {kerf} is wider than a table saw's full blade, {most}: look at the"
            " number and its unit",
            kerf=Length(kerf),
            most=Length(WIDEST_KERF),
        )


def _margin_warnings(design: Design) -> Iterator[Finding]:
    first = design.rings[0]
    margin = first.inner_radius - design.channel.gap - design.instrument.soundhole_diameter / 2.0
    if SAME < margin < MARGIN - design.channel.gap - SAME:
        yield finding(
            "near-soundhole",
            f"ring[{first.index}].inner_radius",
            "only {margin} of soundboard stays between the soundhole and the first channel;"
            " {usual} is usual, and under {least} it breaks out",
            margin=Length(margin),
            usual=Length(MARGIN),
            least=Length(THINNEST_SLIVER),
        )


def _sliver_warnings(design: Design, channels: Sequence[Channel]) -> Iterator[Finding]:
    for a, b in pairwise(channels):
        left = b.inner_radius - a.outer_radius
        if left < THINNEST_SLIVER - 1e-9:
            yield finding(
                "sliver",
                f"channel[{b.index}]",
                "a sliver of soundboard {left} wide stays between channels {a} and {b}; under"
                " {least} it breaks out: let the rings touch, or leave more",
                left=Length(left),
                a=a.index,
                b=b.index,
                least=Length(THINNEST_SLIVER),
            )
    for one, two in pairwise(design.rings):
        space = two.inner_radius - one.outer_radius
        if SAME < space <= _together(design):
            yield finding(
                "sliver",
                f"ring[{two.index}].space",
                "the {space} between rings {a} and {b} is all glue gap: no soundboard stays there,"
                " and they share one channel; let them touch, or leave more",
                space=Length(space),
                a=one.index,
                b=two.index,
            )


def _floor_warnings(design: Design, channel: Channel) -> Iterator[Finding]:
    top = design.instrument.top_thickness
    if channel.depth > top / 2.0 + 1e-9:
        yield finding(
            "thin-floor",
            f"channel[{channel.index}]",
            "the channel takes {depth} of a {top} top and leaves {floor}; about half the top is"
            " the usual limit: check the thickness all round before routing",
            depth=Length(channel.depth),
            top=Length(top),
            floor=Length(channel.floor),
        )
