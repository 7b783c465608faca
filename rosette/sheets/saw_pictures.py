"""Pictures for the saw's sheet: the mitre as a triangle, the strip and its cuts, the set-up."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from rosette.geometry.outline import Outline, Vertex, line, polygon
from rosette.lettering import text_width
from rosette.patterns.base import Wedges
from rosette.sheets.block import Block, block, column, enlarged
from rosette.sheets.dimension import (
    TIER,
    Span,
    horizontal,
    length_text,
    tiers,
    vertical,
)
from rosette.sheets.drawing import HAIR, MEDIUM, THICK, THIN, Element, Stroke, Text
from rosette.sheets.leaders import angular, leader
from rosette.sheets.strip import kerf_along, pitch, rise_and_run, strip_cuts, strip_wedges
from rosette.sheets.table import note
from rosette.sheets.wedge_shapes import grain_arrow
from rosette.units import MM_PER_INCH, Units, format_angle

GREY = "#c8c8c8"
NUMBER = 2.2
"""Height of the cuts' numbers."""
PICTURE = 174.0
"""Width of the strip's picture in mm."""


def scale_text(scale: float) -> str:
    """A scale as drawings state it.

    >>> scale_text(2.0), scale_text(0.5), scale_text(1)
    ('2:1', '1:2', '1:1')
    """
    return f"{scale:g}:1" if scale >= 1.0 else f"1:{1.0 / scale:g}"


def mitre_by_measure(wedges: Wedges, units: Units) -> tuple[float, float]:
    """The mitre as rise and run (mm), in round numbers of the reader's units."""
    inch = MM_PER_INCH
    runs = (3.0 * inch, 2.0 * inch, inch) if units == "in" else (80.0, 50.0, 25.0)
    return rise_and_run(wedges.mitre_angle, runs, most=45.0)


def mitre_triangle(wedges: Wedges, units: Units) -> Block:
    """The mitre as rise over run, true size, so that it can be set by measuring."""
    rise, run = mitre_by_measure(wedges, units)
    corners = [(0.0, 0.0), (rise, run), (0.0, run)]
    parts: list[Element] = [
        Stroke(outline=polygon(corners), layer="note", weight=MEDIUM, name="mitre-triangle"),
        *vertical((0.0, 0.0), (0.0, run), -8.0, length_text(run, units)),
        *horizontal((0.0, run), (rise, run), run + TIER, length_text(rise, units)),
        *angular(
            (0.0, 0.0),
            run * 0.5,
            90.0 - wedges.mitre_angle,
            90.0,
            format_angle(wedges.mitre_angle),
            shelf=(rise * 0.5 + 9.0, run * 0.42),
        ),
    ]
    return column([note("The mitre, true size", 70.0, bold=True), block(parts)], gap=2.5)


def strip_scale(step: float, height: float) -> float:
    """The scale at which a strip shows its first cuts.

    1:1 where its wedges are neither too small to number nor too large to show four.

    >>> strip_scale(10.0, 21.0), strip_scale(2.5, 21.0), strip_scale(70.0, 30.0)
    (1.0, 2.0, 0.5)
    """
    if step * 4.0 > PICTURE - 10.0:
        return 0.5 if step * 2.0 <= PICTURE - 10.0 else 0.2
    best = 1.0
    for scale in (1.0, 2.0, 3.0, 4.0, 5.0):
        if height * scale <= 44.0:
            best = scale
        if step * scale >= 9.0:
            break
    return best


def strip_picture(wedges: Wedges, units: Units) -> Block:
    """The strip with its first cuts numbered, kerfs filled, and the wedges between them."""
    blank = wedges.blank
    step = pitch(blank, kerf=wedges.kerf, mitre=wedges.mitre_angle)
    scale = strip_scale(step, blank.height)
    lead = max(kerf_along(wedges.kerf, wedges.mitre_angle) * scale, 1.0) + 7.0
    most = max((wood.count + wood.spares) // wedges.leaves for wood in wedges.woods)
    shown = max(1, min(most, int((PICTURE - lead - 12.0) / scale / step)))
    pieces = strip_wedges(blank, kerf=wedges.kerf, mitre=wedges.mitre_angle, count=shown)
    parts = [
        *_strip_edges(wedges, shown, scale, lead, whole=shown == most),
        *_kerfs(wedges, shown, scale),
        *_pieces(pieces, scale),
        *_strip_dimensions(pieces, scale, units),
    ]
    words = f"The strip and its first {shown} wedges, {scale_text(scale)}; cuts numbered in order"
    if shown == most:
        words = f"The strip and its {shown} wedges, {scale_text(scale)}; cuts numbered in order"
    return column([note(words, PICTURE, bold=True), block(parts)], gap=2.0)


def _strip_edges(
    wedges: Wedges, shown: int, scale: float, lead: float, *, whole: bool
) -> list[Element]:
    """The strip's outline: a square end to the left, broken off to the right."""
    tall = wedges.blank.height * scale
    cuts = strip_cuts(wedges.blank, kerf=wedges.kerf, mitre=wedges.mitre_angle, count=shown)
    right = max(cuts[-1].edges()) * scale + (7.0 if whole else 9.0)
    low = [(right, 0.0), (-lead, 0.0), (-lead, tall), (right, tall)]
    edge = Outline(tuple(Vertex(x, y) for x, y in low), closed=False)
    tear = [(right, tall), (right - 1.2, tall * 0.62), (right + 1.2, tall * 0.38), (right, 0.0)]
    ragged = Outline(tuple(Vertex(x, y) for x, y in tear), closed=False)
    return [
        Stroke(outline=edge, layer="note", weight=MEDIUM),
        Stroke(outline=ragged, layer="note", weight=THIN),
    ]


def _kerfs(wedges: Wedges, shown: int, scale: float) -> list[Element]:
    tall = wedges.blank.height * scale
    parts: list[Element] = []
    cuts = strip_cuts(wedges.blank, kerf=wedges.kerf, mitre=wedges.mitre_angle, count=shown)
    tops = [(cut.left + cut.right + cut.lean) / 2.0 * scale for cut in cuts]
    every = numbered_every(tops)
    for number, (cut, x) in enumerate(zip(cuts, tops, strict=True), start=1):
        a, b, c, d = (edge * scale for edge in cut.edges())
        shape = polygon([(a, 0.0), (b, 0.0), (c, tall), (d, tall)])
        parts.append(
            Stroke(outline=shape, layer="note", weight=HAIR, fill=GREY, name=f"cut-{number}")
        )
        if number == 1 or number % every == 0:
            parts.append(
                Text(
                    text=str(number), at=(x, tall + 1.5), height=NUMBER, anchor="middle", bold=True
                )
            )
    return parts


def numbered_every(places: Sequence[float]) -> int:
    """Every how many cuts a number has room, the first always numbered.

    >>> numbered_every([0.0, 8.0, 16.0, 24.0]), numbered_every([0.0, 2.0, 4.0, 6.0, 8.0, 10.0])
    (1, 5)
    """
    room = text_width(str(len(places)), NUMBER, True) + 0.8
    for every in (1, 2, 5, 10, 20):
        kept = [places[0], *places[max(every, 2) - 1 :: every]]
        if all(b - a >= room for a, b in pairwise(kept)):
            return every
    return 50


def _pieces(pieces: tuple[Outline, ...], scale: float) -> list[Element]:
    parts: list[Element] = []
    for number, piece in enumerate(pieces, start=1):
        drawn = enlarged(piece, scale)
        parts.append(Stroke(outline=drawn, layer="note", weight=THIN, name=f"strip-wedge-{number}"))
    first = enlarged(pieces[0], scale).bounds()
    tall = first[3] - first[1]
    if tall >= 8.0 and first[2] - first[0] >= 5.0:
        parts.extend(grain_arrow(((first[0] + first[2]) / 2.0, tall * 0.25), tall * 0.5))
    return parts


def _strip_dimensions(
    pieces: tuple[Outline, ...], scale: float, units: Units
) -> tuple[Element, ...]:
    """The widths along the lower edge: the first wedge's wide edge, the second's narrow one."""
    spans = []
    for piece in pieces[:2]:
        a, b = ((vertex.x * scale, 0.0) for vertex in piece.vertices[:2])
        spans.append(Span(a=a, b=b, text=length_text((b[0] - a[0]) / scale, units)))
    return tiers(spans, axis="x", level=-TIER, side=-1)


def at_the_saw(wedges: Wedges, units: Units) -> Block:
    """The set-up seen from above: fence, strip, kerf and stop, at no stated scale."""
    blank = wedges.blank
    scale = min(32.0 / blank.outer_width, 34.0 / blank.height)
    wide, narrow, tall = (
        size * scale for size in (blank.outer_width, blank.inner_width, blank.height)
    )
    taper = (wide - narrow) / 2.0
    kerf = max(min(kerf_along(wedges.kerf, wedges.mitre_angle) * scale, 5.0), 0.8)
    left, bar = -26.0, 5.0
    stop = polygon([(wide, 0.0), (wide + 9.0, 0.0), (wide + 9.0, 9.0), (wide, 9.0)])
    fence = polygon([(left, -bar), (wide + 14.0, -bar), (wide + 14.0, 0.0), (left, 0.0)])
    strip = [(left, 0.0), (-kerf, 0.0), (taper - kerf, tall), (left, tall)]
    wedge = [(0.0, 0.0), (wide, 0.0), (wide - taper, tall), (taper, tall)]
    blade = _carried_on((0.0 - kerf / 2.0, 0.0), (taper - kerf / 2.0, tall), 7.0)
    slot = polygon([(-kerf, 0.0), (0.0, 0.0), (taper, tall), (taper - kerf, tall)])
    parts: list[Element] = [
        Stroke(outline=fence, layer="note", weight=MEDIUM, fill=GREY),
        Stroke(outline=stop, layer="note", weight=MEDIUM, fill=GREY),
        Stroke(outline=polygon(strip), layer="note", weight=MEDIUM),
        Stroke(outline=polygon(wedge), layer="note", weight=THICK),
        Stroke(outline=slot, layer="note", weight=HAIR, fill=GREY),
        Stroke(outline=blade, layer="centreline", weight=THIN, dashes=(3.0, 1.0)),
        *horizontal((0.0, -bar), (wide, -bar), -bar - 6.0, length_text(blank.outer_width, units)),
        Text(text="fence", at=(left + 2.0, -bar + 1.4), height=2.2),
        Text(
            text="strip",
            at=(left + 2.0, tall / 2.0 - 1.1 if tall > 6.0 else tall + 1.5),
            height=2.2,
        ),
        Text(text="stop", at=(wide + 4.5, 3.4), height=2.2, anchor="middle"),
        *leader((taper * 0.9 - kerf / 2.0, tall + 4.0), (taper - 9.0, tall + 8.0), "blade"),
    ]
    words = note("Seen from above; not to scale", 80.0, bold=True)
    return column([words, block(parts)], gap=2.0)


def _carried_on(a: tuple[float, float], b: tuple[float, float], more: float) -> Outline:
    """The line from a to b, carried on by `more` at its upper end."""
    far = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
    ux, uy = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    return line(a, (b[0] + more * ux, b[1] + more * uy))
