"""Parts larger than the printer's bed, as keyed pieces: where to cut, without the CAD kernel.

A part is cut into strips and each strip across, into as few pieces as do. Every section of a seam
has two tongues at a distance of its own, which is what keeps wrong neighbours apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice, pairwise
from typing import TYPE_CHECKING

from jigs.bed import MARGIN, Printer
from jigs.cut_lines import lines
from jigs.footprint import Box, Footprint, footprint
from jigs.seam import Seam
from jigs.terrace import Block
from jigs.tongues import keyed, locked
from rosette.errors import CannotMakeError, finding
from rosette.geometry.outline import Point
from rosette.words import Length

if TYPE_CHECKING:
    from shapely import Polygon

MOST_LINES = 4
"""More cuts than this one way are no way to make a fixture."""
TRIES = 6
BEYOND = 10.0
"""How far a cut goes on past the part (mm)."""
SMALLEST = 150.0
"""A piece of less than this (mm²) is a splinter."""


class TooLargeError(CannotMakeError):
    """A part that no printer of the maker's size makes, even in pieces."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece to print, `number` `of` so many; `turn` degrees make it fit on the bed.

    `hull` are the corners of its plan's convex hull, in the part's coordinates (mm).
    """

    number: int
    of: int
    turn: float
    hull: tuple[Point, ...]

    @property
    def box(self) -> Box:
        """Left, low, right, high of its plan."""
        xs, ys = zip(*self.hull, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def suffix(self) -> str:
        """What its file's name ends with: "1of2", or nothing where the part is whole."""
        return f"{self.number}of{self.of}" if self.of > 1 else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A part's pieces, and the seams between them; `gap` is the clearance along each (mm)."""

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    gap: float


def pieces_for(block: Block, printer: Printer | None) -> tuple[Piece, ...]:
    """The pieces that a part is printed in; one where it fits on the bed or is not printed.

    Raises:
        TooLargeError: it can't be had in pieces that fit.
    """
    return split_for(block, printer).pieces


@lru_cache(maxsize=256)
def split_for(block: Block, printer: Printer | None) -> Split:
    """How a part is cut into pieces that go on the bed.

    Raises:
        TooLargeError: as `pieces_for`.
    """
    turn = printer.turn_for(block.outline.points()) if printer else 0.0
    if printer is None or turn is not None:
        left, low, right, high = block.outline.bounds()
        hull: tuple[Point, ...] = ((left, low), (right, low), (right, high), (left, high))
        if turn:
            hull = tuple(block.outline.points())
        whole = Piece(number=1, of=1, turn=turn or 0.0, hull=hull)
        return Split(pieces=(whole,), seams=(), gap=0.0)
    foot = footprint(block)
    layouts = (
        one
        for along in "yx"
        for count in range(MOST_LINES + 1)
        for one in _layouts(foot, printer, along, count)
    )
    for layout in sorted(layouts, key=lambda one: (one.pieces, one.cost)):
        seams = _keyed(foot, layout)
        pieces = _pieces(foot, printer, seams)
        if pieces:
            return Split(pieces=pieces, seams=seams, gap=printer.gap)
    raise _too_large(foot.box, printer)


def _too_large(box: Box, printer: Printer) -> TooLargeError:
    left, low, right, high = box
    return TooLargeError(
        [
            finding(
                "bed-too-small",
                "fixtures.bed_width",
                "a part of {width} by {depth} can't be had in pieces that lock together on a bed of"
                " {bed_width} by {bed_depth}, of which {margin} stays free along each side; print"
                " it on a larger bed or have it routed",
                width=Length(right - left, 1),
                depth=Length(high - low, 1),
                bed_width=Length(printer.width, 0),
                bed_depth=Length(printer.depth, 0),
                margin=Length(MARGIN, 0),
            )
        ]
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """Straight cuts after which every piece fits, how many pieces they leave, how they please."""

    seams: tuple[Seam, ...]
    pieces: int
    cost: float


def _layouts(foot: Footprint, printer: Printer, along: str, count: int) -> Iterator[_Layout]:
    """The part cut at `count` places one way, and each strip of it the other way as it needs."""
    low, high = _reach(foot.box, along)
    first, last = _reach(foot.box, _across(along))
    ends = (first - BEYOND, last + BEYOND) if along == "x" else (-last - BEYOND, BEYOND - first)
    for choice in islice(lines(foot, along, low, high, count), TRIES):
        seams = tuple(Seam(along=along, at=at, start=ends[0], end=ends[1]) for at in choice.places)
        cost = choice.cost
        edges = [low - BEYOND, *choice.places, high + BEYOND]
        for start, end in pairwise(edges):
            cuts = _cuts_of_strip(foot, printer, seams, along, (start, end))
            if cuts is None:
                break
            seams, cost = seams + cuts[0], cost + cuts[1]
        else:
            pieces = len(_bodies(foot, seams, printer.gap))
            yield _Layout(seams=seams, pieces=pieces, cost=cost)


def _cuts_of_strip(
    foot: Footprint,
    printer: Printer,
    seams: tuple[Seam, ...],
    along: str,
    ends: tuple[float, float],
) -> tuple[tuple[Seam, ...], float] | None:
    """The fewest cuts across the strip between two places after which its pieces fit."""
    from shapely import unary_union

    start, end = ends
    bodies = _bodies(foot, seams, printer.gap)
    strip = [one for one in bodies if start < _middle(one, along) < end]
    large = [one for one in strip if _turn(one, printer) is None]
    if not large:
        return (), 0.0
    other = _across(along)
    low, high = _reach(unary_union(large).bounds, other)
    if other == "y":
        start, end = -end, -start
    for count in range(1, MOST_LINES + 1):
        for choice in islice(lines(foot, other, low, high, count), TRIES):
            new = tuple(Seam(along=other, at=at, start=start, end=end) for at in choice.places)
            cut = _bodies(foot, new, printer.gap, large)
            if all(_turn(one, printer) is not None for one in cut):
                return new, choice.cost
    return None


def _across(along: str) -> str:
    return "x" if along == "y" else "y"


def _reach(box: Box, along: str) -> tuple[float, float]:
    """Where a box begins and ends, square to seams that run `along`."""
    left, low, right, high = box
    return (left, right) if along == "y" else (low, high)


def _middle(body: Polygon, along: str) -> float:
    point = body.representative_point()
    return point.x if along == "y" else point.y


def _keyed(foot: Footprint, layout: _Layout) -> tuple[Seam, ...]:
    """Its seams with their tongues."""
    found: tuple[Seam, ...] = ()
    for course in layout.seams:
        found += (keyed(course, foot, found, layout.seams),)
    return found


def _bodies(
    foot: Footprint, seams: Sequence[Seam], gap: float, within: Sequence[Polygon] = ()
) -> list[Polygon]:
    """What is left of the plan, or of parts of it, in one piece each, after the seams are cut."""
    from shapely import MultiPolygon, Polygon, get_parts, unary_union

    cuts = unary_union([Polygon(seam.strip(gap)) for seam in seams])
    whole = MultiPolygon(list(within)) if within else foot.solid
    return list(get_parts(whole.difference(cuts)))


def _turn(body: Polygon, printer: Printer) -> float | None:
    return printer.turn_for(_hull(body))


def _hull(body: Polygon) -> tuple[Point, ...]:
    from shapely import get_coordinates

    return tuple((float(x), float(y)) for x, y in get_coordinates(body.convex_hull))


def _pieces(foot: Footprint, printer: Printer, seams: tuple[Seam, ...]) -> tuple[Piece, ...]:
    """The pieces, numbered from left to right and from the far side to the near; or none."""
    bodies = sorted(
        _bodies(foot, seams, printer.gap), key=lambda one: (round(one.bounds[0]), -one.bounds[3])
    )
    turns = [_turn(one, printer) for one in bodies]
    if any(turn is None for turn in turns) or min(one.area for one in bodies) < SMALLEST:
        return ()
    if not all(locked(body, seams, printer.gap) for body in bodies):
        return ()
    return tuple(
        Piece(number=i, of=len(bodies), turn=turn or 0.0, hull=_hull(body))
        for i, (body, turn) in enumerate(zip(bodies, turns, strict=True), start=1)
    )
