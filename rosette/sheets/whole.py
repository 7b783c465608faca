"""The whole rosette at full size: every ring, the channels' walls, the soundhole, the pivot."""

from __future__ import annotations

from collections.abc import Sequence

from rosette.geometry.outline import at_angle
from rosette.patterns.base import RingPlan
from rosette.plan.model import Channel, Plan
from rosette.sheets import key, ringmap
from rosette.sheets.block import Block, block, row
from rosette.sheets.drawing import MEDIUM, THIN, Circle, Drawing, Element, Stroke
from rosette.sheets.marks import SHORT_DASHED, boxes_of, centred, leader
from rosette.sheets.table import table
from rosette.units import number_in

BUBBLE = 2.4
"""Radius in mm of the circle round a ring's number."""


def whole(plan: Plan) -> Drawing:
    """The sheet `rosette`."""
    return ringmap.map_drawing(
        ringmap.stacked(_map(plan), row([_rings_table(plan), _key(plan)], gap=8.0)),
        name="rosette",
        title="The whole rosette, full size",
        purpose="The whole rosette at full size: every ring in place, the walls of the channels,"
        " the soundhole and the pivot.",
    )


def _map(plan: Plan) -> Block:
    reach = max(channel.outer_radius for channel in plan.channels)
    top, bottom, half_width = reach + ringmap.ABOVE, -reach - ringmap.BELOW, reach + 8.0
    region = None
    if plan.hidden is not None:
        region = ringmap.strip_region(plan.hidden, top=top, half_width=half_width)
    notes: list[Element] = ring_numbers(
        [(str(ring.index), (ring.inner_radius + ring.outer_radius) / 2.0) for ring in plan.rings],
        reach,
    )
    if region is not None:
        notes.extend(ringmap.strip_words(region[2][0], base=top - 7.0, seam_side=1.0))
    boxes = boxes_of(notes)
    elements: list[Element] = [
        *(ringmap.hidden_strip(region, boxes) if region is not None else []),
        *(element for ring in plan.rings for element in _ring(ring)),
        *(wall for channel in plan.channels for wall in _walls(channel)),
        ringmap.soundhole(plan.soundhole_diameter, layer="cut"),
        *ringmap.centrelines(top, bottom, boxes),
        *notes,
    ]
    drawn = block(elements)
    left, low, right, high = drawn.bounds
    return Block(
        elements=drawn.elements,
        bounds=(min(left, -half_width), min(low, bottom), max(right, half_width), max(high, top)),
    )


def _ring(ring: RingPlan) -> list[Element]:
    if len(ring.pieces) > 1:
        return [*ringmap.finished_pieces(ring), *ringmap.ring_circles(ring)]
    edges = ringmap.ring_circles(ring, weight=THIN)
    shading = [
        Stroke(outline=p.outline, holes=p.holes, layer="note", colour=None, fill="#d9d9d9")
        for p in ring.pieces
    ]
    return [*shading, *edges]


def _walls(channel: Channel) -> list[Element]:
    return [
        Circle(
            centre=(0.0, 0.0),
            radius=radius,
            layer="note",
            weight=MEDIUM,
            dashes=SHORT_DASHED,
            colour="#0072b2",
            name=f"channel-{channel.index}-{wall}",
        )
        for wall, radius in (("inner", channel.inner_radius), ("outer", channel.outer_radius))
    ]


def ring_numbers(
    rings: Sequence[tuple[str, float]], reach: float, *, start: float = -62.0, step: float = 6.4
) -> list[Element]:
    """Marks in circles outside the rosette at lower right, each led to its radius (mm)."""
    elements: list[Element] = []
    x = reach * 0.80
    for i, (mark, radius) in enumerate(rings):
        # radius by radius outwards, the marks one above the other, so that no two leaders cross
        y = -reach * 0.98 + i * step
        tip = at_angle(radius, start + i * step * 0.9)
        centre = (max(x, (reach**2 - min(y * y, reach**2)) ** 0.5 + 3.0 * BUBBLE), y)
        elements.extend(leader([(centre[0] - BUBBLE, centre[1]), tip], dot=True))
        elements.append(Circle(centre=centre, radius=BUBBLE, layer="note", weight=THIN))
        elements.append(centred(mark, centre, height=2.2, bold=True))
    return elements


def _rings_table(plan: Plan) -> Block:
    units = plan.units
    head = ("", "ring", "wood", f"inner R, {units}", f"outer R, {units}", "channel")
    rows = [head]
    for ring in plan.rings:
        channel = next(c for c in plan.channels if ring.index in c.rings)
        what = f"{ring.wedges.segments} wedges" if ring.wedges is not None else ring.pattern
        rows.append(
            (
                str(ring.index),
                what,
                woods_words(ring),
                number_in(ring.inner_radius, units),
                number_in(ring.outer_radius, units),
                str(channel.index),
            )
        )
    return table(rows, align="cllrrc", size=2.0, bold_first=True)


def woods_words(ring: RingPlan, most: int = 3) -> str:
    """A ring's woods, the first few by name."""
    names = [name if len(name) <= 24 else name[:23] + "…" for name in ring.woods[:most]]
    rest = len(ring.woods) - most
    return ", ".join(names) + (f" +{rest}" if rest > 0 else "")


def _key(plan: Plan) -> Block:
    entries = [
        key.outline_entry("edge of a ring"),
        key.channel_entry(),
        key.centreline_entry(),
    ]
    if plan.hidden is not None:
        entries.append(key.hidden_entry())
    return key.key_block("Lines", entries, width=62.0)
