"""One wedge as it comes off the saw and as it stands in the ring, with every dimension.

The upper part is true size, to lay wood on; the lower shows the same wedge enlarged.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from rosette.geometry.outline import Point, line
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    column,
    drawing_of,
    extent,
    flow,
    heights_split,
    lowest,
)
from rosette.sheets.dimension import (
    Span,
    fits_along,
    length_text,
    tiers,
    units_note,
)
from rosette.sheets.drawing import HAIR, MEDIUM, THIN, TRUE_SCALE, Drawing, Element, Text
from rosette.sheets.leaders import angular, leader
from rosette.sheets.table import heading, note, table
from rosette.sheets.wedge_enlarged import SIDE_ROOM, enlarged_views, scale_for
from rosette.sheets.wedge_shapes import CHAIN, WedgeShapes, captioned, on_arc, shapes, stroke
from rosette.units import MM_PER_INCH, Units, format_angle, rounded

BETWEEN, HEADINGS = 7.0, 8.0
"""Room in mm between the two parts, and for the heading of the lower."""


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
    scale = scale_for(blank.outer_width, blank.height, side=side, room=room)[0]
    parts = [lower, enlarged_views(ring, wedges, units, room)]
    sheets = heights_split(parts, height=PAGE_HEIGHT, gap=BETWEEN)
    names = [f"wedge-{ring.index}", f"wedge-{ring.index}-enlarged"]
    larger = "enlarged" if scale > 1 else "with its widths and angles"
    purposes = [
        f"Ring {ring.index}: one wedge as sawn and as finished, true size, with every dimension.",
        f"Ring {ring.index}: the same wedge {larger}, with every dimension.",
    ]
    return [
        drawing_of(
            column(blocks, gap=BETWEEN),
            name=name,
            title=f"Ring {ring.index}: one of {wedges.segments} wedges{tail}",
            purpose=purpose,
            document_type=kind,
        )
        for blocks, name, purpose, tail, kind in zip(
            sheets,
            names,
            purposes,
            ("", f", {larger}"),
            (TRUE_SCALE, f"Drawing, scale {scale}:1"),
            strict=False,
        )
    ]


def _true_size(ring: RingPlan, wedges: Wedges, units: Units) -> Block:
    both = shapes(ring, wedges)
    views = [
        captioned("Blank, as it comes off the saw", _true_blank(ring, wedges, both, units)),
        captioned("Finished, as it stands in the ring", _true_finished(ring, wedges, both, units)),
    ]
    tables = numbers(ring, wedges, units)
    body = lowest(
        flow([*views, column(tables, gap=3.0)], gap=7.0), flow([*views, *tables], gap=7.0)
    )
    lead = heading(f"Ring {ring.index}, true size (1:1): lay the wood on these")
    return column([lead, note(units_note(units), PAGE_WIDTH), body], gap=2.5)


def _centre_lines(
    ring: RingPlan, wedges: Wedges, inner: Point, *, gap: tuple[float, float] = (0.0, 0.0)
) -> list[Element]:
    """The ring's centre, the wedge's axis, and its sides carried on to where they meet.

    The axis leaves `gap`, from and to along it, free for words.
    """
    apex = wedges.joint / (2.0 * math.sin(math.radians(wedges.mitre_angle)))
    top = ring.outer_radius + wedges.outer_allowance
    x, y = inner
    parts: list[Element] = [stroke(line((-3.0, 0.0), (3.0, 0.0)), "centreline", THIN)]
    parts.extend(
        stroke(line((0.0, low), (0.0, high)), "centreline", THIN, dashes=CHAIN)
        for low, high in ((-3.0, gap[0]), (gap[1], top + 3.0))
    )
    parts.extend(
        stroke(line((0.0, apex), (side * x, y)), "centreline", HAIR, dashes=(2.0, 1.0))
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
    angle = format_angle(wedges.included_angle)
    room = fits_along(reach * math.radians(wedges.included_angle), angle)
    gap = (apex + reach + 0.3, apex + reach + 5.0) if room else (0.0, 0.0)
    parts = [
        stroke(both.blank, "cut", MEDIUM, name=f"blank-{ring.index}"),
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
    outer = on_arc(ring.outer_radius, wedges.finished.outer_arc)
    inner = on_arc(ring.inner_radius, wedges.finished.inner_arc)
    parts = [
        stroke(both.finished, "cut", weight, name=f"wedge-{ring.index}"),
        *_centre_lines(ring, wedges, (corner.x, corner.y)),
        *leader(outer, (shelf, outer[1] - 1.5), length_text(ring.outer_radius, units, before="R ")),
        *leader(inner, (shelf, inner[1] - 6.0), length_text(ring.inner_radius, units, before="R ")),
    ]
    return _true_view(ring, wedges, parts)


def area_text(area: float, units: Units) -> str:
    """An area in mm², or in square inches where the reader works in inches.

    >>> area_text(645.16, "mm"), area_text(645.16, "in")
    ('645.16 mm²', '1.0000 in²')
    """
    return (
        f"{rounded(area, 2)} mm²" if units == "mm" else f"{rounded(area / MM_PER_INCH**2, 4)} in²"
    )


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
        ("included angle", format_angle(wedges.included_angle)),
        ("mitre, off square", format_angle(wedges.mitre_angle)),
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
