"""The channels: in plan at full size, in section enlarged, and every setting of the router."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.geometry.hidden import HiddenStrip
from rosette.geometry.outline import Outline, Vertex, line
from rosette.plan.model import Channel, Plan
from rosette.sheets.block import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Block,
    block,
    column,
    drawing_of,
    heights_split,
)
from rosette.sheets.channel_passes import bit_text, passes_tables, rings_text
from rosette.sheets.channel_section import section
from rosette.sheets.dimension import length_text, units_note
from rosette.sheets.drawing import HAIR, MEDIUM, THIN, Circle, Drawing, Element, Stroke, Text
from rosette.sheets.leaders import radius
from rosette.sheets.table import caution, heading, note, steps, table
from rosette.units import format_length

GAP = 4.5
CHAIN = (4.0, 0.8, 0.6, 0.8)
FAN = (195.0, 345.0)
"""Where the radii stand in the plan, degrees: below the centre, out of the fingerboard's way."""


def drawings(plan: Plan) -> tuple[Drawing, ...]:
    """The plan with the order of work, then each channel's section and settings."""
    if not plan.channels:
        return ()
    first = [
        column(
            [
                heading("Channels in plan, full size"),
                note(units_note(plan.units), PAGE_WIDTH),
                in_plan(plan),
            ],
            gap=2.0,
        ),
        walls_table(plan),
    ]
    work = [
        heading("Routing: the order of work"),
        steps(list(_work(plan)), PAGE_WIDTH),
        caution(CAUTIONS, PAGE_WIDTH),
    ]
    details = [part for channel in plan.channels for part in _channel_blocks(plan, channel)]
    sheets = heights_split([*first, column(work, gap=3.0), *details], height=PAGE_HEIGHT, gap=GAP)
    return tuple(_sheet(blocks, number, len(sheets)) for number, blocks in enumerate(sheets, 1))


def _sheet(blocks: list[Block], number: int, count: int) -> Drawing:
    whole = column(blocks, gap=GAP)
    if number == 1:
        return drawing_of(
            whole,
            name="channel",
            title="Channels in plan",
            purpose="The channels in plan at full size, with their walls' radii.",
        )
    return drawing_of(
        whole,
        name=f"channel-{number}",
        title="Channels: section and settings" + (f", {number - 1}" if count > 2 else ""),
        purpose="The channels in section, and the router's settings for each pass.",
        document_type="Settings",
    )


def _channel_blocks(plan: Plan, channel: Channel) -> Iterator[Block]:
    tables = list(passes_tables(channel, plan.units))
    lead = heading(f"Channel {channel.index}: {rings_text(channel.rings)}")
    yield column([lead, section(plan, channel), tables[0]], gap=3.0)
    yield from tables[1:]


# --- plan ------------------------------------------------------------------------------------


def in_plan(plan: Plan) -> Block:
    """Soundhole, walls of the channels, pivot and the fingerboard's place, full size."""
    reach = max(channel.outer_radius for channel in plan.channels)
    hole = plan.soundhole_diameter / 2.0
    parts: list[Element] = [
        *_crossed(reach, hole),
        Circle(
            centre=(0.0, 0.0),
            radius=hole,
            layer="note",
            weight=THIN,
            dashes=(3.0, 1.5),
            name="soundhole",
        ),
    ]
    for channel in plan.channels:
        parts.extend(_walls(channel))
    if plan.hidden is not None:
        parts.extend(_board(plan.hidden, reach))
    parts.extend(_radii(plan, hole))
    return block(parts)


def _crossed(reach: float, hole: float) -> list[Element]:
    """Centrelines outside the soundhole, whose inside holds words, and a cross at the pivot."""
    far = reach + 4.0
    ways = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
    lines = [((0.0, 0.0), (3.0 * x, 3.0 * y)) for x, y in ways]
    lines += [((hole * x, hole * y), (far * x, far * y)) for x, y in ways]
    return [
        Stroke(outline=line(a, b), layer="centreline", weight=HAIR, dashes=CHAIN) for a, b in lines
    ]


def _walls(channel: Channel) -> Iterator[Element]:
    walls = {"inner": channel.inner_radius, "outer": channel.outer_radius}
    for word, size in walls.items():
        yield Circle(
            centre=(0.0, 0.0),
            radius=size,
            layer="cut",
            weight=MEDIUM,
            name=f"channel-{channel.index}-{word}",
        )
    for step in channel.steps:
        for size in (step.inner_radius, step.outer_radius):
            if size not in walls.values():
                yield Circle(centre=(0.0, 0.0), radius=size, layer="note", weight=HAIR)


def _board(hidden: HiddenStrip, reach: float) -> list[Element]:
    """The fingerboard's end and sides, and the words that say where to begin."""
    half, top = hidden.width / 2.0, reach + 6.0
    if hidden.reach >= top:
        return []
    corners = [(-half, top), (-half, hidden.reach), (half, hidden.reach), (half, top)]
    edge = Outline(tuple(Vertex(x, y) for x, y in corners), closed=False)
    words = "fingerboard: make the first cut under it"
    return [
        Stroke(outline=edge, layer="hidden", weight=THIN, dashes=(3.0, 1.2)),
        Text(text=words, at=(0.0, top + 1.5), height=2.4, anchor="middle"),
    ]


def wall_radii(plan: Plan) -> list[float]:
    """Every radius that the plan shows, from the inside out, each once."""
    found = {plan.soundhole_diameter / 2.0}
    for channel in plan.channels:
        for step in channel.steps:
            found |= {step.inner_radius, step.outer_radius}
    kept: list[float] = []
    for size in sorted(found):
        if not kept or size - kept[-1] > 1e-6:
            kept.append(size)
    return kept


def _radii(plan: Plan, hole: float) -> Iterator[Element]:
    """Radii fanned out below the centre, words inside the soundhole, as many as have room."""
    sizes = wall_radii(plan)
    along = hole * 0.62
    room = int(along * 2.0 / 6.0) - 1
    shown = sizes if len(sizes) <= room else [sizes[0], sizes[1], sizes[-1]]
    first, last = FAN
    for i, size in enumerate(shown):
        angle = first + (last - first) * (i + 0.5) / len(shown)
        text = length_text(size, plan.units, before="R ")
        yield from radius((0.0, 0.0), size, angle, text, along=along)
    yield Circle(
        centre=(0.0, 0.0), radius=0.5, layer="note", weight=THIN, fill="#000000", name="pivot"
    )
    yield Text(text="pivot", at=(4.0, 1.5), height=2.4)


def walls_table(plan: Plan) -> Block:
    """Radii, width, depth and floor of each channel, step by step."""
    units = plan.units
    head = ("Channel", "rings", "inner wall", "outer wall", "width", "depth", "floor left", "bit")
    rows: list[tuple[str, ...]] = [head]
    for channel in plan.channels:
        for number, step in enumerate(channel.steps):
            lengths = (
                step.inner_radius,
                step.outer_radius,
                step.outer_radius - step.inner_radius,
                step.depth,
                step.floor,
            )
            lead = str(channel.index) if number == 0 else f"{channel.index}, deeper"
            rows.append(
                (
                    lead,
                    rings_text(step.rings).split(" ", 1)[1],
                    *(length_text(size, units) for size in lengths),
                    bit_text(channel.bit_diameter, units),
                )
            )
    return table(rows, align="llrrrrrr", size=2.2)


# --- work ------------------------------------------------------------------------------------


def _work(plan: Plan) -> Iterator[str]:
    thick, least, deep, proud = (
        format_length(size, plan.units)
        for size in (plan.top_thickness, plan.minimum_floor, plan.depth_per_pass, plan.proud)
    )
    yield (
        f"Gauge the top all round: {thick}, and no less, or the floor comes out thinner than shown"
        f" ({least} must stay)."
    )
    yield "Drill the pivot hole first, square to the top. The same pivot trims the ring."
    yield "Seal the top before routing, so that the fibres don't lift at the walls."
    yield (
        "Try every setting in a scrap of the same wood: width by the channel gauge and the ring"
        " itself, depth by a caliper."
    )
    if plan.hidden is not None:
        yield (
            "Make the first cut inside the arc that the fingerboard hides, where a slip doesn't"
            " show, and measure there."
        )
    yield (
        f"Walls first, then what stands between: in passes of {deep} or less, all settings at one"
        " depth before the next."
    )
    stands = f"stands {proud} proud" if plan.proud else "lies flush"
    yield f"Try the ring dry. Glue it in; it {stands}. Level it when the glue is hard."
    yield "Cut the soundhole last: it takes the pivot with it."


CAUTIONS = (
    "Clamp the top flat on a board and run the pivot into the board. Shallow passes; both hands on"
    " the router; feed against the bit's turning. Unplug before the bit or a setting is changed.",
    "Eyes, ears and lungs: glasses, muffs, extraction and a mask. The router's manual and the local"
    " rules come before this sheet.",
)
