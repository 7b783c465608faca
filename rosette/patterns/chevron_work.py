"""What a chevron ring is cut from: a laminate and its billets, or a board and its strips (mm)."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

from rosette.errors import CannotMakeError, finding
from rosette.geometry import wedge
from rosette.geometry.outline import at_angle
from rosette.patterns.base import Blank, RingSite, Stock, spares_for
from rosette.patterns.chevron_keys import ChevronKeys
from rosette.patterns.chevron_stripes import Lie, Stripe, stripes
from rosette.patterns.radial_pairs import GRIP
from rosette.words import Length

SANDED = 0.3
"""What sanding takes off a sliced leaf, both faces together, in mm (common practice)."""
EDGE = 0.5
"""Laminate beyond the wedge on either side, in mm, so that no wedge ends at its very edge."""
A_STRIP = 6
"""Wedges of solid wood out of one strip, so that a board as wide as scraps are will do."""


def lie_of(position: int, middle: float, keys: ChevronKeys, site: RingSite) -> Lie:
    """How the stripes of a wedge lie whose middle points in the direction `middle` (degrees)."""
    turned = position % 2 == 0
    return Lie(
        through=at_angle((site.inner_radius + site.outer_radius) / 2.0, middle),
        direction=middle + (keys.angle if turned else -keys.angle),
        turned=turned,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Laminate:
    """A laminate for a chevron: its plies, cut across in billets, each sliced into leaves.

    `plies` in order across it; `height` is the plies' width, `length` theirs along the grain;
    `leaves` are sliced off each of `billets`, `leaf` thick each; its stripes lean by `angle`.
    """

    plies: tuple[Stripe, ...]
    angle: float
    blank_height: float
    kerf: float
    grip: float
    leaf: float
    leaves: int
    billets: int

    @property
    def lean(self) -> float:
        """Degrees off square of the cuts across it."""
        return abs(self.angle)

    @property
    def width(self) -> float:
        """Across all plies."""
        return self.plies[-1].high - self.plies[0].low

    @property
    def height(self) -> float:
        """A cut for every leaf, and the grip."""
        return self.leaves * (self.leaf + self.kerf) + self.grip

    @property
    def pitch(self) -> float:
        """From billet to billet along the plies: the cuts stand `lean` degrees off square."""
        return (self.blank_height + self.kerf) / math.cos(math.radians(self.lean))

    @property
    def length(self) -> float:
        """The slant of the first cut, the billets, a cut beside each and one more, the grip."""
        slant = self.width * math.tan(math.radians(self.lean))
        last = self.kerf / math.cos(math.radians(self.lean))
        return slant + self.billets * self.pitch + last + self.grip


def laminate_for(
    segments: int, blank: Blank, lie: Lie, keys: ChevronKeys, site: RingSite
) -> Laminate:
    """The laminate that gives every wedge and the spares.

    Raises:
        CannotMakeError: where `block_height` holds no wedge.
    """
    low, high = lie.offsets(blank.outline().points())
    leaf, wanted = keys.tile_thickness + SANDED, segments + spares_for(segments)
    most = math.floor((keys.block_height - keys.grip) / (leaf + site.kerf) + 1e-9)
    if most < 1:
        raise CannotMakeError(
            [
                finding(
                    "low-block",
                    f"{site.where}.block_height",
                    "a laminate {height} high gives no wedge: one takes {leaf} and a cut, and"
                    " {grip} stay in the clamp; at least {least} would do",
                    height=Length(keys.block_height),
                    leaf=Length(leaf),
                    grip=Length(keys.grip),
                    least=Length(leaf + site.kerf + keys.grip),
                )
            ]
        )
    billets = math.ceil(wanted / most)
    return Laminate(
        plies=stripes(keys.plies or (), low - EDGE, high + EDGE),
        angle=keys.angle,
        blank_height=blank.height,
        kerf=site.kerf,
        grip=keys.grip,
        leaf=leaf,
        leaves=math.ceil(wanted / billets),
        billets=billets,
    )


def laminate_stock(laminate: Laminate) -> tuple[Stock, ...]:
    """Its plies, each kind by itself."""
    kinds = Counter((ply.wood, round(ply.thickness, 9)) for ply in laminate.plies)
    return tuple(
        Stock(
            name="ply",
            wood=wood,
            count=count,
            length=laminate.length,
            width=laminate.height,
            thickness=thickness,
        )
        for (wood, thickness), count in kinds.items()
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A board for a chevron of solid wood: strips cut off it slantwise, each for a few wedges.

    `length` along the grain, `width` across it; each of `strips` is `strip_width` wide and
    `strip_length` long, cut `lean` degrees off square to the board's edge.
    """

    length: float
    width: float
    strips: int
    strip_width: float
    strip_length: float


def board_for(segments: int, blank: Blank, keys: ChevronKeys, site: RingSite) -> Board:
    """The board that gives every wedge and the spares."""
    lean, mitre = math.radians(abs(keys.angle)), wedge.mitre_angle(segments)
    wanted = segments + spares_for(segments)
    each = min(A_STRIP, wanted)
    strips = math.ceil(wanted / each)
    long = wedge.strip_length(
        each,
        inner_width=blank.inner_width,
        outer_width=blank.outer_width,
        kerf=site.kerf,
        mitre=mitre,
    ) + 2.0 * site.kerf / math.cos(math.radians(mitre))
    width = long * math.cos(lean) + blank.height * math.sin(lean)
    cuts = (strips * (blank.height + site.kerf) + site.kerf) / math.cos(lean)
    return Board(
        length=cuts + width * math.tan(lean) + GRIP,
        width=width,
        strips=strips,
        strip_width=blank.height,
        strip_length=long,
    )


def board_stock(board: Board, keys: ChevronKeys) -> tuple[Stock, ...]:
    """The board itself."""
    return (
        Stock(
            name="board",
            wood=keys.wood or "",
            count=1,
            length=board.length,
            width=board.width,
            thickness=keys.tile_thickness,
        ),
    )
