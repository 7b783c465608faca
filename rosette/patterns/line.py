"""The plain line: one strip of wood bent round, its grain following the ring."""

from __future__ import annotations

import math

from rosette.errors import Finding, finding
from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import circle
from rosette.keys import RingKeys, key, table
from rosette.keys.kinds import LENGTH, ONE_NAME
from rosette.patterns.base import Pattern, Piece, RingPlan, RingSite, Strip
from rosette.patterns.radial_words import backing_steps
from rosette.words import Length, Saying, say

LEAST_TUCK = 3.0
"""A line's end runs at least this far (mm) under the fingerboard (common practice)."""


@table
class LineKeys(RingKeys):
    """The keys of a line beside those of every ring."""

    wood: str = key(ONE_NAME, "the line's wood", example="maple")
    overlap: float = key(
        LENGTH,
        "how far each end of the strip runs on under the fingerboard, or past the other end where"
        " no fingerboard hides them",
        example=10,
        default=10.0,
    )


def plan_line(keys: LineKeys, site: RingSite) -> RingPlan:
    """Work out a line: a whole ring of one strip, and the lengths of strip it takes."""
    strip = strip_lengths(keys.overlap, site)
    outline = circle(site.outer_radius)
    visibility = Visibility.SEEN if site.hidden is None else site.hidden.visibility(outline)
    piece = Piece(
        label=f"{site.index}-01",
        position=1,
        wood=keys.wood,
        kind="line",
        outline=outline,
        holes=(circle(site.inner_radius),),
        visibility=visibility,
    )
    return RingPlan(
        index=site.index,
        pattern="line",
        inner_radius=site.inner_radius,
        outer_radius=site.outer_radius,
        woods=(keys.wood,),
        tile_thickness=keys.tile_thickness,
        backing=keys.backing,
        pieces=(piece,),
        steps=_steps(keys, strip, site),
        warnings=ends_warnings(strip, site),
        strip=strip,
    )


def strip_lengths(overlap: float, site: RingSite) -> Strip:
    """The strip's lengths in mm, taken at the outer radius, the longest way round.

    Under a fingerboard the ends need not meet: the visible part and `overlap` at each end, or
    as much of it as the hidden arc holds, is enough.
    """
    round_it = 2.0 * math.pi * site.outer_radius
    off = 0.0 if site.hidden is None else site.hidden.half_angle(site.outer_radius)
    hidden = round_it * off / 180.0
    visible = round_it - hidden
    full = round_it + overlap
    tucked = min(overlap, hidden / 2.0)
    return Strip(
        full_length=full,
        visible_length=visible,
        cut_length=visible + 2.0 * tucked if tucked >= LEAST_TUCK else full,
        overlap=overlap,
    )


def _steps(keys: LineKeys, strip: Strip, site: RingSite) -> tuple[Saying, ...]:
    hidden = strip.cut_length < strip.full_length
    ends = (
        "its ends stop under the fingerboard"
        if hidden
        else "trim its ends to meet where they show least"
    )
    return (
        say(
            "Cut a strip of {wood} {wide} wide, {thick} deep and {length} long, the grain"
            " along it.",
            wood=keys.wood,
            wide=Length(site.outer_radius - site.inner_radius),
            thick=Length(keys.tile_thickness),
            length=Length(strip.cut_length, 1),
        ),
        say(
            "Bend it to a radius of {radius}: dry if it goes willingly, else over a hot iron;"
            " {ends}.",
            radius=Length(site.inner_radius),
            ends=ends,
        ),
        *backing_steps(keys.backing),
    )


def ends_warnings(strip: Strip, site: RingSite) -> tuple[Finding, ...]:
    """That both ends of a strip meet in the open, where no fingerboard hides them."""
    if site.hidden is None or strip.visible_length < 2.0 * math.pi * site.outer_radius - 1e-9:
        return ()
    return (
        finding(
            "ends-seen",
            site.where,
            "the fingerboard hides none of this line: both its ends meet in the open;"
            " scarf them where the eye rests least, {overlap} longer than the circle",
            overlap=Length(strip.overlap),
        ),
    )


PATTERN = Pattern(
    name="line",
    summary="a plain line: one strip bent round, its grain following the ring",
    keys=LineKeys,
    plan=plan_line,  # type: ignore[arg-type]
    example={"wood": "maple", "width": 2},
)
