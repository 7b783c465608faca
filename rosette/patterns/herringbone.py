"""The herringbone: two slanted bands that mirror each other, with a line between or without."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rosette.errors import CannotMakeError, finding
from rosette.geometry import wedge
from rosette.geometry.clip import kept_beside
from rosette.geometry.outline import circle
from rosette.keys import Keys, inner, key, table
from rosette.keys.kinds import NAME, POSITIVE_LENGTH
from rosette.patterns.base import Pattern, Piece, RingPlan, RingSite, Stage, Stock
from rosette.patterns.laminate import Closed, Lay, closed, closed_in
from rosette.patterns.laminate_form import (
    facets_of,
    form_warnings,
    is_bent,
    refuse_no_inner,
    refuse_too_many,
)
from rosette.patterns.laminate_last import (
    bent_stage,
    facet_stage,
    first_piece,
    mitred_shapes,
    mitred_stage,
)
from rosette.patterns.laminate_making import Making, making
from rosette.patterns.laminate_plan import ring_of
from rosette.patterns.laminate_ring import Facets, Shape, numbered_pieces
from rosette.patterns.laminate_stages import drawn, leaning, shown_rows, strip_shapes
from rosette.patterns.rope import FEWEST_REPEATS
from rosette.patterns.rope_keys import THICK, SlantKeys
from rosette.patterns.rope_pieces import bent_plies, straight_plies
from rosette.words import Length, say

OVERLAP = 10.0
"""What a bent line is longer than its circle, to be trimmed (mm; common practice)."""
LEAST_BAND = 0.5
"""A band narrower than this (mm) is no band."""


@table
class MiddleLineKeys(Keys):
    """A line between the two bands (mm)."""

    wood: str = key(NAME, "the line's wood", example="holly")
    thickness: float = key(POSITIVE_LENGTH, "how wide the line is", example=0.5)


@table
class HerringboneKeys(SlantKeys):
    """The keys of a herringbone. Lengths in mm; `twist` is how the outer band leans."""

    line: MiddleLineKeys | None = key(
        inner(MiddleLineKeys),
        "a line between the two bands",
        example={"wood": "holly", "thickness": "0.5 mm"},
        default=None,
    )

    @property
    def between(self) -> float:
        """Width of the line between (mm)."""
        return self.line.thickness if self.line else 0.0


def plan_herringbone(keys: HerringboneKeys, site: RingSite) -> RingPlan:
    """Work out a herringbone.

    Raises:
        CannotMakeError: where it can't be bent, closed or cut as asked, with what would work.
    """
    band = (site.outer_radius - site.inner_radius - keys.between) / 2.0
    if band < LEAST_BAND:
        raise CannotMakeError(
            [
                finding(
                    "no-band",
                    f"{site.where}.line",
                    "a line of {line} leaves {left} for each band of this ring; at least {least} is"
                    " needed: a thinner line or a wider ring",
                    line=Length(keys.between),
                    left=Length(max(0.0, band)),
                    least=Length(LEAST_BAND),
                )
            ]
        )
    bands = (
        (site.inner_radius, site.inner_radius + band),
        (site.outer_radius - band, site.outer_radius),
    )
    wanted = Lay(plies=keys.plies, glue=keys.glue_line, angle=keys.angle)
    if is_bent(keys, bands, site):
        return _bent(keys, site, wanted, bands)
    return _straight(keys, site, wanted, band)


Bands = tuple[tuple[float, float], tuple[float, float]]


def _bent(keys: HerringboneKeys, site: RingSite, wanted: Lay, bands: Bands) -> RingPlan:
    made = _both_closed(keys, site, wanted, bands)
    repeats = made[0].repeats
    refuse_too_many(2 * repeats * len(keys.plies), site, "plies")
    signs = [-keys.sign, keys.sign]
    anchors = (bands[0][1], bands[1][0])
    shapes = [
        shape
        for one, radii, sign, anchor in zip(made, bands, signs, anchors, strict=True)
        for shape in bent_plies(
            one.lay,
            inner_radius=radii[0],
            outer_radius=radii[1],
            repeats=repeats,
            sign=sign,
            anchor=anchor,
        )
    ]
    width = bands[0][1] - bands[0][0]
    works = [
        making(
            one.lay,
            keys,
            site,
            block_height=keys.block_height,
            repeats=repeats,
            width=width + 2.0 * keys.trim,
        )
        for one in made
    ]
    last = [
        bent_stage(
            radii,
            strips=work.strips - 1,
            width=width,
            repeats=repeats,
            shapes=tuple(strip_shapes(work, rows=shown_rows(work), width=width, sign=sign)),
            name=name,
        )
        for work, radii, sign, name in zip(
            works, bands, signs, (" of the inner band", " of the outer band"), strict=True
        )
    ]
    return ring_of(
        "herringbone",
        keys,
        site,
        closings=[(one, repeats) for one in made],
        works=works,
        signs=signs,
        pieces=numbered_pieces([*_bent_line(keys, bands), *shapes], site),
        last=(*last, _together(keys, works, width, bent=True)),
        bent=True,
        warnings=form_warnings(
            keys, bands, site, bent=True, reach=width * max(one.lay.cotangent for one in made)
        ),
        more_stock=_bent_line_stock(keys, bands),
    )


def _both_closed(
    keys: HerringboneKeys, site: RingSite, wanted: Lay, bands: Bands
) -> tuple[Closed, Closed]:
    """Both bands closed by the same number of repeats, so that their plies meet all round."""
    lengths = [math.pi * (a + b) for a, b in bands]
    first = closed(
        wanted,
        length=lengths[0] if keys.adjust == "angle" else sum(lengths) / 2.0,
        adjust=keys.adjust,
        where=site.where,
        least=FEWEST_REPEATS,
    )
    middle = round(sum(lengths) / 2.0 / wanted.pitch)
    for repeats in (middle, first.repeats):
        made = [
            closed_in(wanted, length=length, repeats=repeats, adjust=keys.adjust)
            for length in lengths
        ]
        inside, outside = made
        if inside is not None and outside is not None:
            return inside, outside
    raise CannotMakeError(
        [
            finding(
                "no-repeat",
                f"{site.where}.plies",
                "the two bands can't be closed by the same number of repeats; use thinner plies",
            )
        ]
    )


def _bent_line(keys: HerringboneKeys, bands: Bands) -> Iterator[Shape]:
    if keys.line is not None:
        yield Shape(
            outline=circle(bands[1][0]),
            holes=(circle(bands[0][1]),),
            wood=keys.line.wood,
            kind="line",
            axis=None,
            along=-360.0,
        )


def _bent_line_stock(keys: HerringboneKeys, bands: Bands) -> tuple[Stock, ...]:
    if keys.line is None:
        return ()
    return (
        Stock(
            name="line",
            wood=keys.line.wood,
            count=1,
            spares=1,
            length=math.tau * bands[1][0] + OVERLAP,
            width=keys.line.thickness,
            thickness=keys.tile_thickness,
        ),
    )


def _straight(keys: HerringboneKeys, site: RingSite, wanted: Lay, band: float) -> RingPlan:
    refuse_no_inner(site)
    facets = facets_of(
        keys,
        site,
        largest_sagitta=band / 2.0,
        largest_mitre=keys.angle / 2.5,
        repeat=wanted.pitch,
    )
    made = closed(
        wanted, length=facets.length, adjust=keys.adjust, where=site.where, times=facets.count
    )
    total = made.repeats * facets.count
    refuse_too_many(2 * total * len(keys.plies), site, "plies")
    work = making(
        made.lay,
        keys,
        site,
        block_height=keys.block_height,
        repeats=total,
        width=_strip_width(facets, site, keys.between),
        facets=facets,
        lanes=2,
    )
    pieces = numbered_pieces(list(_straight_shapes(keys, made.lay, facets)), site)
    together = _together(keys, [work, work], work.strip_width, bent=False)
    return ring_of(
        "herringbone",
        keys,
        site,
        closings=[(made, total)],
        works=[work],
        signs=[keys.sign],
        pieces=pieces,
        last=(
            together,
            mitred_stage(
                facets,
                site,
                pieces=work.pieces,
                taken=f"{work.taken} repeats",
                shapes=mitred_shapes(
                    together.shapes,
                    facets,
                    middle=work.strip_width + keys.between / 2.0,
                    start=_corner(together.shapes, top=True),
                    step=work.lay.pitch,
                    taken=work.taken,
                ),
            ),
            facet_stage(facets, first_piece(pieces, facets)),
        ),
        bent=False,
        warnings=form_warnings(keys, [(site.inner_radius, site.outer_radius)], site, bent=False),
        more_stock=_straight_line_stock(keys, work),
    )


def _strip_width(facets: Facets, site: RingSite, between: float) -> float:
    """The width of both strips: as far as the trimmed piece reaches to either side of the line."""
    outer = site.outer_radius + site.outer_allowance
    inside = wedge.inner_distance(
        site.inner_radius - site.inner_allowance, segments=facets.count, joint=facets.joint
    )
    return max(outer - facets.middle, facets.middle - inside) - between / 2.0


def _straight_shapes(keys: HerringboneKeys, lay: Lay, facets: Facets) -> Iterator[Shape]:
    whole, half = facets.outline(), keys.between / 2.0
    low, high = facets.middle - half, facets.middle + half
    inside = kept_beside(whole, direction=0.0, least=0.0, most=low)
    outside = kept_beside(whole, direction=0.0, least=high, most=2.0 * facets.outer_radius)
    if inside is None or outside is None:
        raise ValueError("no band is left beside the line")
    yield from straight_plies(lay, facets, inside, sign=-keys.sign, level=low, band=0)
    yield from straight_plies(lay, facets, outside, sign=keys.sign, level=high, band=2)
    line = kept_beside(whole, direction=0.0, least=low, most=high) if keys.line else None
    if line is None or keys.line is None:
        return
    for piece in range(facets.count):
        yield Shape(
            outline=facets.turned(line, piece),
            wood=keys.line.wood,
            kind="line",
            axis=None,
            along=facets.along(line, piece),
            order=1,
        )


def _straight_line_stock(keys: HerringboneKeys, work: Making) -> tuple[Stock, ...]:
    if keys.line is None:
        return ()
    return (
        Stock(
            name="line",
            wood=keys.line.wood,
            count=work.strips // 2,
            length=work.bar_length + work.overhang,
            width=keys.line.thickness,
            thickness=work.strip_thickness,
        ),
    )


def _together(keys: HerringboneKeys, works: list[Making], width: float, *, bent: bool) -> Stage:
    """Both strips side by side, one turned over, the line between."""
    lower, upper = works
    rows = min(shown_rows(lower), shown_rows(upper))
    shapes = strip_shapes(lower, rows=rows, width=width, sign=-keys.sign)
    # the upper strip begins where the lower one's first ply meets the line
    top = strip_shapes(upper, rows=rows, width=width, sign=keys.sign)
    off = _corner(shapes, top=True) - _corner(top, top=False)
    between = keys.between
    shapes += [
        drawn(
            one.outline.mapped(shift=(off, width + between)),
            one.wood,
            len(shapes) + number,
            one.axis or 0.0,
        )
        for number, one in enumerate(top, start=1)
    ]
    if keys.line is not None:
        left = min(one.outline.bounds()[0] for one in shapes)
        right = max(one.outline.bounds()[2] for one in shapes)
        line = leaning(width, width + between, left, right, 0.0)
        shapes.append(drawn(line, keys.line.wood, len(shapes) + 1, 0.0, kind="line"))
    return Stage(
        title="Herringbone: two strips that mirror each other",
        saying=say(
            "Both bands are cut alike; turn the strips of one over before they are bent, so that"
            " their other face shows and their plies lean the other way. Bring the bent bands"
            " together{line}, ply to ply: the points must meet all round. Glue.",
            line=", the line bent to the same circle between them" if keys.line else "",
        )
        if bent
        else say(
            "Turn every second strip over, so that its other face shows and its plies lean the"
            " other way, and lay it beside its neighbour{line}, ply to ply: the points must meet"
            " all along. Glue.",
            line=" with the line between" if keys.line else "",
        ),
        sizes=(("width of each strip", width), ("width in all", 2.0 * width + between)),
        shapes=tuple(shapes),
    )


def _corner(shapes: Sequence[Piece], *, top: bool) -> float:
    """Where the first ply's first edge meets its strip's upper or lower edge."""
    corners = shapes[0].outline.points()
    level = (max if top else min)(y for _, y in corners)
    return min(x for x, y in corners if abs(y - level) < 1e-9)


PATTERN = Pattern(
    name="herringbone",
    summary="two bands of slanted plies that mirror each other, with a line between or without",
    keys=HerringboneKeys,
    plan=plan_herringbone,  # type: ignore[arg-type]
    example={"plies": THICK, "line": {"wood": "cherry", "thickness": "0.6 mm"}, "width": 10},
)
