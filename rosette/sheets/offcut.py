"""Each offcut that is cut, at full size: what comes from where, the cuts in order, what stays.

`offcut-NAME` is the offcut in its own coordinates, to lay the wood on or to stick on it;
`offcut-NAME-cuts` has its bands as they lie at the saw and every cut's settings. What has room
below the picture stands there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from rosette.offcuts.cutplan import CutPiece, CuttingPlan
from rosette.plan.model import Plan
from rosette.sheets import key
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    column,
    drawing_of,
    flow,
    heights_split,
    rows_of,
)
from rosette.sheets.dimension import units_note
from rosette.sheets.drawing import HAIR, MEDIUM, THICK, Drawing, Element
from rosette.sheets.marks import GREY, hatching, segment, swatch
from rosette.sheets.offcut_bands import band_pictures
from rosette.sheets.offcut_marks import GAUGE_COLOUR, KEEP_FILL, KERF_FILL
from rosette.sheets.offcut_picture import labelled, offcut_picture
from rosette.sheets.offcut_table import cut_tables, hand, method
from rosette.sheets.ringmap import map_drawing, stacked
from rosette.sheets.table import heading, note
from rosette.units import Units, format_length, rounded
from rosette.words import numbered

GAP = 5.0
LANDSCAPE = (246.0, 158.0)
"""What a picture may be wide and high in mm to stand on one page laid on its side."""


def cutting_drawings(cutting: CuttingPlan, plan: Plan) -> tuple[Drawing, ...]:
    """The sheets of every offcut that is cut, in the order of cutting."""
    names = piece_names(cutting)
    return tuple(
        sheet
        for piece in cutting.touched
        for sheet in _sheets(piece, cutting, plan, names[piece.id, piece.piece])
    )


def piece_names(cutting: CuttingPlan) -> dict[tuple[str, int], str]:
    """A file's name for each piece, by its offcut and number: plain letters, no two alike."""
    names: dict[tuple[str, int], str] = {}
    taken: set[str] = set()
    for piece in cutting.pieces:
        plain = re.sub(r"[^A-Za-z0-9]+", "-", piece.id)[:24].strip("-") or "piece"
        wanted = f"{plain}-{piece.piece}" if piece.count > 1 else plain
        name, number = wanted, 2
        while name.lower() in taken:
            name, number = f"{wanted}-{number}", number + 1
        taken.add(name.lower())
        names[piece.id, piece.piece] = name
    return names


def said_name(piece: CutPiece, most: int = 40) -> str:
    """A piece's name for a title, cut off where it goes on and on."""
    return piece.name if len(piece.name) <= most else piece.name[: most - 1] + "…"


def contents(piece: CutPiece) -> str:
    """What an offcut gives, in words."""
    parts = []
    for ring in piece.rings:
        mine = [wedge for wedge in piece.wedges if wedge.ring == ring]
        spares = sum(wedge.spare for wedge in mine)
        count = len(mine) - spares
        wedges = f"{count} wedge{'' if count == 1 else 's'} of ring {ring}"
        parts.append(
            wedges + (f" and {spares} spare{'' if spares == 1 else 's'}" if spares else "")
        )
    return ", ".join(parts)


def _sheets(piece: CutPiece, cutting: CuttingPlan, plan: Plan, name: str) -> Iterator[Drawing]:
    units = plan.units
    picture = offcut_picture(piece, kerf=cutting.kerf, units=units)
    title = f"Offcut {said_name(piece)}: {contents(piece)}"
    lead = _lead(piece, units, max(70.0, min(PAGE_WIDTH, picture.width)))
    keys = _key(piece)
    work = [
        method(piece, cutting, units, PAGE_WIDTH),
        *rows_of(band_pictures(piece, kerf=cutting.kerf), gap=10.0),
        *cut_tables(piece, kerf=cutting.kerf, units=units),
        *hand(piece, cutting, units),
    ]
    narrow = _lead(piece, units, 110.0)
    page, rest = _whole_page(
        picture,
        (
            (column([lead, keys, *work], gap=4.0), [], (PAGE_WIDTH, PAGE_HEIGHT)),
            (column([lead, keys], gap=3.0), work, (PAGE_WIDTH, PAGE_HEIGHT)),
            (flow([narrow, keys], width=LANDSCAPE[0], gap=14.0), work, LANDSCAPE),
        ),
    ) or (picture, [lead, keys, *work])
    yield map_drawing(
        page,
        name=f"offcut-{name}",
        title=title,
        purpose=f"Offcut {said_name(piece)} at full size: which wedge comes from where, the cuts"
        " in order, what stays.",
    )
    yield from _more(piece, rest, name, title)


def _whole_page(
    picture: Block, tries: Sequence[tuple[Block, list[Block], tuple[float, float]]]
) -> tuple[Block, list[Block]] | None:
    """The picture with the first block below it that leaves both on one page, and what is left.

    A picture that is larger than a page stands alone: no words are cut apart with it.
    """
    for below, left, (wide, high) in tries:
        width, height = max(picture.width, below.width), picture.height + below.height + GAP
        if width <= wide and height <= high:
            return stacked(picture, below, gap=GAP), left
    return None


def _more(piece: CutPiece, blocks: Sequence[Block], name: str, title: str) -> Iterator[Drawing]:
    """What did not go below the picture, on sheets of their own."""
    if not blocks:
        return
    head = heading(f"Offcut {said_name(piece)}: at the saw")
    pages = heights_split([head, *blocks], height=PAGE_HEIGHT, gap=GAP)
    for number, page in enumerate(pages, start=1):
        yield drawing_of(
            column(page, gap=GAP),
            name=f"offcut-{name}-cuts" + (f"-{number}" if number > 1 else ""),
            title=title,
            purpose=f"Offcut {said_name(piece)}, at the saw: its bands, every cut's settings in"
            " order, the cautions.",
            document_type="Instructions",
        )


def _lead(piece: CutPiece, units: Units, width: float) -> Block:
    thick = format_length(piece.wood.thickness, units)
    planed = "; ".join(
        f"planed to {format_length(mm, units)} for {numbered(rings)}"
        for mm, rings in piece.planings
    )
    words = [
        f"Full size, marked face up. {piece.wood.wood[:1].upper()}{piece.wood.wood[1:60]},"
        f" {thick} thick" + (f", {planed}." if planed else "."),
    ]
    if piece.tilt:
        words.append(f"The layout stands {rounded(piece.tilt, 2, plus=True)}° off the grain.")
    if any(setting is None for setting in labelled(piece.wedges).values()):
        words.append("The blanks are too small to number here: the bands show their numbers.")
    if piece.note:
        words.append(f"Note: {piece.note}")
    words.append(units_note(units))
    return note(" ".join(words), width, size=2.2)


def _key(piece: CutPiece) -> Block:
    def box(fill: str) -> key.Sample:
        return lambda y: [
            swatch((0.0, y - 1.6), width=key.SAMPLE, height=3.2, fill=fill, weight=HAIR)
        ]

    def knot(y: float) -> list[Element]:
        corners = [(0.0, y - 1.6), (key.SAMPLE, y - 1.6), (key.SAMPLE, y + 1.6), (0.0, y + 1.6)]
        lines = [
            segment(a, b, weight=HAIR, colour=GREY)
            for angle in (45.0, 135.0)
            for a, b in hatching(corners, [], angle=angle, spacing=1.4)
        ]
        frame = [
            segment(a, b, weight=MEDIUM)
            for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)
        ]
        return [*lines, *frame]

    left = [
        key.outline_entry("edge of the wood", weight=THICK),
        key.Entry(key.grain_entry().sample, "in a blank: to its wide end"),
    ]
    right = []
    if piece.cuts:
        left.append(key.Entry(box(KERF_FILL), "kerf; its number in a circle"))
    if any(cut.fence_line for cut in piece.cuts if cut.kind == "crosscut"):
        right.append(
            key.Entry(
                lambda y: [
                    segment((0.0, y), (key.SAMPLE, y), weight=1.8 * THICK, colour=GAUGE_COLOUR)
                ],
                "blue edge: at the gauge for crosscuts",
            )
        )
    if piece.wood.defects:
        right.append(key.Entry(knot, "keep out: knot, crack, stain"))
    if any(one.useful for one in piece.remainders):
        right.append(key.Entry(box(KEEP_FILL), "KEEP: goes back into the box"))
    columns = [key.key_block("Lines", left, width=84.0)]
    if right:
        columns.append(key.key_block("Wood", right, width=84.0))
    return flow(columns, gap=10.0)
