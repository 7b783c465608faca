"""The rings at full size: every wedge and spacer in place, numbered, with blanks, seam and strip.

One sheet for each ring of several pieces, `ring-N`, and where a rosette has more than one ring the
whole of it, `rosette`.
"""

from __future__ import annotations

import math

from rosette.geometry.outline import at_angle
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.sheets import dimension, key, leaders, ringmap
from rosette.sheets.block import Block, block, column, flow
from rosette.sheets.dimension import length_text
from rosette.sheets.drawing import Drawing, Element
from rosette.sheets.marks import boxes_of, fitted
from rosette.sheets.numbering import Numbers, numbers
from rosette.sheets.ring_pieces import pieces_sheet
from rosette.sheets.table import note, table
from rosette.sheets.whole import whole
from rosette.units import format_length
from rosette.wood.looks import wood_letters


def drawings(plan: Plan) -> tuple[Drawing, ...]:
    """A sheet for each ring of pieces, and the whole rosette where it is more than one ring."""
    sheets = [
        pieces_sheet(plan, ring) if ring.wedges is None else _sheet(plan, ring, ring.wedges)
        for ring in plan.rings
    ]
    rings = tuple(sheet for sheet in sheets if sheet is not None)
    return rings if len(plan.rings) == len(rings) == 1 else (*rings, whole(plan))


def _sheet(plan: Plan, ring: RingPlan, wedges: Wedges) -> Drawing:
    letters = wood_letters(ring.woods) if len(ring.woods) > 1 else {}
    numbered = numbers(ring, wedges, letters)
    drawn = ring_block(plan, ring, wedges, numbered)
    below = flow(_keys(plan, ring, wedges, letters, numbered), gap=9.0, lead=5.0)
    page = ringmap.stacked(drawn, below)
    return ringmap.map_drawing(
        page,
        name=f"ring-{ring.index}",
        title=f"Ring {ring.index}, full size: {wedges.segments} wedges",
        purpose=f"Ring {ring.index} at full size, show face up: where each wedge goes, its blank,"
        " the seam, the centreline and what the fingerboard hides.",
    )


def ring_block(plan: Plan, ring: RingPlan, wedges: Wedges, numbered: Numbers) -> Block:
    """The ring itself in ring coordinates, with its notes round it."""
    reach = numbered.reach
    top, bottom, half_width = reach + ringmap.ABOVE, -reach - ringmap.BELOW, reach + 8.0
    seam, words = ringmap.seam(ring, wedges, reach=reach)
    region = None
    if plan.hidden is not None:
        region = ringmap.strip_region(plan.hidden, top=top, half_width=half_width)
    notes: list[Element] = [*words, *_radii(plan, ring, wedges, numbered)]
    if region is not None:
        side = 1.0 if words[0].anchor == "left" else -1.0
        notes.extend(ringmap.strip_words(region[2][0], base=top - 6.5, seam_side=side))
    boxes = boxes_of([*numbered.elements, *notes])
    elements: list[Element] = [
        *(ringmap.hidden_strip(region, boxes) if region is not None else []),
        *ringmap.blanks(ring, wedges),
        *ringmap.finished_pieces(ring),
        *ringmap.ring_circles(ring),
        ringmap.soundhole(plan.soundhole_diameter),
        *ringmap.centrelines(top, bottom, boxes),
        *seam,
        *numbered.elements,
        *notes,
    ]
    around = block(elements)
    left, low, right, high = around.bounds
    return Block(
        elements=around.elements,
        bounds=(min(left, -half_width), min(low, bottom), max(right, half_width), max(high, top)),
    )


def _radii(plan: Plan, ring: RingPlan, wedges: Wedges, numbered: Numbers) -> list[Element]:
    """The ring's radii outside and in, and the soundhole, by arrows that cross no number."""
    units, hole = plan.units, plan.soundhole_diameter / 2.0
    outer = length_text(ring.outer_radius, units, before="R ")
    direction, clear = _clear_direction(numbered.outside)
    if clear * math.radians(1.0) * numbered.reach > 3.0:
        tip = at_angle(ring.outer_radius, direction)
        elbow = at_angle(numbered.reach + 4.0, direction)
        parts = [*leaders.leader(tip, elbow, outer)]
    else:
        parts = [*_inner(ring.outer_radius, -40.0, hole, outer)]
    room = min(hole, wedges.blank.inner_distance)
    if room < 36.0:
        return parts  # the table below tells them
    return [
        *parts,
        *_inner(
            ring.inner_radius, -140.0, room, length_text(ring.inner_radius, units, before="R ")
        ),
        *_inner(hole, 140.0, room, length_text(2.0 * hole, units, before="Ø "), "soundhole"),
    ]


def _clear_direction(numbered: tuple[float, ...], wanted: float = -52.0) -> tuple[float, float]:
    """The direction within 12° of the wanted one furthest from any number, and how far."""
    if not numbered:
        return wanted, 90.0

    def clearance(angle: float) -> float:
        return min(abs((angle - other + 180.0) % 360.0 - 180.0) for other in numbered)

    best = max((wanted + step / 4.0 for step in range(-48, 49)), key=clearance)
    return best, clearance(best)


def _inner(radius: float, angle: float, room: float, *words: str) -> tuple[Element, ...]:
    """An arrow from within `room` mm at a circle, its words clear of it and of the centreline."""
    level = 6.0 if math.cos(math.radians(angle)) * math.sin(math.radians(angle)) > 0 else -6.0
    return leaders.leader(at_angle(radius, angle), at_angle(room - 11.0, angle - level), *words)


def _keys(
    plan: Plan, ring: RingPlan, wedges: Wedges, letters: dict[str, str], numbered: Numbers
) -> list[Block]:
    lines = [
        key.outline_entry("finished edge of the ring"),
        key.blank_entry(),
        key.grain_entry(),
        key.seam_entry(),
        key.centreline_entry(),
    ]
    if plan.hidden is not None:
        lines.append(key.hidden_entry())
    lead = note(f"{_counting(numbered)} {dimension.units_note(plan.units)}", 66.0, size=2.2)
    left = column([key.key_block("Lines", lines, width=66.0), lead], gap=2.5)
    woods = [key.letter_entry(letter, wood) for wood, letter in letters.items()]
    if wedges.spacer_wood is not None:
        thick = format_length(wedges.spacer_thickness, plan.units)
        woods.append(key.spacer_entry(f"spacer: {wedges.spacer_wood}, {thick}"))
    values = _values(plan, ring, wedges)
    if not woods:
        return [left, values]
    columns = [
        key.key_block("Woods", woods[i : i + 4], width=66.0) for i in range(0, len(woods), 4)
    ]
    return [left, column([columns[0], values], gap=3.0), *columns[1:]]


def _counting(numbered: Numbers) -> str:
    if numbered.every > 1:
        return (
            f"Numbers run clockwise from the seam on the show face: a tick for each wedge,"
            f" a number at every {numbered.every}th."
        )
    return "Numbers run clockwise from the seam on the show face."


def _values(plan: Plan, ring: RingPlan, wedges: Wedges) -> Block:
    units = plan.units
    rows = [
        ("inner radius", format_length(ring.inner_radius, units)),
        ("outer radius", format_length(ring.outer_radius, units)),
        ("soundhole", format_length(plan.soundhole_diameter, units)),
        ("untrimmed, across flats", format_length(wedges.glue_up.across_flats, units)),
        ("untrimmed, across corners", format_length(wedges.glue_up.across_corners, units)),
    ]
    if len(ring.woods) == 1:
        words, _ = fitted(ring.woods[0], width=40.0, height=2.0)
        rows.insert(0, ("wood of every wedge", words))
    return table(rows, align="lr", size=2.0, head=False)
