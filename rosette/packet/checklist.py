"""The checklist: the whole job in the order of work, with room for what was measured."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from rosette.output.document import Block, Caution, Heading, Paragraph, Table, TextPages, Tick
from rosette.packet.cautions import KNIFE, ROUTER, SMALL, saw_caution, wood_cautions
from rosette.packet.cutsteps import cutting_steps, strip_steps
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Channel, Pass, Plan
from rosette.units import Units, format_angle, format_length, rounded
from rosette.words import Length, Word, say

if TYPE_CHECKING:
    from rosette.offcuts.cutplan import CuttingPlan

BLANK = "_" * 12
"""Room to write a measure among words."""
ROOM = "_" * 20
"""Room to write a measure in a table."""
_WALLS = {"outer": "outer wall", "inner": "inner wall", "both": "both walls", "clear": "between"}


def checklist(
    plan: Plan,
    *,
    units: Units,
    trays: tuple[str, ...] = (),
    cutting: CuttingPlan | None = None,
) -> TextPages:
    """Every step from the pivot hole to the soundhole.

    Args:
        plan: what is made.
        units: what lengths are told in.
        trays: names of the fixture files to print, where there are any.
        cutting: how the wedges come out of offcuts, where they do.
    """
    return TextPages(
        title="Checklist, in the order of work",
        blocks=(
            *_before(plan, units, trays),
            *_once(block for ring in plan.rings for block in _ring(ring, units, cutting)),
            *_top(plan, units),
            *_once(block for channel in plan.channels for block in _channel(plan, channel, units)),
            *_gluing(plan, units),
            *_last(plan, units),
        ),
    )


def _once(blocks: Iterable[Block]) -> Iterator[Block]:
    """The blocks, a caution that was given before left out: read twice it is not read at all."""
    given: set[str] = set()
    for block in blocks:
        if isinstance(block, Caution):
            if block.text in given:
                continue
            given.add(block.text)
        yield block


def _tick(units: Units, template: str, **words: Word) -> Tick:
    return Tick(text=say(template, **words).text(units))


def _before(plan: Plan, units: Units, trays: tuple[str, ...]) -> Iterator[Block]:
    yield Heading(text="Before any wood is cut", level=2)
    yield from wood_cautions(plan)
    yield _tick(
        units,
        "Pivot hole first: drill it through the top at the soundhole's centre, square to the top,"
        " to fit your pivot pin without play. Ring, channel and soundhole all turn on it.",
    )
    yield _tick(
        units,
        "Print this packet at 100 % and measure the bars on every sheet that you will cut or"
        f" measure from. 100 mm bar: across {BLANK} up {BLANK}. If they are off, set the"
        " printer's scale to 100 % and print again.",
    )
    yield _tick(
        units,
        "Measure your stock, saw, bit and top, and write them into the record at the end. Where"
        " one differs from the plan by more than a hair, change the design file and make the"
        " job again: cheaper than wood.",
    )
    if trays:
        yield _tick(
            units,
            "Print the tray ({files}), scrape its floor clean, and wax it where glue may reach.",
            files=", ".join(trays),
        )


def _ring(ring: RingPlan, units: Units, cutting: CuttingPlan | None) -> Iterator[Block]:
    what = _listed(ring.woods)
    if ring.wedges is None:
        kind = "a line" if ring.strip is not None else ring.pattern
        yield Heading(text=f"Ring {ring.index}: {kind} of {what}", level=2)
        yield Caution(text=KNIFE if ring.strip is not None else SMALL)
        yield from _prepared(ring, units)
        yield from (Tick(text=step.text(units)) for step in ring.steps)
        return
    wedges = ring.wedges
    yield Heading(text=f"Ring {ring.index}: {wedges.segments} wedges of {what}", level=2)
    yield saw_caution(wedges, ring.tile_thickness, units)
    if wedges.chosen is not None:
        yield Paragraph(text=wedges.chosen.text(units))
    yield _measured(ring.index, wedges, units)
    yield from _prepared(ring, units)
    yield Paragraph(text=_errors_add_up(wedges, units))
    steps = ring.steps
    if cutting is not None and ring.pattern == "radial":
        yield from cutting_steps(cutting, ring, wedges, units)
        steps = steps[strip_steps(wedges) :]
    yield from (Tick(text=step.text(units)) for step in steps)


def _prepared(ring: RingPlan, units: Units) -> Iterator[Block]:
    """The wood to get ready, where the ring tells it all."""
    if not ring.stock:
        return
    head = (f"Ring {ring.index}, prepare", "pieces", "along grain", "wide", "thick", "have")
    rows = [
        (
            f"{one.name} of {one.wood}",
            f"{one.count} + {one.spares}" if one.spares else str(one.count),
            format_length(one.length, units, decimals=1),
            format_length(one.width, units, decimals=1),
            format_length(one.thickness, units),
            "_" * 6,
        )
        for one in ring.stock
    ]
    yield Table(rows=(head, *rows), align="lrrrrl")


def _measured(index: int, wedges: Wedges, units: Units) -> Table:
    """What the first wedges tell of the saw, written down while it is still set."""
    blank, angle = wedges.blank, wedges.half_set * wedges.included_angle
    return Table(
        rows=(
            (f"Ring {index}, measured at the saw", "the plan says", "measured"),
            (f"half set of {wedges.half_set} scrap wedges", format_angle(angle), ROOM),
            ("wide end", format_length(blank.outer_width, units), ROOM),
            ("narrow end", format_length(blank.inner_width, units), ROOM),
            ("wide end to narrow end", format_length(blank.height, units), ROOM),
        ),
        align="lrl",
    )


def _errors_add_up(wedges: Wedges, units: Units) -> str:
    closing = wedges.closing
    return say(
        "Every cut face that is off by {face:g}° leaves the ring off by {ring}°: {gap} at its"
        " outer edge. No saw holds better than that for long, so {remedy} is part of the job.",
        remedy="fitting the last wedge" if wedges.segments % 2 else "truing the halves",
        face=closing.face_error,
        ring=rounded(closing.ring_error, 1),
        gap=Length(closing.gap),
    ).text(units)


def _top(plan: Plan, units: Units) -> Iterator[Block]:
    yield Heading(text="The top, before routing", level=2)
    yield Tick(
        text="Seal the top round the pivot with thin shellac, well past the ring, and let it dry:"
        " it keeps fibres from lifting at the walls and glue from staining the spruce."
    )
    yield _tick(
        units,
        "Measure the top all round where the ring goes: {top} in the plan, and the thinnest place"
        " decides. The channel leaves {floor} under it.",
        top=Length(plan.top_thickness),
        floor=Length(min(channel.floor for channel in plan.channels)),
    )


def _channel(plan: Plan, channel: Channel, units: Units) -> Iterator[Block]:
    rings = _listed([str(ring) for ring in channel.rings])
    noun = "ring" if len(channel.rings) == 1 else "rings"
    yield Heading(text=f"Channel {channel.index}, for {noun} {rings}", level=2)
    yield Caution(text=ROUTER)
    yield _tick(
        units,
        "Rout a trial channel in scrap of the top's wood with a bit of {bit}, on the same pivot,"
        " and try the ring in it: it goes in by hand, with {gap} to spare at each wall for glue.",
        bit=Length(channel.bit_diameter, 3),
        gap=Length(channel.gap),
    )
    yield Tick(text=_first_cut(plan, channel, units))
    yield _tick(
        units,
        "Rout the passes in this order, from the shallowest down; measure pivot to bit centre"
        " anew for each setting.",
    )
    yield _passes(channel, units)
    yield _tick(
        units,
        "Measure depth and floor: {depth} deep, {floor} left. Measured: {blank} deep.",
        depth=Length(channel.depth),
        floor=Length(channel.floor),
        blank=BLANK,
    )


def _first_cut(plan: Plan, channel: Channel, units: Units) -> str:
    hidden, first, half = plan.hidden, channel.passes[0].pivot_radius, channel.bit_diameter / 2.0
    edges = (first - half, first + half)
    least = min(hidden.half_angle(edge) for edge in edges) if hidden else 0.0
    if least < 1.0:
        return (
            "Make the first plunge where a mark will show least: no fingerboard hides the first"
            " pass of this channel."
        )
    return say(
        "Make the first plunge inside the arc that the fingerboard hides: within {angle}° to"
        " either side of 12 o'clock. A slip there is never seen.",
        angle=math.floor(least),
    ).text(units)


def _passes(channel: Channel, units: Units) -> Table:
    rows = [("pass", "depth", "pivot to bit centre", "cuts", "done")]
    for number, one in enumerate(channel.passes, start=1):
        rows.append(
            (
                str(number),
                format_length(one.depth, units),
                format_length(one.pivot_radius, units),
                _WALLS.get(one.wall, one.wall) + _deeper(channel, one),
                "____",
            )
        )
    return Table(rows=tuple(rows), align="rrrlc")


def _deeper(channel: Channel, one: Pass) -> str:
    """Which rings the deeper part of a stepped channel is for; nothing in its full width."""
    step = next(
        step
        for step in channel.steps
        if step.top < one.depth <= step.depth
        and step.inner_radius < one.pivot_radius < step.outer_radius
    )
    if step.rings == channel.rings:
        return ""
    noun = "ring" if len(step.rings) == 1 else "rings"
    return f", under {noun} {_listed([str(ring) for ring in step.rings])} alone"


def _listed(words: Sequence[str]) -> str:
    """Words as a list is said.

    >>> _listed(["maple"]), _listed(["maple", "walnut", "cherry"])
    ('maple', 'maple, walnut and cherry')
    """
    return " and ".join(one for one in (", ".join(words[:-1]), words[-1]) if one)


def _gluing(plan: Plan, units: Units) -> Iterator[Block]:
    yield Heading(text="Glue in and level", level=2)
    yield _tick(
        units,
        "Lay everything in dry, from the inside out, show face up, 12 o'clock towards the neck."
        " Mark seam and centreline on the top with a soft pencil.",
    )
    yield _tick(
        units,
        "Glue in. Water glues swell the ring in its channel: work quickly, and ease a tight ring"
        " first. Wax paper, a flat caul over the whole ring, clamps all round; leave it overnight.",
    )
    proud = max(channel.proud for channel in plan.channels)
    if proud > 0:
        yield _tick(
            units,
            "Level: the ring stands {proud} proud of the top. Scrape or sand it down, working"
            " outward over the edges, until the seal on the top is just touched all round.",
            proud=Length(proud),
        )
    else:
        yield _tick(units, "Level ring and top together with a scraper, working outward.")


def _last(plan: Plan, units: Units) -> Iterator[Block]:
    yield Heading(text="The soundhole, last of all", level=2)
    yield Caution(
        text="The soundhole takes the pivot with it. Cut it only when every ring is in, level and"
        " sound. The disc comes loose at the end: hold it down with tape, not with a finger."
    )
    yield _tick(
        units,
        "Cut the soundhole on the same pivot: {across} across, a radius of {radius}.",
        across=Length(plan.soundhole_diameter),
        radius=Length(plan.soundhole_diameter / 2.0),
    )
