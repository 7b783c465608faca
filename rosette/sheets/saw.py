"""How to set the saw: angles both ways round, stop and strip lengths, the cuts in order."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.patterns.base import RingPlan, Wedges, WoodCount, spares_for
from rosette.plan.model import Plan
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    column,
    drawing_of,
    flow,
    heights_split,
    row,
)
from rosette.sheets.dimension import length_text, long_text, units_note
from rosette.sheets.drawing import Drawing
from rosette.sheets.saw_pictures import (
    at_the_saw,
    mitre_by_measure,
    mitre_triangle,
    strip_picture,
)
from rosette.sheets.strip import kerf_along, pitch, strip_to_take
from rosette.sheets.table import caution, heading, note, steps, table
from rosette.units import Units, format_angle, format_length, rounded

GAP = 4.5


def drawings(plan: Plan) -> tuple[Drawing, ...]:
    """Two sheets for each ring of wedges; without any, one for the strips of the lines."""
    rings = plan.wedge_rings
    if not rings and plan.line_rings:
        parts = [_headed("Strips for the lines", plan), line_strips(plan), _bending()]
        return (
            drawing_of(
                column(parts, gap=GAP),
                name="lines",
                title="Strips for the lines",
                purpose="The strips to cut for the lines: how wide, how deep and how long.",
                document_type="Instructions",
            ),
        )
    return tuple(
        drawing for ring in rings for drawing in _ring_sheets(plan, ring, ring is rings[0])
    )


def _ring_sheets(plan: Plan, ring: RingPlan, first: bool) -> Iterator[Drawing]:
    assert ring.wedges is not None
    wedges, units = ring.wedges, plan.units
    setting = [
        _headed(f"Ring {ring.index}: setting the saw for {wedges.segments} wedges", plan),
        flow([settings(wedges, units), mitre_triangle(wedges, units)], gap=10.0),
        strips(wedges, units),
        *_spacers(ring, wedges, units),
        strip_picture(wedges, units),
    ]
    picture = at_the_saw(wedges, units)
    work = [
        _headed(f"Ring {ring.index}: at the saw", plan),
        row([picture, steps(_work(wedges, units), PAGE_WIDTH - picture.width - 8.0)]),
        _check(wedges, units),
        caution(_cautions(wedges, units), PAGE_WIDTH),
    ]
    lines = first and bool(plan.line_rings)
    if lines:
        work.append(column([_headed("Strips for the lines", plan), line_strips(plan), _bending()]))
    yield from _numbered(
        setting,
        name=f"saw-{ring.index}",
        title=f"Ring {ring.index}: setting the saw",
        what="angles, stop and strip lengths",
        document_type="Settings",
    )
    yield from _numbered(
        work,
        name=f"saw-{ring.index}-work",
        title=f"Ring {ring.index}: at the saw" + ("; the lines' strips" if lines else ""),
        what="the cuts in order, the half-set check, the cautions",
        document_type="Instructions",
    )


def _headed(words: str, plan: Plan) -> Block:
    return column([heading(words), note(units_note(plan.units), PAGE_WIDTH)], gap=2.0)


def _numbered(
    blocks: list[Block], *, name: str, title: str, what: str, document_type: str
) -> Iterator[Drawing]:
    """Blocks shared out over as many sheets as they need."""
    sheets = heights_split(blocks, height=PAGE_HEIGHT, gap=GAP)
    for number, part in enumerate(sheets, start=1):
        yield drawing_of(
            column(part, gap=GAP),
            name=name if number == 1 else f"{name}-{number}",
            title=title if number == 1 else f"{title}, {number}",
            purpose=f"{title}: {what}.",
            document_type=document_type,
        )


def settings(wedges: Wedges, units: Units) -> Block:
    """The saw's set-up table."""
    blank, mitre = wedges.blank, wedges.mitre_angle
    mean = (blank.inner_width + blank.outer_width) / 2.0
    rise, run = mitre_by_measure(wedges, units)
    cuts = sum((wood.count + wood.spares) // wedges.leaves + 1 for wood in wedges.woods)

    def size(length: float) -> str:
        return length_text(length, units)

    rows = [
        ("Setting", units),
        ("mitre, gauge that reads 0 at square", format_angle(mitre)),
        ("mitre, gauge that reads 90 at square", format_angle(90.0 - mitre)),
        ("the same by measure: rise", size(rise)),
        ("in a run of", size(run)),
        ("included angle of a wedge", format_angle(wedges.included_angle)),
        ("rip the strip to width", size(blank.height)),
        ("stop at the fence: wide edge", size(blank.outer_width)),
        ("narrow edge comes to", size(blank.inner_width)),
        ("middle of the wedge", size(mean)),
        ("kerf, square to the cut", size(wedges.kerf)),
        ("kerf along the strip", size(kerf_along(wedges.kerf, mitre))),
        ("cut to cut along the middle", size(pitch(blank, kerf=wedges.kerf, mitre=mitre))),
        ("wedges in the ring", str(wedges.segments)),
        ("cuts in all, spares included", str(cuts)),
    ]
    return table(rows, align="lr")


def strips(wedges: Wedges, units: Units) -> Block:
    """The strips of each wood: wedges, spares, cuts and lengths."""
    head = ("Wood", "wedges", "of them seen", "spares", "cuts", "strip they fill", "strip to take")
    rows = [head, *(_strip_row(wood, wedges, units) for wood in wedges.woods)]
    words = (
        "Strip to take: what the wedges and their spares fill, a cut at each end, and"
        f" {_hold(units)} that stays in the hand after the last cut."
        " The grain runs straight across the strip."
    )
    if wedges.leaves == 2:
        words += " Two such strips lie face to face, sawn from one, and are cut together."
    return column([table(rows, align="lrrrrrr"), note(words, PAGE_WIDTH)], gap=2.5)


def _strip_row(wood: WoodCount, wedges: Wedges, units: Units) -> tuple[str, ...]:
    return (
        wood.wood,
        str(wood.count),
        str(wood.visible),
        str(wood.spares),
        str((wood.count + wood.spares) // wedges.leaves + 1),
        long_text(wood.strip_with_spares, units),
        long_text(strip_to_take(wood.strip_with_spares, wedges, units), units),
    )


def _spacers(ring: RingPlan, wedges: Wedges, units: Units) -> list[Block]:
    if wedges.spacer_wood is None:
        return []
    long = kerf_along(wedges.blank.height, wedges.mitre_angle)
    count = wedges.segments + spares_for(wedges.segments)
    words = (
        f"Spacers: {count} pieces of {wedges.spacer_wood} veneer, spares included,"
        f" {format_length(wedges.spacer_thickness, units)} thick,"
        f" at least {format_length(long, units)} long and"
        f" {format_length(ring.tile_thickness + 0.5, units)} wide, trimmed flush when the glue"
        " is dry."
    )
    return [note(words, PAGE_WIDTH)]


def _work(wedges: Wedges, units: Units) -> list[str]:
    blank = wedges.blank
    return [
        f"Rip the strip {format_length(blank.height, units)} wide, both edges straight and"
        " parallel.",
        f"Swing the gauge {format_angle(wedges.mitre_angle)} off square, so that the wide edge of"
        " the wedge lies at the fence.",
        "Trim the strip's end: cut 1.",
        "Turn the strip over, other face up, other edge at the fence. Slide its end to the stop:"
        f" {format_length(blank.outer_width, units)} from the near side of the kerf.",
        "Hold, cut, stop the saw or draw clear. Number the wedge, arrow to the wide edge.",
        "Again from 4. Neither the gauge nor the stop is moved until all wedges are cut.",
    ]


def _check(wedges: Wedges, units: Units) -> Block:
    closing, half = wedges.closing, wedges.half_set
    angle = half * wedges.included_angle
    odd = bool(wedges.segments % 2)
    against = "the half-set gauge" if odd else "a straight edge or the half-set gauge"
    remedy = "the last wedge is fitted" if odd else "the halves are trued"
    gap = format_length(closing.gap, units, decimals=1)
    wanted = format_length(closing.wanted_gap, units)
    ring, face = rounded(closing.ring_error, 2), rounded(closing.face_error_for_gap, 4)
    texts = [
        f"Cut {half} wedges of scrap, set them side by side as they stand in the ring, and hold"
        f" them to {against}: they must make {format_angle(angle)}."
        f" What is missing or over, divided by {2 * half}, is what the mitre is off: turn the"
        " gauge further off square where the set is short, back where it is over.",
        f"Every face {closing.face_error:g}° off leaves the ring off by {ring}°,"
        f" {gap} at the rim. To close within {wanted} each face would have to be true to"
        f" {face}°, which no saw holds: so {remedy} as part of the"
        " job. Cut a hair fat rather than short.",
    ]
    parts = [heading("Check before good wood is cut", size=3.0)]
    return column([*parts, *(note(text, PAGE_WIDTH) for text in texts)], gap=2.0)


def _cautions(wedges: Wedges, units: Units) -> list[str]:
    blank = wedges.blank
    left = format_length(blank.outer_width, units)
    hold = _hold(units)
    return [
        f"A strip no longer than its wedges would leave {left} in the hand at the last cut. Keep"
        f" {hold} or more in the hand to the end, or fix the strip to a longer carrier; clamp it"
        " to the mitre gauge. No finger nearer the blade than the saw's manual allows.",
        "A wedge caught between stop and blade is thrown. Use a stop that stands off: one that the"
        " strip leaves before the cut ends, or that is drawn back before it. Zero-clearance"
        " insert; pick cut wedges up only when the blade stands still.",
        "Hardwood dust harms the lungs and some woods sensitise: extraction and a mask. The"
        " saw's manual and the local rules come before this sheet.",
    ]


def _hold(units: Units) -> str:
    return "150 mm" if units == "mm" else "6 in"


def line_strips(plan: Plan) -> Block:
    """The strips of the lines: how wide, how deep, how long."""
    units = plan.units

    def size(length: float) -> str:
        return length_text(length, units)

    rows = [
        ("Ring", "wood", "wide", "deep", "length to cut", "of it seen", "whole circle", "bend to")
    ]
    for ring in plan.line_rings:
        strip = ring.strip
        assert strip is not None
        # a stack's plies are cut each by itself; a plain line is one strip
        cuts = [
            (
                f"{one.count + one.spares} × {one.wood}",
                one.thickness,
                one.width,
                one.length,
            )
            for one in ring.stock
        ] or [(ring.woods[0], ring.width, ring.tile_thickness, strip.cut_length)]
        rows += [
            (
                str(ring.index),
                wood,
                size(wide),
                size(deep),
                long_text(length, units),
                long_text(strip.visible_length, units),
                long_text(strip.full_length, units),
                size(ring.inner_radius),
            )
            for wood, wide, deep, length in cuts
        ]
    return table(rows, align="llrrrrrr")


def _bending() -> Block:
    return note(
        "Wide: measured along the ring's radius. Deep: into the top, before levelling. Whole"
        " circle: once round at the outer radius, with its overlap. Bend to: the inner radius."
        " Straight grain along the strip; bend dry where it goes willingly, else over a hot iron.",
        PAGE_WIDTH,
    )
