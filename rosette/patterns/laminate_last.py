"""The last stages of a band: scraped strips bent round the ring, or straight pieces mitred."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from rosette.geometry import wedge
from rosette.geometry.clip import kept
from rosette.geometry.outline import Outline
from rosette.patterns.base import Piece, RingSite, Stage, spares_for
from rosette.patterns.laminate_ring import Facets
from rosette.patterns.radial_words import backing_steps
from rosette.units import rounded
from rosette.words import Length, Saying, say


def bent_stage(
    radii: tuple[float, float],
    *,
    strips: int,
    width: float,
    repeats: int,
    shapes: tuple[Piece, ...],
    name: str = "",
    unit: str = "repeats",
    along: str = "ply",
) -> Stage:
    """Strips scraped to their width and bent to a band between two radii, one more to spare."""
    inner, outer = radii
    return Stage(
        title=f"Band{name}: a strip scraped to width, its beginning, before it is bent",
        saying=say(
            "Scrape {strips} {wide} wide, and one to spare. Bend them hot, dry or barely damp,"
            " round a form of {radius}, a metal strap outside; join them along a {along} where"
            " they meet, {repeats} {unit} round the ring in all. Fit the last joint, the seam,"
            " at 12 o'clock.",
            strips="one strip" if strips == 1 else f"{strips} strips",
            wide=Length(width),
            radius=Length(inner),
            repeats=repeats,
            unit=unit,
            along=along,
        ),
        sizes=(
            ("width, scraped", width),
            ("radius of the form", inner),
            ("once round, along the middle", math.pi * (inner + outer)),
        ),
        shapes=shapes,
    )


def mitred_sizes(facets: Facets, site: RingSite) -> tuple[float, float, float]:
    """Inner edge, outer edge and height of a straight piece with its trimming on (mm)."""
    outer = site.outer_radius + site.outer_allowance
    inner = wedge.inner_distance(
        site.inner_radius - site.inner_allowance, segments=facets.count, joint=facets.joint
    )
    return (
        wedge.width_at(inner, segments=facets.count, joint=facets.joint),
        wedge.width_at(outer, segments=facets.count, joint=facets.joint),
        outer - inner,
    )


def mitred_stage(
    facets: Facets, site: RingSite, *, taken: str, pieces: int, shapes: tuple[Piece, ...]
) -> Stage:
    """Straight pieces cut from the strips."""
    inner, outer, height = mitred_sizes(facets, site)
    return Stage(
        title="Straight pieces: cut off the strips with mitred ends",
        saying=say(
            "Cut {count} pieces and {spares} to spare, {pieces} out of each strip, the saw {mitre}°"
            " off square for both ends: {outer} along the outer edge, {inner} along the inner."
            " Let every piece begin at the same place of the pattern, {taken} of the strip after"
            " the one before.",
            count=facets.count,
            spares=spares_for(facets.count),
            pieces=pieces,
            mitre=rounded(facets.mitre, 2),
            outer=Length(outer),
            inner=Length(inner),
            taken=taken,
        ),
        sizes=(("outer edge", outer), ("inner edge", inner), ("height", height)),
        shapes=shapes,
    )


def facet_stage(facets: Facets, shapes: tuple[Piece, ...]) -> Stage:
    """One piece as it ends up."""
    return Stage(
        title="A piece in the ring, trimmed to its arcs",
        saying=say(
            "Lay all {count} dry on the full-size sheet, then glue up two halves, true their ends,"
            " and join them, the seam at 12 o'clock.",
            count=facets.count,
        )
        if facets.count % 2 == 0
        else say(
            "Lay all {count} dry on the full-size sheet, glue up all but the last, fit that one to"
            " its opening and glue it in at 12 o'clock.",
            count=facets.count,
        ),
        sizes=(
            ("inner radius", facets.inner_radius),
            ("outer radius", facets.outer_radius),
        ),
        shapes=shapes,
    )


def first_piece(pieces: tuple[Piece, ...], facets: Facets) -> tuple[Piece, ...]:
    """The shapes of the first straight piece clockwise of the seam, turned upright."""
    turn = math.radians(90.0 - facets.axis(0))
    upright = [(one, one.outline.mapped(turn)) for one in pieces]
    slope = math.tan(math.radians(facets.mitre))
    mine = [(one, outline) for one, outline in upright if _within(outline, slope)]
    return tuple(
        Piece(
            label=str(number),
            position=number,
            wood=one.wood,
            kind=one.kind,
            outline=outline,
            axis=None if one.axis is None else one.axis + 90.0 - facets.axis(0),
        )
        for number, (one, outline) in enumerate(mine, start=1)
    )


def _within(outline: Outline, slope: float) -> bool:
    """Whether a shape lies in the sector about the y axis."""
    corners = outline.vertices
    x = sum(corner.x for corner in corners) / len(corners)
    y = sum(corner.y for corner in corners) / len(corners)
    return y > 0 and abs(x) < slope * y


def mitred_shapes(
    strip: Sequence[Piece],
    facets: Facets,
    *,
    middle: float,
    start: float,
    step: float,
    taken: int,
) -> tuple[Piece, ...]:
    """A strip cut into straight pieces, as many as go into what is shown of it.

    The strip's middle line stands at y = `middle`; from x = `start` on, every `step` mm, the
    pattern is where a piece begins. Each piece takes `taken` steps.
    """
    tangent = math.tan(math.radians(facets.mitre))
    half, lean = facets.length / 2.0, math.radians(facets.mitre)
    places = _places(strip, facets, middle=middle, start=start, step=step, taken=taken)
    shapes: list[Piece] = []
    reach = half + tangent * 2.0 * middle
    sides = [(one, *one.outline.bounds()[::2]) for one in strip]
    for centre in places:
        for one, left, right in sides:
            if right < centre - reach or left > centre + reach:
                continue
            cut = one.outline
            for sign in (-1.0, 1.0):
                # inward from the mitre: its distance from the origin along that direction
                normal = (-sign * math.cos(lean), math.sin(lean))
                least = normal[0] * (centre + sign * half) + normal[1] * middle
                found = kept(cut, normal=normal, least=least)
                if found is None:
                    break
                cut = found
            else:
                shapes.append(replace(one, outline=cut, label=str(len(shapes) + 1)))
    return tuple(replace(one, position=number) for number, one in enumerate(shapes, start=1))


def _places(
    strip: Sequence[Piece], facets: Facets, *, middle: float, start: float, step: float, taken: int
) -> list[float]:
    """The middles of the straight pieces that go into a strip, each on a whole step."""
    tangent = math.tan(math.radians(facets.mitre))
    top = max(one.outline.bounds()[3] for one in strip)
    outer = facets.length / 2.0 + tangent * (top - middle)
    ends = [_end(strip, side) for side in (-1.0, 1.0)]
    first = math.ceil((ends[0] + outer - start - facets.length / 2.0) / step - 1e-9)
    found = []
    centre = start + facets.length / 2.0 + max(0, first) * step
    while centre + outer <= ends[1] + 1e-9:
        found.append(centre)
        centre += taken * step
    return found


def _end(strip: Sequence[Piece], side: float) -> float:
    """Where a strip has its full width, at its left (-1) or right (1) end."""
    low = min(one.outline.bounds()[1] for one in strip)
    high = max(one.outline.bounds()[3] for one in strip)
    corners = [point for one in strip for point in one.outline.points()]
    reach = [
        max((side * x for x, y in corners if abs(y - level) < 1e-9), default=0.0)
        for level in (low, high)
    ]
    return side * min(reach)


def finishing(site: RingSite, *, backing: float, bent: bool) -> tuple[Saying, ...]:
    """Backing, and the trimming of a ring of straight pieces."""
    trimming = (
        say(
            "Hold the bent band in its form, or in the channel itself, until it is dry and cold;"
            " it springs back a little."
        )
        if bent
        else say(
            "Trim the ring on its pivot to {inner} inside and {outer} outside radius, with light"
            " cuts: the grain crosses the edge.",
            inner=Length(site.inner_radius),
            outer=Length(site.outer_radius),
        )
    )
    return (*backing_steps(backing), trimming) if not bent else (trimming, *backing_steps(backing))


def across(
    plan_woods: dict[str, float], radius: float, share: float
) -> tuple[tuple[str, float], ...]:
    """What of the outer circumference each wood swells along, as if it lay all across the grain.

    Grain at θ to the circumference moves sin²θ as much along it as grain square to it (the strain
    of a sheet that moves only across its grain, turned); `share` is that factor.
    """
    total = sum(plan_woods.values())
    round_it = math.tau * radius
    return tuple((wood, round_it * part / total * share) for wood, part in plan_woods.items())
