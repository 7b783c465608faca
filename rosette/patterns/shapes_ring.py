"""Where the shapes stand round the ring, which are left out, and the ground's pieces between."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry import wedge
from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import Outline
from rosette.patterns.arcs_form import rough_arc
from rosette.patterns.base import Piece, RingSite
from rosette.patterns.shapes_form import Inlay
from rosette.patterns.shapes_keys import MOST_SHAPES, ShapesKeys
from rosette.patterns.sides import Sides, shared_out, usual_parts
from rosette.words import Length

LEAST_EDGE, LEAST_BETWEEN = 0.3, 0.5
"""Wood left (mm) between pocket and ring's edge, between two pockets, at the least."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """The shapes' places round the ring, from 1 clockwise; `seam` is the first ground joint.

    `middle` and `seam` are degrees; `carried` is how many places each ground piece has.
    """

    inlay: Inlay
    count: int
    centre_radius: float
    turn: float
    seam: float
    carried: tuple[int, ...]

    @property
    def pitch(self) -> float:
        """Degrees from place to place."""
        return 360.0 / self.count

    def middle(self, place: int) -> float:
        """The direction in degrees of a place, from 1."""
        return self.seam - (place - 0.5) * self.pitch

    def placed(self, outline: Outline, place: int) -> Outline:
        """A shape's outline or its pocket's in its place."""
        angle = math.radians(self.middle(place))
        centre = self.centre_radius * math.cos(angle), self.centre_radius * math.sin(angle)
        return outline.mapped(angle - math.pi / 2.0 - math.radians(self.turn), centre)


def round_of(inlay: Inlay, keys: ShapesKeys, site: RingSite) -> Round:
    """Where the shapes stand.

    Raises:
        CannotMakeError: where they leave the ring or meet, with what would do.
    """
    centre = keys.centre_radius or (site.inner_radius + site.outer_radius) / 2.0
    reach = Reach.of(inlay, centre, keys.turn)
    reasons = [*_leaving(reach, centre, site)]
    most = reach.most()
    count = keys.count or max(3, round(2.0 * math.pi * centre / (keys.spacing or 1.0)))
    if not reasons and count > most:
        reasons.append(_crowded(count, most, centre, keys, site))
    if reasons:
        raise CannotMakeError(reasons)
    pitch = 360.0 / count
    return Round(
        inlay=inlay,
        count=count,
        centre_radius=centre,
        turn=keys.turn,
        seam=90.0 + (pitch / 2.0 if keys.at_centreline == "shape" else 0.0),
        carried=shared_out(count, keys.segments or usual_parts(count)),
    )


@dataclass(frozen=True)
class Reach:
    """The points of a pocket in its place, as radius (mm) and angle off the middle (rad)."""

    points: tuple[tuple[float, float], ...]

    @staticmethod
    def of(inlay: Inlay, centre: float, turn: float) -> Reach:
        """The pocket's own."""
        upright = inlay.pocket.mapped(-math.radians(turn), (0.0, centre))
        return Reach(
            tuple((math.hypot(x, y), abs(math.atan2(x, y))) for x, y in upright.points(0.002))
        )

    @cached_property
    def inside(self) -> float:
        """Its least distance (mm) from the soundhole's centre."""
        return min(radius for radius, _ in self.points)

    @cached_property
    def outside(self) -> float:
        """Its greatest."""
        return max(radius for radius, _ in self.points)

    def between(self, count: int) -> float:
        """Wood left (mm) between two pockets: twice the distance to the plane between them."""
        half = math.pi / count
        return 2.0 * min(r * math.sin(half - a) for r, a in self.points)

    def most(self) -> int:
        """The largest count that leaves enough between two; 0 where none does."""
        if self.inside <= LEAST_BETWEEN or max(a for _, a in self.points) > math.pi / 3.0:
            return 0
        need = max(a + math.asin(LEAST_BETWEEN / 2.0 / r) for r, a in self.points)
        return min(MOST_SHAPES, int(math.pi / need + 1e-9))


def _leaving(reach: Reach, centre: float, site: RingSite) -> list[Finding]:
    inside, outside = reach.inside - site.inner_radius, site.outer_radius - reach.outside
    if min(inside, outside) >= LEAST_EDGE - 1e-9:
        return []
    deep = reach.outside - reach.inside
    room = site.outer_radius - site.inner_radius
    shift = (outside - inside) / 2.0
    fits = deep + 2.0 * LEAST_EDGE <= room
    remedy = (
        "centre_radius = {better} would do"
        if fits
        else "make the ring {wider} wide or more, or the shape smaller"
    )
    return [
        finding(
            "leaves-the-ring",
            f"{site.where}.centre_radius" if fits else f"{site.where}.length",
            "a pocket takes {deep} of the ring's {room} and comes to within {left} of an edge;"
            " {least} has to stay: " + remedy,
            deep=Length(deep),
            room=Length(room),
            left=Length(min(inside, outside)),
            least=Length(LEAST_EDGE),
            better=Length(round(centre + shift, 2)),
            wider=Length(math.ceil((deep + 2.0 * LEAST_EDGE) * 10.0) / 10.0, 1),
        )
    ]


def _crowded(count: int, most: int, centre: float, keys: ShapesKeys, site: RingSite) -> Finding:
    key = "count" if keys.count is not None else "spacing"
    remedy = (
        "at most {most} fit" + ("" if keys.count else ", with spacing = {spacing} or more")
        if most >= 3
        else "make the shape smaller"
    )
    return finding(
        "crowded",
        f"{site.where}.{key}",
        "{count} shapes leave less than {least} of ground between two; " + remedy,
        count=count,
        least=Length(LEAST_BETWEEN),
        most=most,
        spacing=Length(math.ceil(2.0 * math.pi * centre / max(most, 1) * 10.0) / 10.0, 1),
    )


def left_out(around: Round, keys: ShapesKeys, site: RingSite) -> tuple[int, ...]:
    """The places that the fingerboard hides, wholly or in part, where these are to be skipped."""
    hidden = site.hidden
    if hidden is None or keys.hidden_shapes == "keep":
        return ()
    return tuple(
        place
        for place in range(1, around.count + 1)
        if hidden.visibility(around.placed(around.inlay.pocket, place)) is not Visibility.SEEN
    )


def ground_pieces(
    around: Round, skipped: tuple[int, ...], keys: ShapesKeys, site: RingSite
) -> tuple[Piece, ...]:
    """The ground clockwise from the seam, its pockets as holes."""
    inner = math.asin(keys.glue_line / 2.0 / site.inner_radius)
    outer = math.asin(keys.glue_line / 2.0 / site.outer_radius)
    digits = _digits(around, skipped)
    made = []
    first = accumulate(around.carried, initial=0)
    for number, (before, carried) in enumerate(zip(first, around.carried, strict=False), start=1):
        half = math.radians(carried * around.pitch / 2.0)
        middle = around.seam - (before + carried / 2.0) * around.pitch
        outline = wedge.finished_outline(
            site.inner_radius,
            site.outer_radius,
            middle,
            inner_half=half - inner,
            outer_half=half - outer,
        )
        places = range(before + 1, before + carried + 1)
        made.append(
            Piece(
                label=f"{site.index}-{number:0{digits}d}",
                position=number,
                wood=keys.ground,
                kind="ground",
                outline=outline,
                holes=tuple(
                    around.placed(around.inlay.pocket, place)
                    for place in places
                    if place not in skipped
                ),
                axis=middle - 90.0,
                visibility=_visibility(outline, site),
            )
        )
    return tuple(made)


def shape_pieces(
    around: Round, skipped: tuple[int, ...], keys: ShapesKeys, site: RingSite
) -> tuple[Piece, ...]:
    """The shapes clockwise from the seam, numbered on from the ground."""
    number, digits = len(around.carried), _digits(around, skipped)
    made = []
    for place in range(1, around.count + 1):
        if place in skipped:
            continue
        number += 1
        outline = around.placed(around.inlay.shape, place)
        made.append(
            Piece(
                label=f"{site.index}-{number:0{digits}d}",
                position=number,
                wood=keys.wood[(place - 1) % len(keys.wood)],
                kind="shape",
                outline=outline,
                axis=around.middle(place) - around.turn,
                visibility=_visibility(outline, site),
            )
        )
    return tuple(made)


def _digits(around: Round, skipped: tuple[int, ...]) -> int:
    return max(2, len(str(len(around.carried) + around.count - len(skipped))))


def _visibility(outline: Outline, site: RingSite) -> Visibility:
    return Visibility.SEEN if site.hidden is None else site.hidden.visibility(outline)


def ground_sides(around: Round, keys: ShapesKeys, site: RingSite) -> tuple[Sides, ...]:
    """The sides that the ground is glued up from, those that carry as many shapes together."""
    return tuple(
        Sides(
            called="",
            wood=keys.ground,
            places=tuple(i for i, count in enumerate(around.carried) if count == carried),
            arc=rough_arc(
                max(site.inner_radius - site.inner_allowance, 1.0),
                site.outer_radius + site.outer_allowance,
                math.radians(carried * around.pitch / 2.0),
                joint=keys.glue_line,
                trim=0.0,
            ),
        )
        for carried in dict.fromkeys(around.carried)
    )
