"""Plan → words for the bench: the numbers as a person reads them, 80 columns wide."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator, Sequence

from rosette.geometry.hidden import Visibility
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Channel, ChannelStep, Plan
from rosette.units import Units, format_angle, format_length, number_in, rounded
from rosette.words import numbered, runs

WIDTH = 80
_MEASURE = re.compile(r"[0-9.]+ (?:mm|in)\b(?: \([0-9/ ]+\))?")


def report(plan: Plan, units: Units | None = None) -> str:
    """The whole plan as plain text in `units` (the design's own where None)."""
    return "\n".join(_Report(plan, units or plan.units).lines()) + "\n"


def wrapped(text: str, *, lead: str = "", indent: str = "  ") -> list[str]:
    """A paragraph of at most 80 columns; later lines stand under the text after `lead`."""
    lines = textwrap.wrap(
        _MEASURE.sub(lambda found: found[0].replace(" ", "\xa0"), text),
        WIDTH,
        initial_indent=indent + lead,
        subsequent_indent=indent + " " * len(lead),
        break_on_hyphens=False,
        break_long_words=True,
    )
    return [line.replace("\xa0", " ") for line in lines]


class _Report:
    """One plan told in one unit."""

    def __init__(self, plan: Plan, units: Units) -> None:
        self.plan = plan
        self.units: Units = units

    def length(self, mm: float, decimals: int = 2) -> str:
        return format_length(mm, self.units, decimals=decimals)

    def lines(self) -> Iterator[str]:
        plan = self.plan
        yield from wrapped(plan.name, indent="")
        yield "=" * min(WIDTH, len(plan.name))
        yield from self.pairs(
            [
                ("Soundhole", f"{self.length(plan.soundhole_diameter)} across"),
                ("Top", f"{self.length(plan.top_thickness)} thick"),
                ("Fingerboard", self.fingerboard()),
                ("Kerf", self.length(plan.kerf)),
            ]
        )
        for ring in plan.rings:
            yield ""
            yield from self.ring(ring)
        for channel in plan.channels:
            yield ""
            yield from self.channel(channel)
        if plan.movement:
            yield ""
            yield from self.movement()
        yield ""
        yield from self.warnings()

    def fingerboard(self) -> str:
        hidden = self.plan.hidden
        if hidden is None:
            return "not given, so nothing of the rings is hidden"
        return f"{self.length(hidden.width)} wide, ends {self.length(hidden.reach)} from the centre"

    def pairs(self, rows: Iterable[tuple[str, str]]) -> Iterator[str]:
        for name, value in rows:
            yield from wrapped(value, lead=f"{name:<18}")

    def ring(self, ring: RingPlan) -> Iterator[str]:
        yield from self.heading(f"Ring {ring.index}: {ring.pattern}, {', '.join(ring.woods)}")
        yield from self.pairs(
            [
                (
                    "Radii",
                    f"{self.length(ring.inner_radius)} to {self.length(ring.outer_radius)}",
                ),
                ("Width", self.length(ring.width)),
                ("Tile thickness", self.thickness(ring)),
            ]
        )
        if ring.wedges is not None:
            yield from self.wedges(ring, ring.wedges)
        if ring.strip is not None:
            strip = ring.strip
            yield from self.pairs(
                [
                    ("Strip to cut", f"{self.length(strip.cut_length, 1)} long"),
                    ("Seen of it", self.length(strip.visible_length, 1)),
                    ("Once round", f"{self.length(strip.full_length, 1)} with overlap"),
                ]
            )
        yield from self.prepare(ring)
        yield "  Steps"
        for number, step in enumerate(ring.steps, start=1):
            yield from wrapped(step.text(self.units), lead=f"{number:>2}. ")

    def prepare(self, ring: RingPlan) -> Iterator[str]:
        """The wood to prepare, a line a kind."""
        if ring.stock:
            yield "  Prepare (length along the grain, width, thickness)"
        for one in ring.stock:
            sizes = (self.length(mm, 1) for mm in (one.length, one.width))
            size = " × ".join((*sizes, self.length(one.thickness)))
            spare = f" and {one.spares} to spare" if one.spares else ""
            told = f"{one.name} of {one.wood}{spare}: {size}"
            yield from wrapped(told, lead=f"{one.count:>4} × ")

    def thickness(self, ring: RingPlan) -> str:
        text = self.length(ring.tile_thickness)
        return f"{text} on {self.length(ring.backing)} of backing" if ring.backing else text

    def wedges(self, ring: RingPlan, wedges: Wedges) -> Iterator[str]:
        blank, finished, up = wedges.blank, wedges.finished, wedges.glue_up
        if wedges.chosen is not None:
            yield from wrapped(wedges.chosen.text(self.units))
        yield from self.pairs(
            [
                ("Wedges", f"{wedges.segments}, {_symmetry(wedges)}"),
                *self.seen(ring),
                ("Mitre", _mitre(wedges)),
                ("Joint", self.joint(wedges)),
            ]
        )
        yield "  Blank, off the saw"
        yield from self.pairs(
            [
                ("  wide end", self.length(blank.outer_width)),
                ("  narrow end", self.length(blank.inner_width)),
                ("  along the grain", self.length(blank.height)),
            ]
        )
        yield "  Finished, in the ring"
        yield from self.pairs(
            [
                ("  outer edge", f"{self.length(finished.outer_chord)} corner to corner"),
                ("  inner edge", f"{self.length(finished.inner_chord)} corner to corner"),
            ]
        )
        yield "  Glued up, untrimmed"
        yield from self.pairs(
            [
                ("  across flats", self.length(up.across_flats)),
                ("  across corners", self.length(up.across_corners)),
            ]
        )
        yield from self.stock(wedges)
        yield from self.closing(wedges)

    def seen(self, ring: RingPlan) -> Iterator[tuple[str, str]]:
        """How many good wedges are needed, and which ones the fingerboard hides."""
        if self.plan.hidden is None:
            return
        hidden = [p.position for p in ring.pieces if p.visibility is Visibility.HIDDEN]
        partly = [p.position for p in ring.pieces if p.visibility is Visibility.PARTLY]
        yield "Good ones needed", f"{len(ring.pieces) - len(hidden)}"
        if hidden:
            yield "Wholly hidden", f"{len(hidden)}: {runs(hidden)}"
        if partly:
            yield "Partly hidden", f"{len(partly)}: {runs(partly)}"

    def joint(self, wedges: Wedges) -> str:
        if wedges.joint == 0:
            return "wood to wood"
        parts = []
        if wedges.spacer_wood is not None:
            parts.append(f"{self.length(wedges.spacer_thickness)} of {wedges.spacer_wood}")
        if wedges.glue_line:
            parts.append(f"{self.length(wedges.glue_line)} of glue")
        return " and ".join(parts)

    def stock(self, wedges: Wedges) -> Iterator[str]:
        yield from wrapped(
            f"Strip to cut them from, {self.length(wedges.glue_up.strip_width)} wide"
            + (", two face to face:" if wedges.leaves == 2 else ":")
        )
        rows = [
            (one.wood, str(one.count), f"+{one.spares}", self.length(one.strip_with_spares, 1))
            for one in wedges.woods
        ]
        yield from table(("wood", "wedges", "spares", "length with spares"), rows)

    def closing(self, wedges: Wedges) -> Iterator[str]:
        close = wedges.closing
        remedy = (
            "fit the last wedge to the opening that is left."
            if wedges.segments % 2
            else "true the halves before you join them. A half that is"
            f" {rounded(close.half_tolerance, 1)}° short uses up all the trim: cut a hair fat."
        )
        yield from wrapped(
            f"Closing: each {close.face_error:g}° on every cut face adds up to"
            f" {close.ring_error:g}° and {self.length(close.gap, 1)} at the rim. To close within"
            f" {self.length(close.wanted_gap)} the faces would have to be true to"
            f" {rounded(close.face_error_for_gap, 4)}°, so {remedy}"
        )
        seam = "wholly under the fingerboard" if wedges.seam.hidden else "in sight"
        at = (
            "at 12 o'clock"
            if wedges.seam.angle == 0
            else f"{format_angle(wedges.seam.angle)} off 12 o'clock"
        )
        yield from wrapped(f"Seam: {at}, {seam}.")

    def channel(self, channel: Channel) -> Iterator[str]:
        yield from self.heading(f"Channel {channel.index}: for {numbered(channel.rings)}")
        yield from self.pairs(
            [
                (
                    "Walls at",
                    f"{self.length(channel.inner_radius)} and"
                    f" {self.length(channel.outer_radius)} from the centre",
                ),
                ("Deepest", f"{self.length(channel.depth)}, leaving {self.length(channel.floor)}"),
                ("Bit", self.length(channel.bit_diameter, 3)),
            ]
        )
        for number, step in enumerate(channel.steps):
            yield from self.step(channel, step, alone=len(channel.steps) == 1, number=number + 1)

    def step(
        self, channel: Channel, step: ChannelStep, *, alone: bool, number: int
    ) -> Iterator[str]:
        passes = [
            one
            for one in channel.passes
            if step.top < one.depth <= step.depth
            and step.inner_radius < one.pivot_radius < step.outer_radius
        ]
        depths = ", ".join(self.length(depth) for depth in dict.fromkeys(p.depth for p in passes))
        lead = "" if alone else f"Step {number}, under {numbered(step.rings)}. "
        yield from wrapped(f"{lead}Set the depth to {depths}; at each, the pivot to bit's centre:")
        settings = {one.pivot_radius: one.wall for one in passes}
        rows = [(self.length(r), _CUTS[wall]) for r, wall in settings.items()]
        yield from table(("radius", "cuts"), rows)

    def movement(self) -> Iterator[str]:
        yield from self.heading("With the weather, if the ring were free to move")
        rows = [
            (
                f"ring {one.ring}",
                one.case,
                f"{rounded(one.moisture_build, 1)} → {rounded(one.moisture, 1)} %",
                _signed(one.circumference_change, self.units),
                _signed(one.per_joint, self.units, 3),
            )
            for one in self.plan.movement
        ]
        unit = self.units
        yield from table(("", "air", "water in it", f"round, {unit}", f"a joint, {unit}"), rows)
        sources = dict.fromkeys(source for one in self.plan.movement for source in one.sources)
        for source in sources:
            yield from wrapped(source, lead="  ")

    def warnings(self) -> Iterator[str]:
        warnings = self.plan.warnings
        if not warnings:
            yield "Nothing to warn of."
            return
        yield from self.heading("Before you cut, think over")
        for one in warnings:
            yield from wrapped(one.text(self.units), lead="! ")

    def heading(self, text: str) -> Iterator[str]:
        lines = wrapped(text, indent="")
        yield from lines
        yield "-" * len(lines[-1])


_CUTS = {
    "outer": "the outer wall",
    "inner": "the inner wall",
    "clear": "clears between",
    "both": "both walls at once",
}


def _symmetry(wedges: Wedges) -> str:
    top, other = (
        ("a joint", "a wedge") if wedges.at_centreline == "joint" else ("a wedge", "a joint")
    )
    if wedges.segments % 2 == 0:
        return f"{top} at both ends of the centreline"
    return f"{top} at 12 o'clock and {other} at 6 o'clock"


def _mitre(wedges: Wedges) -> str:
    saw, fence, wedge = (
        rounded(angle, 2)
        for angle in (wedges.mitre_angle, 90.0 - wedges.mitre_angle, wedges.included_angle)
    )
    return f"{saw}° off square ({fence}° to the fence); {wedge}° a wedge"


def _signed(mm: float, units: Units, decimals: int = 2) -> str:
    text = number_in(mm, units, decimals=decimals)
    return text if text.startswith("-") or float(text) == 0 else f"+{text}"


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Columns as wide as their widest cell, two spaces apart."""
    widths = [max(len(row[i]) for row in (head, *rows)) for i in range(len(head))]
    for row in (head, *rows):
        cells = (f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True))
        yield ("    " + "  ".join(cells)).rstrip()
