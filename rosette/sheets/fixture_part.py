"""One part of a fixture: its plan, its sections, its sizes to check (mm on paper)."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rosette.geometry.outline import Point, line, polygon
from rosette.sheets.block import Block, block, column, extent
from rosette.sheets.clear import crossings, hatched
from rosette.sheets.drawing import HAIR, MEDIUM, THICK, THIN, Circle, Element, Stroke, Text
from rosette.sheets.fixture_checks import Height, Sketch, add_heights, add_lengths
from rosette.sheets.fixture_cut import Cut, Line, cut_of, seen_beyond
from rosette.sheets.fixture_measures import Numbered
from rosette.sheets.fixture_plan import part_plan
from rosette.sheets.fixture_stood import Stood
from rosette.sheets.marks import CHAIN, arrow, boxes_of, centred, segment
from rosette.sheets.table import heading
from rosette.units import Units

HATCHES = (45.0, 135.0, 30.0, 120.0, 60.0, 150.0, 15.0)
"""A part's own angle of hatching; counts through them."""
SPACING = 2.4
ON_LINE = 0.5
"""A height taken within this of a section's line stands on that section."""
NEAR = 0.01
ASKEW = 1e-6
PASTS = (6.0, 14.0, 22.0)
"""How far a section's line runs past the work: further where another's letter stands."""
BUBBLE = 2.9
GAP = 4.0


def part_view(
    part: Stood, section: Line, checks: Sequence[Numbered], *, scale: float, units: Units,
    title: str = "",
) -> Block:  # fmt: skip
    """A part's plan with its lengths, below it its sections with its heights."""
    heights = [one for one in checks if one.heights is not None]
    cuts = _sections(part, section, heights)
    sketch = Sketch.of(part_plan(part, scale))
    hull = [(x * scale, y * scale) for x, y in part.placed_rings[0][0]]
    for letter, (where, _, _) in zip("ABCDEFG", cuts, strict=False):
        marks = [section_mark(where, hull, scale, letter, past=past) for past in PASTS]
        sketch.add(next((one for one in marks if sketch.marks_fit(one)), marks[0]), None)
    add_lengths(sketch, checks, hull, scale, units)
    plan = block(sketch.elements)
    sections = [
        (where, section_view([cut], letter, taken, scale=scale, units=units))
        for letter, (where, cut, taken) in zip("ABCDEFG", cuts, strict=False)
    ]
    return titled_views(title, plan, sections, scale)


def titled_views(
    title: str, plan: Block, sections: Sequence[tuple[Line, Block]], scale: float
) -> Block:
    """A plan, its title above it, and sections below it: in line with it where they lie level."""
    left, low, right, _ = plan.bounds
    placed = [plan]
    for (start, end), view in sections:
        level = abs(start[1] - end[1]) < ON_LINE and end[0] > start[0]
        x0, _, x1, _ = view.bounds
        x = x0 + start[0] * scale if level else (left + right - x1 + x0) / 2.0
        placed.append(view.at(x, low - GAP))
        low = placed[-1].bounds[1]
    whole = Block(
        elements=tuple(element for one in placed for element in one.elements),
        bounds=(
            min(one.bounds[0] for one in placed),
            low,
            max(one.bounds[2] for one in placed),
            plan.bounds[3],
        ),
    )
    return column([heading(title, size=3.0), whole], gap=GAP) if title else whole


def _sections(
    part: Stood, section: Line, heights: Sequence[Numbered]
) -> list[tuple[Line, Cut, list[Height]]]:
    """The lines along which a part is cut, and the heights that are taken on each.

    The fixture's own line first, then lines beside it for heights that are taken off it.
    """
    found: list[tuple[Line, Cut, list[Height]]] = []
    lines = [section, *(_beside(section, one.at) for one in heights if one.at)]
    left = list(heights)
    for where in lines:
        cut = cut_of(part, where)
        taken = [one for one in left if one.at and _off(one.at, where) <= ON_LINE]
        if cut is None or (found and not taken):
            continue
        left = [one for one in left if one not in taken]
        found.append((where, cut, [_height(one, cut, where) for one in taken]))
    if not found:
        x0, low, x1, high = part.placed_rings[0][1]
        middle = (x0, (low + high) / 2.0), (x1, (low + high) / 2.0)
        cut = cut_of(part, middle)
        found += [(middle, cut, [])] if cut else []
    return found


def left_to_right(where: Line) -> Line:
    """The line from its left end to its right end, an upright one from below."""
    return min(where, where[::-1], key=lambda one: (round(one[0][0] - one[1][0], 6), one[0][1]))


def _height(numbered: Numbered, cut: Cut, where: Line) -> Height:
    """Where a height can be taken: at its own place, beside it, or where the same heights are."""
    s, heights = _along(numbered.at, where), numbered.heights or (0.0, 0.0)
    beside = [
        s + step
        for step in (3.0, -3.0, 6.0, -6.0, 10.0, -10.0, 15.0, -15.0)
        if any(one.start < min(s, s + step) and max(s, s + step) < one.end for one in cut.slabs)
    ]
    same = [
        (one.start + one.end) / 2.0
        for one in cut.slabs
        if abs(one.low - min(heights)) < NEAR and abs(one.high - max(heights)) < NEAR
    ]
    same.sort(key=lambda place: abs(place - s))
    return Height(numbered=numbered, places=(s, *beside, *same))


def _beside(section: Line, point: Point | None) -> Line:
    """A line through a point, along the section."""
    assert point is not None
    (ax, ay), (bx, by) = section
    length = math.dist((ax, ay), (bx, by))
    ux, uy = (bx - ax) / length, (by - ay) / length
    run = (point[0] - ax) * ux + (point[1] - ay) * uy
    dx, dy = point[0] - ax - run * ux, point[1] - ay - run * uy
    return (ax + dx, ay + dy), (bx + dx, by + dy)


def _off(point: Point, where: Line) -> float:
    (ax, ay), (bx, by) = where
    cross = (bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)
    return abs(cross) / math.dist((ax, ay), (bx, by))


def _along(point: Point | None, where: Line) -> float:
    assert point is not None
    (ax, ay), (bx, by) = where
    dot = (bx - ax) * (point[0] - ax) + (by - ay) * (point[1] - ay)
    return dot / math.dist((ax, ay), (bx, by))


def squared(where: Line, part: Stood) -> Line:
    """The line of a section, or one along the nearer edge of the sheet where it runs askew.

    A part that stands turned in its fixture is cut straight when it is drawn by itself, through
    the middle of what the fixture's own line cuts.
    """
    (ax, ay), (bx, by) = where
    length = math.dist((ax, ay), (bx, by))
    ux, uy = (bx - ax) / length, (by - ay) / length
    met = crossings([part.placed_rings[0][0]], (ax, ay), (ux, uy))
    if min(abs(ux), abs(uy)) < ASKEW or not met:
        return where
    middle = (met[0] + met[-1]) / 2.0
    x, y = ax + middle * ux, ay + middle * uy
    return ((x - 1.0, y), (x + 1.0, y)) if abs(ux) > abs(uy) else ((x, y - 1.0), (x, y + 1.0))


def section_mark(
    where: Line, hull: Sequence[Point], scale: float, letter: str, *, past: float = PASTS[0]
) -> list[Element]:
    """The line of a section on a plan: chain line, an arrow and a letter at each end."""
    (ax, ay), (bx, by) = ((x * scale, y * scale) for x, y in where)
    length = math.dist((ax, ay), (bx, by))
    ux, uy = (bx - ax) / length, (by - ay) / length
    reach = [(x - ax) * ux + (y - ay) * uy for x, y in hull]
    ends = [(min(reach) - past, -1.0), (max(reach) + past, 1.0)]
    p, q = ((ax + s * ux, ay + s * uy) for s, _ in ends)
    found: list[Element] = [segment(p, q, layer="centreline", dashes=CHAIN)]
    for x, y in (p, q):
        tail = (x + uy * 4.5, y - ux * 4.5)
        found += arrow(tail, (x, y), layer="centreline", weight=MEDIUM, head=2.5)
        found.append(centred(letter, (x + uy * 7.5, y - ux * 7.5), height=3.5, bold=True))
    return found


def section_view(
    cuts: Sequence[Cut],
    letter: str,
    heights: Sequence[Height],
    *,
    scale: float,
    units: Units,
) -> Block:
    """The parts cut, hatched, with the heights taken there."""
    sketch = Sketch.of(cut_elements(cuts, scale))
    _, _, _, top = extent(sketch.elements)
    add_heights(sketch, heights, top, scale, units)
    return under_title(block(_hatched_late(sketch, cuts, scale)), letter)


def under_title(view: Block, letter: str) -> Block:
    """A section with its name above it; it keeps its own coordinates."""
    left, low, right, top = view.bounds
    title = heading(f"Section {letter} – {letter}", size=3.0)
    title = title.at(left, top + 2.0 + title.height)
    return Block(
        elements=(*title.elements, *view.elements),
        bounds=(left, low, max(right, title.bounds[2]), title.bounds[3]),
    )


def cut_elements(cuts: Sequence[Cut], scale: float) -> list[Element]:
    """The outlines of what is cut, and the edges seen beyond it."""
    found: list[Element] = []
    for cut in cuts:
        for shape in cut.shapes:
            outline = polygon([(x * scale, z * scale) for x, z in shape])
            found.append(Stroke(outline=outline, layer="note", weight=THICK))
    for start, end, z in seen_beyond(cuts):
        edge = line((start * scale, z * scale), (end * scale, z * scale))
        found.append(Stroke(outline=edge, layer="note", weight=THIN))
    return found


def _hatched_late(sketch: Sketch, cuts: Sequence[Cut], scale: float) -> Iterator[Element]:
    """The hatching broken for words, then the sketch."""
    yield from hatching(cuts, scale, sketch.elements)
    yield from sketch.elements


def hatching(cuts: Sequence[Cut], scale: float, words: Sequence[Element]) -> Iterator[Element]:
    """Every part's hatching at its own angle."""
    boxes = boxes_of(one for one in words if isinstance(one, Text))
    for cut in cuts:
        angle = HATCHES[(cut.stood.number - 1) % len(HATCHES)]
        for shape in cut.shapes:
            ring = [(x * scale, z * scale) for x, z in shape]
            for a, b in hatched([ring], boxes, angle=angle, spacing=SPACING):
                yield segment(a, b, layer="note", weight=HAIR)


def bubble(number: int, at: Point) -> list[Element]:
    """A part's number in a circle."""
    return [
        Circle(centre=at, radius=BUBBLE, layer="note", weight=THIN),
        centred(str(number), at, height=2.5, bold=True),
    ]
