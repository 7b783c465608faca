"""Where the wedges' numbers, wood letters and grain arrows go, so that they can be read.

In wide wedges they stand upright; in narrow ones they run along the radius; where the
wedges hold no number of a readable size they stand outside the ring, led to their wedge, and
where even that is too close, every fifth or tenth does, with a tick for each wedge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosette.geometry.outline import Point, at_angle
from rosette.geometry.wedge import width_at
from rosette.lettering import text_width
from rosette.patterns.base import Piece, RingPlan, Wedges
from rosette.sheets.block import PAGE_WIDTH
from rosette.sheets.drawing import HAIR, THIN, Element, Text
from rosette.sheets.marks import SMALLEST, arrow, centred, segment, upright

HEIGHTS = (3.4, 3.0, 2.6, 2.2, 2.0, SMALLEST)
"""Capital heights tried, the largest first."""
SIDE = 0.45
"""Clear space in mm between a number and the sides of its wedge."""
AIR = 0.8
"""Clear space in mm between a number, a letter and an arrow along the wedge."""
LONGEST_ARROW = 7.0
PITCH = 1.25
"""Distance between the lines of numbers that stand side by side, in capitals."""
FANNED_OUT = 10.0
"""How much further out numbers may stand so that each wedge has its own."""
MOST_REACH = PAGE_WIDTH / 2.0 - 18.0
"""How far out numbers may begin for a sheet that still goes on one page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """What marks the wedges, and the radius in mm that it all stays within.

    `every` is 1 where each wedge has its number, else 5, 10 …; `outside` holds the directions in
    degrees of the numbers that stand outside the ring.
    """

    elements: tuple[Element, ...]
    reach: float
    every: int = 1
    outside: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """The wedge's inside, along the radius from `low` to `high` mm."""

    ring: RingPlan
    wedges: Wedges
    letters: Mapping[str, str]

    @property
    def low(self) -> float:
        return self.ring.inner_radius + 0.6

    @property
    def high(self) -> float:
        return self.ring.outer_radius - 0.7

    def half(self, radius: float) -> float:
        """Half the wedge's width at a radius, less the space at its side."""
        return width_at(radius, segments=self.wedges.segments, joint=self.wedges.joint) / 2.0 - SIDE

    def words(self, piece: Piece) -> str:
        letter = self.letters.get(piece.wood, "")
        return f"{piece.position} {letter}".rstrip()


def numbers(ring: RingPlan, wedges: Wedges, letters: Mapping[str, str]) -> Numbers:
    """Number, wood letter and grain arrow of every wedge; no `letters`, none drawn."""
    room = _Room(ring=ring, wedges=wedges, letters=letters)
    pieces = ring.pieces
    for height, arrow_length in [*((h, 4.0) for h in HEIGHTS[:4]), *((h, 2.0) for h in HEIGHTS)]:
        elements = _upright(room, pieces, height, arrow_length)
        if elements is not None:
            return _inside(elements, wedges)
    for height in HEIGHTS:
        elements = _along(room, pieces, height)
        if elements is not None:
            return _inside(elements, wedges)
    return _outside(room, pieces)


def _inside(elements: list[Element], wedges: Wedges) -> Numbers:
    reach = wedges.glue_up.across_corners / 2.0
    return Numbers(elements=tuple(elements), reach=reach)


def _upright(
    room: _Room, pieces: Sequence[Piece], height: float, arrow_length: float
) -> list[Element] | None:
    """Upright numbers near the rim, letters below them, arrows in what is left; or None."""
    numbers = [_box(str(p.position), height, p) for p in pieces]
    at = room.high - max(along for along, _ in numbers)
    foot = at - max(along for along, _ in numbers)
    if any(across > room.half(at - along) for along, across in numbers):
        return None
    small = max(SMALLEST, 0.8 * height)
    at_letter = foot
    if room.letters:
        boxes = [_box(room.letters[p.wood], small, p) for p in pieces]
        at_letter = foot - AIR - max(along for along, _ in boxes)
        foot = at_letter - max(along for along, _ in boxes)
        if any(across > room.half(at_letter - along) for along, across in boxes):
            return None
    if foot - AIR - room.low < arrow_length:
        return None
    elements: list[Element] = []
    for piece in pieces:
        axis = _axis(piece)
        elements.append(_number(str(piece.position), at_angle(at, axis), height))
        if room.letters:
            elements.append(
                centred(room.letters[piece.wood], at_angle(at_letter, axis), height=small)
            )
    elements.extend(_arrows(pieces, room.low, foot - AIR, room))
    return elements


def _box(words: str, height: float, piece: Piece) -> tuple[float, float]:
    """Half of what upright words take along and across a wedge's axis."""
    c, s = (abs(v) for v in at_angle(1.0, _axis(piece)))
    wide = text_width(words, height, True)
    return (wide * c + height * s) / 2.0, (wide * s + height * c) / 2.0


def _along(room: _Room, pieces: Sequence[Piece], height: float) -> list[Element] | None:
    """Numbers that run along the radius, arrows inside of them; or None."""
    longest = max(text_width(room.words(p), height, True) for p in pieces)
    foot = room.high - longest
    if foot - AIR - room.low < 1.2 or height / 2.0 > room.half(foot):
        return None
    elements: list[Element] = [
        _number(
            room.words(p),
            at_angle(room.high - longest / 2.0, _axis(p)),
            height,
            turn=upright(_axis(p)),
        )
        for p in pieces
    ]
    elements.extend(_arrows(pieces, room.low, foot - AIR, room))
    return elements


def _outside(room: _Room, pieces: Sequence[Piece]) -> Numbers:
    """Numbers round the ring, led to their wedges; only arrows inside."""
    start = room.wedges.glue_up.across_corners / 2.0 + 2.5
    fanned = len(pieces) * SMALLEST * PITCH / (2.0 * math.pi) + 0.01
    if start < fanned <= min(start + FANNED_OUT, MOST_REACH):
        start = fanned
    pitch = 2.0 * math.pi * start / len(pieces)
    height = max((h for h in HEIGHTS[2:] if h * PITCH <= pitch), default=SMALLEST)
    every = next(
        step for step in (1, 5, 10, 20, 50, 100) if step * pitch >= height * PITCH or step == 100
    )
    shown = [p for p in pieces if _is_shown(p.position, every, len(pieces))]
    longest = max(text_width(room.words(p), height, True) for p in shown)
    middle = start + 0.8 + longest / 2.0
    elements: list[Element] = _arrows(
        pieces, room.ring.inner_radius + 0.15, room.ring.outer_radius - 0.15, room
    )
    for piece in pieces:
        axis = _axis(piece)
        shows = piece in shown
        tail = room.ring.outer_radius + 0.3 if shows else start - 1.2
        elements.append(segment(at_angle(tail, axis), at_angle(start, axis), weight=HAIR))
        if shows:
            elements.append(
                _number(room.words(piece), at_angle(middle, axis), height, turn=upright(axis))
            )
    return Numbers(
        elements=tuple(elements),
        reach=middle + longest / 2.0,
        every=every,
        outside=tuple(_axis(piece) for piece in shown),
    )


def _is_shown(position: int, every: int, count: int) -> bool:
    """Every fifth or so, but none so near the seam or the joint across that its line strikes it."""
    if every == 1:
        return True
    off = min(abs(position - 0.5 - joint) for joint in (0.0, count / 2.0, count))
    return position % every == 0 and off > every / 2.0


def _number(words: str, at: Point, height: float, *, turn: float = 0.0) -> Text:
    return centred(words, at, height=height, turn=turn, layer="engrave", bold=True)


def _arrows(pieces: Sequence[Piece], low: float, high: float, room: _Room) -> list[Element]:
    """An arrow outward along each wedge's grain, in the middle of the room left for it."""
    length = min(LONGEST_ARROW, high - low)
    start = (low + high - length) / 2.0
    widest = 2.0 * (room.half(start) + SIDE)
    head = min(2.0, 0.6 * length, 1.6 * widest)
    return list(_each_arrow(pieces, start, start + length, head))


def _each_arrow(pieces: Sequence[Piece], low: float, high: float, head: float) -> Iterator[Element]:
    for piece in pieces:
        axis = _axis(piece)
        yield from arrow(
            at_angle(low, axis),
            at_angle(high, axis),
            layer="grain",
            head=head,
            weight=THIN if head > 0.8 else HAIR,
        )


def _axis(piece: Piece) -> float:
    """The direction of a wedge's grain; a wedge always has one."""
    if piece.axis is None:
        raise ValueError(f"wedge {piece.label} has no axis")
    return piece.axis
