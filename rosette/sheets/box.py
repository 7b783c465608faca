"""The whole box on one page, and round the ring which wedge comes from which offcut.

`box` shows every offcut to one scale with its wedges in place; `sources-N` the ring with each
wedge's offcut, and `sources-N-list` the same as a list, with the way each wedge is laid.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from rosette.geometry.outline import polygon
from rosette.lettering import text_width
from rosette.offcuts.cutplan import Arrangement, CutPiece, CuttingPlan, CutWedge
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.sheets import ringmap
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    block,
    column,
    drawing_of,
    enlarged,
    heights_split,
    rows_of,
)
from rosette.sheets.drawing import HAIR, MEDIUM, THIN, Drawing, Element, Stroke
from rosette.sheets.marks import boxes_of, fitted
from rosette.sheets.numbering import numbers
from rosette.sheets.offcut_marks import (
    KEEP_FILL,
    KERF_FILL,
    WEDGE_FILL,
    Lie,
    defect_lines,
    kerf_corners,
)
from rosette.sheets.origins import leaves, short_name
from rosette.sheets.saw_pictures import scale_text
from rosette.sheets.scaled import scaled_rows
from rosette.sheets.table import heading, note, table
from rosette.units import rounded
from rosette.wood.looks import wood_letters

MANY = 0.1
"""The scale of a box that takes more than one page whatever its scale."""
GAP = 5.0
CAPTION = 30.0
"""Least width of an offcut's words (mm)."""
WIDE = PAGE_WIDTH - 2.0 * ringmap.AIR
TINTS = ("#f6ecd8", "#dbe7f2", "#dcebe0", "#f3dfd8", "#e8e2f0", "#efefef")
"""Grounds of the ring's wedges, offcut by offcut in turn; each wedge says its offcut too."""
NONE = "–"
NOT_FOUND = "no wood for it"


def cutting_drawings(cutting: CuttingPlan, plan: Plan) -> tuple[Drawing, ...]:
    """The box, then the sources of each ring of wedges that is cut from it."""
    rings = {tally.ring for tally in cutting.tallies}
    return (
        *_box(cutting),
        *(
            sheet
            for ring in plan.rings
            if ring.wedges is not None and ring.index in rings
            for sheet in _sources(cutting, ring, ring.wedges)
        ),
    )


def _box(cutting: CuttingPlan) -> Iterator[Drawing]:
    letters = wood_letters(piece.wood.wood for piece in cutting.pieces)
    head = column([heading("The box"), note(_told(cutting, letters), WIDE, size=2.2)], gap=2.0)

    def cells(scale: float) -> list[Block]:
        return [
            _cell(piece, number, cutting.kerf, letters, scale)
            for number, piece in enumerate(cutting.pieces, start=1)
        ]

    scale, rows = scaled_rows(
        cells,
        above=lambda _: head.height + 8.0,
        width=WIDE,
        between=7.0,
        gap=GAP,
        many=MANY,
    )
    scaled = note(
        f"All offcuts {scale_text(scale)}, each as its own sheet shows it, marked face up.",
        WIDE, size=2.2,
    )  # fmt: skip
    pages = heights_split([column([head, scaled], gap=2.0), *rows], height=PAGE_HEIGHT, gap=GAP)
    for number, page in enumerate(pages, start=1):
        yield drawing_of(
            column(page, gap=GAP),
            name="box" + (f"-{number}" if number > 1 else ""),
            title="The box of offcuts",
            purpose="Every offcut of the box to one scale: in which order they are taken up, how"
            " many wedges each gives, which stay whole.",
            document_type=f"Drawing, scale {scale_text(scale)}",
        )


def _told(cutting: CuttingPlan, letters: Mapping[str, str]) -> str:
    woods = ", ".join(f"{letter} {wood}" for wood, letter in letters.items())
    touched, whole = len(cutting.touched), len(cutting.untouched)
    share = rounded(100.0 * cutting.yielded, 0)
    placed, spares = 0, 0
    for tally in cutting.tallies:
        placed, spares = placed + tally.placed, spares + tally.spares_placed
    words = [
        f"{placed} of {cutting.needed} wedges and {spares} spare{'' if spares == 1 else 's'}"
        f" from {_count(touched)};"
        f" {_count(whole)} stay{'s' if whole == 1 else ''} whole.",
        "Take them up in the order of their numbers.",
        f"Of the wood in those that are cut, {share} % becomes wedges.",
        f"Woods: {woods}.",
    ]
    if cutting.missing:
        words.insert(1, f"{cutting.missing} wedges are missing: the box holds no wood for them.")
    if cutting.interrupted:
        words.insert(0, "The search was stopped: this is the best found until then.")
    return " ".join(words)


def _count(number: int) -> str:
    return f"{number} offcut{'' if number == 1 else 's'}"


def _cell(
    piece: CutPiece, number: int, kerf: float, letters: Mapping[str, str], scale: float
) -> Block:
    """One offcut with its words below."""
    lie = Lie.of(piece)
    parts: list[Element] = []

    def shape(points: Sequence[tuple[float, float]], **look: object) -> None:
        parts.append(
            replace(
                Stroke(outline=enlarged(polygon(points), scale), layer="note"),
                **look,  # type: ignore[arg-type]
            )
        )

    for one in piece.remainders if piece.touched else ():
        if one.useful:
            shape(one.outline, fill=KEEP_FILL, colour=None)
    for cut in piece.cuts:
        shape(kerf_corners(cut, lie, kerf), fill=KERF_FILL, colour=None)
    for wedge in piece.wedges:
        shape(wedge.vertices, weight=HAIR, fill=WEDGE_FILL)
    parts.extend(
        replace(one, outline=enlarged(one.outline, scale), weight=min(one.weight, THIN))
        for one in defect_lines(piece.wood, [], spacing=1.2 / scale)
    )
    for ring in (piece.wood.outline, *piece.wood.holes):
        shape(ring, weight=MEDIUM if piece.touched else THIN)
    drawn = block(parts)
    return column([drawn, _caption(piece, number, letters, max(CAPTION, drawn.width))], gap=1.2)


def _caption(piece: CutPiece, number: int, letters: Mapping[str, str], width: float) -> Block:
    letter = letters[piece.wood.wood]
    lead = f"{number}. {piece.id}" if piece.touched else piece.id
    # Which of several alike, and of which wood, is told however long the name is.
    tail = piece.name.removeprefix(piece.id) + f"  {letter}"
    room = width - text_width(tail, 2.4, piece.touched)
    name, height = fitted(lead, width=max(room, 1.0), height=2.4, bold=piece.touched)
    name += tail
    spares = sum(wedge.spare for wedge in piece.wedges)
    count = len(piece.wedges) - spares
    if not piece.touched:
        words = "stays whole"
    else:
        words = f"{count} wedge{'' if count == 1 else 's'}" + (f", {spares} sp." if spares else "")
    return column(
        [
            note(name, width + 1.0, size=height, bold=piece.touched),
            note(words, width + 1.0, size=1.9),
        ],
        gap=0.4,
    )


_TOLD: dict[Arrangement, str] = {
    "ups then downs": "First the wedges of all offcuts that lie one way up, in the order in which"
    " they lie, then the others, back again: neighbours in the ring were near each other in the"
    " wood.",
    "as in the wood": "Round the ring in the order in which the wedges lie in the wood.",
    "neighbours": "All of an offcut's wedges lie the same way up: neighbours in the wood stay"
    " neighbours in the ring.",
    "mirrored halves": "The two halves mirror each other across the centreline, wedge by wedge.",
}


def _sources(cutting: CuttingPlan, ring: RingPlan, wedges: Wedges) -> Iterator[Drawing]:
    mine = [one for one in cutting.wedges if one.ring == ring.index]
    placed = {leaf.label: leaf for one in mine for leaf in leaves(one)}
    names = _piece_marks(cutting, ring)
    title = f"Ring {ring.index}: which offcut each wedge comes from"
    yield ringmap.map_drawing(
        ringmap.stacked(_map(ring, wedges, placed, names), _below(cutting, ring, placed, names)),
        name=f"sources-{ring.index}",
        title=title,
        purpose=f"Round ring {ring.index}, show face up: the offcut that each wedge comes from.",
    )
    short = {(piece.id, piece.piece): short_name(piece, 12) for piece in cutting.touched}
    rows = [_row(one.label, placed.get(one.label), short) for one in ring.pieces]
    rows += [_row(label, one, short) for label, one in placed.items() if one.spare]
    alike = [piece for piece in cutting.touched if piece.count > 1 and ring.index in piece.rings]
    yield from _lists(rows, ring, title, alike)


def _piece_marks(cutting: CuttingPlan, ring: RingPlan) -> dict[tuple[str, int], str]:
    """A short mark for each piece that gives the ring wedges: its own name where that is short."""
    mine = [piece for piece in cutting.touched if ring.index in piece.rings]
    if all(len(piece.id) <= 3 and piece.count == 1 for piece in mine):
        return {(piece.id, piece.piece): piece.id for piece in mine}
    marks = wood_letters(f"{piece.id} {piece.piece}" for piece in mine)
    return {(piece.id, piece.piece): marks[f"{piece.id} {piece.piece}"] for piece in mine}


def _map(
    ring: RingPlan,
    wedges: Wedges,
    placed: Mapping[str, CutWedge],
    names: Mapping[tuple[str, int], str],
) -> Block:
    tints = {key: TINTS[i % len(TINTS)] for i, key in enumerate(names)}
    marks: dict[str, str] = {}
    fills: dict[str, str] = {}
    for piece in ring.pieces:
        wedge = placed.get(piece.label)
        source = (wedge.offcut, wedge.piece) if wedge is not None else None
        marks[piece.label] = names[source] if source is not None else NONE
        if source is not None:
            fills[piece.label] = tints[source]
    told = replace(ring, pieces=tuple(replace(one, wood=marks[one.label]) for one in ring.pieces))
    letters = {mark: mark for mark in marks.values()}
    numbered = numbers(told, wedges, letters if len(letters) > 1 else {})
    reach = numbered.reach
    seam, words = ringmap.seam(ring, wedges, reach=reach)
    boxes = boxes_of([*numbered.elements, *words])
    return block(
        [
            *ringmap.finished_pieces(ring, fills=fills),
            *ringmap.ring_circles(ring),
            *ringmap.centrelines(reach + ringmap.ABOVE, -reach - ringmap.BELOW, boxes),
            *seam,
            *numbered.elements,
            *words,
        ]
    )


def _below(
    cutting: CuttingPlan,
    ring: RingPlan,
    placed: Mapping[str, CutWedge],
    names: Mapping[tuple[str, int], str],
) -> Block:
    rows = [("mark", "offcut", "wedges", "in the ring")]
    for source, mark in names.items():
        mine = [one for one in placed.values() if (one.offcut, one.piece) == source]
        stands = sorted(one.position for one in mine if one.position is not None)
        piece = next(p for p in cutting.touched if (p.id, p.piece) == source)
        rows.append((mark, piece.name, str(len(mine)), ringmap.runs(stands)))
    missing = sum(piece.label not in placed for piece in ring.pieces)
    if missing:
        rows.append((NONE, NOT_FOUND, str(missing), ""))
    ways = dict.fromkeys(tally.arrangement for tally in cutting.tallies if tally.ring == ring.index)
    words = (
        " ".join(_TOLD[way] for way in ways)
        + " Numbers run clockwise from the seam on the show face; spares are counted with their"
        " offcut."
    )
    return column(
        [note(words, WIDE, size=2.2), table(rows, align="clrl", size=2.0, most=WIDE)], gap=3.0
    )


def _row(
    label: str, wedge: CutWedge | None, short: Mapping[tuple[str, int], str]
) -> tuple[str, str, str, str]:
    if wedge is None:
        return label, NOT_FOUND, "", ""
    return label, short[wedge.offcut, wedge.piece], f"{wedge.band} / {wedge.order}", wedge.laid


def _lists(
    rows: Sequence[tuple[str, str, str, str]],
    ring: RingPlan,
    title: str,
    alike: Sequence[CutPiece],
) -> Iterator[Drawing]:
    """The wedges in order round the ring, in columns, on as many sheets as they need."""
    head = ("wedge", "offcut", "band / place", "laid")
    told = note(
        "Laid: how the blank gets from the marked face of its offcut, grain away from you, into the"
        " ring, wide end outwards. As it lies: moved only. End for end: half a turn flat on the"
        " bench, the marked face stays up. Turned over: about a line across it, so that the other"
        " face shows. Turned over sideways: about its own length, and the other face shows."
        + (f" {short_name(alike[0], 12)}: {alike[0].name}." if alike else ""),
        WIDE,
        size=2.2,
    )
    lead = column([heading(f"Ring {ring.index}: the order round the ring"), told], gap=2.0)
    high = int((PAGE_HEIGHT - lead.height - GAP) // (2.0 * 2.2)) - 2
    parts = max(1, -(-len(rows) // high))
    if parts == 1 and len(rows) > 20:
        parts = 2
    per = -(-len(rows) // parts)
    tables = [
        table([head, *rows[i : i + per]], align="llcl", size=2.0, bold_first=True)
        for i in range(0, len(rows), per)
    ]
    pages = heights_split(
        rows_of(tables, width=WIDE, gap=6.0), height=PAGE_HEIGHT - lead.height - GAP, gap=GAP
    )
    for number, page in enumerate(pages, start=1):
        yield drawing_of(
            column([lead, *page], gap=GAP),
            name=f"sources-{ring.index}-list" + (f"-{number}" if number > 1 else ""),
            title=title,
            purpose=f"Each wedge of ring {ring.index} with its offcut, its place there, and which"
            " face of it shows.",
            document_type="List",
        )
