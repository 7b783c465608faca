"""A channel cut across, enlarged, with its rings in place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rosette.geometry.outline import line, polygon
from rosette.lettering import text_width
from rosette.patterns.base import RingPlan
from rosette.plan.model import Channel, ChannelStep, Plan
from rosette.sheets.block import PAGE_WIDTH, Block, block, column
from rosette.sheets.dimension import SIZE, Span, length_text, thin, tiers, upright, vertical
from rosette.sheets.drawing import HAIR, MEDIUM, THICK, THIN, Element, Stroke, Text
from rosette.sheets.gauge_shapes import channel_limits
from rosette.sheets.leaders import leader
from rosette.sheets.saw_pictures import scale_text
from rosette.sheets.table import note
from rosette.units import Units

SCALES = (20.0, 10.0, 8.0, 5.0, 4.0, 3.0, 2.0, 1.0)
MOST_DEEP = 32.0
"""Room in mm for the top's thickness in the picture."""
LEFT_ROOM = 18.0
"""Room for the dimension to the left."""
BESIDE = 9.0
"""How much of the top the picture shows beside the channel, in mm on paper."""
TOP, BACKING = "#e9e9e9", "#9a9a9a"
BETWEEN = 4.0
"""From the words of one height to the line of the next."""
SAME = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """Where a radius and a height go in the picture: mm on paper for mm of wood."""

    middle: float
    across: float
    deep: float

    def at(self, radius: float, height: float) -> tuple[float, float]:
        return (radius - self.middle) * self.across, height * self.deep

    def box(self, inner: float, outer: float, low: float, high: float) -> list[tuple[float, float]]:
        return [
            self.at(inner, low),
            self.at(outer, low),
            self.at(outer, high),
            self.at(inner, high),
        ]


def _view(plan: Plan, channel: Channel) -> _View:
    return _View(
        middle=(channel.inner_radius + channel.outer_radius) / 2.0,
        across=_scale(channel.width, PAGE_WIDTH - _right_room(plan, channel) - LEFT_ROOM),
        deep=_scale(plan.top_thickness, MOST_DEEP),
    )


def _scale(length: float, room: float) -> float:
    return next((scale for scale in SCALES if length * scale <= room), 1.0)


def section(plan: Plan, channel: Channel) -> Block:
    """The channel cut along a radius, the pivot to the left, its rings and backing in place."""
    view = _view(plan, channel)
    rings = [ring for ring in plan.rings if ring.index in channel.rings]
    parts: list[Element] = [
        *_top(plan, channel, view),
        *(element for ring in rings for element in _tile(ring, channel, view)),
        *_ring_words(rings, channel, view),
        *_heights(plan, channel, rings, view),
        *_widths(plan, channel, view),
        *_to_pivot(plan, channel, view),
    ]
    return column(
        [
            note(_scales(view), 120.0, bold=True),
            note(_caption(channel, rings, plan.units), PAGE_WIDTH),
            block(parts),
        ],
        gap=1.5,
    )


def _scales(view: _View) -> str:
    if view.across == view.deep:
        return f"Section, {scale_text(view.across)}"
    return f"Section, {scale_text(view.across)} across and {scale_text(view.deep)} deep"


def _caption(channel: Channel, rings: Sequence[RingPlan], units: Units) -> str:
    words = "The rings as they stand before levelling"
    if channel.gap:
        words += f"; gap for glue at each wall {length_text(channel.gap, units)}"
    backings = sorted({ring.backing for ring in rings if ring.backing})
    if backings:
        words += "; dark: backing " + " and ".join(length_text(one, units) for one in backings)
    go, no_go = (
        length_text(size, units) for size in channel_limits(width=channel.width, gap=channel.gap)
    )
    return f"{words}. The channel is right when {go} goes in and {no_go} does not."


def profile(channel: Channel) -> list[tuple[float, float]]:
    """The floor of the channel from the inside out, as (radius, height below the top's face)."""
    radii = sorted({r for step in channel.steps for r in (step.inner_radius, step.outer_radius)})
    points: list[tuple[float, float]] = []
    for a, b in pairwise(radii):
        depth = max(
            (
                s.depth
                for s in channel.steps
                if s.inner_radius <= a + SAME and b <= s.outer_radius + SAME
            ),
            default=0.0,
        )
        points += [(a, -depth), (b, -depth)]
    return [(radii[0], 0.0), *points, (radii[-1], 0.0)]


def _top(plan: Plan, channel: Channel, view: _View) -> list[Element]:
    """The top with the channel taken out of it, hatched, broken off at both sides."""
    floor = [view.at(*point) for point in profile(channel)]
    left, right = floor[0][0] - BESIDE, floor[-1][0] + BESIDE
    under = -plan.top_thickness * view.deep
    shape = [(left, 0.0), *floor, (right, 0.0), (right, under), (left, under)]
    edge = [(left, 0.0), *floor, (right, 0.0)]
    return [
        Stroke(outline=polygon(shape), layer="note", weight=HAIR, colour=None, fill=TOP),
        *(
            Stroke(outline=line(a, b), layer="note", weight=THICK)
            for a, b in pairwise(edge)
            if a != b
        ),
        Stroke(outline=line((left, under), (right, under)), layer="note", weight=THICK),
        Text(text="top", at=(left + 1.5, under + 1.5), height=2.2),
    ]


def _tile(ring: RingPlan, channel: Channel, view: _View) -> Iterator[Element]:
    high = channel.proud
    low = high - ring.tile_thickness
    shape = polygon(view.box(ring.inner_radius, ring.outer_radius, low, high))
    yield Stroke(outline=shape, layer="note", weight=MEDIUM, fill="#ffffff")
    if ring.backing:
        under = view.box(ring.inner_radius, ring.outer_radius, low - ring.backing, low)
        yield Stroke(outline=polygon(under), layer="note", weight=THIN, fill=BACKING)


def _ring_words(rings: Sequence[RingPlan], channel: Channel, view: _View) -> Iterator[Element]:
    """Each ring's name above it, spread out where rings are narrower than their names."""
    names = [f"ring {ring.index}" for ring in rings]
    centres = [view.at((r.inner_radius + r.outer_radius) / 2.0, 0.0)[0] for r in rings]
    wide = [text_width(name, 2.2) + 2.0 for name in names]
    top = channel.proud * view.deep
    level = top + 7.0
    for name, x, spot in zip(names, centres, spread(centres, wide), strict=True):
        yield thin((x, top - 0.6), (spot, level - 0.8))
        yield Text(text=name, at=(spot, level), height=2.2, anchor="middle")


def spread(centres: Sequence[float], widths: Sequence[float]) -> list[float]:
    """Places for words near their centres, in order, pushed apart until none overlap.

    >>> spread([0.0, 1.0], [10.0, 10.0]), spread([0.0, 30.0], [10.0, 10.0])
    ([-4.5, 5.5], [0.0, 30.0])
    """
    places: list[float] = []
    for centre, wide in zip(centres, widths, strict=True):
        least = places[-1] + (widths[len(places) - 1] + wide) / 2.0 if places else centre
        places.append(max(centre, least))
    shift = sum(p - c for p, c in zip(places, centres, strict=True)) / len(places)
    return [place - shift for place in places]


def _right_words(plan: Plan, channel: Channel) -> list[tuple[str, float, float]]:
    """The heights told to the right, in order: words, from and to (mm above the top's face).

    Of more than two depths the picture tells the least and the greatest; the table tells all.
    """
    units = plan.units
    depths = sorted({step.depth for step in channel.steps})
    shown = depths if len(depths) <= 2 else [depths[0], depths[-1]]
    words = [(length_text(d, units, before="depth "), -d, 0.0) for d in shown]
    floor = length_text(channel.floor, units, before="floor ")
    return [*words, (floor, -plan.top_thickness, -channel.depth)]


def _right_room(plan: Plan, channel: Channel) -> float:
    """What the picture needs beside the channel: the top to both sides, the heights' words."""
    words = _right_words(plan, channel)
    return 2.0 * BESIDE + 6.0 + sum(text_width(text, SIZE) + BETWEEN for text, _, _ in words)


def _heights(
    plan: Plan, channel: Channel, rings: Sequence[RingPlan], view: _View
) -> Iterator[Element]:
    """Left: the top's thickness; right: how proud, each depth, and the thinnest floor."""
    left = view.at(channel.inner_radius, 0.0)[0] - BESIDE
    right = view.at(channel.outer_radius, 0.0)[0] + BESIDE
    under = -plan.top_thickness * view.deep
    thick = length_text(plan.top_thickness, plan.units)
    yield from vertical((left, under), (left, 0.0), left - 7.0, thick)
    x = right + 6.0
    if channel.proud:
        tip = view.at(rings[-1].outer_radius, channel.proud)
        words = length_text(channel.proud, plan.units, before="proud ")
        yield from upright((right, 0.0), tip, x, words)
    for text, low, high in _right_words(plan, channel):
        ends = [_foot(channel, height, right, view) for height in (low, high)]
        yield from upright(ends[0], ends[1], x, text)
        x += text_width(text, SIZE) + BETWEEN


def _foot(channel: Channel, height: float, right: float, view: _View) -> tuple[float, float]:
    """Where the line for a height begins: at the wall of the step that deep, or the top's edge."""
    steps = [step for step in channel.steps if abs(step.depth + height) <= SAME]
    if steps:
        return view.at(max(step.outer_radius for step in steps), height)
    return right, height * view.deep


def _widths(plan: Plan, channel: Channel, view: _View) -> tuple[Element, ...]:
    """Below: the channel's width, and that of each step that is narrower."""
    units = plan.units
    under = -plan.top_thickness * view.deep
    spans = []
    for step in _distinct_widths(channel):
        a, b = (view.at(r, -step.depth) for r in (step.inner_radius, step.outer_radius))
        text = length_text(step.outer_radius - step.inner_radius, units)
        spans.append(Span(a=(a[0], under), b=(b[0], under), text=text))
    return tiers(spans, axis="x", level=under - 11.0, side=-1)


def _distinct_widths(channel: Channel) -> list[ChannelStep]:
    kept: list[ChannelStep] = []
    for step in channel.steps:
        ends = (step.inner_radius, step.outer_radius)
        if all((k.inner_radius, k.outer_radius) != ends for k in kept):
            kept.append(step)
    return kept


def _to_pivot(plan: Plan, channel: Channel, view: _View) -> tuple[Element, ...]:
    left = view.at(channel.inner_radius, 0.0)[0] - BESIDE
    y = -plan.top_thickness * view.deep - 5.0
    return leader((left - 12.0, y), (left - 8.0, y), "pivot")
