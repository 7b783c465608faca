"""Which wedge goes where round the ring, which face shows, and how it is laid.

Head to tail, every other wedge points against the grain's direction. Turned end for end it shows
the marked face, turned over the other one. What a maker sees across a joint is best where the two
edges that meet lay close together in the wood; `flow` adds those distances up.

- ups then downs: all that point along the grain in order, then the others back (1 3 5 ... 6 4 2):
  the marked face throughout.
- as in the wood: 1 2 3 4 ..., every other one turned over: where both faces may show.
- neighbours: 1 2 3 4 ..., all sawn the same way up.
- mirrored halves: neighbours in the wood on either side of the centreline; where both faces may
  show, the left half shows the other face, so that its figure is the mirror image.

Places that the fingerboard hides get the last wedges, spares are those after them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from rosette.geometry.hidden import Visibility
from rosette.offcuts.cutplan import Arrangement, Face, Laid
from rosette.offcuts.demand import Slot, Want
from rosette.offcuts.model import Point

APART = 1000.0
"""mm: what two edges out of different pieces of wood count as being apart."""

Faces = Literal["one", "both"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """A wedge as it lies in the wood: which piece, its way up, the middles of its two sides.

    `left` and `right` as seen along the grain, marked face up.
    """

    piece: object
    flipped: bool
    left: Point
    right: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a wedge goes: a slot of the ring, or None for a spare; and how it gets there."""

    slot: Slot | None
    face: Face
    laid: Laid


_LAID: dict[tuple[bool, Face], Laid] = {
    (False, "marked"): "as it lies",
    (True, "marked"): "end for end",
    (False, "other"): "turned over sideways",
    (True, "other"): "turned over",
}


def laid(flipped: bool, face: Face) -> Laid:
    """How a wedge is turned from the wood into the ring, wide end outward, to show `face`."""
    return _LAID[flipped, face]


def arrangement_for(*, keep_neighbours: bool, mirrored: bool, faces: Faces) -> Arrangement:
    """The arrangement that the options ask for."""
    if mirrored:
        return "mirrored halves"
    if keep_neighbours:
        return "neighbours"
    return "as in the wood" if faces == "both" else "ups then downs"


def followed(arrangement: Arrangement, want: Want, faces: Faces) -> Arrangement:
    """The order that one kind of wedge follows: halves that can't mirror each other run on."""
    if arrangement != "mirrored halves" or mirrors_itself(want):
        return arrangement
    return "as in the wood" if faces == "both" else "ups then downs"


def arrange(
    lying: Sequence[Lying], want: Want, *, arrangement: Arrangement, faces: Faces
) -> tuple[Place, ...]:
    """The place of every wedge, in the order of `lying`, which is the order in the wood.

    Wedges fill the seen places first, then the hidden ones; what is left over are spares.
    """
    arrangement = followed(arrangement, want, faces)
    seen = [slot for slot in want.slots if slot.visibility is not Visibility.HIDDEN]
    hidden = _from_gap([slot for slot in want.slots if slot.visibility is Visibility.HIDDEN], want)
    places: list[Place | None] = [None] * len(lying)
    start = 0
    for slots in (seen, hidden):
        some = range(start, min(start + len(slots), len(lying)))
        for at, place in _filled(lying, some, slots, want, arrangement=arrangement, faces=faces):
            places[at] = place
        start += len(slots)
    return tuple(
        place or Place(slot=None, face="marked", laid=laid(one.flipped, "marked"))
        for one, place in zip(lying, places, strict=True)
    )


def mirrors_itself(want: Want) -> bool:
    """Whether every place of this wood has its mirror image among the places of the same wood."""
    positions = {slot.position for slot in want.slots}
    return all(mirror(position, want) in positions for position in positions)


def mirror(position: int, want: Want) -> int:
    """The position on the other side of the centreline.

    With a joint at 12 o'clock position 1 faces the last one; with a wedge there, itself.
    """
    if want.at_centreline == "joint":
        return want.segments + 1 - position
    return (want.segments + 1 - position) % want.segments + 1


def _from_gap(slots: Sequence[Slot], want: Want) -> list[Slot]:
    """Slots clockwise, starting after the widest gap: the hidden ones run through 12 o'clock."""
    if not slots:
        return []
    gaps = [
        (slot.position - slots[at - 1].position - 1) % want.segments
        for at, slot in enumerate(slots)
    ]
    start = max(range(len(slots)), key=lambda at: gaps[at])
    return [*slots[start:], *slots[:start]]


def _filled(
    lying: Sequence[Lying],
    some: Sequence[int],
    slots: Sequence[Slot],
    want: Want,
    *,
    arrangement: Arrangement,
    faces: Faces,
) -> list[tuple[int, Place]]:
    if arrangement == "mirrored halves":
        return _mirrored(lying, some, slots, want, faces)
    if arrangement in ("neighbours", "as in the wood"):
        order = list(some)
    else:
        order = ups_then_downs(lying, some)
    shown: Sequence[Face] = ["marked"] * len(order)
    if faces == "both":
        shown = best_faces([lying[at] for at in order], closed=len(order) == want.segments)
    return [
        (at, Place(slot=slot, face=face, laid=laid(lying[at].flipped, face)))
        for at, slot, face in zip(order, slots, shown, strict=False)
    ]


def ups_then_downs(lying: Sequence[Lying], some: Sequence[int]) -> list[int]:
    """All that point along the grain in order, then the others back."""
    ups = [at for at in some if not lying[at].flipped]
    downs = [at for at in some if lying[at].flipped]
    return ups + downs[::-1]


def _mirrored(
    lying: Sequence[Lying], some: Sequence[int], slots: Sequence[Slot], want: Want, faces: Faces
) -> list[tuple[int, Place]]:
    """Pairs of wedges to pairs of places; a place that is its own mirror takes a single one."""
    pool = list(some)
    found: list[tuple[int, Place]] = []
    by_position = {slot.position: slot for slot in slots}
    order = sorted(by_position, key=lambda position: min(position, mirror(position, want)))
    done = set[int]()
    for position in order:
        other = mirror(position, want)
        if position in done or not pool:
            continue
        done |= {position, other}
        if other == position or other not in by_position or len(pool) == 1:
            at = pool.pop(0)
            found.append((at, _place(lying[at], by_position[position], "marked")))
            continue
        right = pool.pop(0)
        left = pool.pop(_partner(lying, right, pool, faces))
        face: Face = "other" if faces == "both" else "marked"
        found += [
            (right, _place(lying[right], by_position[min(position, other)], "marked")),
            (left, _place(lying[left], by_position[max(position, other)], face)),
        ]
    return found


def _partner(lying: Sequence[Lying], right: int, pool: Sequence[int], faces: Faces) -> int:
    """The next in the wood; where the other face is to mirror it, the next the same way up."""
    if faces == "both":
        for place, at in enumerate(pool):
            if lying[at].flipped == lying[right].flipped and lying[at].piece == lying[right].piece:
                return place
    return 0


def _place(one: Lying, slot: Slot, face: Face) -> Place:
    return Place(slot=slot, face=face, laid=laid(one.flipped, face))


def edges_shown(one: Lying, face: Face) -> tuple[Point, Point]:
    """The sides that lie anticlockwise and clockwise in the ring, seen on the show face.

    Wide end outward at 12 o'clock, anticlockwise is left. Turned end for end, or over about its
    own axis, a wedge's sides change places; turned over about a line across it they stay.
    """
    swapped = laid(one.flipped, face) in ("end for end", "turned over sideways")
    return (one.right, one.left) if swapped else (one.left, one.right)


def apart(a: Lying, face_a: Face, b: Lying, face_b: Face) -> float:
    """How far the edges that meet lay apart in the wood (mm), b clockwise of a."""
    if a.piece != b.piece:
        return APART
    return math.dist(edges_shown(a, face_a)[1], edges_shown(b, face_b)[0])


def flow(order: Sequence[Lying], shown: Sequence[Face], *, closed: bool) -> float:
    """All the distances round the ring together, clockwise; `closed` counts the seam."""
    pairs = list(pairwise(zip(order, shown, strict=True)))
    if closed and len(order) > 1:
        pairs.append(((order[-1], shown[-1]), (order[0], shown[0])))
    return sum(apart(a, face_a, b, face_b) for (a, face_a), (b, face_b) in pairs)


def best_faces(order: Sequence[Lying], *, closed: bool) -> list[Face]:
    """Which face each wedge shows, so that `flow` is least for this order: exact.

    A dynamic programme along the ring with two states a wedge, run for either first face where
    the ring closes. Among equals the marked face goes first.
    """
    if not order:
        return []
    both: tuple[Face, Face] = ("marked", "other")
    ways = [_along(order, first, closed=closed) for first in both]
    return min(ways, key=lambda way: way[0])[1]


def _along(order: Sequence[Lying], first: Face, *, closed: bool) -> tuple[float, list[Face]]:
    both: tuple[Face, Face] = ("marked", "other")
    best: dict[Face, tuple[float, list[Face]]] = {first: (0.0, [first])}
    for a, b in pairwise(order):
        best = {
            face: min(
                (
                    (cost + apart(a, before, b, face), [*way, face])
                    for before, (cost, way) in best.items()
                ),
                key=lambda found: found[0],
            )
            for face in both
        }
    if closed and len(order) > 1:
        best = {
            face: (cost + apart(order[-1], face, order[0], first), way)
            for face, (cost, way) in best.items()
        }
    return min(best.values(), key=lambda found: found[0])
