"""The assembly map: where each wedge goes, which half it belongs to, what is glued when.

A sheet for each ring of wedges, `assembly-N`; the list of its wedges stands below the map where
there is room, else on sheets of its own, `assembly-N-list`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import Outline, Vertex, arc, at_angle, polygon
from rosette.patterns.base import Piece, RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.sheets import key, ringmap
from rosette.sheets.block import PAGE_HEIGHT, PAGE_WIDTH, Block, block, column, row
from rosette.sheets.drawing import HAIR, MEDIUM, THICK, THIN, Drawing, Element, Stroke, Text
from rosette.sheets.marks import boxes_of, centred, fitted, segment
from rosette.sheets.numbering import numbers
from rosette.sheets.table import heading, note, steps, table
from rosette.units import rounded
from rosette.wood.looks import wood_letters

HALF_B = "#e4ebf1"
"""Ground of the second half; its letter stands beside it."""
JOIN_COLOUR = "#0072b2"
"""Okabe and Ito's blue, for the joint across from the seam; its words stand beside it."""
ROW = 4.4
"""Height in mm of a row of the list."""
GUTTER = 4.0
WIDE = PAGE_WIDTH - 2.0 * ringmap.AIR
MANY = 60
"""From this many wedges on the list tells their woods by letter alone."""


def drawings(plan: Plan) -> tuple[Drawing, ...]:
    """The map of each ring of wedges, and its list where that does not go below the map."""
    return tuple(
        sheet
        for ring in plan.rings
        if ring.wedges is not None
        for sheet in _sheets(plan, ring, ring.wedges)
    )


def half_of(position: int, segments: int) -> str:
    """The half a wedge belongs to; an odd ring has no halves.

    >>> half_of(18, 36), half_of(19, 36), half_of(3, 7)
    ('A', 'B', '')
    """
    if segments % 2:
        return ""
    return "A" if position <= segments // 2 else "B"


def _sheets(plan: Plan, ring: RingPlan, wedges: Wedges) -> list[Drawing]:
    letters = wood_letters(ring.woods)
    # Of one wood the map says nothing by letters; a long list does.
    told = letters if len(letters) > 1 or wedges.segments >= MANY else {}
    map_page = ringmap.stacked(_map(plan, ring, wedges), _words(plan, ring, wedges, told))
    name, title = f"assembly-{ring.index}", f"Ring {ring.index}, assembly map"
    purpose = (
        f"Where each wedge of ring {ring.index} goes, which half it is glued up in, and which"
        " wedges the fingerboard hides."
    )
    names = {
        wood: letter if wedges.segments >= MANY else f"{told.get(wood, '')} {wood}".lstrip()
        for wood, letter in letters.items()
    }
    rows = [_row(piece, wedges, names) for piece in ring.pieces]
    across = max(1, int((WIDE + GUTTER) // (_chunk(rows).width + GUTTER)))
    below = _list(rows, math.ceil(len(rows) / across))
    if map_page.height + below.height + 6.0 <= PAGE_HEIGHT:
        page = ringmap.stacked(map_page, below, gap=6.0)
        return [ringmap.map_drawing(page, name=name, title=title, purpose=purpose)]
    return [
        ringmap.map_drawing(map_page, name=name, title=title, purpose=purpose),
        *_list_sheets(ring, rows, across, letters),
    ]


def _list_sheets(
    ring: RingPlan, rows: Sequence[tuple[str, ...]], across: int, letters: dict[str, str]
) -> list[Drawing]:
    """The list on sheets of its own, as many as it needs."""
    woods = note(
        "Woods: " + ", ".join(f"{letter} {wood}" for wood, letter in letters.items()) + ".", WIDE
    )
    most = int((PAGE_HEIGHT - 8.0 - woods.height) // ROW) - 1
    high = min(most, max(12, math.ceil(len(rows) / across)))
    return [
        ringmap.map_drawing(
            column([woods, _list(rows[first : first + high * across], high)], gap=3.0),
            name=f"assembly-{ring.index}-list" + (f"-{number}" if number > 1 else ""),
            title=f"Ring {ring.index}, list of wedges",
            purpose=f"Every wedge of ring {ring.index} by its number, to tick off as it is cut:"
            " wood, half, and whether it shows.",
            document_type="List",
        )
        for number, first in enumerate(range(0, len(rows), high * across), start=1)
    ]


def _map(plan: Plan, ring: RingPlan, wedges: Wedges) -> Block:
    letters = wood_letters(ring.woods) if len(ring.woods) > 1 else {}
    numbered = numbers(ring, wedges, letters)
    reach = numbered.reach
    top, bottom, half_width = reach + ringmap.ABOVE, -reach - 10.0, reach + 8.0
    seam, words = ringmap.seam(ring, wedges, reach=reach)
    across, across_words = _across(ring, wedges, reach)
    region = None
    if plan.hidden is not None:
        region = ringmap.strip_region(plan.hidden, top=top, half_width=half_width)
    order, order_words = _order(ring, wedges)
    notes: list[Element] = [*words, *across_words, *order_words]
    if region is not None:
        side = 1.0 if words[0].anchor == "left" else -1.0
        notes.extend(ringmap.strip_words(region[2][0], base=top - 7.0, seam_side=side))
    boxes = boxes_of([*numbered.elements, *notes])
    fills = {p.label: HALF_B for p in ring.pieces if half_of(p.position, wedges.segments) == "B"}
    elements: list[Element] = [
        *(ringmap.hidden_strip(region, boxes) if region is not None else []),
        *ringmap.finished_pieces(ring, fills=fills),
        *ringmap.ring_circles(ring),
        *ringmap.centrelines(top, bottom, boxes),
        *order,
        *across,
        *seam,
        *numbered.elements,
        *notes,
    ]
    drawn = block(elements)
    left, low, right, high = drawn.bounds
    return Block(
        elements=drawn.elements,
        bounds=(min(left, -half_width), min(low, bottom), max(right, half_width), max(high, top)),
    )


def _across(ring: RingPlan, wedges: Wedges, reach: float) -> tuple[list[Element], list[Text]]:
    """The joint opposite the seam, where the halves meet too."""
    if wedges.segments % 2:
        return [], []
    angle = ringmap.seam_direction(ring, wedges) + 180.0
    bold = segment(
        at_angle(ring.inner_radius - 2.0, angle),
        at_angle(ring.outer_radius + 2.0, angle),
        weight=THICK,
        colour=JOIN_COLOUR,
    )
    foot = at_angle(reach + 1.0, angle)
    led = Outline(
        tuple(
            Vertex(x, y)
            for x, y in (
                at_angle(ring.outer_radius + 2.0, angle),
                foot,
                (foot[0] + 4.0, foot[1] - 3.0),
            )
        ),
        closed=False,
    )
    half = wedges.half_set
    words = Text(
        text=f"{half} & {half + 1} glued with the seam",
        at=(foot[0] + 5.0, foot[1] - 4.4),
        height=2.2,
        bold=True,
        colour=JOIN_COLOUR,
    )
    return [bold, Stroke(outline=led, layer="note", weight=THIN, colour=JOIN_COLOUR)], [words]


def _order(ring: RingPlan, wedges: Wedges) -> tuple[list[Element], list[Text]]:
    """Arrows inside the ring that show which wedges are glued up in one go, clockwise."""
    radius = 0.86 * (ring.inner_radius - wedges.inner_allowance)
    seam, mitre, count = ringmap.seam_direction(ring, wedges), wedges.mitre_angle, wedges.segments
    if count % 2:
        groups = [("", 1, count - 1)]
    else:
        groups = [("A", 1, count // 2), ("B", count // 2 + 1, count)]
    arrows: list[Element] = []
    words: list[Text] = []
    for name, first, last in groups:
        start, end = seam - (2 * first - 1) * mitre, seam - (2 * last - 1) * mitre
        if radius < 16.0 or start - end < 20.0:
            continue
        arrows.extend(_curved_arrow(radius, start, end))
        middle = at_angle(radius * 0.56, (start + end) / 2.0)
        if name:
            words.append(centred(name, (middle[0], middle[1] + 3.0), height=7.0, bold=True))
            words.append(centred(f"{first} to {last}", (middle[0], middle[1] - 5.0), height=2.6))
        else:
            words.append(centred(f"{first} to {last}", (radius * 0.56, -6.0), height=2.6))
            words.append(centred(f"then {count}", (radius * 0.56, -11.0), height=2.6))
    return arrows, words


def _curved_arrow(radius: float, start: float, end: float) -> list[Element]:
    """A clockwise arc with a head at its end."""
    sweep = math.degrees(3.2 / radius)
    tip, foot = at_angle(radius, end), end + sweep
    head = polygon([tip, at_angle(radius + 0.9, foot), at_angle(radius - 0.9, foot)])
    return [
        Stroke(outline=arc(radius, start, foot), layer="note", weight=MEDIUM),
        Stroke(outline=head, layer="note", weight=HAIR, fill="#000000"),
    ]


def _words(plan: Plan, ring: RingPlan, wedges: Wedges, letters: dict[str, str]) -> Block:
    woods = [key.letter_entry(letter, wood) for wood, letter in letters.items()][:8]
    if wedges.spacer_wood is not None:
        woods.append(key.spacer_entry(f"spacer: {wedges.spacer_wood}"))
    entries = [key.seam_entry()]
    if plan.hidden is not None:
        entries.append(key.hidden_entry())
    side = key.key_block("Key", [*woods, *entries], width=50.0)
    wide = WIDE - side.width - 10.0
    order = column(
        [heading("Order of glue-up", size=2.8), steps(_steps(wedges), wide, size=2.2)],
        gap=1.5,
    )
    return row([column([order, note(_face(ring), wide, size=2.2)], gap=2.5), side], gap=10.0)


def _steps(wedges: Wedges) -> list[str]:
    count = wedges.segments
    between = f", {wedges.spacer_wood} in every joint" if wedges.spacer_wood is not None else ""
    lay = (
        f"Lay all {count} wedges dry on this map, show face up, wide end outwards{between}."
        " Look at figure and colour, and change places now."
    )
    if count % 2:
        return [
            lay,
            f"Glue up wedges 1 to {count - 1} in order.",
            f"Sand wedge {count} to the opening that is left, and glue it in.",
        ]
    half = wedges.half_set
    short = wedges.closing.half_tolerance
    line = "to one straight line through the centre"
    if wedges.joint:
        line = "to one straight line, half a joint short of the centre"
    ends = f", with {wedges.spacer_wood} in both" if wedges.spacer_wood is not None else ""
    return [
        lay,
        f"Glue up half A (1 to {half}) and half B ({half + 1} to {count}), each a hair fat rather"
        " than short of 180°.",
        f"Sand the ends of each half {line}. A half more than"
        f" {rounded(short, 1)}° short pulls the ring further out of round than the trim allows.",
        f"Glue A to B in one go: the joint of {half} and {half + 1}, and the seam{ends}.",
    ]


def _face(ring: RingPlan) -> str:
    hidden = [p.position for p in ring.pieces if p.visibility is Visibility.HIDDEN]
    partly = [p.position for p in ring.pieces if p.visibility is Visibility.PARTLY]
    face = "The map shows the show face. Glued up show face down, the numbers run anticlockwise."
    if not hidden and not partly:
        return f"{face} The fingerboard hides no wedge."
    if not hidden:
        return f"{face} The fingerboard hides no wedge wholly; partly: {ringmap.runs(partly)}."
    return (
        f"{face} Under the fingerboard, wholly: {ringmap.runs(hidden)}; partly:"
        f" {ringmap.runs(partly)}. Plain or doubtful wedges go where they are wholly hidden."
    )


def _row(piece: Piece, wedges: Wedges, names: dict[str, str]) -> tuple[str, ...]:
    words, _ = fitted(names[piece.wood], width=17.0, height=2.0)
    shows = {Visibility.HIDDEN: "hidden", Visibility.PARTLY: "partly", Visibility.SEEN: "seen"}
    return (
        str(piece.position),
        words,
        half_of(piece.position, wedges.segments) or "–",
        shows[piece.visibility],
        "",
    )


def _chunk(rows: Sequence[tuple[str, ...]]) -> Block:
    head = ("no.", "wood", "half", "shows", "cut")
    return table([head, *rows], align="rlclc", size=2.0, bold_first=True)


def _list(rows: Sequence[tuple[str, ...]], high: int) -> Block:
    return row([_chunk(rows[i : i + high]) for i in range(0, len(rows), high)], gap=GUTTER)
