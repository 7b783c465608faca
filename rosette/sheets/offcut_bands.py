"""The bands as they lie at the saw after the crosscuts: slants numbered along their edge (mm).

Each band lies with its grain pointing up, away from the sawyer; enlarged where its blanks are
too small to letter, and in several rows where it is longer than the page.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rosette.geometry.outline import Point
from rosette.offcuts.cutplan import CutPiece, CutWedge, SawCut
from rosette.sheets.blank_words import Blank, blank_words, setting_for
from rosette.sheets.block import PAGE_WIDTH, Block, block, column
from rosette.sheets.clear import Frame, clipped, crossings
from rosette.sheets.drawing import HAIR, MEDIUM, THIN, Element, Stroke
from rosette.sheets.marks import segment
from rosette.sheets.offcut_marks import (
    Lie,
    bands_of,
    blank_of,
    bubble,
    bubble_radius,
    defect_lines,
    kerf_corners,
    kerf_stroke,
    wedge_stroke,
)
from rosette.sheets.saw_pictures import scale_text
from rosette.sheets.table import note

WIDE = PAGE_WIDTH - 6.0
SCALES = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 8.0, 10.0, 15.0, 20.0)
SMALLER = (0.5, 0.2, 0.1)
TALLEST = 70.0
"""No row's band is drawn higher than this (mm)."""
STUB = 7.0
"""How much of the wood beside its blanks a row shows, at the scale of the drawing (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """Part of a band: its frame (u, v), blanks and cuts, at a scale."""

    band: int
    frame: Frame
    wedges: tuple[CutWedge, ...]
    cuts: tuple[SawCut, ...]
    scale: float


def band_pictures(piece: CutPiece, *, kerf: float) -> list[Block]:
    """Every band with its slants, in rows no wider than the page."""
    if not any(cut.kind == "slant" for cut in piece.cuts):
        return []
    lie = Lie.of(piece)
    return [
        _picture(row, piece, lie, kerf, first=first)
        for band, span in bands_of(piece, lie).items()
        for first, row in _rows(piece, lie, band, span)
    ]


def _rows(
    piece: CutPiece, lie: Lie, band: int, span: tuple[float, float]
) -> Iterator[tuple[bool, _Row]]:
    """The band's blanks from left to right, a row for as many as the page is wide."""
    wedges = sorted(
        (one for one in piece.wedges if one.band == band), key=lambda one: lie.turned(one.centre)[0]
    )
    cuts = [cut for cut in piece.cuts if cut.kind == "slant" and cut.band == band]
    scale = _scale(wedges, cuts, span, radius=bubble_radius(len(piece.cuts)))
    for number, row in enumerate(_shared_out(wedges, lie, (WIDE - 2.0 * STUB) / scale)):
        across = [u for wedge in row for u, _ in _corners(wedge, lie)]
        frame = (
            min(across) - STUB / scale, span[0], max(across) + STUB / scale, span[1],
        )  # fmt: skip
        labels = {wedge.label for wedge in row}
        shown = tuple(cut for cut in cuts if labels & set(cut.frees))
        yield number == 0, _Row(band=band, frame=frame, wedges=row, cuts=shown, scale=scale)


def _shared_out(
    wedges: Sequence[CutWedge], lie: Lie, most: float
) -> Iterator[tuple[CutWedge, ...]]:
    """Wedges in rows no wider than `most` mm, as few as can be and about as wide as each other."""
    spans = [(min(us), max(us)) for us in ([u for u, _ in _corners(w, lie)] for w in wedges)]
    whole = spans[-1][1] - spans[0][0]
    room = min(most, whole / math.ceil(whole / most) * 1.02 + spans[0][1] - spans[0][0])
    first = 0
    for i in range(1, len(wedges) + 1):
        if i == len(wedges) or spans[i][1] - spans[first][0] > room:
            yield tuple(wedges[first:i])
            first = i


def _corners(wedge: CutWedge, lie: Lie) -> list[Point]:
    return lie.all_turned(wedge.vertices)


def _ends(cut: SawCut, lie: Lie) -> tuple[float, float]:
    return lie.turned(cut.start)[0], lie.turned(cut.end)[0]


def _scale(
    wedges: Sequence[CutWedge],
    cuts: Sequence[SawCut],
    span: tuple[float, float],
    *,
    radius: float,
) -> float:
    """True size where blanks and cuts can be lettered in full, else the least scale that can.

    Made smaller where a band or a single blank would not go on the page.
    """
    blanks = [blank_of(one) for one in wedges]
    widths = [2.0 * blank.half(blank.height / 2.0) for blank in blanks]
    widest = max(2.0 * blank.half(blank.height) for blank in blanks)
    height = span[1] - span[0]

    def goes(scale: float) -> bool:
        return height * scale <= TALLEST and widest * scale <= WIDE - 2.0 * STUB

    def reads(scale: float) -> bool:
        crowded = len(cuts) > 1 and min(widths) * scale < 1.6 * radius
        return not crowded and setting_for([_enlarged(one, scale) for one in blanks]) is not None

    fitting = [scale for scale in SCALES if goes(scale)]
    if not fitting:
        return next((scale for scale in SMALLER if goes(scale)), SMALLER[-1])
    return next((scale for scale in fitting if reads(scale)), fitting[-1])


def _enlarged(blank: Blank, scale: float) -> Blank:
    a, b, c, d = (_times(point, scale) for point in blank.corners)
    return Blank(corners=(a, b, c, d), text=blank.text, short=blank.short)


def _times(point: Point, scale: float) -> Point:
    return point[0] * scale, point[1] * scale


def _picture(row: _Row, piece: CutPiece, lie: Lie, kerf: float, *, first: bool) -> Block:
    def drawn(points: Sequence[Point]) -> list[Point]:
        return [_times(point, row.scale) for point in lie.all_turned(points)]

    blanks = [
        Blank(corners=(a, b, c, d), text=said.text, short=said.short)
        for wedge in row.wedges
        for said in (blank_of(wedge),)
        for a, b, c, d in (drawn(wedge.vertices),)
    ]
    setting = setting_for(blanks)
    parts: list[Element] = [
        *_wood(row, piece, lie),
        *(kerf_stroke(cut, drawn(kerf_corners(cut, lie, kerf)), in_band=True) for cut in row.cuts),
        *(
            wedge_stroke(wedge, blank.corners, in_band=True)
            for wedge, blank in zip(row.wedges, blanks, strict=True)
        ),
    ]
    if setting is not None:
        for blank in blanks:
            parts.extend(blank_words(blank, setting))
    parts.extend(_numbers(row, piece, lie))
    words = f"Band {row.band}" + ("" if first else ", further right")
    return column(
        [note(f"{words}, {scale_text(row.scale)}", WIDE, bold=True), block(parts)], gap=1.5
    )


def _numbers(row: _Row, piece: CutPiece, lie: Lie) -> Iterator[Element]:
    """The slants' numbers over the band's upper edge, side by side and led to their kerfs."""
    radius = bubble_radius(len(piece.cuts))
    top = row.frame[3] * row.scale
    ends = sorted(
        (max((lie.turned(p) for p in (cut.start, cut.end)), key=lambda p: p[1])[0], cut.step)
        for cut in row.cuts
    )
    places = spread([u * row.scale for u, _ in ends], 2.0 * radius + 0.4)
    moved = any(abs(u * row.scale - x) > 0.3 for (u, _), x in zip(ends, places, strict=True))
    level = top + (6.0 if moved else 1.6) + radius
    for (u, step), x in zip(ends, places, strict=True):
        yield segment((u * row.scale, top + 0.5), (x, level - radius), weight=HAIR)
        yield from bubble(step, (x, level), radius)


def spread(places: Sequence[float], pitch: float) -> list[float]:
    """Places in order moved apart to `pitch`, as little as can be and each run about its middle.

    >>> spread([0.0, 1.0, 10.0], 3.0)
    [-1.0, 2.0, 10.0]
    """
    runs: list[list[float]] = []
    for place in places:
        runs.append([place])
        while len(runs) > 1 and _low(runs[-1], pitch) < _low(runs[-2], pitch) + pitch * len(
            runs[-2]
        ):
            runs[-2:] = [runs[-2] + runs[-1]]
    return [_low(run, pitch) + i * pitch for run in runs for i in range(len(run))]


def _low(run: Sequence[float], pitch: float) -> float:
    """Where a run begins so that its members are moved as far left as right."""
    return sum(run) / len(run) - pitch * (len(run) - 1) / 2.0


def _wood(row: _Row, piece: CutPiece, lie: Lie) -> Iterator[Element]:
    """The wood of the band: crosscut edges, own edges, defects; cut off at the sides."""
    left, low, right, high = row.frame
    rings = [lie.all_turned(ring) for ring in (piece.wood.outline, *piece.wood.holes)]

    def scaled(a: Point, b: Point, *, weight: float = MEDIUM, colour: str = "#000000") -> Stroke:
        return segment(_times(a, row.scale), _times(b, row.scale), weight=weight, colour=colour)

    for v in (low, high):
        yield from (
            scaled((u0, v), (u1, v), weight=THIN)
            for u0, u1 in _inside_along(rings, v, (low + high) / 2.0, left, right)
        )
    for ring in rings:
        for a, b in pairwise([*ring, ring[0]]):
            kept = clipped(a, b, row.frame)
            if kept is not None:
                yield scaled(*kept)
    for one in defect_lines(piece.wood, [], spacing=1.4 / row.scale):
        a, b = lie.all_turned(one.outline.points())
        kept = clipped(a, b, row.frame)
        if kept is not None:
            yield scaled(*kept, weight=one.weight, colour=one.colour or "#000000")


def _inside_along(
    rings: Sequence[Sequence[Point]], v: float, middle: float, left: float, right: float
) -> Iterator[tuple[float, float]]:
    """Where a level line a hair inside the band runs in the wood, between two places u."""
    inside = v + math.copysign(1e-4, middle - v)
    met = crossings(rings, (0.0, inside), (1.0, 0.0))
    for a, b in zip(met[::2], met[1::2], strict=False):
        if min(b, right) > max(a, left):
            yield max(a, left), min(b, right)
