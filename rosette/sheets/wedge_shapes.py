"""The shapes of a wedge and what its views share: strokes, captions, the grain's arrow."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.geometry.outline import Outline, Point, at_angle, line, polygon
from rosette.geometry.wedge import finished_outline, half_angle_rad
from rosette.patterns.base import RingPlan, Wedges
from rosette.sheets.block import Block, column
from rosette.sheets.drawing import HAIR, MEDIUM, Element, Layer, Stroke
from rosette.sheets.table import note

CHAIN = (4.0, 0.8, 0.6, 0.8)
"""Dashes of a chain line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WedgeShapes:
    """A wedge about the ring's centre with its axis along +y: blank, finished, half joint."""

    blank: Outline
    finished: Outline


def shapes(ring: RingPlan, wedges: Wedges) -> WedgeShapes:
    """The blank and the finished wedge of a ring, about its centre, axis upwards."""
    ends = [
        half_angle_rad(size, segments=wedges.segments, joint=wedges.joint)
        for size in (ring.inner_radius, ring.outer_radius)
    ]
    return WedgeShapes(
        blank=wedges.blank.outline().mapped(turn_rad=math.pi / 2.0),
        finished=finished_outline(
            ring.inner_radius, ring.outer_radius, 90.0, inner_half=ends[0], outer_half=ends[1]
        ),
    )


def grain_arrow(foot: Point, length: float) -> tuple[Element, ...]:
    """An upright double arrow on layer `grain`."""
    x, y = foot
    size = min(2.0, length / 4.0)
    parts = [stroke(line((x, y), (x, y + length)), "grain", MEDIUM)]
    for tip, way in ((y + length, -1.0), (y, 1.0)):
        head = [(x, tip), (x - size / 3.0, tip + way * size), (x + size / 3.0, tip + way * size)]
        parts.append(
            Stroke(outline=polygon(head), layer="grain", weight=HAIR, colour=None, fill="#000000")
        )
    return tuple(parts)


def stroke(
    outline: Outline,
    layer: Layer,
    weight: float,
    *,
    name: str = "",
    dashes: tuple[float, ...] = (),
) -> Stroke:
    """A stroke by its shape, layer and weight."""
    return Stroke(outline=outline, layer=layer, weight=weight, name=name, dashes=dashes)


def captioned(words: str, view: Block) -> Block:
    """A view with bold words above it."""
    return column([note(words, 80.0, bold=True), view], gap=2.0)


def on_arc(size: float, arc_length: float) -> Point:
    """A point on an arc about 12 o'clock, half-way from its middle to its right end."""
    return at_angle(size, 90.0 - math.degrees(arc_length / size) / 4.0)
