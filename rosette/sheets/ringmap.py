"""What every map of a ring shows: pieces, blanks, hidden strip, centreline, pivot, seam."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rosette.geometry.hidden import HiddenStrip
from rosette.geometry.outline import Outline, Vertex, at_angle
from rosette.lettering import text_width
from rosette.patterns.base import RingPlan, Wedges
from rosette.sheets.block import Block
from rosette.sheets.drawing import (
    HAIR,
    MEDIUM,
    THICK,
    THIN,
    TRUE_SCALE,
    Circle,
    Drawing,
    Element,
    Stroke,
    Text,
)
from rosette.sheets.marks import (
    CHAIN,
    DASHED,
    GREY,
    SEAM_COLOUR,
    SHORT_DASHED,
    Box,
    broken,
    centre_cross,
    hatching,
    segment,
)

AIR = 1.0
ABOVE = 14.0
"""How far a map reaches past the ring towards the neck, in mm."""
BELOW = 6.0
"""How far the centreline runs on below the ring, in mm."""


def stacked(drawn: Block, below: Block, *, gap: float = 5.0) -> Block:
    """A map with its keys centred under it."""
    left, bottom, right, top = drawn.bounds
    placed = below.at((left + right - below.width) / 2.0, bottom - gap)
    return Block(
        elements=(*drawn.elements, *placed.elements),
        bounds=(
            min(left, placed.bounds[0]),
            placed.bounds[1],
            max(right, placed.bounds[2]),
            top,
        ),
    )


def map_drawing(
    page: Block, *, name: str, title: str, purpose: str, document_type: str = TRUE_SCALE
) -> Drawing:
    """A sheet whose origin stays the ring's centre, with a little air round it."""
    left, bottom, right, top = page.bounds
    return Drawing(
        name=name,
        title=title,
        purpose=purpose,
        bounds=(left - AIR, bottom - AIR, right + AIR, top + AIR),
        elements=page.elements,
        document_type=document_type,
    )


def piece_name(kind: str, label: str) -> str:
    """The id of a piece or blank in a drawing.

    >>> piece_name("wedge", "1-07"), piece_name("spacer", "1-07s")
    ('wedge-1-07', 'spacer-1-07')
    """
    return f"{kind}-{label.removesuffix('s')}"


def finished_pieces(ring: RingPlan, *, fills: dict[str, str] | None = None) -> list[Element]:
    """Each wedge and spacer of a ring, outlines exact; `fills` colours by label.

    Where tiles are laid as one, they are what is drawn to be cut, their cells within but notes.
    """
    cells = [
        Stroke(
            outline=piece.outline,
            layer="note",
            weight=HAIR,
            colour=GREY,
            name=piece_name(piece.kind, piece.label),
        )
        for piece in (ring.pieces if ring.tiles else ())
    ]
    wedges = [
        Stroke(
            outline=piece.outline,
            holes=piece.holes,
            layer="cut",
            weight=THIN,
            fill=(fills or {}).get(piece.label),
            name=piece_name(piece.kind, piece.label),
        )
        for piece in ring.tiles or ring.pieces
    ]
    spacers = [
        Stroke(
            outline=piece.outline,
            layer="cut",
            weight=HAIR,
            fill="#d0d0d0",
            name=piece_name(piece.kind, piece.label),
        )
        for piece in ring.spacers
    ]
    return [*cells, *wedges, *spacers]


def blanks(ring: RingPlan, wedges: Wedges) -> list[Element]:
    """Each wedge's blank where it stands in the ring, so that the trim shows round the wedge."""
    return [
        Stroke(
            outline=wedges.blank.outline().mapped(math.radians(piece.axis or 0.0)),
            layer="note",
            weight=HAIR,
            dashes=SHORT_DASHED,
            name=piece_name("blank", piece.label),
        )
        for piece in ring.pieces
    ]


def ring_circles(ring: RingPlan, *, weight: float = MEDIUM) -> list[Element]:
    """A ring's two edges as whole circles."""
    return [
        Circle(
            centre=(0.0, 0.0),
            radius=radius,
            layer="note",
            weight=weight,
            name=f"ring-{ring.index}-{edge}",
        )
        for edge, radius in (("inner", ring.inner_radius), ("outer", ring.outer_radius))
    ]


def soundhole(diameter: float, *, layer: str = "note") -> Circle:
    """The soundhole's edge."""
    return Circle(
        centre=(0.0, 0.0),
        radius=diameter / 2.0,
        layer="cut" if layer == "cut" else "note",
        weight=THIN,
        name="soundhole",
    )


def strip_region(strip: HiddenStrip, *, top: float, half_width: float) -> Box | None:
    """The corners of the hidden strip up to `top`, within the map's width; None if above it."""
    half = min(strip.width / 2.0, half_width)
    if strip.reach >= top - 1.0 or half <= 0:
        return None
    return [(-half, top), (-half, strip.reach), (half, strip.reach), (half, top)]


def hidden_strip(region: Box, words: Sequence[Box]) -> list[Element]:
    """The strip's edges dashed, lightly hatched, both broken for words."""
    left_top, left, right, right_top = region
    elements: list[Element] = [
        segment(a, b, layer="hidden", weight=HAIR, colour=GREY)
        for a, b in hatching([left, right, right_top, left_top], words, angle=45.0, spacing=3.0)
    ]
    for a, b in ((left_top, left), (left, right), (right, right_top)):
        elements.extend(
            segment(p, q, layer="hidden", weight=MEDIUM, dashes=DASHED)
            for p, q in broken(a, b, words)
        )
    return elements


def centrelines(top: float, bottom: float, words: Sequence[Box]) -> list[Element]:
    """The guitar's centreline, and the pivot's cross at the ring's centre."""
    upright = [
        segment(a, b, layer="centreline", dashes=CHAIN)
        for a, b in broken((0.0, bottom), (0.0, top), words)
    ]
    return [*upright, *centre_cross()]


def seam_direction(ring: RingPlan, wedges: Wedges) -> float:
    """The direction in degrees of the joint before wedge 1, where the ring closes."""
    return (ring.pieces[0].axis or 0.0) + wedges.mitre_angle


def seam(ring: RingPlan, wedges: Wedges, *, reach: float) -> tuple[list[Element], list[Text]]:
    """The seam's bold line across the ring, and its note led from `reach` mm out."""
    angle = seam_direction(ring, wedges)
    bold = segment(
        at_angle(ring.inner_radius - 2.0, angle),
        at_angle(ring.outer_radius + 2.0, angle),
        weight=THICK,
        colour=SEAM_COLOUR,
    )
    tail = at_angle(reach + 1.0, angle)
    side = -1.0 if math.cos(math.radians(angle)) < -1e-6 else 1.0
    elbow = (tail[0] + side * 4.0, tail[1] + 5.0)
    words = f"SEAM {wedges.segments} & 1"
    text = Text(
        text=words,
        at=(elbow[0] + side * 1.0, elbow[1] - 1.2),
        height=2.4,
        anchor="left" if side > 0 else "right",
        bold=True,
        colour=SEAM_COLOUR,
    )
    led = Outline(
        tuple(Vertex(*p) for p in (at_angle(ring.outer_radius + 2.0, angle), tail, elbow)),
        closed=False,
    )
    return [bold, Stroke(outline=led, layer="note", weight=THIN, colour=SEAM_COLOUR)], [text]


def strip_words(half: float, *, base: float, seam_side: float) -> list[Text]:
    """The strip's words, in the half of it that the seam's note leaves free."""
    lines = ("under the", "fingerboard")
    side = -seam_side
    room = half - 4.0
    height = 2.2
    if text_width(lines[1], height) <= room:
        middle = side * (2.0 + half) / 2.0
        return [
            Text(
                text=words,
                at=(middle, base + 3.6 * (1 - i)),
                height=height,
                anchor="middle",
                layer="hidden",
            )
            for i, words in enumerate(lines)
        ]
    return [
        Text(
            text="under the fingerboard",
            at=(side * (half + 2.0), base),
            height=height,
            anchor="left" if side > 0 else "right",
            layer="hidden",
        )
    ]


def runs(positions: Sequence[int]) -> str:
    """Positions as runs of neighbours.

    >>> runs([1, 2, 3, 7, 35, 36])
    '1–3, 7, 35–36'
    """
    if not positions:
        return "none"
    groups: list[list[int]] = []
    for position in sorted(positions):
        if groups and position == groups[-1][-1] + 1:
            groups[-1].append(position)
        else:
            groups.append([position])
    return ", ".join(str(g[0]) if len(g) == 1 else f"{g[0]}–{g[-1]}" for g in groups)
