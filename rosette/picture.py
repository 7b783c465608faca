"""The finished rosette as it will look on the guitar, in its woods: the maker's first sight of it.

It is not for measuring. Every wood has its own figure as well as its colour, and a letter that
leads from the key to where it is, so that it reads in grey too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from rosette.figure import Streak, chance, figured
from rosette.geometry.outline import Outline, Point, Vertex, at_angle, polygon
from rosette.patterns.base import Piece, RingPlan
from rosette.plan.model import Plan
from rosette.sheets.block import Block
from rosette.sheets.drawing import HAIR, THIN, Circle, Drawing, Element, Stroke, Text
from rosette.sheets.marks import centred, fitted
from rosette.wood.looks import Look, look, mixed, wood_letters

SPRUCE = "#ecd8ad"
SPRUCE_LINE = "#cfb07a"
EBONY = "#2f2a28"
HOLE = "#241c17"
RIM = "#b08a55"
INK = "#2b2118"
PAPER = "#fffaf0"
"""Tones of what is not the rosette's wood: soundboard, fingerboard, the dark inside, lettering."""

SIDE = 3.0
"""Clear space in mm at the sides of the key."""
MARGIN = 20.0
"""Soundboard shown round the rosette, in mm."""
LEAST = 88.0
"""Half the picture's width in mm at the least."""
LED = 6.5
"""How far outside the rosette a letter stands that is led to a piece, in mm."""
FIRST, LAST = -78.0, 40.0
"""Directions in degrees between which letters stand outside the rosette."""
WANTED = -125.0
"""The direction near which letters stand on wedges."""


def picture(plan: Plan) -> Drawing:
    """The rosette on its soundboard, a key of its woods below."""
    outermost = max(ring.outer_radius for ring in plan.rings)
    half = max(LEAST, outermost + MARGIN)
    top, bottom = outermost + MARGIN, -outermost - 14.0
    key = _key(plan, 2.0 * half - 2.0 * SIDE).at(-half + SIDE, bottom - 4.0)
    return Drawing(
        name="picture",
        title=plan.name,
        purpose="The finished rosette in its woods, as it will look on the guitar.",
        bounds=(-half, key.bounds[1] - SIDE, half, top),
        elements=(
            *_soundboard(half, bottom, top),
            *_hole(plan),
            *(element for ring in plan.rings for element in ring_elements(ring)),
            *_fingerboard(plan, top, half),
            *_marks(plan, outermost),
            *key.elements,
        ),
    )


def _filled(outline: Outline, colour: str, *, holes: tuple[Outline, ...] = ()) -> Stroke:
    """An area of one colour; its line has the same colour, so that it keeps its place."""
    return Stroke(
        outline=outline, holes=holes, layer="note", weight=0.03, colour=colour, fill=colour
    )


def _drawn(points: Sequence[Point], weight: float, colour: str) -> Stroke:
    chain = Outline(tuple(Vertex(x, y) for x, y in points), closed=False)
    return Stroke(outline=chain, layer="note", weight=weight, colour=colour)


def _soundboard(half: float, bottom: float, top: float) -> Iterator[Element]:
    """Quartersawn spruce in two matched halves, the grain along the guitar."""
    yield _filled(polygon([(-half, bottom), (half, bottom), (half, top), (-half, top)]), SPRUCE)
    dice = chance("soundboard")
    x = 0.35
    while x < half:
        shade = mixed(SPRUCE, SPRUCE_LINE, 0.35 + 0.6 * next(dice))
        weight = 0.1 + 0.14 * next(dice)
        for side in (-1.0, 1.0):
            yield _drawn([(side * x, bottom), (side * x, top)], weight, shade)
        # the rings of a tree grow wider apart towards its heart, the matched halves' outer edges
        x += (0.7 + 0.7 * next(dice)) * (1.0 + 0.6 * x / half)
    yield _drawn([(0.0, bottom), (0.0, top)], 0.12, mixed(SPRUCE, INK, 0.35))


def _hole(plan: Plan) -> Iterator[Element]:
    radius = plan.soundhole_diameter / 2.0
    for size, colour in ((radius, RIM), (radius - 0.5, HOLE)):
        yield Circle(
            centre=(0.0, 0.0), radius=size, layer="note", weight=0.1, colour=colour, fill=colour
        )


def ring_elements(ring: RingPlan) -> Iterator[Element]:
    """One ring in its woods."""
    if ring.wedges is not None and ring.wedges.leaves == 2:
        for one, other in zip(ring.pieces[::2], ring.pieces[1::2], strict=True):
            yield from _piece(one)
            yield from _piece(other, mirrors=one)
    else:
        for piece in ring.pieces:
            yield from _piece(piece)
    for piece in ring.spacers:
        yield from _piece(piece)
    if ring.wedges is not None:
        for radius in (ring.inner_radius, ring.outer_radius):
            yield Circle(
                centre=(0.0, 0.0), radius=radius, layer="note", weight=HAIR, colour="#3a2c20"
            )


def _piece(piece: Piece, *, mirrors: Piece | None = None) -> Iterator[Element]:
    """A piece in its wood; `mirrors` is the other leaf where two were opened like a book."""
    leaf = mirrors or piece
    wood = toned(look(piece.wood), leaf.label)
    yield _filled(piece.outline, wood.colour, holes=piece.holes)
    if piece.axis is not None and leaf.axis is not None and piece.kind != "spacer":
        holes = [hole.points(0.02) for hole in piece.holes]
        for streak in figured(leaf.outline.points(0.02), leaf.axis, wood, leaf.label):
            points: Sequence[Point] = streak.points
            if mirrors is not None:
                points = _mirrored(points, (piece.axis + leaf.axis) / 2.0)
            for run in _beside(points, holes):
                yield _drawn(run, streak.weight, streak.colour)
    for outline in (piece.outline, *piece.holes):
        yield Stroke(outline=outline, layer="note", weight=HAIR, colour=mixed(wood.mark, INK, 0.6))


def _beside(points: Sequence[Point], holes: Sequence[list[Point]]) -> Iterator[Sequence[Point]]:
    """The runs of a line that lie in no hole, to a fifth of a millimetre."""
    if not holes:
        yield points
        return
    run: list[Point] = []
    for a, b in pairwise(points):
        steps = max(1, math.ceil(math.dist(a, b) / 0.2))
        for i in range(steps + 1):
            at = a[0] + (b[0] - a[0]) * i / steps, a[1] + (b[1] - a[1]) * i / steps
            if not any(_inside(at, hole) for hole in holes):
                run.append(at)
                continue
            if len(run) > 1:
                yield run
            run = []
    if len(run) > 1:
        yield run


def _inside(point: Point, corners: list[Point]) -> bool:
    """Whether a ray from the point crosses the polygon's edges an odd number of times."""
    x, y = point
    crossed = False
    for (a, b), (c, d) in pairwise([corners[-1], *corners]):
        if (b > y) != (d > y) and x < a + (y - b) / (d - b) * (c - a):
            crossed = not crossed
    return crossed


def _mirrored(points: Sequence[Point], direction: float) -> list[Point]:
    """Points mirrored about the line through the origin in a direction (degrees)."""
    c, s = math.cos(math.radians(2.0 * direction)), math.sin(math.radians(2.0 * direction))
    return [(c * x + s * y, s * x - c * y) for x, y in points]


def toned(wood: Look, name: str) -> Look:
    """A wood a little lighter or darker, as one wedge is beside the next."""
    step = (next(chance(f"tone {name}")) - 0.5) * 0.13
    other = "#ffffff" if step > 0 else "#000000"
    return Look(
        colour=mixed(wood.colour, other, abs(step)),
        mark=mixed(wood.mark, other, abs(step) * 0.6),
        figure=wood.figure,
    )


def _fingerboard(plan: Plan, top: float, half: float) -> Iterator[Element]:
    """The fingerboard's end, and through it, dimly, what it hides."""
    if plan.hidden is None or plan.hidden.reach >= top:
        return
    side, reach = min(plan.hidden.width / 2.0, half), plan.hidden.reach
    board = polygon([(-side, reach), (side, reach), (side, top), (-side, top)])
    yield _filled(board, EBONY)
    for ring in plan.rings:
        for piece in (*ring.pieces, *ring.spacers):
            yield from _seen_through(piece, side, reach)
    yield Stroke(outline=board, layer="note", weight=THIN, colour="#0d0b0a")
    words, height = fitted("fingerboard", width=max(2.0 * side - 4.0, 1.0), height=2.6)
    yield centred(words, (0.0, top - 5.0), height=height, colour="#e9e0d2")


def _seen_through(piece: Piece, side: float, reach: float) -> Iterator[Element]:
    shown = _under(piece.outline.points(0.02), side, reach)
    if len(shown) < 3:
        return
    holes = tuple(
        polygon(part)
        for hole in piece.holes
        if len(part := _under(hole.points(0.02), side, reach)) >= 3
    )
    wood = toned(look(piece.wood), piece.label)
    yield _filled(polygon(shown), mixed(EBONY, wood.colour, 0.34), holes=holes)
    if piece.kind != "line":
        edge = mixed(EBONY, "#000000", 0.45)
        yield Stroke(outline=polygon(shown), layer="note", weight=HAIR, colour=edge)


def _under(points: list[Point], side: float, reach: float) -> list[Point]:
    """The part of a polygon that lies in the strip |x| ≤ side, y ≥ reach."""
    for a, b, c in ((1.0, 0.0, side), (-1.0, 0.0, side), (0.0, -1.0, -reach)):
        points = _cut(points, a, b, c)
    return points


def _cut(points: list[Point], a: float, b: float, c: float) -> list[Point]:
    """The part of a polygon where a·x + b·y ≤ c (Sutherland and Hodgman)."""
    kept: list[Point] = []
    for i, q in enumerate(points):
        p = points[i - 1]
        at_p, at_q = a * p[0] + b * p[1] - c, a * q[0] + b * q[1] - c
        if (at_p <= 0.0) != (at_q <= 0.0):
            t = at_p / (at_p - at_q)
            kept.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
        if at_q <= 0.0:
            kept.append(q)
    return kept


def _marks(plan: Plan, outermost: float) -> Iterator[Element]:
    """Each wood's letter once a ring: on a piece that has room for it, else led to it radially."""
    letters = wood_letters(_woods(plan))
    direction = FIRST
    spacing = math.degrees(7.0 / (outermost + LED))
    for ring, wood in _wanted(plan):
        if _roomy(ring):
            yield from _bubble(letters[wood], _on(plan, ring, wood))
            continue
        direction = _next(ring, wood, direction)
        if direction > LAST:
            return
        tip = at_angle((ring.inner_radius + ring.outer_radius) / 2.0, direction)
        centre = at_angle(outermost + LED, direction)
        for weight, colour in ((0.5, PAPER), (0.18, INK)):
            yield _drawn([centre, tip], weight, colour)
        yield Circle(centre=tip, radius=0.5, layer="note", weight=0.2, colour=PAPER, fill=INK)
        yield from _bubble(letters[wood], centre)
        direction += spacing


def _wanted(plan: Plan) -> Iterator[tuple[RingPlan, str]]:
    for ring in plan.rings:
        for wood in ring.woods:
            yield ring, wood


def _roomy(ring: RingPlan) -> bool:
    """Whether a letter goes on a wedge itself."""
    return ring.wedges is not None and ring.width >= 7.0 and ring.wedges.finished.inner_chord >= 6.5


def _next(ring: RingPlan, wood: str, direction: float) -> float:
    """The first direction from this one on, counter-clockwise, where that wood lies."""
    turns = [
        (_towards(p) - direction) % 360.0 for p in ring.pieces if p.wood == wood and not p.holes
    ]
    return direction + min(turns, default=0.0)


def _towards(piece: Piece) -> float:
    """The direction in degrees in which a piece lies; its grain may run another way."""
    corners = piece.outline.vertices
    return math.degrees(math.atan2(sum(v.y for v in corners), sum(v.x for v in corners)))


def _on(plan: Plan, ring: RingPlan, wood: str) -> Point:
    """A place on a wedge of that wood, at lower left if it can be, clear of the fingerboard."""
    radius = (ring.inner_radius + ring.outer_radius) / 2.0
    turn = ring.wedges.included_angle * 0.3 if ring.wedges is not None else 0.0
    places = [
        at_angle(radius, p.axis + off)
        for p in ring.pieces
        if p.wood == wood and p.axis is not None
        for off in (0.0, turn, -turn)
    ]
    target = at_angle(radius, WANTED)
    strip = plan.hidden
    clear = [
        (x, y)
        for x, y in places
        if strip is None or abs(x) > strip.width / 2.0 + 3.0 or y < strip.reach - 3.0
    ]
    # turned places only where the middle of the wedge is under the fingerboard
    middles = [place for place in places[::3] if place in clear]
    return min(middles or clear or places, key=lambda place: math.dist(place, target))


def _bubble(letter: str, at: Point) -> Iterator[Element]:
    yield Circle(centre=at, radius=2.3, layer="note", weight=0.15, colour=PAPER, fill=PAPER)
    yield Circle(centre=at, radius=2.3, layer="note", weight=0.15, colour=INK)
    yield centred(letter, at, height=2.3 if len(letter) == 1 else 1.8, bold=True, colour=INK)


def _woods(plan: Plan) -> list[str]:
    woods = [wood for ring in plan.rings for wood in ring.woods]
    spacers = [wood for ring in plan.rings for wood in ring.spacer_woods]
    return list(dict.fromkeys([*woods, *spacers]))


def _key(plan: Plan, width: float) -> Block:
    """A swatch of each wood with its letter, its name and where it is."""
    letters = wood_letters(_woods(plan))
    columns = 3
    wide = width / columns
    blocks = [_entry(plan, wood, letter, wide - 4.0) for wood, letter in letters.items()]
    title, height = fitted(plan.name, width=width, height=4.2, bold=True)
    head = Text(text=title, at=(0.0, -height), height=height, bold=True, colour=INK)
    elements: list[Element] = [head]
    top = -height - 4.5
    for i in range(0, len(blocks), columns):
        for j, entry in enumerate(blocks[i : i + columns]):
            elements.extend(entry.at(j * wide, top).elements)
        top -= 13.0
    return Block(elements=tuple(elements), bounds=(0.0, top + 3.0, width, 0.0))


def _entry(plan: Plan, wood: str, letter: str, width: float) -> Block:
    box = [(0.0, -9.5), (16.0, -9.5), (16.0, 0.0), (0.0, 0.0)]
    seen = look(wood)
    elements: list[Element] = [_filled(polygon(box), seen.colour)]
    elements.extend(_lines(figured(box, 0.0, seen, f"key {wood}")))
    elements.append(Stroke(outline=polygon(box), layer="note", weight=HAIR, colour=INK))
    elements.extend(_bubble(letter, (20.0, -3.1)))
    name, height = fitted(wood, width=width - 24.0, height=2.8, bold=True)
    where, small = fitted(_where(plan, wood), width=width - 24.0, height=2.1)
    elements.append(Text(text=name, at=(24.0, -4.5), height=height, bold=True, colour=INK))
    elements.append(Text(text=where, at=(24.0, -8.9), height=small, colour=INK))
    return Block(elements=tuple(elements), bounds=(0.0, -9.5, width, 0.0))


def _lines(streaks: Sequence[Streak]) -> Iterator[Element]:
    for streak in streaks:
        yield _drawn(streak.points, streak.weight, streak.colour)


def _where(plan: Plan, wood: str) -> str:
    """The rings a wood is used in, and those whose spacers are of it."""
    used = [str(ring.index) for ring in plan.rings if wood in ring.woods]
    spacers = [str(ring.index) for ring in plan.rings if wood in ring.spacer_woods]
    rings = f"{'ring' if len(used) == 1 else 'rings'} {', '.join(used)}"
    between = f"spacers of {', '.join(spacers)}"
    return "; ".join(words for words, found in ((rings, used), (between, spacers)) if found)
