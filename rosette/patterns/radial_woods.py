"""Which wood each wedge of a radial ring is of: sequences, pairs, halves and gradients."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rosette.errors import CannotMakeError, Finding, finding
from rosette.patterns.base import RingSite
from rosette.patterns.count import counts_beside
from rosette.patterns.radial_keys import RadialKeys


def wood_order(segments: int, keys: RadialKeys) -> tuple[str, ...]:
    """The wood of each wedge, clockwise from the seam."""
    places = _places(segments, keys)
    woods, steps = keys.wood, max(places) + 1
    if keys.gradient:
        return tuple(woods[place * len(woods) // steps] for place in places)
    return tuple(woods[place % len(woods)] for place in places)


def _places(segments: int, keys: RadialKeys) -> list[int]:
    """For each wedge, clockwise from the seam, its place in the sequence of woods, from 0.

    Wedges that mirror each other have one place.
    """
    positions = list(range(segments))
    if keys.mirrored_halves:
        # at a joint the first wedge mirrors the last; a wedge at 12 o'clock mirrors itself
        turned = segments if keys.at_centreline == "wedge" else segments - 1
        positions = [min(p, (turned - p) % segments) for p in positions]
    return [p // 2 for p in positions] if keys.mirrored_pairs else positions


def steps_in_order(segments: int, keys: RadialKeys) -> int:
    """How many places the woods go through before they end (at the seam, or at 6 o'clock)."""
    return max(_places(segments, keys)) + 1


def repeat(keys: RadialKeys) -> int:
    """The count of wedges, or a multiple of it, that the order of woods divides."""
    woods = 1 if keys.gradient else len(keys.wood)
    if keys.mirrored_halves:
        woods = 1 if keys.at_centreline == "wedge" else 2 * woods
    if keys.mirrored_pairs:
        woods *= 2
    if keys.widths is not None:
        woods = math.lcm(woods, 4)
    return woods


def counted_by(keys: RadialKeys) -> str:
    """What is asked of the counts that the tool chooses among, after "the counts that are "."""
    if keys.widths is not None:
        return "divided by four, so that the ring has halves, and by the order of woods"
    if keys.mirrored_pairs or keys.mirrored_halves:
        return "even and bring the order of woods to its end"
    sequence = 1 if keys.gradient else len(keys.wood)
    return "even" if sequence == 1 else f"even and divided by the sequence of {sequence} woods"


def check_form(segments: int, keys: RadialKeys, site: RingSite) -> None:
    """See that the ring's form can be had with this count.

    Raises:
        CannotMakeError: with every reason, each naming what would work.
    """
    reasons = tuple(_reasons(segments, keys, site))
    if reasons:
        raise CannotMakeError(reasons)


def _reasons(segments: int, keys: RadialKeys, site: RingSite) -> Iterator[Finding]:
    where = site.where
    in_turn = {"mirrored_pairs": keys.mirrored_pairs, "widths": keys.widths is not None}
    for name, asked in in_turn.items():
        if asked and segments % 2:
            yield finding(
                "odd-count",
                f"{where}.segments",
                "{name} takes an even count of wedges, {segments} is odd; {better} would do",
                name=name,
                segments=segments,
                better=counts_beside(segments, 2),
            )
    if keys.mirrored_pairs and keys.widths is not None:
        yield finding(
            "no-such-form",
            f"{where}.mirrored_pairs",
            "the wedges of a mirrored pair are alike, so widths can't stand beside it;"
            " leave out one of the two",
        )
    if keys.mirrored_pairs and keys.skew:
        yield finding(
            "no-such-form",
            f"{where}.mirrored_pairs",
            "opened like a book, every second wedge would lean the other way and the ring would"
            ' not swirl; leave out skew, or write pattern = "chevron" for grain that leans to'
            " both sides in turn",
        )
    if keys.mirrored_halves and keys.mirrored_pairs and keys.at_centreline == "wedge":
        yield finding(
            "no-such-form",
            f"{where}.at_centreline",
            "a wedge at 12 o'clock leaves its pair to one side of the centreline, so the halves"
            ' would not mirror each other; write at_centreline = "joint"',
        )
    if keys.mirrored_halves and keys.widths is not None and keys.at_centreline == "joint":
        yield finding(
            "no-such-form",
            f"{where}.at_centreline",
            "a joint at 12 o'clock has a wide wedge on one side and a narrow one on the other, so"
            ' the halves would not mirror each other; write at_centreline = "wedge"',
        )
    places = steps_in_order(segments, keys)
    if keys.gradient and places < len(keys.wood):
        yield finding(
            "short-gradient",
            f"{where}.wood",
            "a gradient over {woods} woods takes as many places, and {segments} wedges give"
            " {places}; list {places} woods or fewer, or use more wedges",
            woods=len(keys.wood),
            segments=segments,
            places=places,
        )


def broken_sequence(segments: int, keys: RadialKeys, site: RingSite) -> Iterator[Finding]:
    """A warning where the woods' order breaks off before its end."""
    sequence, places = len(keys.wood), steps_in_order(segments, keys)
    if keys.gradient or places % sequence == 0:
        return
    plain = not (keys.mirrored_pairs or keys.mirrored_halves)
    if plain:
        yield finding(
            "broken-sequence",
            f"{site.where}.segments",
            "the sequence of {sequence} woods does not divide {segments} wedges, so it breaks off"
            " at the seam; {better} would close it",
            sequence=sequence,
            segments=segments,
            better=counts_beside(segments, sequence),
        )
        return
    yield finding(
        "broken-sequence",
        f"{site.where}.segments",
        "the sequence of {sequence} woods does not divide the {places} {what}, so it breaks off"
        " at {end}; {better} wedges would close it",
        sequence=sequence,
        places=places,
        what="pairs" if not keys.mirrored_halves else "places from 12 o'clock to 6 o'clock",
        end="6 o'clock" if keys.mirrored_halves else "the seam",
        better=_closing_counts(segments, keys),
    )


def _closing_counts(segments: int, keys: RadialKeys) -> str:
    """The nearest counts, even ones, with which the order of woods comes out whole."""
    found = [
        near
        for side in (-2, 2)
        for near in _first_closing(segments + segments % 2 * (side // 2), side, keys)
    ]
    return " or ".join(map(str, found))


def _first_closing(start: int, step: int, keys: RadialKeys) -> Iterator[int]:
    for times in range(8 * len(keys.wood)):
        count = start + times * step
        if count < 4:
            return
        if steps_in_order(count, keys) % len(keys.wood) == 0:
            yield count
            return
