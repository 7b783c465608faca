"""What a ring of arcs says: its steps, its stages, what to think over."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rosette.errors import Finding, finding
from rosette.geometry import wedge
from rosette.geometry.outline import polygon
from rosette.patterns.arcs_form import longest_half
from rosette.patterns.arcs_keys import ArcsKeys
from rosette.patterns.arcs_layout import Layout
from rosette.patterns.arcs_stock import Blanks, saw_kerf
from rosette.patterns.base import Piece, RingSite, Stage
from rosette.patterns.radial_words import backing_steps
from rosette.units import rounded
from rosette.wood.shell import is_shell
from rosette.words import Length, Saying, listed, say

SHORT_GRAIN = 25.0
"""Degrees between grain and edge from which the ends of an arc break out (common practice)."""
TRANSLUCENT, THICKEST_SHELL = 1.0, 1.5
"""Shell thinner than this (mm) lets what is under it show; blanks are hardly sold thicker."""
NARROW = 1.2
"""An arc narrower than this (mm) breaks in the hand (common practice)."""


def arcs_steps(
    layout: Layout, blanks: tuple[Blanks, ...], keys: ArcsKeys, site: RingSite
) -> tuple[Saying, ...]:
    """From the blanks to the ring."""
    return (
        *_chosen(layout, keys, site),
        *(step for one in blanks for step in _cut(one, keys, site)),
        *_fit(layout, keys),
        *backing_steps(keys.backing),
        *_trim(keys, site),
    )


def _chosen(layout: Layout, keys: ArcsKeys, site: RingSite) -> Iterator[Saying]:
    """How the count came about; what one step more would save."""
    if keys.segments is not None or keys.blank_length is None or keys.blank_width is None:
        return
    half = longest_half(
        site.inner_radius,
        site.outer_radius,
        length=keys.blank_length,
        width=keys.blank_width,
        joint=keys.glue_line,
        trim=keys.trim,
    )
    yield say(
        "{count} arcs chosen, the fewest that fit: a blank of {length} by {width} yields an arc of"
        " {longest}° at the most, and each of these takes {angle}°.",
        count=layout.count,
        length=Length(keys.blank_length),
        width=Length(keys.blank_width),
        longest=rounded(math.degrees(2.0 * half), 1),
        angle=rounded(math.degrees(2.0 * layout.half_rad), 1),
    )


def _cut(one: Blanks, keys: ArcsKeys, site: RingSite) -> Iterator[Saying]:
    kind = "filler" if one.name == "filler" else "arc"
    shell, total = is_shell(one.wood), one.arcs + one.spare_arcs
    yield say(
        "Have {count} of {wood} ready, {long} by {wide} and {thick} thick"
        + ("" if shell else ", the grain along the length")
        + (", and {spares} to spare." if one.spares else "."),
        count="one blank" if one.count == 1 else f"{one.count} blanks",
        wood=one.wood,
        long=Length(one.length, 1),
        wide=Length(one.width, 1),
        thick=Length(keys.tile_thickness),
        spares="one" if one.spares == 1 else one.spares,
    )
    over = f", {one.rows} one above the other, {{pitch}} apart" if one.rows > 1 else ""
    beside = f", {one.columns} side by side" if one.columns > 1 else ""
    yield say(
        ("Stick full-size paper arcs" if one.per_blank > 1 else "Stick a full-size paper arc")
        + f" on each blank{over}{beside}. Saw out "
        + ("the {kind}" if total == 1 else "{total} {kind}s")
        + (", wet," if shell else "")
        + " {trim} outside the line, {chord} from corner to corner and {rise} high: on a bench"
        " pin, with a cut of {kerf}. Number each, with an arrow to its outer edge.",
        pitch=Length(one.arc.pitch(saw_kerf(keys, site))),
        total=total,
        kind=kind,
        trim=Length(keys.trim),
        chord=Length(one.arc.chord),
        rise=Length(one.arc.rise),
        kerf=Length(saw_kerf(keys, site)),
    )


def _fit(layout: Layout, keys: ArcsKeys) -> Iterator[Saying]:
    start = "6 o'clock" if layout.fillers or _joint_at_six(layout, keys) else "12 o'clock"
    what = "a joint" if not layout.fillers or keys.at_centreline == "joint" else "an arc's middle"
    yield say(
        "Lay clear film over the full-size sheet. File the ends of each arc square to the faces and"
        " true to the lines, and lay them out from {start}, {what} on the centreline, to both sides"
        " in turn: so that what is left over comes out alike on both.",
        start=start,
        what=what,
    )
    if layout.fillers:
        yield say(
            "Let {filler} into the {wide}° that the fingerboard hides, {count} there, fitted last.",
            filler=layout.filler,
            wide=rounded(math.degrees(2.0 * layout.filler_half_rad * layout.fillers), 1),
            count="one piece" if layout.fillers == 1 else f"{layout.fillers} pieces",
        )
    yield say("Glue the arcs edge to edge on the film, a film over them too, flat under a caul.")


def _joint_at_six(layout: Layout, keys: ArcsKeys) -> bool:
    even = layout.count % 2 == 0
    return even if keys.at_centreline == "joint" else not even


def _trim(keys: ArcsKeys, site: RingSite) -> Iterator[Saying]:
    shell = [wood for wood in keys.wood if is_shell(wood)]
    how = (
        "File and sand the ring wet to its lines, {inner} inside and {outer} outside radius: a"
        " cutter chips shell."
        if shell
        else "Trim the ring on its pivot to {inner} inside and {outer} outside radius."
    )
    yield say(how, inner=Length(site.inner_radius), outer=Length(site.outer_radius))


def arcs_stages(
    layout: Layout, blanks: tuple[Blanks, ...], keys: ArcsKeys, site: RingSite
) -> tuple[Stage, ...]:
    """A blank of each kind with its arcs, and an arc as it goes in."""
    kerf = saw_kerf(keys, site)
    kinds = {one.name: one for one in reversed(blanks)}
    return (
        *(_blank_stage(kinds[name], kerf) for name in ("blank", "filler") if name in kinds),
        _arc_stage(layout, keys, site),
    )


def _blank_stage(one: Blanks, kerf: float) -> Stage:
    arc, length, width = one.arc, one.length, one.width
    sheet = Piece(
        label="blank",
        position=1,
        wood=one.wood,
        kind="blank",
        outline=polygon([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]),
        axis=0.0,
    )
    nested = (("from one arc to the next", arc.pitch(kerf)),) if one.rows > 1 else ()
    return Stage(
        title="A blank and its arcs" if one.name == "blank" else "A blank and its filler",
        saying=say(
            "{each} out of one blank of {wood}.",
            each="One arc" if one.per_blank == 1 else f"{one.per_blank} arcs",
            wood=one.wood,
        ),
        sizes=(
            ("blank, long", length),
            ("blank, wide", width),
            ("arc, from corner to corner", arc.chord),
            ("arc, high", arc.rise),
            *nested,
        ),
        shapes=(sheet, *nested_arcs(one, kerf)),
    )


def nested_arcs(one: Blanks, kerf: float) -> Iterator[Piece]:
    """The arcs where they lie in a blank whose lower left corner is 0, 0."""
    arc = one.arc
    for number in range(one.per_blank):
        row, column = divmod(number, one.columns)
        middle = arc.chord / 2.0 + column * (arc.chord + kerf)
        top = one.width - row * arc.pitch(kerf)
        yield Piece(
            label=str(number + 1),
            position=number + 1,
            wood=one.wood,
            kind="arc",
            outline=arc.outline().mapped(shift=(middle, top - arc.outer_radius)),
            axis=0.0,
        )


def _arc_stage(layout: Layout, keys: ArcsKeys, site: RingSite) -> Stage:
    joint = keys.glue_line / 2.0
    inner = layout.half_rad - math.asin(joint / site.inner_radius)
    outer = layout.half_rad - math.asin(joint / site.outer_radius)
    outline = wedge.finished_outline(
        site.inner_radius, site.outer_radius, 90.0, inner_half=inner, outer_half=outer
    )
    piece = Piece(
        label="1", position=1, wood=layout.wood_of(1), kind="arc", outline=outline, axis=0.0
    )
    return Stage(
        title="An arc, filed to its lines",
        saying=say("As it goes into the ring."),
        sizes=(
            ("outer edge, from corner to corner", 2.0 * site.outer_radius * math.sin(outer)),
            ("rise of the outer edge", site.outer_radius * (1.0 - math.cos(outer))),
            ("inner edge, from corner to corner", 2.0 * site.inner_radius * math.sin(inner)),
            ("wide", site.outer_radius - site.inner_radius),
        ),
        shapes=(piece,),
    )


def arcs_warnings(layout: Layout, keys: ArcsKeys, site: RingSite) -> Iterator[Finding]:
    """What to think over before a blank is cut."""
    yield from _of_layout(layout, keys, site)
    width = site.outer_radius - site.inner_radius
    if width < NARROW:
        yield finding(
            "narrow-ring",
            f"{site.where}.width",
            "an arc {width} wide breaks in the hand: under {least} glue the blank to a veneer"
            " before you saw it, or use a line",
            width=Length(width),
            least=Length(NARROW),
        )
    shells = [wood for wood in dict.fromkeys(keys.wood) if is_shell(wood)]
    if shells:
        yield from _of_shell(listed(shells), keys, site)
    lean = math.degrees(layout.half_rad)
    if len(shells) < len(dict.fromkeys(keys.wood)) and lean > SHORT_GRAIN:
        yield finding(
            "short-grain",
            f"{site.where}.segments",
            "at its ends the grain of an arc runs out of the edge at {lean}°: they break when they"
            " are filed; {better} arcs or more keep it under {most}°",
            lean=rounded(lean, 1),
            better=math.ceil(layout.count * lean / SHORT_GRAIN),
            most=rounded(SHORT_GRAIN, 0),
        )


def _of_layout(layout: Layout, keys: ArcsKeys, site: RingSite) -> Iterator[Finding]:
    if keys.filler is not None and not layout.fillers:
        yield finding(
            "filler-unused",
            f"{site.where}.filler",
            "the fingerboard hides no joint of this ring, so there is no place for a filler and the"
            " arcs go all the way round",
        )
    if not layout.fillers and layout.count % len(keys.wood):
        below = layout.count // len(keys.wood) * len(keys.wood)
        counts = [n for n in (below, below + len(keys.wood)) if n >= 3]
        yield finding(
            "broken-sequence",
            f"{site.where}.wood",
            "{count} arcs do not end a sequence of {woods} woods, which breaks at the seam;"
            " {better} would",
            count=layout.count,
            woods=len(keys.wood),
            better=listed(counts, "or"),
        )


def _of_shell(shells: str, keys: ArcsKeys, site: RingSite) -> Iterator[Finding]:
    yield finding(
        "shell-dust",
        f"{site.where}.wood",
        "the dust of {shells} irritates the lungs, and its edges cut: saw, file and sand it wet,"
        " with extraction and a mask, and keep to your local limits",
        shells=shells,
    )
    yield finding(
        "shell-levelled",
        f"{site.where}.tile_thickness",
        "the look of {shells} changes as it is levelled: let it stand as little proud as you can"
        " (channel.proud), with every piece at the same height"
        + (
            "; under {thin} light goes through it, so what lies under it shows: keep the glue and"
            " the wood below of one colour"
            if keys.tile_thickness < TRANSLUCENT
            else ""
        ),
        shells=shells,
        thin=Length(TRANSLUCENT),
    )
    if keys.tile_thickness > THICKEST_SHELL:
        yield finding(
            "thick-shell",
            f"{site.where}.tile_thickness",
            "blanks of shell are hardly to be had over {most} thick: take thinner ones on a backing"
            " veneer, which counts towards the depth",
            most=Length(THICKEST_SHELL),
        )
