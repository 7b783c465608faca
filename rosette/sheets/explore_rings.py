"""Small pictures of the rings that are best at something, all to one scale."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rosette.geometry.outline import at_angle
from rosette.geometry.wedge import finished_outline, half_angle_rad
from rosette.offcuts.explored import Ask, Row
from rosette.patterns.radial_keys import RadialKeys
from rosette.patterns.radial_pieces import seam_angle
from rosette.sheets.block import Block, enlarged
from rosette.sheets.drawing import HAIR, Circle, Element, Stroke, Text
from rosette.sheets.marks import centred, fitted
from rosette.units import Units, format_length
from rosette.wood.looks import look, mixed, wood_letters

ACROSS = 36.0
"""The largest ring's diameter on paper (mm)."""
WIDE = 40.0
LINE = 3.2


def small_rings(rows: Sequence[Row], ask: Ask, units: Units) -> list[Block]:
    """The rows of one wood and radius that are best at something, each with its ring."""
    best = [row for row in rows if row.best]
    if not best:
        return []
    scale = ACROSS / (2.0 * max(row.outer_radius for row in best))
    return [_small(row, ask, units, scale) for row in best]


def _small(row: Row, ask: Ask, units: Units, scale: float) -> Block:
    middle = WIDE / 2.0
    elements = [*_ring(row, ask, scale)]
    width = format_length(row.width, units, decimals=1 if units == "mm" else 2).split(" (")[0]
    words = (
        f"Row {row.number}",
        *(_capital(one) if i == 0 else one for i, one in enumerate(row.best)),
        f"{row.kind.segments} wedges, {width}",
    )
    y = -ACROSS / 2.0 - 3.0 - LINE
    for i, text in enumerate(words):
        told, height = fitted(text, width=WIDE, height=2.2, bold=i == 0)
        elements.append(Text(text=told, at=(0.0, y), height=height, anchor="middle", bold=i == 0))
        y -= LINE
    return Block(
        elements=tuple(elements), bounds=(-middle, y + LINE - 1.0, middle, ACROSS / 2.0 + 3.0)
    )


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]


def _ring(row: Row, ask: Ask, scale: float) -> Iterator[Element]:
    keys = ask.design.rings[ask.ring - 1].keys
    assert isinstance(keys, RadialKeys)  # an Ask is made for a ring of wedges
    count, inner, outer = row.kind.segments, row.kind.inner_radius, row.outer_radius
    halves = {
        f"{end}_half": half_angle_rad(radius, segments=count, joint=keys.joint)
        for end, radius in (("inner", inner), ("outer", outer))
    }
    seam, letters = seam_angle(count, keys.at_centreline), wood_letters(row.kind.woods)
    for at in range(count):
        axis = seam - (2 * at + 1) * 180.0 / count
        wood = look(row.kind.woods[at % len(row.kind.woods)])
        outline = finished_outline(inner, outer, axis, **halves)
        yield Stroke(
            outline=enlarged(outline, scale),
            layer="note",
            weight=HAIR,
            colour=mixed(wood.mark, "#000000", 0.4),
            fill=wood.colour,
        )
    for radius in (inner, outer):
        yield Circle(centre=(0.0, 0.0), radius=radius * scale, layer="note", weight=HAIR)
    if len(letters) > 1:
        yield from _letters(row, letters, seam, outer * scale)


def _letters(row: Row, letters: dict[str, str], seam: float, radius: float) -> Iterator[Element]:
    """Each wood's letter outside the first wedge of it, as far apart as they are wide."""
    each = 360.0 / row.kind.segments
    room = 2.0 * math.pi * radius * each / 360.0
    every = max(1, math.ceil(2.2 / room))
    told = list(dict.fromkeys(row.kind.woods))
    if every == 1:
        for i, wood in enumerate(row.kind.woods[: len(told) + 2]):
            spot = at_angle(radius + 1.7, seam - (i + 0.5) * each)
            yield centred(letters[wood], spot, height=1.8)
