"""What a plan asks of the box: for each ring and wood the blank, how many, and for which places."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from rosette.geometry.hidden import Visibility
from rosette.offcuts.model import WedgeSize
from rosette.patterns.base import CutBlank, RingPlan, Wedges, spares_for
from rosette.plan.model import Plan
from rosette.wood.species import species

SAME_THICKNESS = 1e-6
"""mm: an offcut this much thinner than a ring's wood still counts as thick enough."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One place of a ring that wants a wedge."""

    label: str
    position: int
    visibility: Visibility


@dataclass(frozen=True, slots=True, kw_only=True)
class Want:
    """One kind of wedge: a ring's, of one wood.

    `thickness` is what the ring's wood is planed to, `mitre` the saw's angle off square in
    degrees, `segments` the count of the whole ring. `name` is what the steps call it. `slots`
    are its places, clockwise.
    """

    ring: int
    wood: str
    size: WedgeSize
    mitre: float
    thickness: float
    segments: int
    at_centreline: str
    name: str = "wedge"
    slots: tuple[Slot, ...]
    spares: int

    @property
    def needed(self) -> int:
        """Wedges of the ring."""
        return len(self.slots)

    @property
    def count(self) -> int:
        """Wedges of the ring and spares."""
        return self.needed + self.spares

    def suits(self, wood: str) -> bool:
        """Whether it may be cut from a wood of this name."""
        return wood_key(wood) == wood_key(self.wood)

    def thick_enough(self, thickness: float) -> bool:
        """Whether wood of this thickness (mm) can be planed to the ring's."""
        return thickness >= self.thickness - SAME_THICKNESS


def wood_key(name: str) -> str:
    """What two names of one wood have in common.

    >>> wood_key("Walnut ") == wood_key("black  walnut"), wood_key("bog oak")
    (True, 'bog oak')
    """
    known = species(name)
    return known.name if known else " ".join(name.lower().split())


def wants(
    plan: Plan, *, spares: int | Literal["usual"] = 0, skip_hidden: bool = False
) -> tuple[Want, ...]:
    """Every kind of wedge that the plan asks for, ring by ring.

    `spares` beside each kind; "usual" for what the plan itself advises. `skip_hidden` leaves
    out the wedges that the fingerboard hides wholly.
    """
    found = []
    for ring in plan.rings:
        if ring.blanks:
            found += [
                _want_of(ring, one, spares, skip_hidden) for one in ring.blanks if not one.lean
            ]
        elif ring.wedges is not None:
            found += [
                _want(ring, ring.wedges, one.wood, spares, skip_hidden) for one in ring.wedges.woods
            ]
    return tuple(one for one in found if one.slots)


def _want(
    ring: RingPlan, wedges: Wedges, wood: str, spares: int | Literal["usual"], skip_hidden: bool
) -> Want:
    slots = tuple(
        Slot(label=piece.label, position=piece.position, visibility=piece.visibility)
        for piece in ring.pieces
        if piece.wood == wood and not (skip_hidden and piece.visibility is Visibility.HIDDEN)
    )
    return Want(
        ring=ring.index,
        wood=wood,
        size=WedgeSize.of(wedges.blank),
        mitre=wedges.mitre_angle,
        thickness=ring.tile_thickness,
        segments=wedges.segments,
        at_centreline=wedges.at_centreline,
        slots=slots,
        spares=spares_for(len(slots)) if spares == "usual" else spares,
    )


def _want_of(
    ring: RingPlan, blank: CutBlank, spares: int | Literal["usual"], skip_hidden: bool
) -> Want:
    """What a pattern's own kind of blank asks for."""
    slots = tuple(
        Slot(label=place.label, position=place.position, visibility=place.visibility)
        for place in blank.places
        if not (skip_hidden and place.visibility is Visibility.HIDDEN)
    )
    size = WedgeSize(
        inner_width=min(blank.inner_width, blank.outer_width),
        outer_width=max(blank.inner_width, blank.outer_width),
        height=blank.height,
        grain=blank.grain,
    )
    return Want(
        ring=ring.index,
        wood=blank.wood,
        size=size,
        mitre=size.mitre,
        thickness=blank.thickness,
        segments=max(place.position for one in ring.blanks for place in one.places),
        at_centreline=ring.wedges.at_centreline if ring.wedges else "joint",
        name=blank.name,
        slots=slots,
        spares=spares_for(len(slots)) if spares == "usual" else spares,
    )


def leaning(plan: Plan) -> tuple[tuple[int, CutBlank], ...]:
    """The blanks, each with its ring, that are cut by hand: their two sides lean unequally."""
    return tuple((ring.index, one) for ring in plan.rings for one in ring.blanks if one.lean)


def with_spares(want: Want, spares: int) -> Want:
    """The same with another number of spares."""
    return replace(want, spares=spares)
