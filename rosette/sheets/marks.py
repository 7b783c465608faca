"""Marks that several sheets share: line types, arrows, leaders, hatching, keys and lists.

Line types follow ISO 128-2: chain for centrelines, dashes for what is hidden. Lines that
would cross words are broken for them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from rosette.geometry.outline import Outline, Point, Vertex, line, polygon
from rosette.lettering import text_width
from rosette.sheets.block import text_corners
from rosette.sheets.drawing import HAIR, THIN, Circle, Element, Layer, Stroke, Text

CHAIN = (8.0, 1.0, 0.6, 1.0)
"""Long dash and dot: centrelines."""
DASHED = (3.0, 1.2)
"""Dashes: what something else hides."""
SHORT_DASHED = (1.2, 0.7)
"""Short dashes: a blank before it is trimmed."""
SEAM_COLOUR = "#d55e00"
"""Okabe and Ito's vermillion; the word stands beside it."""
GREY = "#8c8c8c"
"""Hatching and other lines that stand back."""
SMALLEST = 1.8
"""The least height in mm of a capital that can be read at the bench."""

Box = Sequence[Point]


def fitted(words: str, *, width: float, height: float, bold: bool = False) -> tuple[str, float]:
    """Words and the capital height (mm) at which they fit in `width`; cut off with … at the least.

    Raises:
        ValueError: where the width is not above zero.
    """
    if width <= 0:
        raise ValueError("words need some width")
    wide = text_width(words, height, bold)
    if wide <= width:
        return words, height
    height = max(SMALLEST, 0.999 * height * width / wide)
    kept = words
    while kept and text_width(words if kept == words else kept + "…", height, bold) > width:
        kept = kept[:-1]
    return (words if kept == words else kept.rstrip() + "…"), height


def segment(
    a: Point,
    b: Point,
    *,
    layer: Layer = "note",
    weight: float = THIN,
    dashes: tuple[float, ...] = (),
    colour: str = "#000000",
) -> Stroke:
    """One straight line."""
    return Stroke(outline=line(a, b), layer=layer, weight=weight, dashes=dashes, colour=colour)


def arrow(
    tail: Point,
    tip: Point,
    *,
    layer: Layer,
    head: float = 2.0,
    weight: float = THIN,
    colour: str = "#000000",
) -> tuple[Stroke, Stroke]:
    """A line with a filled head a third as wide as long (ISO 128); `head` is its length in mm."""
    length = math.dist(tail, tip)
    ux, uy = (tip[0] - tail[0]) / length, (tip[1] - tail[1]) / length
    foot = (tip[0] - ux * head, tip[1] - uy * head)
    half = head / 5.0
    shape = polygon(
        [
            tip,
            (foot[0] - uy * half, foot[1] + ux * half),
            (foot[0] + uy * half, foot[1] - ux * half),
        ]
    )
    return (
        segment(tail, foot, layer=layer, weight=weight, colour=colour),
        Stroke(outline=shape, layer=layer, weight=HAIR, colour=colour, fill=colour),
    )


def broken(
    a: Point, b: Point, boxes: Iterable[Box], *, air: float = 0.5
) -> tuple[tuple[Point, Point], ...]:
    """What is left of a line outside of convex boxes and `air` mm beside them, along the line."""
    length = math.dist(a, b)
    if length == 0:
        return ()
    gaps = sorted(
        (low - air / length, high + air / length)
        for box in boxes
        if (found := _inside(a, b, box)) is not None
        for low, high in (found,)
    )
    kept: list[tuple[Point, Point]] = []
    start = 0.0
    for low, high in [*gaps, (1.0, 1.0)]:
        if min(low, 1.0) > start:
            kept.append((_between(a, b, start), _between(a, b, min(low, 1.0))))
        start = max(start, high)
    return tuple(kept)


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _inside(a: Point, b: Point, box: Box) -> tuple[float, float] | None:
    """The shares of a line between which it runs inside a convex polygon (Cyrus and Beck)."""
    if _apart(a, b, box):
        return None
    low, high = 0.0, 1.0
    turn = _turn(box)
    for p, q in zip(box, [*box[1:], box[0]], strict=True):
        nx, ny = turn * (q[1] - p[1]), -turn * (q[0] - p[0])
        at = nx * (a[0] - p[0]) + ny * (a[1] - p[1])
        by = nx * (b[0] - a[0]) + ny * (b[1] - a[1])
        if by == 0.0:
            if at > 0.0:
                return None
        elif by > 0.0:
            high = min(high, -at / by)
        else:
            low = max(low, -at / by)
    return (low, high) if low < high else None


def _apart(a: Point, b: Point, box: Box) -> bool:
    """Whether a line lies wholly to one side of a polygon: soon told, and true of most."""
    for i in (0, 1):
        low, high = (a[i], b[i]) if a[i] < b[i] else (b[i], a[i])
        reach = [p[i] for p in box]
        if max(reach) < low or min(reach) > high:
            return True
    return False


def _turn(box: Box) -> float:
    area = sum(p[0] * q[1] - q[0] * p[1] for p, q in zip(box, [*box[1:], box[0]], strict=True))
    return 1.0 if area >= 0 else -1.0


def hatching(
    region: Box, boxes: Sequence[Box], *, angle: float, spacing: float
) -> tuple[tuple[Point, Point], ...]:
    """Parallel lines across a convex region, `spacing` mm apart, broken for boxes of words."""
    ux, uy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    across = [-uy * x + ux * y for x, y in region]
    along = [ux * x + uy * y for x, y in region]
    lines: list[tuple[Point, Point]] = []
    first = math.ceil(min(across) / spacing)
    for i in range(first, math.floor(max(across) / spacing) + 1):
        off = i * spacing
        a = (ux * min(along) - uy * off, uy * min(along) + ux * off)
        b = (ux * max(along) - uy * off, uy * max(along) + ux * off)
        inside = _inside(a, b, region)
        if inside is not None:
            ends = _between(a, b, inside[0]), _between(a, b, inside[1])
            lines.extend(broken(*ends, boxes))
    return tuple(lines)


def boxes_of(elements: Iterable[Element], *, air: float = 0.4) -> list[Box]:
    """The boxes of all words among elements, a little enlarged up and down."""
    return [_aired(text_corners(one), air) for one in elements if isinstance(one, Text)]


def _aired(corners: Sequence[Point], air: float) -> Box:
    x = sum(p[0] for p in corners) / len(corners)
    y = sum(p[1] for p in corners) / len(corners)
    out: list[Point] = []
    for px, py in corners:
        reach = math.hypot(px - x, py - y)
        share = (reach + air * math.sqrt(2.0)) / reach
        out.append((x + (px - x) * share, y + (py - y) * share))
    return out


def centred(
    words: str,
    at: Point,
    *,
    height: float,
    turn: float = 0.0,
    layer: Layer = "note",
    bold: bool = False,
    colour: str = "#000000",
) -> Text:
    """Words whose capitals' middle stands at a point."""
    angle = math.radians(turn)
    x, y = at[0] + math.sin(angle) * height / 2.0, at[1] - math.cos(angle) * height / 2.0
    return Text(
        text=words,
        at=(x, y),
        height=height,
        anchor="middle",
        turn=turn,
        layer=layer,
        bold=bold,
        colour=colour,
    )


def upright(turn: float) -> float:
    """A turn by the same line that reads from below or from the right, as drawings do.

    >>> upright(180), upright(90), upright(-90), upright(200), upright(-45)
    (0.0, 90.0, 90.0, 20.0, -45.0)
    """
    turn = (turn + 180.0) % 360.0 - 180.0
    if turn > 90.0:
        return turn - 180.0
    return turn + 180.0 if turn <= -90.0 else turn


def leader(points: Sequence[Point], *, colour: str = "#000000", dot: bool = False) -> list[Element]:
    """A thin line from a note to what it names: an arrow at its last point, or a dot on a face."""
    elements: list[Element] = []
    if dot:
        elements.append(
            Circle(centre=points[-1], radius=0.4, layer="note", colour=None, fill=colour)
        )
        body = list(points)
    else:
        elements.extend(arrow(points[-2], points[-1], layer="note", head=1.8, colour=colour))
        body = list(points[:-1])
    if len(body) > 1:
        chain = Outline(tuple(Vertex(x, y) for x, y in body), closed=False)
        elements.append(Stroke(outline=chain, layer="note", weight=THIN, colour=colour))
    return elements


def centre_cross(arm: float = 5.0, *, bore: float = 1.0) -> list[Element]:
    """The pivot's mark at the origin: two chain lines crossing, and a small circle."""
    return [
        segment((-arm, 0.0), (arm, 0.0), layer="centreline"),
        Circle(centre=(0.0, 0.0), radius=bore, layer="centreline", weight=THIN, name="pivot"),
    ]


def swatch(at: Point, *, width: float, height: float, fill: str, weight: float = THIN) -> Stroke:
    """A small filled rectangle of a key, its lower left corner at a point."""
    x, y = at
    shape = polygon([(x, y), (x + width, y), (x + width, y + height), (x, y + height)])
    return Stroke(outline=shape, layer="note", weight=weight, fill=fill)
