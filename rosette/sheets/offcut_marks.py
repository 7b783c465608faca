"""What is drawn of an offcut and its cuts, wherever they are drawn (mm).

`Lie` turns an offcut so that the layout's axis, along the grain, is +y: across it to the right
is u, along it v.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosette.geometry.outline import Point, polygon
from rosette.lettering import text_width
from rosette.offcuts.cutplan import CutPiece, CutWedge, SawCut
from rosette.offcuts.model import Offcut
from rosette.sheets.blank_words import Blank
from rosette.sheets.clear import hatched, within
from rosette.sheets.drawing import HAIR, MEDIUM, THIN, Circle, Element, Stroke
from rosette.sheets.marks import GREY, SMALLEST, Box, centred, segment

KERF_FILL = "#c8c8c8"
WEDGE_FILL = "#f6ecd8"
SPARE_FILL = "#fdfaf3"
KEEP_FILL = "#dcebe0"
GAUGE_COLOUR = "#0072b2"
"""Okabe and Ito's blue, for the edge at the gauge; the key says so in words."""
TURNED = "T"
"""Behind the label of a wedge whose other face shows in the ring."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """A turn about the origin: the axis, `axis` degrees counter-clockwise from +x, becomes +y."""

    axis: float

    @classmethod
    def of(cls, piece: CutPiece) -> Lie:
        """The way a piece's layout lies."""
        return cls(axis=piece.wood.grain + piece.tilt)

    @property
    def right(self) -> Point:
        """The unit vector across the axis, to the right as seen along it."""
        angle = math.radians(self.axis)
        return math.sin(angle), -math.cos(angle)

    def turned(self, point: Point) -> Point:
        """A point of the offcut as (u, v)."""
        (ux, uy), (x, y) = self.right, point
        return ux * x + uy * y, -uy * x + ux * y

    def own(self, point: Point) -> Point:
        """A point (u, v) in the offcut's own coordinates."""
        (ux, uy), (u, v) = self.right, point
        return ux * u - uy * v, uy * u + ux * v

    def all_turned(self, points: Sequence[Point]) -> list[Point]:
        """Points of the offcut as (u, v)."""
        return [self.turned(point) for point in points]


def kerf_corners(cut: SawCut, lie: Lie, kerf: float) -> list[Point]:
    """What a cut takes, in the offcut's own coordinates.

    A crosscut's kerf is square to it; a slant's ends along the band's edges, where it meets the
    crosscuts, and is kerf/cos(lean) wide there.

    >>> flat = SawCut(step=1, kind="crosscut", band=1, ring=1, start=(0, 0), end=(9, 0), mitre=0,
    ...               swing="square", in_hand=0)
    >>> kerf_corners(flat, Lie(axis=90.0), 1.0)
    [(0.0, -0.5), (9.0, -0.5), (9.0, 0.5), (0.0, 0.5)]
    """
    (u0, v0), (u1, v1) = lie.turned(cut.start), lie.turned(cut.end)
    if cut.kind == "crosscut":
        half = kerf / 2.0
        corners = [(u0, v0 - half), (u1, v1 - half), (u1, v1 + half), (u0, v0 + half)]
    else:
        half = kerf / 2.0 * math.hypot(u1 - u0, v1 - v0) / abs(v1 - v0)
        corners = [(u0 - half, v0), (u0 + half, v0), (u1 + half, v1), (u1 - half, v1)]
    return [_tidy(lie.own(point)) for point in corners]


def _tidy(point: Point) -> Point:
    """Without the dust of a quarter turn's sine."""
    return round(point[0], 9) + 0.0, round(point[1], 9) + 0.0


def blank_of(wedge: CutWedge) -> Blank:
    """A wedge as its words see it."""
    turned = f" {TURNED}" if wedge.face == "other" else ""
    number = wedge.label.partition("-")[2] or wedge.label
    return Blank(
        corners=wedge.vertices, text=wedge.label + turned, short=number + turned.lower().strip()
    )


def wedge_stroke(wedge: CutWedge, corners: Sequence[Point], *, in_band: bool = False) -> Stroke:
    """A blank's outline: on layer `cut` where it lies, on `note` where its band is shown again."""
    return Stroke(
        outline=polygon(corners),
        layer="note" if in_band else "cut",
        weight=THIN,
        fill=SPARE_FILL if wedge.spare else WEDGE_FILL,
        name=f"{'in-band' if in_band else 'blank'}-{wedge.label}",
    )


def kerf_stroke(cut: SawCut, corners: Sequence[Point], *, in_band: bool = False) -> Stroke:
    """A kerf."""
    return Stroke(
        outline=polygon(corners),
        layer="note",
        weight=HAIR,
        fill=KERF_FILL,
        name=f"{'in-band-' if in_band else ''}cut-{cut.step}",
    )


def defect_lines(wood: Offcut, boxes: Sequence[Box], *, spacing: float = 1.4) -> Iterator[Stroke]:
    """Defects, hatched both ways, as far as they lie in the wood."""
    whole = (wood.outline, *wood.holes)
    for ring in wood.defects:
        for angle in (45.0, 135.0):
            for a, b in hatched([ring], boxes, angle=angle, spacing=spacing):
                for p, q in within(whole, a, b):
                    yield segment(p, q, layer="note", weight=HAIR, colour=GREY)
        yield from defect_edges(wood, ring)


def defect_edges(wood: Offcut, ring: Sequence[Point]) -> Iterator[Stroke]:
    """A defect's edge, as far as it lies in the wood."""
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        for p, q in within((wood.outline, *wood.holes), a, b):
            yield segment(p, q, layer="note", weight=MEDIUM)


def bubble_radius(most: int) -> float:
    """The radius of a circle that holds any number up to `most` (mm)."""
    wide = text_width("8" * len(str(most)), SMALLEST, True)
    return math.hypot(wide, SMALLEST) / 2.0 + 0.45


def bubble(number: int, centre: Point, radius: float) -> list[Element]:
    """A cut's number in a circle."""
    return [
        Circle(centre=centre, radius=radius, layer="note", weight=THIN),
        centred(str(number), centre, height=SMALLEST, bold=True),
    ]


def bands_of(piece: CutPiece, lie: Lie) -> dict[int, tuple[float, float]]:
    """From where to where along v each band goes."""
    bands: dict[int, tuple[float, float]] = {}
    for wedge in piece.wedges:
        heights = [lie.turned(point)[1] for point in wedge.vertices]
        low, high = bands.get(wedge.band, (math.inf, -math.inf))
        bands[wedge.band] = min(low, *heights), max(high, *heights)
    return bands
