"""What a ring of two widths or a leaning grain asks for: stock, steps, stages, warnings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rosette.errors import Finding, finding
from rosette.geometry.leaning import LeaningBlank
from rosette.geometry.outline import Outline, Vertex
from rosette.patterns.base import Piece, RingSite, Seam, Stage, Stock, spares_for
from rosette.patterns.count import chosen_words
from rosette.patterns.radial_keys import RadialKeys
from rosette.patterns.radial_pairs import GRIP
from rosette.patterns.radial_woods import broken_sequence, counted_by, repeat
from rosette.patterns.radial_words import (
    delicate_warnings,
    last_steps,
    odd_warnings,
    seam_warnings,
    spacer_step,
)
from rosette.units import rounded
from rosette.words import Length, Saying, listed, say

if TYPE_CHECKING:
    from rosette.patterns.radial_uneven import Standing

SHORT_GRAIN = 30.0
"""Degrees between grain and joint from which a wedge's corners break out (common practice)."""
SHOWN = 4
"""So many wedges of a strip are drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sort:
    """One kind of blank: its wood, half the wedge's angle in degrees, and where it goes."""

    name: str
    wood: str
    half: float
    blank: LeaningBlank
    count: int
    positions: tuple[int, ...]

    @property
    def spares(self) -> int:
        """How many more to cut."""
        return spares_for(self.count)

    def strip(self, kerf: float) -> float:
        """Length in mm of strip for all of them and their spares."""
        return self.blank.strip_length(self.count + self.spares, kerf=kerf)


def uneven_stock(sort: Sort, keys: RadialKeys, site: RingSite) -> Stock:
    """The strip that one kind of blank is cut from: a trimming cut at each end, and the grip."""
    steepest = max(abs(sort.blank.left), abs(sort.blank.right))
    ends = 2.0 * site.kerf / math.cos(math.radians(steepest))
    return Stock(
        name=f"strip for {sort.name}s",
        wood=sort.wood,
        count=1,
        length=sort.blank.height,
        width=sort.strip(site.kerf) + ends + GRIP,
        thickness=keys.tile_thickness,
    )


def uneven_steps(
    sorts: tuple[Sort, ...], segments: int, halves: bool, keys: RadialKeys, site: RingSite
) -> tuple[Saying, ...]:
    """The making, one sentence a step, in the order of work."""
    return (
        *_first(sorts, segments, keys, site),
        *(_cut(one, site) for one in sorts),
        say(
            "Mark the show face all along each strip before you cut it. Number each wedge on that"
            " face as it leaves the saw, with an arrow to its wide end; every second one lay the"
            " other way round in the strip and is turned end for end, the show face still up."
        ),
        *(
            [spacer_step(keys.spacer.wood, keys.spacer.thickness, whole=not halves)]
            if keys.spacer
            else []
        ),
        *last_steps(
            site, segments=segments, whole=not halves, joint=keys.joint, backing=keys.backing
        ),
    )


def _first(
    sorts: tuple[Sort, ...], segments: int, keys: RadialKeys, site: RingSite
) -> Iterator[Saying]:
    if keys.segment_width is not None:
        yield chosen_words(
            segments,
            keys.segment_width,
            outer_radius=site.outer_radius,
            joint=keys.joint,
            sequence=repeat(keys),
            reason=counted_by(keys),
        )
    yield say(
        "Thickness the stock to {thick} and cut it into strips, the grain running straight across"
        " each strip from edge to edge.",
        thick=Length(keys.tile_thickness),
    )
    for one in _angles(sorts):
        yield _saw(one, segments, keys)


def _angles(sorts: tuple[Sort, ...]) -> tuple[Sort, ...]:
    """One of each width, whatever its wood."""
    return tuple({one.half: one for one in sorts}.values())


def _saw(sort: Sort, segments: int, keys: RadialKeys) -> Saying:
    if not keys.skew:
        return say(
            "For the {name}s set the saw {mitre}° off square and turn the strip over after every"
            " cut. Cut one of each width of scrap: side by side they must make {pair}° before good"
            " wood is cut.",
            name=sort.name,
            mitre=rounded(sort.half, 2),
            pair=rounded(720.0 / segments, 2),
        )
    return say(
        "For the {name}s set two mitre gauges, one {left}° off square {left_way}, the other"
        " {right}° {right_way}, and cut with them in turn, the show face always up: of a wedge"
        " that lies wide end away from you the first is the left side, the second the right.",
        name=sort.name,
        left=rounded(abs(sort.blank.left), 2),
        left_way=_way(sort.blank.left),
        right=rounded(abs(sort.blank.right), 2),
        right_way=_way(sort.blank.right),
    )


def _way(angle: float) -> str:
    return "leaning left" if angle > 0 else "leaning right"


def _cut(sort: Sort, site: RingSite) -> Saying:
    return say(
        "Cut {count} {name}s of {wood} and {spares} to spare, head to tail, out of {length} of"
        " strip {wide} wide: {outer} at the wide end, {inner} at the narrow end.",
        count=sort.count,
        name=sort.name,
        wood=sort.wood,
        spares=sort.spares,
        length=Length(sort.strip(site.kerf), 1),
        wide=Length(sort.blank.height),
        outer=Length(sort.blank.outer_width),
        inner=Length(sort.blank.inner_width),
    )


def strip_shapes(sort: Sort, kerf: float, count: int = SHOWN) -> tuple[Piece, ...]:
    """The first wedges of a strip head to tail, its lower edge on y = 0, grain upright.

    Every second one is turned by half a turn; between two neighbours lies one kerf.
    """
    blank = sort.blank
    left, right = (math.tan(math.radians(a)) for a in (blank.left, blank.right))
    # towards the right: the left side of an upright wedge comes first, then its right side, …
    x = 0.0
    made = []
    for number in range(1, count + 1):
        turned = number % 2 == 0
        first, second = (right, left) if turned else (left, right)
        mean = (blank.inner_width + blank.outer_width) / 2.0
        low, high = -blank.height / 2.0, blank.height / 2.0
        # a side that leans left by t on its way up stands at x - t·y
        corners = [
            (x - first * low, low + high),
            (x + mean - second * low, low + high),
            (x + mean - second * high, 2.0 * high),
            (x - first * high, 2.0 * high),
        ]
        made.append(
            Piece(
                label=str(number),
                position=number,
                wood=sort.wood,
                kind="blank",
                outline=Outline(tuple(Vertex(*corner) for corner in corners)),
                axis=90.0,
            )
        )
        x += mean + kerf * math.sqrt(1.0 + second**2)
    return tuple(made)


def uneven_stages(
    sorts: tuple[Sort, ...],
    standing: tuple[Standing, ...],
    pieces: tuple[Piece, ...],
    keys: RadialKeys,
    site: RingSite,
) -> tuple[Stage, ...]:
    """A strip of each width of wedge, and the blanks laid out as a ring."""
    strips = tuple(_strip_stage(one, sorts, site) for one in _angles(sorts))
    return (*strips, _laid_out(sorts, standing, pieces, keys))


def _strip_stage(shown: Sort, sorts: tuple[Sort, ...], site: RingSite) -> Stage:
    """The strip of one width of wedge, whatever wood it is of."""
    alike = [one for one in sorts if one.half == shown.half]
    counts = listed([f"{one.count} + {one.spares} of {one.wood}" for one in alike])
    return Stage(
        title=f"Strip for {shown.name}s",
        saying=say(
            "{counts}, head to tail, every second one the other way round; the first {shown} of"
            " a strip, show face up.",
            counts=counts,
            shown=SHOWN,
        ),
        sizes=(
            ("strip, wide", shown.blank.height),
            *((f"strip of {one.wood}, long", one.strip(site.kerf)) for one in alike),
            ("wide end", shown.blank.outer_width),
            ("narrow end", shown.blank.inner_width),
        ),
        shapes=strip_shapes(shown, site.kerf),
    )


def _laid_out(
    sorts: tuple[Sort, ...],
    standing: tuple[Standing, ...],
    pieces: tuple[Piece, ...],
    keys: RadialKeys,
) -> Stage:
    blanks = {one.half: one.blank for one in sorts}
    shapes = tuple(
        Piece(
            label=piece.label,
            position=piece.position,
            wood=piece.wood,
            kind="blank",
            outline=blanks[one.half].outline().mapped(math.radians(one.middle - keys.skew)),
            axis=piece.axis,
        )
        for one, piece in zip(standing, pieces, strict=True)
    )
    corners = [corner for blank in blanks.values() for corner in blank.corners()]
    return Stage(
        title="The ring glued up, untrimmed",
        saying=say("All {count} blanks in the order of their numbers.", count=len(pieces)),
        sizes=(("across corners", 2.0 * max(math.hypot(u, v) for u, v in corners)),),
        shapes=shapes,
    )


def uneven_warnings(
    sorts: tuple[Sort, ...],
    seam: Seam,
    halves: bool,
    keys: RadialKeys,
    site: RingSite,
) -> tuple[Finding, ...]:
    """What to think over before such a ring is cut."""
    segments = sum(one.count for one in sorts)
    narrowest = min(one.half for one in sorts)
    taken = math.radians(narrowest) - math.asin(keys.joint / (2.0 * site.inner_radius))
    return (
        *broken_sequence(segments, keys, site),
        *(_no_halves(segments, site) if keys.widths else odd_warnings(segments, site)),
        *seam_warnings(seam, site),
        *delicate_warnings(
            site, inner_chord=2.0 * site.inner_radius * math.sin(taken), halves=halves
        ),
        *_short_grain(sorts, keys, site),
    )


def _no_halves(segments: int, site: RingSite) -> Iterator[Finding]:
    if segments % 4:
        yield finding(
            "no-halves",
            f"{site.where}.segments",
            "with {segments} wedges of two widths in turn no joint lies across from another, so"
            " the last wedge has to be fitted to its opening; {fewer} or {more} close from halves",
            segments=segments,
            fewer=segments - 2,
            more=segments + 2,
        )


def _short_grain(sorts: tuple[Sort, ...], keys: RadialKeys, site: RingSite) -> Iterator[Finding]:
    steepest = max(one.half for one in sorts) + abs(keys.skew)
    if keys.skew and steepest > SHORT_GRAIN:
        yield finding(
            "short-grain",
            f"{site.where}.skew",
            "the grain meets one joint of each wedge at {angle}°: its corners are short grain and"
            " break out, and the joint is half end grain; size it with thin glue first, and handle"
            " the wedges by their middles, or lean the grain less",
            angle=rounded(steepest, 1),
        )
