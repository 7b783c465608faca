"""An offcut at full size, in its own coordinates: what is cut where, and what stays (mm)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from rosette.geometry.outline import Point, polygon
from rosette.offcuts.cutplan import CutPiece, CutWedge, Remainder, SawCut
from rosette.sheets.blank_words import Blank, Setting, blank_words, setting_for
from rosette.sheets.block import Block, block, text_corners
from rosette.sheets.clear import Taken, octagon, words_in
from rosette.sheets.dimension import length_text
from rosette.sheets.drawing import THICK, THIN, Circle, Element, Stroke, Text
from rosette.sheets.marks import arrow, boxes_of, segment, upright
from rosette.sheets.offcut_marks import (
    GAUGE_COLOUR,
    KEEP_FILL,
    Lie,
    bands_of,
    blank_of,
    bubble,
    bubble_radius,
    defect_edges,
    defect_lines,
    kerf_corners,
    kerf_stroke,
    wedge_stroke,
)
from rosette.units import Units, rounded

ASIDE = 1.6
"""How far from the wood its marks stand."""
GRAIN_LONGEST = 36.0


def labelled(wedges: Iterable[CutWedge], *, fine: bool = False) -> dict[int, Setting | None]:
    """How the blanks of each ring are lettered at full size; None where they are too small.

    `fine`: as small as a laser engraves.
    """
    rings: dict[int, list[Blank]] = {}
    for wedge in wedges:
        rings.setdefault(wedge.ring, []).append(blank_of(wedge))
    return {ring: setting_for(blanks, fine=fine) for ring, blanks in rings.items()}


def offcut_picture(piece: CutPiece, *, kerf: float, units: Units) -> Block:
    """Outline, defects, kerfs, blanks with their words, numbered cuts, bands, grain."""
    lie = Lie.of(piece)
    solid = [*_blanks(piece), *_kerfs(piece, lie, kerf), *_edges(piece)]
    taken = Taken()
    taken.add(solid)
    for ring in piece.wood.defects:
        taken.add(defect_edges(piece.wood, ring))
    words: list[Element] = []

    def put(elements: Iterable[Element]) -> None:
        kept = list(elements)
        words.extend(kept)
        taken.add(kept)

    settings = labelled(piece.wedges)
    for wedge in piece.wedges:
        setting = settings[wedge.ring]
        if setting is not None:
            put(blank_words(blank_of(wedge), setting))
    put(_crosscut_numbers(piece, lie))
    put(_band_names(piece, lie))
    put(_slant_numbers(piece, lie, kerf, taken))
    put(_grain(piece, words))
    for remainder in piece.remainders:
        for ring in (remainder.outline, *remainder.holes):
            taken.add_chain([*ring, ring[0]])
    for remainder in piece.remainders:
        put(_remainder_words(remainder, taken, units, turn=upright(lie.axis - 90.0)))
    tints = [_tint(one) for one in piece.remainders if one.useful]
    defects = list(defect_lines(piece.wood, boxes_of(words)))
    return block([*tints, *defects, *solid, *words])


def _blanks(piece: CutPiece) -> list[Element]:
    return [wedge_stroke(wedge, wedge.vertices) for wedge in piece.wedges]


def _kerfs(piece: CutPiece, lie: Lie, kerf: float) -> list[Element]:
    return [kerf_stroke(cut, kerf_corners(cut, lie, kerf)) for cut in piece.cuts]


def _edges(piece: CutPiece) -> list[Element]:
    """The wood's outline and holes, and the edge that bears on the gauge for its crosscuts."""
    rings = [("outline", piece.wood.outline), *(("hole", ring) for ring in piece.wood.holes)]
    parts: list[Element] = [
        Stroke(outline=polygon(ring), layer="note", weight=THICK, name=name) for name, ring in rings
    ]
    lines = {cut.fence_line for cut in piece.cuts if cut.kind == "crosscut" and cut.fence_line}
    parts.extend(_at_the_gauge(a, b) for a, b in sorted(lines))
    return parts


def _at_the_gauge(a: Point, b: Point) -> Stroke:
    """A bold line along an edge of the wood, which lies on its left, and outside of it."""
    weight = 1.8 * THICK
    share = (weight + THICK) / 2.0 / math.dist(a, b)
    dx, dy = (b[1] - a[1]) * share, (a[0] - b[0]) * share
    return segment(
        (a[0] + dx, a[1] + dy), (b[0] + dx, b[1] + dy), weight=weight, colour=GAUGE_COLOUR
    )


def _tint(remainder: Remainder) -> Stroke:
    return Stroke(
        outline=polygon(remainder.outline),
        holes=tuple(polygon(ring) for ring in remainder.holes),
        layer="note",
        colour=None,
        fill=KEEP_FILL,
    )


def _remainder_words(
    remainder: Remainder, taken: Taken, units: Units, *, turn: float
) -> Iterator[Element]:
    """What is to be done with a remainder, where it has room for words."""
    size = f"{_short(remainder.along, units)} × {_short(remainder.across, units)}"
    tries = (f"KEEP, {size}", "KEEP") if remainder.useful else ("scrap",)
    rings = (remainder.outline, *remainder.holes)
    for way in (turn, upright(turn + 90.0)):
        found = words_in(rings, taken, tries, turn=way, bold=remainder.useful)
        if found is not None:
            yield found
            return


def _short(length: float, units: Units) -> str:
    return (
        rounded(length, 0) if units == "mm" else length_text(length, units, decimals=1).split()[0]
    )


def _reach(piece: CutPiece, lie: Lie, low: float, high: float) -> tuple[float, float]:
    """How far left and right the wood reaches between two heights v."""
    across: list[float] = []
    ring = lie.all_turned(piece.wood.outline)
    for (u0, v0), (u1, v1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        a, b = max(low, min(v0, v1)), min(high, max(v0, v1))
        if a > b:
            continue
        share = [(v - v0) / (v1 - v0) for v in (a, b)] if v1 != v0 else [0.0, 1.0]
        across.extend(u0 + t * (u1 - u0) for t in share)
    return (min(across), max(across)) if across else (math.inf, -math.inf)


def _crosscut_numbers(piece: CutPiece, lie: Lie) -> Iterator[Element]:
    """Each crosscut's number left of the wood, led to its kerf; no two over each other."""
    cuts = sorted(
        (cut for cut in piece.cuts if cut.kind == "crosscut"),
        key=lambda cut: lie.turned(cut.start)[1],
    )
    if not cuts:
        return
    radius = bubble_radius(len(piece.cuts))
    for group in _groups(cuts, lie, 2.0 * radius + 0.6):
        heights = [v for _, v in group]
        left, _ = _reach(piece, lie, heights[0] - radius - 0.6, heights[-1] + radius + 0.6)
        crowded = len(group) > 1
        column = left - ASIDE - radius - (3.0 if crowded else 0.0)
        for cut, v in group:
            u, at = lie.turned(cut.start)
            knee = left - 0.8
            chain = [(u, at), (min(knee, u), at), (column + radius, v)]
            points = [lie.own(point) for point in chain]
            for a, b in pairwise(points):
                if math.dist(a, b) > 1e-6:
                    yield segment(a, b, weight=THIN)
            yield from bubble(cut.step, lie.own((column, v)), radius)


def _groups(cuts: Sequence[SawCut], lie: Lie, pitch: float) -> list[list[tuple[SawCut, float]]]:
    """Cuts along v, those too close for their numbers together and spread out evenly."""
    groups: list[list[SawCut]] = []
    spans: list[tuple[float, float]] = []
    for cut in cuts:
        v = lie.turned(cut.start)[1]
        groups.append([cut])
        spans.append((v - pitch / 2.0, v + pitch / 2.0))
        while len(spans) > 1 and spans[-1][0] < spans[-2][1] - 1e-9:
            groups[-2:] = [groups[-2] + groups[-1]]
            heights = [lie.turned(one.start)[1] for one in groups[-1]]
            middle = (heights[0] + heights[-1]) / 2.0
            half = max(pitch * len(heights), heights[-1] - heights[0] + pitch) / 2.0
            spans[-2:] = [(middle - half, middle + half)]
    placed: list[list[tuple[SawCut, float]]] = []
    for group, (low, high) in zip(groups, spans, strict=True):
        step = (high - low) / len(group)
        placed.append([(cut, low + (i + 0.5) * step) for i, cut in enumerate(group)])
    return placed


def _slant_numbers(piece: CutPiece, lie: Lie, kerf: float, taken: Taken) -> list[Element]:
    """Numbers at the slants' ends, band by band where every one of the band finds room."""
    radius = bubble_radius(len(piece.cuts))
    bands: dict[int, list[SawCut]] = {}
    for cut in piece.cuts:
        if cut.kind == "slant":
            bands.setdefault(cut.band, []).append(cut)
    marks: list[Element] = []
    for cuts in bands.values():
        spots: list[Point] = []
        for cut in cuts:
            spot = next(
                (
                    one
                    for one in _beside(cut, lie, kerf, radius)
                    if taken.is_free(octagon(one, radius), air=0.25)
                    and all(math.dist(one, other) > 2.0 * radius + 0.3 for other in spots)
                ),
                None,
            )
            if spot is None:
                break
            spots.append(spot)
        else:
            made = [
                part
                for cut, spot in zip(cuts, spots, strict=True)
                for part in bubble(cut.step, spot, radius)
            ]
            taken.add(made)
            marks.extend(made)
    return marks


def _beside(cut: SawCut, lie: Lie, kerf: float, radius: float) -> Iterator[Point]:
    """Where a slant's number may stand: past either end of it, else beside it near an end."""
    (u0, v0), (u1, v1) = lie.turned(cut.start), lie.turned(cut.end)
    over = 1.0 if v1 > v0 else -1.0
    yield lie.own((u1, v1 + over * (radius + 0.6)))
    yield lie.own((u0, v0 - over * (radius + 0.6)))
    slope, off = (u1 - u0) / (v1 - v0), radius + 0.8
    side = (kerf / 2.0 + off) * math.hypot(1.0, slope)
    for u, v, inward in ((u0, v0, over), (u1, v1, -over)):
        for hand in (1.0, -1.0):
            yield lie.own((u + hand * side + slope * inward * off, v + inward * off))


def _band_names(piece: CutPiece, lie: Lie) -> Iterator[Element]:
    """Each band's number right of the wood."""
    if not piece.cuts:
        return
    along = upright(lie.axis - 90.0)
    ahead = abs((along - lie.axis + 90.0 + 180.0) % 360.0 - 180.0) < 1.0
    for band, (low, high) in bands_of(piece, lie).items():
        height = 2.4 if high - low > 4.0 else 1.8
        middle = (low + high) / 2.0
        _, right = _reach(piece, lie, middle - height, middle + height)
        down = -height / 2.0 if ahead else height / 2.0
        yield Text(
            text=f"band {band}",
            at=lie.own((right + ASIDE, middle + down)),
            height=height,
            anchor="left" if ahead else "right",
            turn=along,
        )


def _grain(piece: CutPiece, words: Sequence[Element]) -> Iterator[Element]:
    """An arrow the way the grain is counted, left of everything."""
    straight = Lie(axis=piece.wood.grain)
    ring = straight.all_turned(piece.wood.outline)
    low, high = min(v for _, v in ring), max(v for _, v in ring)
    length = min(GRAIN_LONGEST, max(12.0, 0.7 * (high - low)))
    middle = (low + high) / 2.0
    points: list[Point] = []
    for one in words:
        if isinstance(one, Text):
            points.extend(text_corners(one))
        elif isinstance(one, Circle):
            points.extend(octagon(one.centre, one.radius))
    beside = length / 2.0 + 4.0
    near = [u for u, v in straight.all_turned(points) if abs(v - middle) <= beside]
    left, _ = _reach(piece, straight, middle - beside, middle + beside)
    u = min(left, *near) - 4.0 if near else left - 4.0
    foot, tip = straight.own((u, middle - length / 2.0)), straight.own((u, middle + length / 2.0))
    yield from arrow(foot, tip, layer="grain", head=3.0, weight=0.35)
    turn = upright(piece.wood.grain)
    flip = abs((turn - piece.wood.grain + 180.0) % 360.0 - 180.0) < 1.0
    off = -1.2 if flip else -1.2 - 2.2
    yield Text(
        text="grain",
        at=straight.own((u + off, middle)),
        height=2.2,
        anchor="middle",
        turn=turn,
        layer="grain",
    )
