"""The tile of a mosaic: where its columns, rows and edge veneers lie, exactly.

A tile is a slice of the log. In its own coordinates x runs outward from the ring's centre along
the tile's middle and y to the left, counter-clockwise. Rows are straight: each ply lies between
two chords x = constant of its column. Columns are wedges about radial lines of their own where
every plank is tapered, or parallel to the tile's middle where the log is. Only the two rims are
arcs, cut through the edge veneers.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from rosette.geometry import wedge
from rosette.geometry.outline import Outline, Point, Vertex
from rosette.patterns.base import RingSite
from rosette.patterns.mosaic_keys import MosaicKeys

OUTER, INNER = "o", "i"
"""What the edge veneers are called where rows have numbers."""


class Line(NamedTuple):
    """y = slope · x + rise: one side of a column."""

    slope: float
    rise: float

    def at(self, x: float) -> Point:
        """The point at a distance along the middle."""
        return x, self.slope * x + self.rise

    def on_circle(self, radius: float) -> Point:
        """Where it leaves the circle about the ring's centre, outward."""
        square = 1.0 + self.slope**2
        root = math.sqrt(radius**2 * square - self.rise**2)
        return self.at((root - self.slope * self.rise) / square)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A plank in the tile: its two sides, and the angle (radians) that its middle stands at."""

    left: Line
    right: Line
    turn_rad: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A place in the tile: column from 1 clockwise, row from 1 inward (or an edge), its outline."""

    column: int
    row: int | str
    outline: Outline

    @property
    def kind(self) -> str:
        """What it is called in a drawing."""
        return "edge" if isinstance(self.row, str) else "cell"


def wood_of(cell: Cell, keys: MosaicKeys, *, turned: bool = False) -> tuple[str, str]:
    """A cell's wood, and its name in the tile; `turned` where the tile lies on its other face."""
    column = len(keys.drawn[0]) + 1 - cell.column if turned else cell.column
    if isinstance(cell.row, str):
        return keys.edge_wood, f"{column}.{cell.row}"
    return keys.palette[keys.drawn[cell.row - 1][column - 1]], f"{column}.{cell.row}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One of `count` tiles round the ring (mm).

    `bottom` and `top` are where the motif's rows begin and end along the middle of a column;
    `veneer` is the thickness of each edge veneer before trimming, `glue` that of every joint.
    """

    count: int
    columns: int
    rows: int
    cell_height: float
    bottom: float
    top: float
    veneer: float
    glue: float
    inner_radius: float
    outer_radius: float
    tapered_columns: bool

    @property
    def fans(self) -> int:
        """Into how many equal wedges the ring is divided: its columns, or its tiles."""
        return self.count * self.columns if self.tapered_columns else self.count

    @property
    def low(self) -> float:
        """The inner end before trimming."""
        return self.bottom - self.glue - self.veneer

    @property
    def high(self) -> float:
        """The outer end before trimming."""
        return self.top + self.glue + self.veneer

    @property
    def height(self) -> float:
        """From end to end before trimming: the height of a stack of plies."""
        return self.high - self.low

    def width_at(self, x: float) -> float:
        """Width of what tapers, plank or log, at a distance along its middle."""
        return wedge.width_at(x, segments=self.fans, joint=self.glue)

    def across(self, x: float) -> float:
        """Width of the whole log, corner to corner, at a distance along its columns' middles."""
        if not self.tapered_columns:
            return self.width_at(x)
        turn = (self.columns - 1) * math.pi / self.fans
        return 2.0 * x * math.sin(turn) + self.width_at(x) * math.cos(turn)

    @property
    def plank(self) -> tuple[float, float]:
        """A plank's thickness at its outer and inner end, in the log and before its taper."""
        if self.tapered_columns:
            return self.width_at(self.high), self.width_at(self.low)
        wide = (self.width_at(self.high) - (self.columns - 1) * self.glue) / self.columns
        return wide, wide

    @property
    def cell_width(self) -> float:
        """A cell's width at the middle of the ring; that of the planks where these are parallel."""
        if not self.tapered_columns:
            return self.plank[0]
        return self.width_at((self.inner_radius + self.outer_radius) / 2.0)

    @property
    def outermost(self) -> float:
        """What is left of the first and last column at the inner end before trimming."""
        if self.tapered_columns or self.columns == 1:
            return self.width_at(self.low)
        return self.plank[0] - (self.width_at(self.high) - self.width_at(self.low)) / 2.0

    @property
    def outer_line(self) -> tuple[float, float]:
        """What is left of the outer edge veneer, least (at the corners) and most."""
        face = self.top + self.glue
        corner = math.hypot(face, self.width_at(face) / 2.0)
        return self.outer_radius - corner, self.outer_radius - face

    @property
    def inner_line(self) -> tuple[float, float]:
        """What is left of the inner edge veneer, least (in the middle) and most."""
        face = self.bottom - self.glue
        corner = math.hypot(face, self.width_at(face) / 2.0)
        return face - self.inner_radius, corner - self.inner_radius

    def levels(self) -> list[tuple[float, float]]:
        """Each row's inner and outer end, the outermost row first."""
        pitch = self.cell_height + self.glue
        tops = [self.top - row * pitch for row in range(self.rows)]
        return [(top - self.cell_height, top) for top in tops]

    def lay(self) -> list[Column]:
        """The columns, clockwise."""
        half = math.pi / self.fans
        side = Line(math.tan(half), -self.glue / (2.0 * math.cos(half)))
        other = Line(-side.slope, -side.rise)
        if self.tapered_columns:
            turns = [(self.columns + 1 - 2 * k) * half for k in range(1, self.columns + 1)]
            return [Column(left=side, right=other, turn_rad=turn) for turn in turns]
        wide = self.plank[0]
        start = self.width_at(self.high) / 2.0
        columns = []
        for k in range(self.columns):
            left = start - k * (wide + self.glue)
            columns.append(
                Column(
                    left=side if k == 0 else Line(0.0, left),
                    right=other if k == self.columns - 1 else Line(0.0, left - wide),
                    turn_rad=0.0,
                )
            )
        return columns

    def cells(self, *, trimmed: bool = True) -> Iterator[Cell]:
        """Every cell and edge of the tile, column by column; before trimming with straight ends."""
        levels = self.levels()
        for number, column in enumerate(self.lay(), start=1):
            inner, outer = self.bottom - self.glue, self.top + self.glue
            if trimmed:
                ends = (_outer_edge(column, outer, self), _inner_edge(column, inner, self))
            else:
                ends = (_straight(column, outer, self.high), _straight(column, self.low, inner))
            shapes: list[tuple[int | str, Outline]] = [
                (OUTER, ends[0]),
                *((row, _straight(column, *level)) for row, level in enumerate(levels, start=1)),
                (INNER, ends[1]),
            ]
            for row, outline in shapes:
                yield Cell(column=number, row=row, outline=outline.mapped(column.turn_rad))

    def outline(self) -> Outline:
        """The whole finished tile."""
        outer, inner = (
            wedge.half_angle_rad(radius, segments=self.count, joint=self.glue)
            for radius in (self.outer_radius, self.inner_radius)
        )
        return wedge.finished_outline(
            self.inner_radius, self.outer_radius, 0.0, inner_half=inner, outer_half=outer
        )


def _straight(column: Column, inner: float, outer: float) -> Outline:
    left, right = column.left, column.right
    corners = (right.at(outer), left.at(outer), left.at(inner), right.at(inner))
    return Outline(tuple(Vertex(*corner) for corner in corners))


def _bulge(start: Point, end: Point) -> float:
    """The bulge of the arc about the ring's centre from one point to the other."""
    return math.tan((math.atan2(end[1], end[0]) - math.atan2(start[1], start[0])) / 4.0)


def _outer_edge(column: Column, inner: float, tile: Tile) -> Outline:
    a, b = (side.on_circle(tile.outer_radius) for side in (column.right, column.left))
    return Outline(
        (
            Vertex(*a, _bulge(a, b)),
            Vertex(*b),
            Vertex(*column.left.at(inner)),
            Vertex(*column.right.at(inner)),
        )
    )


def _inner_edge(column: Column, outer: float, tile: Tile) -> Outline:
    a, b = (side.on_circle(tile.inner_radius) for side in (column.left, column.right))
    return Outline(
        (
            Vertex(*column.right.at(outer)),
            Vertex(*column.left.at(outer)),
            Vertex(*a, _bulge(a, b)),
            Vertex(*b),
        )
    )


def room(count: int, keys: MosaicKeys, site: RingSite) -> tuple[float, float]:
    """Where the motif may begin and end along a column's middle: what the edges leave of the ring.

    The row next to the outer rim must stay inside the arc at its corners, the one next to the
    inner rim outside it in its middle.
    """
    fans = count * len(keys.drawn[0]) if keys.taper == "columns" else count
    radius = site.outer_radius - keys.edge_left
    half = wedge.half_angle_rad(radius, segments=fans, joint=keys.glue_line)
    return (
        site.inner_radius + keys.edge_left + keys.glue_line,
        radius * math.cos(half) - keys.glue_line,
    )


def tile_of(count: int, keys: MosaicKeys, site: RingSite) -> Tile:
    """The tile of a ring of so many; sizes come out zero or less where there is no room."""
    rows, columns, glue = len(keys.drawn), len(keys.drawn[0]), keys.glue_line
    fans = count * columns if keys.taper == "columns" else count
    bottom, top = room(count, keys, site)
    height = keys.cell_height
    if height is None:
        height = (top - bottom - (rows - 1) * glue) / rows
    else:
        spare = (top - bottom - rows * height - (rows - 1) * glue) / 2.0
        bottom, top = bottom + spare, top - spare
    reach = wedge.inner_distance(
        site.inner_radius - site.inner_allowance, segments=fans, joint=glue
    )
    outer = site.outer_radius + site.outer_allowance - (top + glue)
    return Tile(
        count=count,
        columns=columns,
        rows=rows,
        cell_height=height,
        bottom=bottom,
        top=top,
        # of one thickness, so that a plank turned end for end fits its neighbours
        veneer=max(outer, bottom - glue - reach),
        glue=glue,
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        tapered_columns=keys.taper == "columns",
    )
