"""A ring of other pieces than equal wedges, at full size: where each goes, by number and wood."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import at_angle
from rosette.patterns.base import Piece, RingPlan
from rosette.plan.model import Plan
from rosette.sheets import key, ringmap
from rosette.sheets.block import Block, block, flow
from rosette.sheets.drawing import HAIR, Drawing, Element, Text
from rosette.sheets.marks import boxes_of, centred, segment
from rosette.sheets.table import note, table
from rosette.units import format_length
from rosette.wood.looks import look, mixed, wood_letters

NUMBER = 2.0
"""Height in mm of a piece's number."""
ROOM = 3.4
"""Number to number along the rim, in mm, at the least for each digit and a half of air."""
MOST_LISTED = 96
"""Of more places than these only the woods' letters are told."""
PALE = 0.55
"""How far a wood's tone is lightened, so that lines and letters read on it."""


def pieces_sheet(plan: Plan, ring: RingPlan) -> Drawing | None:
    """The sheet `ring-N` of a ring in several places; None where it is all one."""
    places = _places(ring)
    if len(places) < 2:
        return None
    page = ringmap.stacked(_map(plan, ring, places), _keys(plan, ring, places))
    return ringmap.map_drawing(
        page,
        name=f"ring-{ring.index}",
        title=f"Ring {ring.index}, full size: {ring.pattern}",
        purpose=f"Ring {ring.index} at full size, show face up: where each piece goes, and what the"
        " fingerboard hides.",
    )


def _places(ring: RingPlan) -> dict[int, list[Piece]]:
    """The pieces of each position, in order."""
    places: dict[int, list[Piece]] = {}
    for piece in ring.pieces:
        if not piece.holes:
            places.setdefault(piece.position, []).append(piece)
    return dict(sorted(places.items()))


def _direction(pieces: Sequence[Piece]) -> float:
    corners = [vertex for piece in pieces for vertex in piece.outline.vertices]
    x = sum(v.x / math.hypot(v.x, v.y) for v in corners)
    y = sum(v.y / math.hypot(v.x, v.y) for v in corners)
    return math.degrees(math.atan2(y, x))


def _map(plan: Plan, ring: RingPlan, places: dict[int, list[Piece]]) -> Block:
    reach = ring.outer_radius + 2.0 + 2.0 * NUMBER
    top, bottom, half_width = reach + ringmap.ABOVE, -reach - ringmap.BELOW, reach + 8.0
    region = None
    if plan.hidden is not None:
        region = ringmap.strip_region(plan.hidden, top=top, half_width=half_width)
    notes: list[Element] = [*_numbers(ring, places), *_letters(ring, places)]
    if region is not None:
        notes.extend(ringmap.strip_words(region[2][0], base=top - 7.0, seam_side=1.0))
    boxes = boxes_of(notes)
    fills = {one.label: mixed(look(one.wood).colour, "#ffffff", PALE) for one in ring.pieces}
    drawn = block(
        [
            *ringmap.finished_pieces(ring, fills=fills),
            *ringmap.ring_circles(ring),
            *(ringmap.hidden_strip(region, boxes) if region is not None else []),
            ringmap.soundhole(plan.soundhole_diameter),
            *ringmap.centrelines(top, bottom, boxes),
            *notes,
        ]
    )
    left, low, right, high = drawn.bounds
    return Block(
        elements=drawn.elements,
        bounds=(min(left, -half_width), min(low, bottom), max(right, half_width), max(high, top)),
    )


def every(ring: RingPlan, count: int) -> int:
    """Every how many places a number has room at the rim."""
    room = math.tau * (ring.outer_radius + 2.0 + NUMBER) / count
    wanted = ROOM * (1.0 + 0.45 * (len(str(count)) - 1))
    return next(step for step in (1, 2, 5, 10, 20, 50, 100, 1000) if step * room >= wanted)


def _in_turn(places: dict[int, list[Piece]]) -> bool:
    """Whether the places follow each other clockwise, once round."""
    directions = [_direction(pieces) for pieces in places.values()]
    turns = [(a - b) % 360.0 for a, b in pairwise(directions)]
    return all(0.0 < turn < 180.0 for turn in turns) and sum(turns) < 360.0


def _numbers(ring: RingPlan, places: dict[int, list[Piece]]) -> list[Element]:
    if not _in_turn(places):
        return []
    step = every(ring, len(places))
    found: list[Element] = []
    for position, pieces in places.items():
        angle = _direction(pieces)
        told = position == 1 or position % step == 0
        found.append(
            segment(
                at_angle(ring.outer_radius, angle),
                at_angle(ring.outer_radius + (1.6 if told else 0.9), angle),
                weight=HAIR,
            )
        )
        if told and not (step > 1 and position == 1 and _near(places, step)):
            at = at_angle(ring.outer_radius + 2.0 + NUMBER, angle)
            found.append(centred(str(position), at, height=NUMBER, bold=True))
    return found


def _near(places: dict[int, list[Piece]], step: int) -> bool:
    """Whether the last number told stands so near number 1 that both have no room."""
    return len(places) % step == 0


def _letters(ring: RingPlan, places: dict[int, list[Piece]]) -> list[Text]:
    """The wood's letter on each piece that is alone in its place and has room for it."""
    letters = wood_letters(ring.woods)
    middle = (ring.inner_radius + ring.outer_radius) / 2.0
    found = []
    for pieces in places.values():
        if len(letters) > 1 and len(pieces) == 1:
            wide = abs(pieces[0].outline.area()) / ring.width
            if min(wide, ring.width) >= 2.0 * NUMBER:
                at = at_angle(middle, _direction(pieces))
                found.append(centred(letters[pieces[0].wood], at, height=NUMBER))
    return found


def _keys(plan: Plan, ring: RingPlan, places: dict[int, list[Piece]]) -> Block:
    lines = [key.outline_entry("finished edge of the ring"), key.centreline_entry()]
    if plan.hidden is not None:
        lines.append(key.hidden_entry())
    step = every(ring, len(places))
    counting = "The show face."
    if _in_turn(places):
        counting = "Numbers run clockwise from the seam on the show face."
        if step > 1:
            nth = "second" if step == 2 else f"{step}th"
            counting += f" A tick for each place, a number at every {nth}."
    hidden = [
        position
        for position, pieces in places.items()
        if all(one.visibility is Visibility.HIDDEN for one in pieces)
    ]
    if hidden and _in_turn(places):
        counting += f" Wholly under the fingerboard: {ringmap.runs(hidden)}."
    blocks = [key.key_block("Lines", lines, width=62.0), note(counting, 62.0, size=2.2)]
    woods = _woods(ring, places)
    values = table(
        [
            ("inner radius", format_length(ring.inner_radius, plan.units)),
            ("outer radius", format_length(ring.outer_radius, plan.units)),
            ("places", str(len(places))),
        ],
        align="lr",
        size=2.0,
        head=False,
    )
    return flow([*blocks, *woods, values], gap=9.0, lead=5.0)


def _woods(ring: RingPlan, places: dict[int, list[Piece]]) -> list[Block]:
    """Which places are of which wood, where each is of one."""
    letters = wood_letters(ring.woods)
    if len(places) > MOST_LISTED or any(len(pieces) > 1 for pieces in places.values()):
        entries = [key.letter_entry(letter, wood) for wood, letter in letters.items()]
        return [key.key_block("Woods", entries[:8], width=62.0)]
    lines = [
        f"{letter} {wood}: "
        + ringmap.runs([at for at, pieces in places.items() if pieces[0].wood == wood])
        for wood, letter in letters.items()
    ]
    return [note(line, 84.0, size=2.2, indent=4.0) for line in lines[:12]]
