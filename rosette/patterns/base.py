"""What every ring pattern is given and what it gives back."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from rosette.errors import Finding
from rosette.geometry.hidden import HiddenStrip, Visibility
from rosette.geometry.outline import Outline, polygon
from rosette.keys import RingKeys
from rosette.words import Saying


@dataclass(frozen=True, slots=True, kw_only=True)
class RingSite:
    """Where a ring goes and how it is cut: all that a pattern may know beside its own keys.

    Lengths in mm. `hidden` is None where the design has no fingerboard.
    """

    index: int
    inner_radius: float
    outer_radius: float
    kerf: float
    inner_allowance: float
    outer_allowance: float
    hidden: HiddenStrip | None = None

    @property
    def where(self) -> str:
        """The key path of this ring, as findings name it."""
        return f"ring[{self.index}]"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One finished piece, in ring coordinates.

    `position` counts clockwise from the seam; `axis` is the direction in degrees in
    which its grain runs outward (None where the grain follows the ring). `kind` is
    "wedge", "spacer" or "line".
    """

    label: str
    position: int
    wood: str
    kind: str
    outline: Outline
    holes: tuple[Outline, ...] = ()
    axis: float | None = None
    visibility: Visibility = Visibility.SEEN


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A wedge as it comes off the saw: an isosceles trapezoid, grain along its axis (mm).

    `inner_distance` and `outer_distance` are measured from the ring's centre along the axis.
    """

    inner_width: float
    outer_width: float
    height: float
    inner_distance: float
    outer_distance: float

    def outline(self) -> Outline:
        """Its corners, axis along +x: inner left, inner right, outer right, outer left."""
        a, b = self.inner_width / 2.0, self.outer_width / 2.0
        xi, xo = self.inner_distance, self.outer_distance
        return polygon([(xi, a), (xi, -a), (xo, -b), (xo, b)])


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishedWedge:
    """A wedge in the finished ring: arcs, chords (mm) and its area (mm², arcs as arcs)."""

    inner_arc: float
    outer_arc: float
    inner_chord: float
    outer_chord: float
    area: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueUp:
    """The wedges head to tail in a strip, and the untrimmed ring they glue up to (mm)."""

    strip_length: float
    strip_width: float
    across_flats: float
    across_corners: float


def spares_for(count: int) -> int:
    """How many more to cut: a tenth, rounded up, and two at the least (common practice: 10-15 %).

    >>> spares_for(12), spares_for(24), spares_for(36), spares_for(0)
    (2, 3, 4, 0)
    """
    return max(2, math.ceil(count / 10)) if count else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodCount:
    """How many wedges of one wood, how many of them show, and the strip they come from (mm).

    `spares` are to be cut beside them; `strip_length` is without, `strip_with_spares` with them.
    Where two strips are cut as one, these are the length of each.
    """

    wood: str
    count: int
    visible: int
    spares: int
    strip_length: float
    strip_with_spares: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """How saw errors add up round the ring (docs/formulas.md, "Closing the ring").

    `ring_error` degrees and `gap` mm at the outer radius for every cut face off by
    `face_error` degrees; `face_error_for_gap` is what the faces must hold to close within
    `wanted_gap`. `squash` is how far out of round each half degree short of a half ring
    pulls it, `half_tolerance` the shortfall in degrees of a half set that the trim
    allowance still covers.
    """

    face_error: float
    ring_error: float
    gap: float
    wanted_gap: float
    face_error_for_gap: float
    squash: float
    half_tolerance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """The joint where the ring closes: degrees from 12 o'clock, and whether it is all hidden."""

    angle: float
    hidden: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Wedges:
    """What a ring of wedges adds to a ring: counts, the saw's angles, the blank, the glue-up.

    `joint` is the width of each joint in mm (spacer and glue line), `chosen` the sentence
    that says how the count was chosen, where the tool chose it. `leaves` is how many strips lie
    face to face and are cut as one: two where neighbours mirror each other.
    """

    segments: int
    visible_segments: int
    included_angle: float
    mitre_angle: float
    joint: float
    spacer_wood: str | None
    spacer_thickness: float
    glue_line: float
    at_centreline: str
    woods: tuple[WoodCount, ...]
    blank: Blank
    finished: FinishedWedge
    glue_up: GlueUp
    closing: Closing
    seam: Seam
    kerf: float
    inner_allowance: float
    outer_allowance: float
    chosen: Saying | None = None
    leaves: int = 1

    @property
    def half_set(self) -> int:
        """Wedges in half the ring (the smaller half where the count is odd)."""
        return self.segments // 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What a line adds to a ring: the lengths of the strip it is bent from (mm).

    `full_length` goes once round at the outer radius with `overlap` to trim; `visible_length`
    is what shows beside the fingerboard; `cut_length` is what to cut: the visible part and
    `overlap` at each end under the board, or the full length where no board hides the ends.
    """

    full_length: float
    visible_length: float
    cut_length: float
    overlap: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Wood to prepare: `count` pieces alike and `spares` more, in mm as they are got ready.

    `name` is what they are called in the steps ("ply", "bar", "wedge"). `length` runs along the
    grain. All kerfs, grips and trimming of the later steps are in these sizes.
    """

    name: str
    wood: str
    count: int
    length: float
    width: float
    thickness: float
    spares: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One stage of the making, in order: a glue-up or a cut, with its sizes and what it looks like.

    `sizes` are (what, mm) as they are when the stage is done. `shapes` are drawn in the stage's
    own coordinates (mm, y up, seen on the face that will show or on the end that is sliced);
    each has its wood, and its grain's direction as `axis`.
    """

    title: str
    saying: Saying
    sizes: tuple[tuple[str, float], ...] = ()
    shapes: tuple[Piece, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place in a ring that wants a blank of its own."""

    label: str
    position: int
    visibility: Visibility = Visibility.SEEN


@dataclass(frozen=True, slots=True, kw_only=True)
class CutBlank:
    """One kind of blank to be cut from solid wood, so that it can come out of offcuts (mm).

    A trapezoid between two parallel ends `height` apart, `inner_width` and `outer_width` wide; a
    rectangle where they are equal. Its grain runs `grain` degrees counter-clockwise from square
    to the ends. `lean` moves the outer end along itself, so that the saw's two angles off square
    become atan(lean + t) and atan(lean - t) with t half the difference of the widths over the
    height: `lean` is the tangent of the angle between the line through the middles of both ends
    and square to them, positive to the left as seen from the inner end.
    """

    name: str
    wood: str
    inner_width: float
    outer_width: float
    height: float
    thickness: float
    places: tuple[Place, ...]
    grain: float = 0.0
    lean: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RingPlan:
    """A ring worked out: its pieces, what to prepare and the steps in order (mm, degrees).

    `spacers` are the veneers that stand in the joints between the pieces.

    `stock` is all the wood to prepare, `stages` the making stage by stage, `blanks` what of it
    offcuts can give, each kind by itself. A ring of wedges that are all alike needs no `blanks`:
    its `wedges` say it all. Where a ring has both, its blanks are what offcuts give.

    `tiles` are what is laid and glued as one where each is made of many `pieces`.

    `across_grain` lists (wood, mm of it along the outer circumference) where the grain runs
    outward, so that the ring's movement can be told; empty where the grain follows the ring.
    """

    index: int
    pattern: str
    inner_radius: float
    outer_radius: float
    woods: tuple[str, ...]
    tile_thickness: float
    backing: float
    pieces: tuple[Piece, ...]
    steps: tuple[Saying, ...]
    spacers: tuple[Piece, ...] = ()
    warnings: tuple[Finding, ...] = ()
    wedges: Wedges | None = None
    strip: Strip | None = None
    across_grain: tuple[tuple[str, float], ...] = ()
    sawn: str = "quartersawn"
    stock: tuple[Stock, ...] = ()
    stages: tuple[Stage, ...] = ()
    blanks: tuple[CutBlank, ...] = ()
    tiles: tuple[Piece, ...] = ()

    @property
    def width(self) -> float:
        """Outer less inner radius."""
        return self.outer_radius - self.inner_radius

    @property
    def spacer_woods(self) -> tuple[str, ...]:
        """The woods of the veneers in its joints."""
        return tuple(dict.fromkeys(spacer.wood for spacer in self.spacers))


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """A kind of ring: the keys it reads and the function that works it out.

    `plan` raises `CannotMakeError` where the ring can't be made, with what would work.
    `example` are keys of a ring from 50 to 68 mm that shows it well, as they stand in a file.
    """

    name: str
    summary: str
    keys: type[RingKeys]
    plan: Callable[[RingKeys, RingSite], RingPlan]
    example: Mapping[str, object] = field(default_factory=dict)
