"""How many arcs go round a ring, where their joints stand, and what lies under the fingerboard.

Joints stand mirrored about the line from 12 to 6 o'clock, and no arc is shorter than another: all
that show are alike. With a filler they end where the fingerboard hides the whole joint.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from rosette.errors import CannotMakeError, Finding, finding
from rosette.geometry import wedge
from rosette.geometry.hidden import Visibility
from rosette.patterns.arcs_form import Arc, longest_half, rough_arc
from rosette.patterns.arcs_keys import MOST_ARCS, ArcsKeys
from rosette.patterns.base import Piece, RingSite
from rosette.words import Length

TUCK = 1.0
"""The last joint stands at least this far (mm) under the fingerboard's edge (common practice)."""
LONGEST_FILLER = 60.0
"""Degrees that one piece of filler takes at the most: past that its ends are short grain."""
LEAST_HIDDEN = 10.0
"""Degrees: with less hidden than this a filler saves nothing."""
FEWEST = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The arcs round the ring, clockwise from `seam` degrees.

    `count` arcs of `half_rad` to each side of their middle, then `fillers` of `filler_half_rad`
    where there is a filler.
    """

    seam: float
    count: int
    half_rad: float
    woods: tuple[str, ...]
    fillers: int = 0
    filler_half_rad: float = 0.0
    filler: str = ""

    def halves(self) -> tuple[float, ...]:
        """Each piece's half angle (rad), clockwise from the seam."""
        return (self.half_rad,) * self.count + (self.filler_half_rad,) * self.fillers

    def wood_of(self, position: int) -> str:
        """The wood of a piece by its position, from 1."""
        return (
            self.woods[(position - 1) % len(self.woods)]
            if position <= self.count
            else (self.filler)
        )

    def counts(self) -> dict[str, int]:
        """How many arcs of each wood, fillers left out."""
        found: dict[str, int] = {}
        for position in range(1, self.count + 1):
            wood = self.wood_of(position)
            found[wood] = found.get(wood, 0) + 1
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """The angle (rad) that arcs are to fill; counts leave `odd` when they go by `step`."""

    span: float
    step: int
    odd: int


def layout_of(keys: ArcsKeys, site: RingSite) -> Layout:
    """Where the arcs stand.

    Raises:
        CannotMakeError: where the blanks at hand hold no such arc, with what would.
    """
    hidden = _hidden_half(keys, site)
    step, odd = _steps(keys, filled=hidden > 0.0)
    asked = _Asked(span=2.0 * math.pi - 2.0 * hidden, step=step, odd=odd)
    count = keys.segments or _fewest(asked, keys, site)
    _check(count, asked, keys, site)
    half = asked.span / count / 2.0
    if not hidden:
        seam = 90.0 if keys.at_centreline == "joint" else 90.0 + math.degrees(half)
        return Layout(seam=seam, count=count, half_rad=half, woods=keys.wood)
    fillers = max(1, math.ceil(math.degrees(2.0 * hidden) / LONGEST_FILLER - 1e-9))
    return Layout(
        seam=90.0 - math.degrees(hidden),
        count=count,
        half_rad=half,
        woods=keys.wood,
        fillers=fillers,
        filler_half_rad=hidden / fillers,
        filler=keys.filler or "",
    )


def _hidden_half(keys: ArcsKeys, site: RingSite) -> float:
    """Half the angle (rad) that a filler takes; 0 where there is none."""
    return hidden_joint_half(site) if keys.filler is not None else 0.0


def hidden_joint_half(site: RingSite) -> float:
    """How far (rad) from 12 o'clock a joint may stand for the fingerboard to hide all of it.

    At the outer end the board's sides bound it, at the inner end the board's end, each less
    `TUCK`. 0 where too little is hidden.
    """
    if site.hidden is None:
        return 0.0
    sides = (site.hidden.width / 2.0 - TUCK) / site.outer_radius
    end = (site.hidden.reach + TUCK) / site.inner_radius
    if sides <= 0.0 or end >= 1.0:
        return 0.0
    half = min(math.asin(min(1.0, sides)), math.acos(end))
    return half if math.degrees(2.0 * half) >= LEAST_HIDDEN else 0.0


def _steps(keys: ArcsKeys, *, filled: bool) -> tuple[int, int]:
    """Counts go by this step; the remainder that they leave.

    All the way round, a sequence of woods has to come out even. With a filler the parity decides
    what stands at 6 o'clock.
    """
    if filled:
        return 2, 0 if keys.at_centreline == "joint" else 1
    return len(keys.wood), 0


def _fewest(asked: _Asked, keys: ArcsKeys, site: RingSite) -> int:
    half = _longest(keys, site)
    least = max(FEWEST, math.ceil(asked.span / 2.0 / half - 1e-9)) if half > 0.0 else MOST_ARCS + 1
    count = least + (asked.odd - least) % asked.step
    if count > MOST_ARCS:
        raise CannotMakeError([_too_small(asked.span, keys, site)])
    return count


def _longest(keys: ArcsKeys, site: RingSite) -> float:
    assert keys.blank_length is not None
    assert keys.blank_width is not None  # the keys' rules hold both or neither
    return longest_half(
        site.inner_radius,
        site.outer_radius,
        length=keys.blank_length,
        width=keys.blank_width,
        joint=keys.glue_line,
        trim=keys.trim,
    )


def arc_of(half_rad: float, keys: ArcsKeys, site: RingSite) -> Arc:
    """The rough arc of a piece that takes `half_rad` to each side of its middle."""
    return rough_arc(
        site.inner_radius, site.outer_radius, half_rad, joint=keys.glue_line, trim=keys.trim
    )


def _too_small(span: float, keys: ArcsKeys, site: RingSite) -> Finding:
    arc = arc_of(span / 2.0 / 24, keys, site)
    return finding(
        "blank-too-small",
        f"{site.where}.blank_length",
        "a blank of {length} by {width} holds no arc of this ring that is worth cutting; 24 of them"
        " would take blanks of {chord} by {rise} or more",
        length=Length(keys.blank_length or 0.0),
        width=Length(keys.blank_width or 0.0),
        chord=Length(math.ceil(arc.chord * 10.0) / 10.0, 1),
        rise=Length(math.ceil(arc.rise * 10.0) / 10.0, 1),
    )


def _check(count: int, asked: _Asked, keys: ArcsKeys, site: RingSite) -> None:
    """That this many arcs have an inner edge left, fit the blanks and stand as they should."""
    half = asked.span / count / 2.0
    if half - math.asin(min(1.0, keys.glue_line / 2.0 / site.inner_radius)) <= 1e-4 or (
        keys.trim >= site.inner_radius
    ):
        raise CannotMakeError([_no_arc(site)])
    if keys.segments is None:
        return
    if count % asked.step != asked.odd and asked.span < 2.0 * math.pi:
        raise CannotMakeError([_wrong_parity(count, keys, site)])
    if keys.blank_length is not None and half > _longest(keys, site) + 1e-9:
        arc = arc_of(half, keys, site)
        least = _fewest(asked, keys, site)
        raise CannotMakeError(
            [
                finding(
                    "too-few-segments",
                    f"{site.where}.segments",
                    "each of {count} arcs takes {chord} by {rise}, more than a blank of {length} by"
                    " {width} holds; {least} arcs come out of such blanks",
                    count=count,
                    chord=Length(arc.chord),
                    rise=Length(arc.rise),
                    length=Length(keys.blank_length),
                    width=Length(keys.blank_width or 0.0),
                    least=least,
                )
            ]
        )


def _no_arc(site: RingSite) -> Finding:
    return finding(
        "no-arc",
        f"{site.where}.glue_line",
        "glue and trim leave nothing of an arc between its joints; make glue_line and trim thinner",
    )


def _wrong_parity(count: int, keys: ArcsKeys, site: RingSite) -> Finding:
    even = keys.at_centreline == "joint"
    return finding(
        "centreline",
        f"{site.where}.segments",
        "with {what} at 6 o'clock an {parity} count of arcs shows, and {count} is not; {fewer} or"
        " {more} would do",
        what="a joint" if even else "the middle of an arc",
        parity="even" if even else "odd",
        count=count,
        fewer=max(count - 1, FEWEST + 1 if even else FEWEST),
        more=count + 1,
    )


def arc_pieces(layout: Layout, keys: ArcsKeys, site: RingSite) -> tuple[Piece, ...]:
    """The finished arcs, clockwise from the seam."""
    return pieces_between(layout, site, joint=keys.glue_line)


def pieces_between(layout: Layout, site: RingSite, *, joint: float) -> tuple[Piece, ...]:
    """Arcs between the ring's two radii, joints of width `joint` (mm) between them."""
    inner = math.asin(joint / 2.0 / site.inner_radius)
    outer = math.asin(joint / 2.0 / site.outer_radius)
    halves = layout.halves()
    digits = max(2, len(str(len(halves))))
    made, turned = [], 0.0
    for position, half in enumerate(halves, start=1):
        middle = layout.seam - math.degrees(turned + half)
        turned += 2.0 * half
        outline = wedge.finished_outline(
            site.inner_radius,
            site.outer_radius,
            middle,
            inner_half=half - inner,
            outer_half=half - outer,
        )
        made.append(
            Piece(
                label=f"{site.index}-{position:0{digits}d}",
                position=position,
                wood=layout.wood_of(position),
                kind="arc",
                outline=outline,
                axis=middle - 90.0,
                visibility=Visibility.SEEN
                if site.hidden is None
                else site.hidden.visibility(outline),
            )
        )
    return tuple(made)
