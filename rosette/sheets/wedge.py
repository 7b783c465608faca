"""One wedge as it comes off the saw and as it stands in the ring, with every dimension.

The upper part is true size, to lay wood on; the lower shows the same wedge enlarged.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rosette.geometry.outline import Outline, Point, at_angle, line, polygon
from rosette.geometry.wedge import finished_outline, half_angle_rad
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    block,
    column,
    drawing_of,
    enlarged,
    extent,
    flow,
    heights_split,
    lowest,
    row,
)
from rosette.sheets.dimension import (
    TIER,
    Span,
    aligned,
    angle_text,
    angular,
    fits_along,
    horizontal,
    inside,
    leader,
    length_text,
    tiers,
    units_note,
    vertical,
)
from rosette.sheets.drawing import HAIR, MEDIUM, THICK, THIN, Drawing, Element, Layer, Stroke, Text
from rosette.sheets.table import heading, note, table
from rosette.units import MM_PER_INCH, Units

SCALES = (20, 10, 8, 5, 4, 3, 2, 1)
CHAIN = (4.0, 0.8, 0.6, 0.8)
SIDE_ROOM: dict[Units, float] = {"mm": 37.0, "in": 52.0}
"""Room for dimensions and leaders to the left and right of an enlarged wedge, together."""
ABOVE_BELOW = 32.0
"""Room for dimensions and the caption over and under an enlarged wedge, together."""
BETWEEN, HEADINGS = 7.0, 8.0
"""Room in mm between the two parts, and for the heading of the lower."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WedgeShapes:
    """A wedge about the ring's centre with its axis along +y: blank, finished, half joint."""

    blank: Outline
    finished: Outline


def shapes(ring: RingPlan, wedges: Wedges) -> WedgeShapes:
    """The blank and the finished wedge of a ring, about its centre, axis upwards."""
    ends = [
        half_angle_rad(size, segments=wedges.segments, joint=wedges.joint)
        for size in (ring.inner_radius, ring.outer_radius)
    ]
    return WedgeShapes(
        blank=wedges.blank.outline().mapped(turn_rad=math.pi / 2.0),
        finished=finished_outline(
            ring.inner_radius, ring.outer_radius, 90.0, inner_half=ends[0], outer_half=ends[1]
        ),
    )


def grain_arrow(foot: Point, length: float) -> tuple[Element, ...]:
    """An upright double arrow on layer `grain`."""
    x, y = foot
    size = min(2.0, length / 4.0)
    parts = [_stroke(line((x, y), (x, y + length)), "grain", MEDIUM)]
    for tip, way in ((y + length, -1.0), (y, 1.0)):
        head = [(x, tip), (x - size / 3.0, tip + way * size), (x + size / 3.0, tip + way * size)]
        parts.append(
            Stroke(outline=polygon(head), layer="grain", weight=HAIR, colour=None, fill="#000000")
        )
    return tuple(parts)


def drawings(plan: Plan) -> tuple[Drawing, ...]:
    """A sheet for each ring of wedges; the enlarged part on its own where one page is too small."""
    return tuple(drawing for ring in plan.wedge_rings for drawing in _ring_drawings(plan, ring))


def _ring_drawings(plan: Plan, ring: RingPlan) -> list[Drawing]:
    assert ring.wedges is not None
    wedges, units = ring.wedges, plan.units
    lower = _true_size(ring, wedges, units)
    blank, side = wedges.blank, SIDE_ROOM[units]
    room = PAGE_HEIGHT - lower.height - BETWEEN - HEADINGS
    if scale_for(blank.outer_width, blank.height, side=side, room=room)[0] == 1:
        room = PAGE_HEIGHT - HEADINGS
    parts = [lower, _enlarged_views(ring, wedges, units, room)]
    sheets = heights_split(parts, height=PAGE_HEIGHT, gap=BETWEEN)
    names = [f"wedge-{ring.index}", f"wedge-{ring.index}-enlarged"]
    purposes = [
        f"Ring {ring.index}: one wedge as sawn and as finished, true size, with every dimension.",
        f"Ring {ring.index}: the same wedge enlarged, with every dimension.",
    ]
    return [
        drawing_of(
            column(blocks, gap=BETWEEN),
            name=name,
            title=f"Ring {ring.index}: one of {wedges.segments} wedges{tail}",
            purpose=purpose,
        )
        for blocks, name, purpose, tail in zip(
            sheets, names, purposes, ("", ", enlarged"), strict=False
        )
    ]


def _stroke(
    outline: Outline,
    layer: Layer,
    weight: float,
    *,
    name: str = "",
    dashes: tuple[float, ...] = (),
) -> Stroke:
    return Stroke(outline=outline, layer=layer, weight=weight, name=name, dashes=dashes)


# --- true size -------------------------------------------------------------------------------


def _true_size(ring: RingPlan, wedges: Wedges, units: Units) -> Block:
    both = shapes(ring, wedges)
    views = [
        _captioned("Blank, as it comes off the saw", _true_blank(ring, wedges, both, units)),
        _captioned("Finished, as it stands in the ring", _true_finished(ring, wedges, both, units)),
    ]
    tables = numbers(ring, wedges, units)
    body = lowest(
        flow([*views, column(tables, gap=3.0)], gap=7.0), flow([*views, *tables], gap=7.0)
    )
    lead = heading(f"Ring {ring.index}, true size (1:1): lay the wood on these")
    return column([lead, note(units_note(units), PAGE_WIDTH), body], gap=2.5)


def _captioned(words: str, view: Block) -> Block:
    return column([note(words, 80.0, bold=True), view], gap=2.0)


def _centre_lines(
    ring: RingPlan, wedges: Wedges, inner: Point, *, gap: tuple[float, float] = (0.0, 0.0)
) -> list[Element]:
    """The ring's centre, the wedge's axis, and its sides carried on to where they meet.

    The axis leaves `gap`, from and to along it, free for words.
    """
    apex = wedges.joint / (2.0 * math.sin(math.radians(wedges.mitre_angle)))
    top = ring.outer_radius + wedges.outer_allowance
    x, y = inner
    parts: list[Element] = [_stroke(line((-3.0, 0.0), (3.0, 0.0)), "centreline", THIN)]
    parts.extend(
        _stroke(line((0.0, low), (0.0, high)), "centreline", THIN, dashes=CHAIN)
        for low, high in ((-3.0, gap[0]), (gap[1], top + 3.0))
    )
    parts.extend(
        _stroke(line((0.0, apex), (side * x, y)), "centreline", HAIR, dashes=(2.0, 1.0))
        for side in (-1.0, 1.0)
    )
    parts.append(Text(text="ring's centre", at=(-1.5, -4.0), height=2.0, anchor="right"))
    return parts


def _true_view(ring: RingPlan, wedges: Wedges, parts: Sequence[Element]) -> Block:
    """A view about the ring's centre; both views reach equally high, so that centres line up."""
    x0, y0, x1, _ = extent(parts)
    top = ring.outer_radius + wedges.outer_allowance + 3.0
    return Block(elements=tuple(parts), bounds=(x0, y0, x1, top))


def _true_blank(ring: RingPlan, wedges: Wedges, both: WedgeShapes, units: Units) -> Block:
    blank, alpha = wedges.blank, wedges.mitre_angle
    apex = wedges.joint / (2.0 * math.sin(math.radians(alpha)))
    inner = (blank.inner_width / 2.0, blank.inner_distance)
    outer = (blank.outer_width / 2.0, blank.outer_distance)
    centre, reach = (0.0, 0.0), max((blank.inner_distance - apex) * 0.62, 12.0)
    angle = angle_text(wedges.included_angle)
    room = fits_along(reach * math.radians(wedges.included_angle), angle)
    gap = (apex + reach + 0.3, apex + reach + 5.0) if room else (0.0, 0.0)
    parts = [
        _stroke(both.blank, "cut", MEDIUM, name=f"blank-{ring.index}"),
        *_centre_lines(ring, wedges, inner, gap=gap),
        *angular(
            (0.0, apex),
            reach,
            90.0 - alpha,
            90.0 + alpha,
            angle,
            place="end",
        ),
        *tiers(
            [
                Span(a=centre, b=inner, text=length_text(blank.inner_distance, units)),
                Span(a=centre, b=outer, text=length_text(blank.outer_distance, units)),
            ],
            axis="y",
            level=max(blank.outer_width / 2.0 + 7.0, 13.0),
            side=1,
        ),
    ]
    return _true_view(ring, wedges, parts)


def _true_finished(ring: RingPlan, wedges: Wedges, both: WedgeShapes, units: Units) -> Block:
    corner = both.finished.vertices[3]
    shelf = both.finished.vertices[0].x + 6.0
    weight = min(MEDIUM, ring.width / 4.0)
    outer = _on_arc(ring.outer_radius, wedges.finished.outer_arc)
    inner = _on_arc(ring.inner_radius, wedges.finished.inner_arc)
    parts = [
        _stroke(both.finished, "cut", weight, name=f"wedge-{ring.index}"),
        *_centre_lines(ring, wedges, (corner.x, corner.y)),
        *leader(outer, (shelf, outer[1] - 1.5), length_text(ring.outer_radius, units, before="R ")),
        *leader(inner, (shelf, inner[1] - 6.0), length_text(ring.inner_radius, units, before="R ")),
    ]
    return _true_view(ring, wedges, parts)


def _on_arc(size: float, arc_length: float) -> Point:
    """A point on an arc about 12 o'clock, half-way from its middle to its right end."""
    return at_angle(size, 90.0 - math.degrees(arc_length / size) / 4.0)


def area_text(area: float, units: Units) -> str:
    """An area in mm², or in square inches where the reader works in inches.

    >>> area_text(645.16, "mm"), area_text(645.16, "in")
    ('645.16 mm²', '1.0000 in²')
    """
    return f"{area:.2f} mm²" if units == "mm" else f"{area / MM_PER_INCH**2:.4f} in²"


def numbers(ring: RingPlan, wedges: Wedges, units: Units) -> tuple[Block, Block]:
    """Every number of a wedge: a table for the blank, another for the finished wedge."""
    blank, done = wedges.blank, wedges.finished

    def size(length: float) -> str:
        return length_text(length, units)

    rows = [
        ("Blank", units),
        ("outer (wide) edge", size(blank.outer_width)),
        ("inner (narrow) edge", size(blank.inner_width)),
        ("height = strip width", size(blank.height)),
        ("inner edge to centre", size(blank.inner_distance)),
        ("outer edge to centre", size(blank.outer_distance)),
        ("included angle", angle_text(wedges.included_angle)),
        ("mitre, off square", angle_text(wedges.mitre_angle)),
        ("left to trim inside", size(wedges.inner_allowance)),
        ("left to trim outside", size(wedges.outer_allowance)),
    ]
    if wedges.joint:
        rows.append(("joint between wedges", size(wedges.joint)))
    finished = [
        ("Finished", units),
        ("outer radius", size(ring.outer_radius)),
        ("inner radius", size(ring.inner_radius)),
        ("outer arc", size(done.outer_arc)),
        ("outer chord", size(done.outer_chord)),
        ("inner arc", size(done.inner_arc)),
        ("inner chord", size(done.inner_chord)),
        ("area", area_text(done.area, units)),
    ]
    return table(rows, align="lr"), table(finished, align="lr")


# --- enlarged --------------------------------------------------------------------------------


def scale_for(width: float, height: float, *, side: float, room: float) -> tuple[int, bool]:
    """The largest scale at which both views of a wedge fit, and whether side by side.

    `width`, `height` of the blank, `side` what its dimensions take beside it and `room` the
    height there is, in mm. A wedge too large for any stays at 1:1, one above the other.

    >>> scale_for(12.0, 21.2, side=37.0, room=100.0), scale_for(89.7, 35.0, side=37.0, room=224.0)
    ((3, True), (1, False))
    """
    for scale in SCALES:
        wide, high = width * scale + side, height * scale + ABOVE_BELOW
        if 2.0 * wide + 8.0 <= PAGE_WIDTH and high <= room:
            return scale, True
        if wide <= PAGE_WIDTH and 2.0 * high <= room:
            return scale, False
    return 1, False


def _enlarged_views(ring: RingPlan, wedges: Wedges, units: Units, room: float) -> Block:
    scale, beside = scale_for(
        wedges.blank.outer_width, wedges.blank.height, side=SIDE_ROOM[units], room=room
    )
    both = shapes(ring, wedges)
    views = [
        _captioned(f"Blank, {scale}:1", _large_blank(ring, wedges, both, scale, units)),
        _captioned(f"Finished, {scale}:1", _large_finished(ring, wedges, both, scale, units)),
    ]
    words = f"Ring {ring.index}, enlarged {scale}:1: to read, not to lay wood on"
    if scale == 1:
        words = f"Ring {ring.index}, with its widths and angles (1:1)"
    parts = [heading(words), row(views) if beside else column(views, gap=3.0)]
    if wedges.joint:
        half = length_text(wedges.joint / 2.0, units)
        parts.insert(
            1,
            note(f"Chain line beside the blank: the middle of the joint, {half} off.", PAGE_WIDTH),
        )
    return column(parts, gap=2.5)


def _large_blank(
    ring: RingPlan, wedges: Wedges, both: WedgeShapes, scale: int, units: Units
) -> Block:
    blank = wedges.blank
    ri, ro = blank.inner_width * scale / 2.0, blank.outer_width * scale / 2.0
    yi, yo = blank.inner_distance * scale, blank.outer_distance * scale
    middle, spread = (yi + yo) / 2.0, max((yo - yi) / 2.0 - 3.0, 7.5)
    shelf, shelves = ro + 6.0, (middle + spread, middle - spread)
    left = -ro - wedges.joint / 2.0 * scale - 5.0
    parts: list[Element] = [
        _stroke(enlarged(both.blank, scale), "note", THICK),
        _stroke(enlarged(both.finished, scale), "note", THIN, dashes=(1.6, 0.8)),
        *_across((-ro, yo), (ro, yo), yo + TIER, shelves[0], length_text(blank.outer_width, units)),
        *_across((-ri, yi), (ri, yi), yi - TIER, shelves[1], length_text(blank.inner_width, units)),
        *vertical((-ri, yi), (-ro, yo), left, length_text(blank.height, units)),
        *_grain_of(yi, yo, ri),
        *_mitre_mark((ri, yi), (yo - yi) * 0.6, wedges.mitre_angle, (shelf, middle)),
        *_joint_mark(wedges, (-ri, yi), (-ro, yo), scale),
    ]
    for allowance, edge, size, x, y in (
        (wedges.outer_allowance, yo, ring.outer_radius * scale, ro * 0.4, middle + spread),
        (wedges.inner_allowance, yi, ring.inner_radius * scale, ri * 0.4, middle - spread),
    ):
        if allowance:
            tip = (x, (edge + math.sqrt(size**2 - x**2)) / 2.0)
            parts.extend(leader(tip, (shelf, y), length_text(allowance, units, before="trim ")))
    return block(parts)


def _across(a: Point, b: Point, level: float, shelf: float, text: str) -> tuple[Element, ...]:
    """A width, from a to b; words that don't fit go past it, clear of the leader at `shelf`."""
    if not inside(b[0] - a[0], text):
        level = max(level, shelf + 5.0) if level > a[1] else min(level, shelf - 9.0)
    return horizontal(a, b, level, text)


def _side(inner: Point, outer: Point, text: str) -> tuple[Element, ...]:
    """The length of a finished wedge's left side; on a leader where the side is too short."""
    if inside(math.dist(inner, outer), text):
        return aligned(inner, outer, 5.0, text)
    middle = ((inner[0] + outer[0]) / 2.0, (inner[1] + outer[1]) / 2.0)
    return leader(middle, (outer[0] - 6.0, middle[1]), text)


def _mitre_mark(foot: Point, reach: float, alpha: float, shelf: Point) -> tuple[Element, ...]:
    """The angle between a blank's side and the square to its inner edge."""
    x, y = foot
    return (
        _stroke(line(foot, (x, y + reach + 2.0)), "centreline", THIN, dashes=(2.0, 1.0)),
        *angular(foot, reach, 90.0 - alpha, 90.0, angle_text(alpha), shelf=shelf),
    )


def _joint_mark(wedges: Wedges, inner: Point, outer: Point, scale: int) -> tuple[Element, ...]:
    """The radial plane beside the blank's left side, half a joint away."""
    if not wedges.joint:
        return ()
    alpha = math.radians(wedges.mitre_angle)
    half = wedges.joint / 2.0 * scale
    shift = (-half * math.cos(alpha), -half * math.sin(alpha))
    a, b = ((x + shift[0], y + shift[1]) for x, y in (inner, outer))
    return (_stroke(line(a, b), "centreline", THIN, dashes=CHAIN),)


def _grain_of(low: float, high: float, half_width: float) -> tuple[Element, ...]:
    tall = high - low
    if half_width < 1.5 or tall < 8.0:
        return ()
    return grain_arrow((-half_width * 0.4, low + tall * 0.3), tall * 0.4)


def _large_finished(
    ring: RingPlan, wedges: Wedges, both: WedgeShapes, scale: int, units: Units
) -> Block:
    done = wedges.finished
    outline = enlarged(both.finished, scale)
    outer_right, outer_left, inner_left, inner_right = (
        (vertex.x, vertex.y) for vertex in outline.vertices
    )
    top, bottom = ring.outer_radius * scale, inner_right[1]
    shelf = outer_right[0] + 6.0
    middle, spread = (top + bottom) / 2.0, max((top - bottom) / 2.0 - 3.0, 5.5)
    side = math.dist(outer_left, inner_left) / scale
    parts: list[Element] = [
        _stroke(outline, "note", min(THICK, ring.width * scale / 4.0)),
        *_across(
            outer_left,
            outer_right,
            top + TIER,
            middle + spread,
            length_text(done.outer_chord, units),
        ),
        *_across(
            inner_left,
            inner_right,
            bottom - TIER,
            middle - spread,
            length_text(done.inner_chord, units),
        ),
        *_side(inner_left, outer_left, length_text(side, units)),
        *_grain_of(ring.inner_radius * scale, top, -inner_left[0]),
    ]
    for size, arc_length, y in (
        (ring.outer_radius, done.outer_arc, middle + spread),
        (ring.inner_radius, done.inner_arc, middle - spread),
    ):
        parts.extend(
            leader(
                _on_arc(size * scale, arc_length * scale),
                (shelf, y),
                length_text(size, units, before="R "),
                length_text(arc_length, units, before="arc "),
            )
        )
    return block(parts)
