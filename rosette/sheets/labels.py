"""Labels to stick on the wood: number, outward arrow, show face, wood; one a wedge, and spares.

Each lies within its blank. Where the wedges are too narrow for a label of their own, one strip
of paper goes over several neighbours laid side by side, and is cut through between them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from rosette.geometry.outline import Point, polygon
from rosette.lettering import text_width
from rosette.patterns.base import Blank, RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    block,
    column,
    drawing_of,
    heights_split,
    moved,
    row,
)
from rosette.sheets.drawing import HAIR, Drawing, Element, Stroke, Text
from rosette.sheets.label_styles import INSET, Label, Origin, Style, drawn, style_for, words_on
from rosette.sheets.marks import SMALLEST, arrow, centred, segment
from rosette.sheets.table import note
from rosette.wood.looks import wood_letters

STRIP_OF, STRIP_ANGLE = 10, 30.0
"""Most wedges, and most degrees of the ring, under one strip of paper."""
WIDE = PAGE_WIDTH - 4.0


def drawings(plan: Plan) -> tuple[Drawing, ...]:
    """The labels of each ring of wedges, on as many sheets as they need."""
    return label_drawings(plan, {})


def label_drawings(plan: Plan, origins: Mapping[str, Origin]) -> tuple[Drawing, ...]:
    """The same, each label saying where its wedge was cut and which face shows.

    `origins` go by the wedges' labels; spares among them get labels of their own.
    """
    return tuple(
        sheet
        for ring in plan.rings
        if ring.wedges is not None
        for sheet in _sheets(ring, ring.wedges, origins)
    )


def ring_labels(
    ring: RingPlan, wedges: Wedges, origins: Mapping[str, Origin] | None = None
) -> list[Label]:
    """One label for each wedge in order, then the spares.

    Their numbers are left to write in where nobody knows where they are cut.
    """
    letters = wood_letters(ring.woods)
    known = {name: one for name, one in (origins or {}).items() if one.ring == ring.index}
    labels = [_label(p.label, p.wood, letters, known.get(p.label)) for p in ring.pieces]
    if known:
        own = {p.label for p in ring.pieces}
        cut = [(name, one) for name, one in known.items() if name not in own]
        return labels + [_label(name, one.wood, letters, one) for name, one in cut]
    blank = "_" * len(labels[0].position)
    woods = [one.wood for one in wedges.woods for _ in range(one.spares)]
    spares = [
        Label(
            name=f"label-{ring.index}-spare-{number}",
            text=f"{ring.index}-{blank}",
            position="",
            wood=wood,
            letter=letters[wood],
        )
        for number, wood in enumerate(woods, start=1)
    ]
    return labels + spares


def _label(text: str, wood: str, letters: Mapping[str, str], origin: Origin | None) -> Label:
    label = Label(
        name=f"label-{text}",
        text=text,
        position=text.rpartition("-")[2],
        wood=wood,
        letter=letters[wood],
    )
    return (
        label
        if origin is None
        else replace(label, offcut=origin.offcut, place=origin.place, face=origin.face)
    )


def _sheets(ring: RingPlan, wedges: Wedges, origins: Mapping[str, Origin]) -> Iterator[Drawing]:
    labels = ring_labels(ring, wedges, origins)
    style = style_for(labels, wedges.blank)
    if style is not None and style.kind != "strip":
        cells = [block([*drawn(one, style)]) for one in labels]
        per_row = max(1, int((WIDE + 1e-6) // style.width))
        lines = [row(cells[i : i + per_row], gap=0.0) for i in range(0, len(cells), per_row)]
        gap = 0.0
    else:
        strips = [_strip(part, wedges, style) for part in _parts(labels, wedges)]
        lines = _lines(strips)
        gap = 2.0
    head = note(_how_to(ring, wedges, labels, style), WIDE, size=2.2)
    pages = heights_split(lines, height=PAGE_HEIGHT - 8.0 - head.height, gap=gap)
    for number, page in enumerate(pages, start=1):
        yield drawing_of(
            column([head, column(page, gap=gap)], gap=4.0),
            name=f"labels-{ring.index}" + (f"-{number}" if number > 1 else ""),
            title=f"Ring {ring.index}, labels for the wedges",
            purpose=f"Labels to cut out and stick on the blanks of ring {ring.index}: number, arrow"
            " outwards, show face, wood; spares are left to number.",
        )


def _lines(strips: Sequence[Block]) -> list[Block]:
    """Strips side by side as far as the page is wide."""
    lines: list[list[Block]] = []
    used = 0.0
    for strip in strips:
        if lines and used + 3.0 + strip.width <= WIDE:
            lines[-1].append(strip)
            used += 3.0 + strip.width
        else:
            lines.append([strip])
            used = strip.width
    return [row(line, gap=3.0) for line in lines]


def _how_to(ring: RingPlan, wedges: Wedges, labels: Sequence[Label], style: Style | None) -> str:
    spares = len(labels) - wedges.segments
    known = any(one.offcut for one in labels)
    of_spares = f"{spares} for spares" if known else f"{spares} to write spares on"
    lead = f"Ring {ring.index}: {wedges.segments} labels and {of_spares}. "
    woods = ", ".join(f"{letter} {wood}" for wood, letter in wood_letters(ring.woods).items())
    if style is None or style.kind == "strip":
        what = (
            "Lay blanks side by side in order, show face up, wide ends up. Stick a strip over them,"
            " arrows to the wide ends, and cut it through at the joints."
        )
        if style is None:
            what += " A strip's words name its first and last wedge; each tick is a joint."
            if _run_height(wedges.blank) > wedges.blank.height - 2.0 * INSET:
                what += " It hangs over the narrow ends: cut that off when the ring is glued up."
    else:
        what = (
            "Cut along the lines. Stick each on the show face of its blank, the arrow to the wide"
            " end."
        )
    if known and style is not None and style.kind != "strip":
        what += (
            " Back: the face that was not marked on the wood shows; else the marked one."
            " Where there is room: offcut and band/place in it."
        )
    return f"{lead}{what} Woods: {woods}."


def _parts(labels: Sequence[Label], wedges: Wedges) -> Iterator[Sequence[Label]]:
    """Labels in runs that go under one strip; wedges and spares apart."""
    most = max(1, min(STRIP_OF, int(STRIP_ANGLE / wedges.included_angle)))
    if wedges.included_angle < 1.5:
        most = max(1, int(STRIP_ANGLE / wedges.included_angle))
    for group in (labels[: wedges.segments], labels[wedges.segments :]):
        parts = math.ceil(len(group) / most)
        for i in range(parts):
            yield group[i * len(group) // parts : (i + 1) * len(group) // parts]


def _strip(labels: Sequence[Label], wedges: Wedges, style: Style | None) -> Block:
    """A strip over neighbours as they lie in the ring: the same fan, cut along its joints."""
    blank = wedges.blank
    height = style.height if style is not None else _run_height(blank)
    outer = blank.outer_distance - INSET
    step, count = math.radians(wedges.included_angle), len(labels)
    edges = [(count / 2.0 - i) * step for i in range(count + 1)]
    reach = [d / math.cos(step / 2.0) for d in (outer, outer - height)]
    top = [_upright(reach[0], angle) for angle in edges]
    bottom = [_upright(reach[1], angle) for angle in edges]
    names = "..".join(dict.fromkeys((labels[0].name, labels[-1].name)))
    elements: list[Element] = [
        Stroke(outline=polygon([*top, *reversed(bottom)]), layer="cut", weight=HAIR, name=names)
    ]
    for i, label in enumerate(labels):
        if style is not None:
            cell = moved(words_on(label, style), (0.0, outer - height))
            elements.extend(_turned(one, (edges[i] + edges[i + 1]) / 2.0) for one in cell)
    for upper, lower in list(zip(top, bottom, strict=True))[1:-1]:
        foot = lower if style is not None else _towards(upper, lower, 0.5)
        elements.append(segment(upper, foot, weight=HAIR))
    if style is None:
        elements.extend(_run(labels, outer - height + 0.6 + SMALLEST / 2.0))
    return block(elements)


def _run_height(blank: Blank) -> float:
    """How high a strip without room for single numbers is in mm.

    On the blanks of a hair-thin ring it reaches past their narrow ends, to be cut off in the end.
    """
    return max(min(blank.height - 2.0 * INSET, 4.4), SMALLEST + 1.4)


def _run(labels: Sequence[Label], y: float) -> list[Element]:
    """Which wedges a strip covers, with one arrow outwards."""
    first, last = labels[0], labels[-1]
    if not first.position:
        words = "SPARE"
    else:
        words = first.text if first is last else f"{first.text}–{last.position}"
    wide = text_width(words, SMALLEST, True)
    x = -(wide + 2.0) / 2.0 + 0.6
    return [
        *arrow((x, y - 0.9), (x, y + 0.9), layer="grain", head=1.0),
        centred(words, (1.0, y), height=SMALLEST, layer="engrave", bold=True),
    ]


def _upright(radius: float, angle_rad: float) -> Point:
    """The point at a radius, at an angle counter-clockwise from 12 o'clock."""
    return -radius * math.sin(angle_rad), radius * math.cos(angle_rad)


def _towards(a: Point, b: Point, length: float) -> Point:
    share = length / math.dist(a, b)
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _turned(element: Element, angle_rad: float) -> Element:
    """Turned about the ring's centre."""
    if isinstance(element, Stroke):
        return replace(element, outline=element.outline.mapped(angle_rad))
    if isinstance(element, Text):
        (x, y), c, s = element.at, math.cos(angle_rad), math.sin(angle_rad)
        turn = element.turn + math.degrees(angle_rad)
        return replace(element, at=(c * x - s * y, s * x + c * y), turn=turn)
    raise TypeError(f"a label holds no {type(element).__name__}")
