"""What a stack of lines says: steps, stages, what to think over, why it can't be made."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rosette.errors import Finding, finding
from rosette.geometry.outline import Outline, Vertex, at_angle, circle, polygon
from rosette.patterns.base import Piece, RingSite, Stage, Stock, Strip
from rosette.patterns.lines_keys import LinesKeys
from rosette.patterns.lines_plies import (
    Ply,
    half_reach,
    ply_width,
    stepped,
    stock_of,
    total_thickness,
)
from rosette.patterns.radial_words import backing_steps
from rosette.units import rounded
from rosette.words import Length, Saying, listed, say

AGREES = 1e-3
"""Plies that come within this (mm) of the ring's width fill it."""


def wrong_width(keys: LinesKeys, site: RingSite) -> Iterator[Finding]:
    """That the plies do not come to the ring's width, and what would."""
    width, total = site.outer_radius - site.inner_radius, total_thickness(keys)
    if abs(width - total) <= AGREES:
        return
    thickest = max(keys.plies, key=lambda ply: ply.thickness)
    other = thickest.thickness + width - total
    yield finding(
        "wrong-width",
        f"{site.where}.plies",
        "the plies come to {total} with their glue, and the ring is {width} wide; write width ="
        " {total}" + (", or make the {wood} of {thick} {other} thick" if other > 0.1 else ""),
        total=Length(total, 3),
        width=Length(width, 3),
        wood=thickest.wood,
        thick=Length(thickest.thickness, 3),
        other=Length(other, 3),
    )


def would_break(plies: tuple[Ply, ...], keys: LinesKeys, site: RingSite) -> Iterator[Finding]:
    """The plies that break even hot, each kind once, and what would bend."""
    for ply in _kinds(ply for ply in plies if ply.breaks):
        flat = keys.glued == "flat"
        slides = flat and ply.thickest(ply.hot) >= ply.thickness
        remedy = (
            'write glued = "together", so that the plies slide on one another'
            if slides
            else "plies of it of at most {thickest} would bend, or a radius of {least} or more"
        )
        yield finding(
            "would-break",
            f"{site.where}.plies",
            "{thick} of {wood}, bent to a radius of {radius}{how}, is stretched by {strain} % at"
            " its outer face, more than the {limit} % that it stands hot ({source}); " + remedy,
            thick=Length(ply.thickness),
            wood=ply.wood,
            radius=Length(ply.inner_radius),
            how=" with the whole stack" if flat else "",
            strain=rounded(ply.strain, 2),
            limit=rounded(ply.hot, 2),
            source=_source(ply, keys),
            thickest=Length(math.floor(ply.thickest(ply.hot) * 100.0) / 100.0),
            least=Length(math.ceil(ply.tightest(ply.hot) * 10.0) / 10.0, 1),
        )


def _source(ply: Ply, keys: LinesKeys) -> str:
    if keys.bend_limit is not None:
        return "your bend_limit"
    return "common practice" if ply.known else "a cautious guess for a wood not known here"


def _kinds(plies: Iterator[Ply]) -> Iterator[Ply]:
    """The innermost ply of each wood and thickness, which is bent the most."""
    seen = set()
    for ply in plies:
        if (ply.wood, ply.thickness) not in seen:
            seen.add((ply.wood, ply.thickness))
            yield ply


def lines_warnings(plies: tuple[Ply, ...], keys: LinesKeys, site: RingSite) -> Iterator[Finding]:
    """Which plies have to be bent hot, and woods whose bending is not known."""
    for ply in _kinds(ply for ply in plies if ply.needs_heat):
        yield finding(
            "hot-bend",
            f"{site.where}.plies",
            "{thick} of {wood} is stretched by {strain} % at a radius of {radius}, more than the"
            " {dry} % it stands dry ({source}): bend it over a hot iron, with a metal strap behind"
            " it; up to {thickest} thick it would bend dry",
            thick=Length(ply.thickness),
            wood=ply.wood,
            strain=rounded(ply.strain, 2),
            radius=Length(ply.inner_radius),
            dry=rounded(ply.dry, 2),
            source=_source(ply, keys),
            thickest=Length(math.floor(ply.thickest(ply.dry) * 100.0) / 100.0),
        )
    for ply in {ply.wood: ply for ply in plies if not ply.known}.values():
        yield finding(
            "unknown-bend",
            f"{site.where}.plies",
            "how far {wood} bends is not known here; {dry} % dry and {hot} % hot are taken, less"
            " than for most woods: try a strip of it, and write bend_limit if it stands more",
            wood=ply.wood,
            dry=rounded(ply.dry, 2),
            hot=rounded(ply.hot, 2),
        )


def lines_steps(
    plies: tuple[Ply, ...], strip: Strip, keys: LinesKeys, site: RingSite
) -> tuple[Saying, ...]:
    """From the plies to the stack in its channel."""
    hidden = strip.cut_length < strip.full_length
    ends = "so that they stop under the fingerboard" if hidden else "to meet where they show least"
    return (
        *(_cut(stock) for stock in stock_of(plies, keys)),
        *_making(plies, keys, site),
        say(f"Trim the ends {ends}."),
        *backing_steps(keys.backing),
    )


def _making(plies: tuple[Ply, ...], keys: LinesKeys, site: RingSite) -> Iterator[Saying]:
    if keys.glued == "one by one":
        yield from _one_by_one(plies, site)
    elif keys.glued == "flat":
        yield from _flat(plies, keys, site)
    else:
        yield from _together(plies, keys, site)


def _cut(stock: Stock) -> Saying:
    return say(
        "Thickness {wood} to {thick} and cut {count} of it {wide} wide and {long} long, the grain"
        " straight along, and {spares} to spare.",
        count="one ply" if stock.count == 1 else f"{stock.count} plies",
        wood=stock.wood,
        thick=Length(stock.thickness),
        wide=Length(stock.width),
        long=Length(stock.length, 1),
        spares="one" if stock.spares == 1 else stock.spares,
    )


def _heated(plies: tuple[Ply, ...]) -> Iterator[Saying]:
    hot = [ply for ply in plies if ply.needs_heat]
    if hot:
        yield say(
            "Bend {which} over a hot iron first, a metal strap behind, a little tighter than the"
            " form; let it cool on the form before any glue.",
            which=_which(hot),
        )


def _which(plies: list[Ply]) -> str:
    """Plies by their numbers: "ply 2", "plies 1 and 3"."""
    lead = "ply" if len(plies) == 1 else "plies"
    return f"{lead} {listed([ply.number for ply in plies])}"


def _order(plies: tuple[Ply, ...]) -> str:
    return ", ".join(f"{ply.number} {ply.wood}" for ply in plies)


def _together(plies: tuple[Ply, ...], keys: LinesKeys, site: RingSite) -> Iterator[Saying]:
    yield say(
        "Make a form of radius {radius}, its face square to its bottom, and wax it.",
        radius=Length(site.inner_radius),
    )
    yield from _heated(plies)
    yield say(
        "Glue between all plies and bend them round the form as one, in their order from the form"
        " out ({order}), a strap round the outside, while the glue is wet: they slide on one"
        " another, and each bends by itself. Cut alike, their ends come out stepped by {step} at"
        " each end, the innermost longest. Leave them clamped until the glue is hard; then the"
        " stack keeps its bend.",
        order=_order(plies),
        step=Length(stepped(plies), 1),
    )
    yield _true(keys)


def _flat(plies: tuple[Ply, ...], keys: LinesKeys, site: RingSite) -> Iterator[Saying]:
    yield say(
        "Glue all plies flat, one on the other in their order from the inside out ({order}),"
        " between straight cauls, with a glue that stands heat.",
        order=_order(plies),
    )
    yield _true(keys)
    yield say(
        "Bend the stack to a radius of {radius}{how}.",
        radius=Length(site.inner_radius),
        how=" over a hot iron, a metal strap behind it"
        if any(ply.needs_heat for ply in plies)
        else ", dry",
    )


def _one_by_one(plies: tuple[Ply, ...], site: RingSite) -> Iterator[Saying]:
    yield from _heated(plies)
    yield say(
        "Glue ply {first} against the inner wall of the channel, or round a waxed form of radius"
        " {radius}; when it holds, the next one against it, and so on outward ({order}).",
        first=plies[0].number,
        radius=Length(site.inner_radius),
        order=_order(plies),
    )


def _true(keys: LinesKeys) -> Saying:
    return say(
        "Plane both edges of the stack true, down to {deep}.", deep=Length(keys.tile_thickness)
    )


def lines_stages(plies: tuple[Ply, ...], keys: LinesKeys, site: RingSite) -> tuple[Stage, ...]:
    """The stack seen on its end, and bent."""
    return (
        Stage(
            title="The stack, seen on its end",
            saying=say("{count} plies from the inside out.", count=len(plies)),
            sizes=(
                *((f"ply {ply.number}, {ply.wood}", ply.thickness) for ply in plies),
                *((("glue between two", keys.glue_line),) if keys.glue_line else ()),
                ("all together", total_thickness(keys)),
                ("deep", ply_width(keys)),
            ),
            shapes=tuple(_section(ply, ply_width(keys), site) for ply in plies),
        ),
        Stage(
            title="The stack, bent",
            saying=say("As it lies in the channel."),
            sizes=(
                ("inner radius", site.inner_radius),
                ("outer radius", site.outer_radius),
                *((f"ply {ply.number} along its outer face", ply.length) for ply in plies),
            ),
            shapes=tuple(_bent(ply) for ply in plies),
        ),
    )


def _section(ply: Ply, width: float, site: RingSite) -> Piece:
    low, high = ply.inner_radius - site.inner_radius, ply.outer_radius - site.inner_radius
    box = polygon([(low, 0.0), (high, 0.0), (high, width), (low, width)])
    return Piece(label=str(ply.number), position=ply.number, wood=ply.wood, kind="ply", outline=box)


def _bent(ply: Ply) -> Piece:
    half = half_reach(ply.length, ply.outer_radius)
    whole = half > 179.9
    return Piece(
        label=str(ply.number),
        position=ply.number,
        wood=ply.wood,
        kind="ply",
        outline=circle(ply.outer_radius) if whole else _open(ply, half),
        holes=(circle(ply.inner_radius),) if whole else (),
    )


def _open(ply: Ply, half: float) -> Outline:
    """A ply that leaves a gap at 12 o'clock, `half` degrees to both sides of 6 o'clock."""
    bulge = math.tan(math.radians(half) / 4.0)
    angles = (-90.0 - half, -90.0, -90.0 + half)
    outside = [at_angle(ply.outer_radius, angle) for angle in angles]
    inside = [at_angle(ply.inner_radius, angle) for angle in reversed(angles)]
    return Outline(
        (
            *(Vertex(x, y, bulge) for x, y in outside[:2]),
            Vertex(*outside[2]),
            *(Vertex(x, y, -bulge) for x, y in inside[:2]),
            Vertex(*inside[2]),
        )
    )
