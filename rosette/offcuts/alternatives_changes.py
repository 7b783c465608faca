"""Changes to a design that a box lacks wood for: in words, as lines of its file, and as made."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from rosette.design.model import Design, PlacedRing
from rosette.keys.show import toml_value
from rosette.offcuts.options import CutOptions
from rosette.units import MM_PER_INCH, Units
from rosette.words import Length, Saying, Word, say

Kind = Literal["width", "fewer", "more", "wood", "left out"]

WIDE = 72
"""Characters in a line of what is to be pasted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing done otherwise in one ring, which `ring` numbers as the design has it.

    `keys` go in place of the ring's own, None for one that goes; `lines` say the same as TOML.
    `kind` is what sort of change it is. `seen`: the share of the ring that looks different for it,
    0 to 1. A ring `left_out` has no keys. `note` is for who pastes the lines.
    """

    ring: int
    kind: Kind
    what: Saying
    keys: tuple[tuple[str, Any], ...] = ()
    lines: tuple[str, ...] = ()
    seen: float = 0.0
    left_out: bool = False
    note: str = ""

    def within(self, other: Change) -> bool:
        """Whether the other is the same change, or more of it."""
        if self.kind in ("wood", "left out"):
            return self == other
        return (self.ring, self.kind) == (other.ring, other.kind) and self.seen <= other.seen


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """Something that works: in words, as lines for the design file, as options of the command.

    `parts` are the words: one for each ring that changes, one for how it is cut otherwise.

    `toml` has a block for each ring that changes, headed by a comment that names the ring and
    says what changes; its lines go into the ring's table in place of the keys that say the same.
    `flags` are added to the command, those that it names in place of what was there. `design`
    and `options` are what was tried. `distance` says how far it is from what was asked for: the
    shares of the rings that look different, added up.
    """

    parts: tuple[Saying, ...]
    toml: str
    flags: str
    design: Design
    options: CutOptions
    changes: tuple[Change, ...] = ()

    @property
    def what(self) -> Saying:
        """In words, as one sentence."""
        return joined(self.parts, "; ")

    @property
    def distance(self) -> float:
        """How much of the rings looks different: 1 is as much as one whole ring."""
        return sum(one.seen for one in self.changes)

    def within(self, other: Alternative) -> bool:
        """Whether the other does all that this one does, or more of it."""
        return self.flags in ("", other.flags) and all(
            any(mine.within(theirs) for theirs in other.changes) for mine in self.changes
        )

    @property
    def sort(self) -> tuple[object, ...]:
        """What sort of thing is done otherwise, in one ring or in several."""
        several = len({one.ring for one in self.changes if one.seen}) > 1
        return frozenset(one.kind for one in self.changes), several, self.flags


def changed(design: Design, changes: Iterable[Change]) -> Design:
    """The design with the changes made; rings that follow on another move along with it."""
    keys: dict[int, dict[str, Any]] = {}
    left_out = set()
    for change in changes:
        keys.setdefault(change.ring, {}).update(change.keys)
        if change.left_out:
            left_out.add(change.ring)
    rings: list[PlacedRing] = []
    edge = design.instrument.soundhole_diameter / 2.0
    for one in design.rings:
        if one.index in left_out:
            continue
        mine = replace(one.keys, **keys.get(one.index, {}))
        inner, outer = mine.inner_radius, mine.outer_radius
        inner = edge + (mine.space or 0.0) if inner is None else inner
        outer = inner + (mine.width or 0.0) if outer is None else outer
        rings.append(
            PlacedRing(index=len(rings) + 1, keys=mine, inner_radius=inner, outer_radius=outer)
        )
        edge = outer
    return replace(design, rings=tuple(rings))


def alternative(
    design: Design,
    options: CutOptions,
    *,
    changes: Sequence[Change] = (),
    flags: str = "",
    how: Saying | None = None,
) -> Alternative:
    """The alternative that makes these changes, with these `flags` of the command (`how`)."""
    by_ring = {
        ring: [one for one in changes if one.ring == ring]
        for ring in sorted({one.ring for one in changes})
    }
    parts = [
        together([say("ring {ring}", ring=ring), joined([one.what for one in some], " and ")], " ")
        for ring, some in by_ring.items()
    ]
    blocks = [_block(ring, some, design.units) for ring, some in by_ring.items()]
    return Alternative(
        parts=(*parts, *([how] if how else [])),
        toml="\n".join(blocks),
        flags=flags,
        design=changed(design, changes) if changes else design,
        options=options,
        changes=tuple(changes),
    )


def _block(ring: int, changes: Sequence[Change], units: Units) -> str:
    said = " and ".join(one.what.text(units) for one in changes)
    notes = "".join(f"; {one.note}" for one in changes if one.note)
    comment = textwrap.wrap(
        f"ring {ring}: {said}{notes}", WIDE - 2, break_long_words=False, break_on_hyphens=False
    )
    lines = [f"# {line}" for line in comment]
    return "\n".join([*lines, *(line for one in changes for line in one.lines)])


def joined(sayings: Sequence[Saying], mark: str) -> Saying:
    """Sayings one after another, each with its own words.

    >>> joined([say("{a} wide", a=3), say("{a} high", a=4)], " and ").text()
    '3 wide and 4 high'
    """
    return together([one for some in sayings for one in (Saying(mark), some)][1:], "")


def together(sayings: Sequence[Saying], mark: str) -> Saying:
    """Sayings with a mark between them that holds no gaps."""
    templates, words = [], list[tuple[str, Word]]()
    for at, one in enumerate(sayings):
        template = one.template
        for name, word in one.words:
            template = template.replace("{" + name + "}", "{" + f"{name}_{at}" + "}")
            words.append((f"{name}_{at}", word))
        templates.append(template)
    return Saying(mark.join(templates), tuple(words))


def number(mm: float, units: Units) -> str:
    """A length as the design file has it, to a hair.

    >>> number(12.9, "mm"), number(65.275, "mm"), number(25.4, "in")
    ('12.9', '65.275', '1')
    """
    value = mm / MM_PER_INCH if units == "in" else mm
    return f"{value:.4f}".rstrip("0").rstrip(".")


def written(mm: float, units: Units) -> float:
    """A length (mm) as it comes back from the file."""
    return float(number(mm, units)) * (MM_PER_INCH if units == "in" else 1.0)


def narrowed(placed: PlacedRing, width: float, units: Units) -> Change:
    """The ring made `width` mm wide, its inner edge where it was."""
    keys, lines = dict[str, Any](), []
    ends = {"width": width, "outer_radius": placed.inner_radius + width}
    for name, value in ends.items():
        if getattr(placed.keys, name) is not None:
            keys[name] = written(value, units)
            lines.append(f"{name} = {number(value, units)}")
    before = placed.outer_radius - placed.inner_radius
    return Change(
        ring=placed.index,
        kind="width",
        what=say("{width} wide, not {before}", width=Length(width), before=Length(before)),
        keys=tuple(keys.items()),
        lines=tuple(lines),
        seen=1.0 - width / before,
    )


def counted(placed: PlacedRing, count: int, before: int) -> Change:
    """The ring of `count` wedges instead of as many as `before`."""
    words = "fewer and wider" if count < before else "more and narrower"
    chosen = getattr(placed.keys, "segment_width", None) is not None
    return Change(
        ring=placed.index,
        kind="fewer" if count < before else "more",
        what=say(
            "of {count} wedges, not {before} ({words})", count=count, before=before, words=words
        ),
        note="this goes in place of segment_width" if chosen else "",
        keys=(("segments", count), ("segment_width", None)),
        lines=(f"segments = {count}",),
        seen=min(1.0, abs(count - before) / before),
    )


def left_out(design: Design, ring: int) -> tuple[Change, ...]:
    """A ring less; the one after it stays where it is."""
    gone = Change(
        ring=ring,
        kind="left out",
        what=say("left out"),
        note="delete its [[ring]] table",
        left_out=True,
        seen=1.0,
    )
    if ring == len(design.rings) or design.rings[ring].keys.inner_radius is not None:
        return (gone,)
    after = design.rings[ring]
    named = after.keys.space is not None
    return gone, Change(
        ring=after.index,
        kind="left out",
        what=say("stays where it is"),
        note="this goes in place of space" if named else "",
        keys=(("inner_radius", written(after.inner_radius, design.units)), ("space", None)),
        lines=(f"inner_radius = {number(after.inner_radius, design.units)}",),
    )


def wood_line(woods: Sequence[str]) -> str:
    """The key `wood` as TOML, in lines that a page can hold."""
    quoted = [toml_value(wood) for wood in woods]
    if len(quoted) == 1:
        return f"wood = {quoted[0]}"
    lines, line = [], "wood = ["
    for at, one in enumerate(quoted):
        more = f"{one}{',' if at < len(quoted) - 1 else ']'}"
        if len(line) + 1 + len(more) > WIDE:
            lines.append(line)
            line = f"  {more}"
        else:
            line += more if line.endswith("[") else f" {more}"
    return "\n".join([*lines, line])


def shortest(woods: tuple[str, ...]) -> tuple[str, ...]:
    """The shortest sequence that, repeated, gives these woods.

    >>> shortest(("ash", "oak", "ash", "oak")), shortest(("ash", "oak", "ash"))
    (('ash', 'oak'), ('ash', 'oak', 'ash'))
    """
    for length in range(1, len(woods) + 1):
        if len(woods) % length == 0 and woods[:length] * (len(woods) // length) == woods:
            return woods[:length]
    return woods
