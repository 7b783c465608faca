"""How many wedges: choosing a count from a wanted width, and what a bad count could be instead."""

from __future__ import annotations

import math

from rosette.geometry.wedge import MOST_SEGMENTS, half_angle_rad
from rosette.words import Length, Saying, say


def outer_chord(segments: int, *, outer_radius: float, joint: float) -> float:
    """Width in mm of a finished wedge across its outer edge, corner to corner."""
    half = half_angle_rad(outer_radius, segments=segments, joint=joint)
    return 2.0 * outer_radius * math.sin(half)


def choose_count(
    wanted: float, *, outer_radius: float, joint: float, sequence: int, most: int
) -> int | None:
    """The count whose wedges come nearest `wanted` mm across their outer edge.

    Only even counts that the sequence of woods divides are weighed: an even count closes from
    two equal halves and puts a joint (or a wedge) at both ends of the centreline. None where
    no such count up to `most` exists.
    """
    step = math.lcm(2, sequence)
    first = step * math.ceil(4 / step)
    counts = range(first, min(most, MOST_SEGMENTS) + 1, step)

    def miss(count: int) -> float:
        return abs(outer_chord(count, outer_radius=outer_radius, joint=joint) - wanted)

    return min(counts, key=miss, default=None)


def chosen_words(
    count: int, wanted: float, *, outer_radius: float, joint: float, sequence: int, reason: str
) -> Saying:
    """The sentence that tells how the count was chosen, with the counts beside it.

    `reason` ends "the counts that are".
    """
    step = math.lcm(2, sequence)
    words: dict[str, Length | int | str] = {
        "count": count,
        "width": Length(outer_chord(count, outer_radius=outer_radius, joint=joint)),
        "wanted": Length(wanted),
        "reason": reason,
        "more": count + step,
        "narrower": Length(outer_chord(count + step, outer_radius=outer_radius, joint=joint)),
    }
    sentence = (
        "{count} wedges chosen: {width} across the outer edge, nearest to the {wanted} asked for"
        " among the counts that are {reason}; {more} would give {narrower}"
    )
    if count - step >= 3:
        words["fewer"] = count - step
        words["wider"] = Length(outer_chord(count - step, outer_radius=outer_radius, joint=joint))
        sentence += ", {fewer} would give {wider}"
    return say(sentence + ".", **words)


def counts_beside(segments: int, sequence: int) -> str:
    """The nearest counts that the sequence divides, as words: "34 or 36".

    >>> counts_beside(35, 2), counts_beside(4, 5)
    ('34 or 36', '5')
    """
    below = segments // sequence * sequence
    above = below + sequence
    return f"{below} or {above}" if below >= 3 else str(max(above, 3 if sequence == 1 else above))
