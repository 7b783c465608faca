"""A wedge enlarged, with the dimensions that are too close together at true size."""

from __future__ import annotations

import math

from rosette.geometry.outline import Point, line
from rosette.patterns.base import RingPlan, Wedges
from rosette.sheets.block import PAGE_WIDTH, Block, block, column, enlarged, row
from rosette.sheets.dimension import (
    TIER,
    aligned,
    horizontal,
    inside,
    length_text,
    vertical,
)
from rosette.sheets.drawing import THICK, THIN, Element
from rosette.sheets.leaders import angular, leader
from rosette.sheets.table import heading, note
from rosette.sheets.wedge_shapes import (
    CHAIN,
    WedgeShapes,
    captioned,
    grain_arrow,
    on_arc,
    shapes,
    stroke,
)
from rosette.units import Units, format_angle

SCALES = (20, 10, 8, 5, 4, 3, 2, 1)
SIDE_ROOM: dict[Units, float] = {"mm": 37.0, "in": 52.0}
"""Room for dimensions and leaders to the left and right of an enlarged wedge, together."""
ABOVE_BELOW = 32.0
"""Room for dimensions and the caption over and under an enlarged wedge, together."""


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


def enlarged_views(ring: RingPlan, wedges: Wedges, units: Units, room: float) -> Block:
    """Blank and finished wedge as large as `room` mm of height allow, the scale stated."""
    scale, beside = scale_for(
        wedges.blank.outer_width, wedges.blank.height, side=SIDE_ROOM[units], room=room
    )
    both = shapes(ring, wedges)
    views = [
        captioned(f"Blank, {scale}:1", _large_blank(ring, wedges, both, scale, units)),
        captioned(f"Finished, {scale}:1", _large_finished(ring, wedges, both, scale, units)),
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
        stroke(enlarged(both.blank, scale), "note", THICK),
        stroke(enlarged(both.finished, scale), "note", THIN, dashes=(1.6, 0.8)),
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
        stroke(line(foot, (x, y + reach + 2.0)), "centreline", THIN, dashes=(2.0, 1.0)),
        *angular(foot, reach, 90.0 - alpha, 90.0, format_angle(alpha), shelf=shelf),
    )


def _joint_mark(wedges: Wedges, inner: Point, outer: Point, scale: int) -> tuple[Element, ...]:
    """The radial plane beside the blank's left side, half a joint away."""
    if not wedges.joint:
        return ()
    alpha = math.radians(wedges.mitre_angle)
    half = wedges.joint / 2.0 * scale
    shift = (-half * math.cos(alpha), -half * math.sin(alpha))
    a, b = ((x + shift[0], y + shift[1]) for x, y in (inner, outer))
    return (stroke(line(a, b), "centreline", THIN, dashes=CHAIN),)


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
        stroke(outline, "note", min(THICK, ring.width * scale / 4.0)),
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
                on_arc(size * scale, arc_length * scale),
                (shelf, y),
                length_text(size, units, before="R "),
                length_text(arc_length, units, before="arc "),
            )
        )
    return block(parts)
