"""Gauges to cut out of card or ply, each lettered with what it checks and its size."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rosette.geometry.outline import Outline, Point
from rosette.lettering import text_width
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Channel, Plan
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    block,
    column,
    drawing_of,
    heights_split,
    rows_of,
    tightest,
)
from rosette.sheets.dimension import length_text, units_note
from rosette.sheets.drawing import MEDIUM, Drawing, Element, Stroke, Text
from rosette.sheets.gauge_shapes import (
    TEMPLATE,
    channel_limits,
    channel_tongues,
    half_set,
    mitre_plate,
    radius_template,
    wedge_notch,
)
from rosette.sheets.table import heading, note
from rosette.units import Units, format_angle, format_length

GAP = 5.0
NARROWEST = 3.0
"""A tongue narrower than this (mm) is no use in card: the line itself is the gauge."""
LETTERS = 2.2


def drawings(plan: Plan) -> tuple[Drawing, ...]:
    """A set for each ring of wedges and its channel; other channels with the last set."""
    rings = plan.wedge_rings
    wedged = {ring.index for ring in rings}
    lone = [
        _channel(channel, plan.units)
        for channel in plan.channels
        if wedged.isdisjoint(channel.rings) and _wide(channel)
    ]
    if not rings:
        return tuple(_sheets(lone, "gauges", "Gauges for the channels", plan.units)) if lone else ()
    sets: list[Drawing] = []
    for ring in rings:
        blocks = [*_ring_gauges(plan, ring), *(lone if ring is rings[-1] else [])]
        title = f"Gauges for ring {ring.index}"
        sets += _sheets(blocks, f"gauges-{ring.index}", title, plan.units)
    return tuple(sets)


def _wide(channel: Channel) -> bool:
    """Whether a gauge of card is any use; the channel's own sheet tells the limits of all."""
    return channel_limits(width=channel.width, gap=channel.gap)[0] >= NARROWEST


def _sheets(blocks: Sequence[Block], name: str, title: str, units: Units) -> Iterator[Drawing]:
    words = (
        "Measure the bars on this page first. Paste it on card or thin ply, or cut from the DXF"
        f" file; cut on the line. {units_note(units)}"
    )
    lead = column([heading(f"{title}, full size"), note(words, PAGE_WIDTH)], gap=2.0)
    rows = [lead, *rows_of(tightest(blocks, gap=GAP), gap=GAP)]
    for number, part in enumerate(heights_split(rows, height=PAGE_HEIGHT, gap=GAP), start=1):
        yield drawing_of(
            column(part, gap=GAP),
            name=name if number == 1 else f"{name}-{number}",
            title=title if number == 1 else f"{title}, {number}",
            purpose=f"{title}, full size, to cut out of card or ply.",
        )


def _ring_gauges(plan: Plan, ring: RingPlan) -> Iterator[Block]:
    assert ring.wedges is not None
    yield _half_set(ring, ring.wedges, plan.units)
    yield _notch(ring, ring.wedges)
    yield _mitre(ring, ring.wedges)
    own = [channel for channel in plan.channels if ring.index in channel.rings]
    starts = any(channel.rings[0] == ring.index for channel in own)
    ends = any(channel.rings[-1] == ring.index for channel in own)
    yield _radius(ring, "inner", ring.inner_radius, plan.units, wall=starts)
    yield _radius(ring, "outer", ring.outer_radius, plan.units, wall=ends)
    for channel in filter(_wide, own):
        yield _channel(channel, plan.units)


def _gauge(
    name: str,
    title: str,
    use: str,
    shape: Outline,
    marks: Sequence[Element],
    *,
    least: float = 40.0,
) -> Block:
    """A gauge with its name and use above it."""
    cut = Stroke(outline=shape, layer="cut", weight=MEDIUM, name=name)
    drawn = block([cut, *marks])
    wide = max(drawn.width, least)
    return column([note(title, wide, bold=True), note(use, wide, size=2.2), drawn], gap=1.5)


def _marked(words: Sequence[str], middle: Point, room: float, *, turn: float = 0.0) -> list[Text]:
    """Words engraved in a gauge, one below the other; those too long for `room` are left out."""
    kept = [word for word in words if text_width(word, LETTERS) <= room]
    x, y = middle
    step = LETTERS * 1.8
    first = (len(kept) - 1) * step / 2.0 - LETTERS / 2.0
    marks = []
    for i, word in enumerate(kept):
        up = first - step * i
        at = (x - up, y) if turn == 90.0 else (x, y + up)
        marks.append(
            Text(text=word, at=at, height=LETTERS, anchor="middle", turn=turn, layer="engrave")
        )
    return marks


def _half_set(ring: RingPlan, wedges: Wedges, units: Units) -> Block:
    count, angle = wedges.half_set, format_angle(wedges.half_set * wedges.included_angle)
    shape = half_set(wedges)
    noun = "1 wedge" if count == 1 else f"{count} wedges"
    between = " with the spacers between them" if wedges.spacer_wood else ""
    use = (
        f"Stand {noun}{between} round the boss: both end faces must lie on the straight edges, with"
        " no light under them."
    )
    _, foot, *_ = shape.vertices
    over = math.hypot(foot.x, foot.y) ** 2 - (foot.y / 2.0 + 3.0 * LETTERS) ** 2
    room = 1.9 * min(foot.x, math.sqrt(max(over, 0.0)))
    edge = length_text(wedges.blank.inner_distance, units, before="blanks' inner edge at ")
    words = [f"Ring {ring.index}: half set", f"{noun} make {angle}", edge]
    marks = _marked(words, (0.0, foot.y / 2.0), room)
    return _gauge(f"gauge-half-set-{ring.index}", "Half set", use, shape, marks)


def _notch(ring: RingPlan, wedges: Wedges) -> Block:
    angle = format_angle(wedges.included_angle)
    shape = wedge_notch(wedges)
    left, bottom, right, top = shape.bounds()
    flush = abs(top - wedges.blank.outer_distance) < 1e-9
    use = "A blank slid in touches along both sides: no light."
    use += " Its wide edge lies flush." if flush else ""
    words = [f"Ring {ring.index}: wedge", f"{angle} between its sides"]
    marks = _marked(words, (0.0, bottom + 6.5), right - left - 3.0)
    return _gauge(f"gauge-wedge-angle-{ring.index}", f"Wedge, {angle}", use, shape, marks)


def _mitre(ring: RingPlan, wedges: Wedges) -> Block:
    angle = format_angle(wedges.mitre_angle)
    shape = mitre_plate(wedges.mitre_angle)
    tall = shape.bounds()[3]
    use = "Lower edge at the fence, right edge along the blade."
    words = [f"Ring {ring.index}: mitre", f"{angle} off square"]
    marks = _marked(words, (9.0, tall / 2.0), tall - 3.0, turn=90.0)
    return _gauge(f"gauge-mitre-{ring.index}", f"Mitre, {angle} off square", use, shape, marks)


def _radius(ring: RingPlan, which: str, size: float, units: Units, *, wall: bool) -> Block:
    words = length_text(size, units, before="R ")
    shape = radius_template(size)
    left, _, right, _ = shape.bounds()
    edges = {"inner": ("Convex", "inside", "concave"), "outer": ("Concave", "round", "convex")}
    first, fits, second = edges[which]
    use = f"{first} edge: fits {fits} the ring."
    if wall:
        use += f" {second.capitalize()} edge: fits the channel's {which} wall."
    marks = _marked(
        [f"Ring {ring.index}: {which}", words],
        (0.0, size - TEMPLATE / 2.0 - 1.0),
        (right - left) * 0.7,
    )
    name = f"gauge-{which}-radius-{ring.index}"
    return _gauge(name, f"{which.capitalize()} radius, {words}", use, shape, marks, least=62.0)


def _channel(channel: Channel, units: Units) -> Block:
    go, no_go = channel_limits(width=channel.width, gap=channel.gap)
    depth = channel.steps[0].depth
    title = f"Channel {channel.index}, {length_text(channel.width, units)} wide"
    use = (
        "Stand it across the channel, towards the pivot. GO must drop in till its shoulders touch"
        f" the top: {format_length(depth, units)} deep. NO-GO must not enter."
    )
    shape = channel_tongues(go=go, no_go=no_go, depth=depth)
    words = [
        f"Channel {channel.index}",
        length_text(go, units, before="GO, left: "),
        length_text(no_go, units, before="NO-GO, right: "),
    ]
    marks = _marked(words, (22.0, 0.0), 42.0)
    return _gauge(f"gauge-channel-{channel.index}", title, use, shape, marks, least=62.0)
