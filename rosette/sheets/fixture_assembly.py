"""A fixture of several parts put together: from above and in section, every part numbered."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rosette.geometry.outline import Point
from rosette.sheets.block import Block, block, enlarged, extent
from rosette.sheets.drawing import Element, Stroke, Text
from rosette.sheets.fixture_cut import Cut, Line, cut_of
from rosette.sheets.fixture_part import (
    BUBBLE,
    bubble,
    cut_elements,
    hatching,
    section_mark,
    titled_views,
    under_title,
)
from rosette.sheets.fixture_plan import assembly_plan, visible_spot
from rosette.sheets.fixture_stood import Stood
from rosette.sheets.marks import leader

APART = 2.0 * BUBBLE + 1.2
"""From one number to the next."""
OFF = 9.0
"""From the work to the numbers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """What is seen of a fixture's parts put together, full size.

    `spots` is for each part a point of it that is seen from above, where there is one.
    """

    lines: tuple[Stroke, ...]
    hull: tuple[Point, ...]
    section: Line
    cuts: tuple[Cut, ...]
    spots: dict[int, Point]


def assembly(parts: Sequence[Stood], section: Line) -> Assembly:
    """The parts seen from above and cut along a line, once for all scales."""
    spots: dict[int, Point] = {}
    for part in parts:
        spot = visible_spot(part, parts)
        if spot is not None and spot[0] > spots.get(part.number, (-math.inf, 0.0))[0]:
            spots[part.number] = spot
    return Assembly(
        lines=tuple(assembly_plan(parts)),
        hull=tuple(point for part in parts for point in part.placed_rings[0][0]),
        section=section,
        cuts=tuple(cut for part in parts if (cut := cut_of(part, section)) is not None),
        spots=spots,
    )


def assembly_view(seen: Assembly, scale: float) -> Block:
    """The plan of all parts, and below it their section."""
    elements: list[Element] = [
        replace(one, outline=enlarged(one.outline, scale)) for one in seen.lines
    ]
    hull = [(x * scale, y * scale) for x, y in seen.hull]
    if seen.cuts:
        elements += section_mark(seen.section, hull, scale, "A")
    spots = {number: (x * scale, y * scale) for number, (x, y) in seen.spots.items()}
    elements += _beside(elements, spots)
    sections = []
    if seen.cuts:
        sections = [(seen.section, under_title(_section(seen.cuts, scale), "A"))]
    return titled_views("", block(elements), sections, scale)


def _beside(elements: Sequence[Element], spots: dict[int, Point]) -> list[Element]:
    """Numbers in columns beside a plan, each led to its part from the side that is nearer."""
    left, low, right, high = extent(elements)
    middle = (left + right) / 2.0
    found: list[Element] = []
    for side in (-1.0, 1.0):
        near = [one for one in spots if (spots[one][0] < middle) == (side < 0.0)]
        order = sorted(near, key=lambda number: spots[number][1])
        rows = _spread([spots[number][1] for number in order], low + BUBBLE, high - BUBBLE)
        x = left - OFF if side < 0.0 else right + OFF
        for number, y in zip(order, rows, strict=True):
            found += leader([(x - side * BUBBLE, y), spots[number]], dot=True)
            found += bubble(number, (x, y))
    return found


def _section(cuts: Sequence[Cut], scale: float) -> Block:
    elements = cut_elements(cuts, scale)
    *_, top = extent(elements)
    spots: dict[int, Point] = {}
    for cut in cuts:
        if cut.stood.number not in spots and cut.slabs:
            slab = max(cut.slabs, key=lambda one: (one.end - one.start) * (one.high - one.low))
            spots[cut.stood.number] = (
                (slab.start * 0.6 + slab.end * 0.4) * scale,
                (slab.low + slab.high) / 2.0 * scale,
            )
    order = sorted(spots, key=lambda number: spots[number][0])
    left, _, right, _ = extent(elements)
    columns = _spread([spots[number][0] for number in order], left + BUBBLE, right - BUBBLE)
    marks: list[Element] = []
    for number, x in zip(order, columns, strict=True):
        y = top + OFF
        marks += leader([(x, y - BUBBLE), spots[number]], dot=True)
        marks += bubble(number, (x, y))
    words = [one for one in marks if isinstance(one, Text)]
    return block([*hatching(cuts, scale, words), *elements, *marks])


def _spread(wanted: Sequence[float], low: float, high: float) -> list[float]:
    """Places near those wanted, in order, `APART` from one another, between two ends if they fit.

    >>> _spread([0.0, 1.0], -20.0, 20.0)
    [-3.0, 4.0]
    """
    places: list[float] = []
    for one in wanted:
        places.append(max(one, places[-1] + APART) if places else one)
    if not places:
        return places
    shift = sum(p - w for p, w in zip(places, wanted, strict=True)) / len(places)
    shift = max(shift, places[-1] - high)
    shift = min(shift, places[0] - low) if places[-1] - places[0] <= high - low else shift
    return [place - shift for place in places]
