"""The record: what the plan took for granted beside what was measured, for the next guitar."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.output.document import Heading, Paragraph, Table, TextPages
from rosette.packet.checklist import ROOM
from rosette.plan.model import Plan
from rosette.units import Units, format_length

Row = tuple[str, str, str]
ROOMY = 18
"""With fewer measures than this there is room below them for two more lines of notes."""


def record(plan: Plan, *, units: Units) -> TextPages:
    """A page to fill in at the bench and keep with the guitar's papers."""
    rows = tuple(_rows(plan, units))
    return TextPages(
        title="Record",
        blocks=(
            Paragraph(
                text="Write down what was really so, and keep this page: with it the next design"
                " starts from measured numbers."
            ),
            Table(rows=(("", "the plan says", "measured"), *rows), align="lrl"),
            Heading(text="How it went", level=2),
            Table(
                rows=(
                    ("", "date", "temperature", "humidity"),
                    ("ring glued up", ROOM, ROOM, ROOM),
                    ("channel routed", ROOM, ROOM, ROOM),
                    ("glued in", ROOM, ROOM, ROOM),
                    ("levelled", ROOM, ROOM, ROOM),
                ),
                align="llll",
            ),
            Paragraph(text="Glue, and how long it was clamped: " + "_" * 48),
            Paragraph(text="What the next one should do otherwise: " + "_" * 45),
            *(Paragraph(text="_" * 84) for _ in range(2 if len(rows) < ROOMY else 1)),
        ),
    )


def _rows(plan: Plan, units: Units) -> Iterator[Row]:
    yield "soundhole, across", format_length(plan.soundhole_diameter, units), ROOM
    yield "top where the ring goes", format_length(plan.top_thickness, units), ROOM
    yield "saw kerf", format_length(plan.kerf, units), ROOM
    for ring in plan.rings:
        name = f"ring {ring.index}"
        yield f"{name}: thickness of stock", format_length(ring.tile_thickness, units), ROOM
        if ring.backing:
            yield f"{name}: backing veneer", format_length(ring.backing, units), ROOM
        if ring.wedges is not None and ring.wedges.spacer_thickness:
            spacer = format_length(ring.wedges.spacer_thickness, units)
            yield f"{name}: spacer veneer", spacer, ROOM
        yield f"{name}: inner radius", format_length(ring.inner_radius, units), ROOM
        yield f"{name}: outer radius", format_length(ring.outer_radius, units), ROOM
    for channel in plan.channels:
        name = f"channel {channel.index}"
        yield f"{name}: bit, across", format_length(channel.bit_diameter, units, decimals=3), ROOM
        yield f"{name}: width of the trial", format_length(channel.width, units), ROOM
        yield f"{name}: depth", format_length(channel.depth, units), ROOM
        yield f"{name}: floor", format_length(channel.floor, units), ROOM
