"""Each offcut for a laser or CNC: what is cut on layer `cut`, numbers on `engrave` (mm).

The offcut's own coordinates; its outline and defects stand on `note`, to lay the wood by and not
to be cut. No page frame goes round these: they are files for a machine.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rosette.geometry.outline import Outline, Point, line, polygon
from rosette.offcuts.cutplan import CutPiece, CuttingPlan, CutWedge
from rosette.sheets.blank_words import Setting, blank_words
from rosette.sheets.drawing import HAIR, MEDIUM, THIN, Drawing, Element, Stroke
from rosette.sheets.kerf_offset import offset
from rosette.sheets.marks import DASHED
from rosette.sheets.offcut import contents, piece_names, said_name
from rosette.sheets.offcut_marks import blank_of
from rosette.sheets.offcut_picture import labelled

SAME_LINE = 1e-4
"""mm: two edges nearer to each other than this are one cut."""
MARGIN = 2.0


def laser_drawings(
    cutting: CuttingPlan, *, compensated: bool = True, once: bool = False
) -> tuple[Drawing, ...]:
    """A drawing `NAME-laser` for every offcut that is cut.

    `compensated`: cut half a kerf outside each blank, for a machine that follows the line with
    the middle of its beam or bit; else on the blank's own outline, for one that knows its kerf.
    Each blank is one closed outline. `once`: of blanks that share a line the edges instead, each
    line a single cut where the edges of neighbours fall together.
    """
    names = piece_names(cutting)
    return tuple(
        _drawing(
            piece, names[piece.id, piece.piece],
            by=cutting.kerf / 2.0 if compensated else 0.0, once=once,
        )
        for piece in cutting.touched
    )  # fmt: skip


def _drawing(piece: CutPiece, name: str, *, by: float, once: bool) -> Drawing:
    ways = cut_ways(piece.wedges, by=by)
    settings = labelled(piece.wedges, fine=True)
    parts: list[Element] = [
        *_reference(piece),
        *(_once(ways) if once else _closed(ways)),
        *(part for wedge in piece.wedges for part in _words(wedge, settings[wedge.ring])),
    ]
    boxes = [way.bounds() for way in ways.values()] + [polygon(piece.wood.outline).bounds()]
    return Drawing(
        name=f"{name}-laser",
        title=f"Offcut {said_name(piece)}, for a laser or CNC: {contents(piece)}",
        purpose=f"Offcut {said_name(piece)} for a laser or CNC: layer cut "
        + (f"runs {by:.3g} mm outside each blank" if by else "is each blank's own outline")
        + ", engrave holds the numbers, note is the offcut and is not cut.",
        bounds=(
            min(box[0] for box in boxes) - MARGIN,
            min(box[1] for box in boxes) - MARGIN,
            max(box[2] for box in boxes) + MARGIN,
            max(box[3] for box in boxes) + MARGIN,
        ),
        elements=tuple(parts),
    )


def cut_ways(wedges: Sequence[CutWedge], *, by: float) -> dict[str, Outline]:
    """The closed way round each blank of one piece, by its label; `by` mm outside of it."""
    return {
        wedge.label: offset(wedge.vertices, by, neighbours=_near(wedge, wedges, 8.0 * by))
        for wedge in wedges
    }


def _near(
    wedge: CutWedge, wedges: Sequence[CutWedge], reach: float
) -> list[tuple[Point, Point, Point, Point]]:
    """The other blanks that may come within `reach` mm."""
    mine = polygon(wedge.vertices).bounds()
    found = []
    for other in wedges:
        x0, y0, x1, y1 = polygon(other.vertices).bounds()
        apart = max(x0 - mine[2], mine[0] - x1, y0 - mine[3], mine[1] - y1)
        if other is not wedge and apart <= reach:
            found.append(other.vertices)
    return found


def _closed(ways: dict[str, Outline]) -> Iterator[Element]:
    for label, way in ways.items():
        yield Stroke(outline=way, layer="cut", weight=THIN, name=f"blank-{label}")


def _once(ways: dict[str, Outline]) -> Iterator[Element]:
    """Blanks that share no line as they are; of the others every edge, as one line where shared."""
    sharing = sharers(ways)
    yield from _closed({label: way for label, way in ways.items() if label not in sharing})
    straight: list[tuple[Point, Point]] = []
    for label in sharing:
        for a, b in ways[label].edges():
            if a.bulge:
                yield Stroke(outline=Outline((a, b), closed=False), layer="cut", weight=THIN)
            else:
                straight.append(((a.x, a.y), (b.x, b.y)))
    for start, end in merged(straight):
        yield Stroke(outline=line(start, end), layer="cut", weight=THIN)


def sharers(ways: dict[str, Outline]) -> list[str]:
    """Which closed ways run along a part of another's, by their labels.

    >>> square = polygon([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)])
    >>> beside, away = square.mapped(0.0, (2.0, 1.0)), square.mapped(0.0, (-2.5, 0.0))
    >>> sharers({"a": square, "b": beside, "c": away})
    ['a', 'b']
    """
    edges = [
        (label, ((a.x, a.y), (b.x, b.y)))
        for label, way in ways.items()
        for a, b in way.edges()
        if not a.bulge
    ]
    found: set[str] = set()
    for _, _, spans in _on_one_line([edge for _, edge in edges]):
        along = sorted((low, high, edges[at][0]) for low, high, at in spans)
        furthest, whose = -math.inf, ""
        for low, high, label in along:
            if label != whose and low < furthest - SAME_LINE:
                found |= {label, whose}
            if high > furthest:
                furthest, whose = high, label
    return [label for label in ways if label in found]


def merged(lines: Sequence[tuple[Point, Point]]) -> list[tuple[Point, Point]]:
    """Straight lines, those that lie on each other taken together.

    >>> merged([((0.0, 0.0), (2.0, 0.0)), ((3.0, 0.0), (1.0, 0.0)), ((0.0, 1.0), (2.0, 1.0))])
    [((0.0, 0.0), (3.0, 0.0)), ((0.0, 1.0), (2.0, 1.0))]
    """
    return [
        (
            (foot[0] + ux * low, foot[1] + uy * low),
            (foot[0] + ux * high, foot[1] + uy * high),
        )
        for foot, (ux, uy), spans in _on_one_line(lines)
        for low, high in _joined([(low, high) for low, high, _ in spans])
    ]


def _on_one_line(
    lines: Sequence[tuple[Point, Point]],
) -> list[tuple[Point, Point, list[tuple[float, float, int]]]]:
    """Lines by the endless line they lie on: a point of it, its direction, from where to where.

    The last of each span is the line's number.
    """
    groups: list[tuple[Point, Point, list[tuple[float, float, int]]]] = []
    for at, (a, b) in enumerate(lines):
        length = math.dist(a, b)
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        for foot, (vx, vy), spans in groups:
            off = [abs(vx * (p[1] - foot[1]) - vy * (p[0] - foot[0])) for p in (a, b)]
            if abs(ux * vy - uy * vx) < 1e-4 and max(off) < SAME_LINE:
                ends = sorted(vx * (p[0] - foot[0]) + vy * (p[1] - foot[1]) for p in (a, b))
                spans.append((ends[0], ends[1], at))
                break
        else:
            groups.append((a, (ux, uy), [(0.0, length, at)]))
    return groups


def _joined(spans: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1] + SAME_LINE:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def _words(wedge: CutWedge, setting: Setting | None) -> list[Element]:
    return [] if setting is None else blank_words(blank_of(wedge), setting)


def _reference(piece: CutPiece) -> Iterator[Element]:
    """The wood itself, so that the drawing can be laid on it."""
    for ring in (piece.wood.outline, *piece.wood.holes):
        yield Stroke(outline=polygon(ring), layer="note", weight=MEDIUM, name="outline")
    for ring in piece.wood.defects:
        yield Stroke(outline=polygon(ring), layer="note", weight=HAIR, dashes=DASHED, name="defect")
