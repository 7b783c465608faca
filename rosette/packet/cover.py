"""The cover: the picture, the key numbers, what to think over, and what each file is for."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.errors import Finding
from rosette.output.document import Block, Caution, Figure, Heading, Paragraph, Table, TextPages
from rosette.packet.contents import Item
from rosette.packet.entry import Entry, Missing
from rosette.patterns.base import RingPlan, Wedges
from rosette.picture import picture
from rosette.plan.model import Channel, Plan
from rosette.units import Units, format_length

PICTURE_WIDTH = 105.0
"""mm: large enough to tell the woods apart, small enough to leave room for the numbers."""

HOW_TO_PRINT = (
    'Print at 100 % ("actual size"), never "fit to page", on {paper} paper. Every sheet carries a'
    " 100 mm bar and a 4 in bar, across and up: measure them before anything else. A sheet larger"
    " than the paper comes in tiles: cut at the crop marks, lay the join marks over one another"
    " and tape."
)

Row = tuple[str, str, str]


def cover(plan: Plan, made: tuple[Item, ...], *, paper: str, units: Units) -> TextPages:
    """The first page and what flows over from it."""
    rows = [row for ring in plan.rings for row in _ring(ring, units)]
    rows += [row for channel in plan.channels for row in _channel(channel, units)]
    blocks: list[Block] = [
        Figure(drawing=picture(plan), width=PICTURE_WIDTH),
        Table(rows=(("", "key numbers", ""), *_instrument(plan, units), *rows), align="lll"),
        *_warnings(plan, made, units),
        Heading(text="How to print", level=2),
        Paragraph(text=HOW_TO_PRINT.format(paper=paper.capitalize())),
        *_files(made),
    ]
    return TextPages(title=plan.name, blocks=tuple(blocks))


def _instrument(plan: Plan, units: Units) -> Iterator[Row]:
    yield "guitar", "soundhole, across", format_length(plan.soundhole_diameter, units)
    yield "", "top when the ring goes in", format_length(plan.top_thickness, units)
    if plan.hidden is not None:
        yield (
            "",
            "fingerboard: width, reach",
            f"{format_length(plan.hidden.width, units)}, {format_length(plan.hidden.reach, units)}",
        )


def _ring(ring: RingPlan, units: Units) -> Iterator[Row]:
    radii = (
        f"{format_length(ring.inner_radius, units)} to {format_length(ring.outer_radius, units)}"
    )
    yield f"ring {ring.index}", "radii", radii
    if ring.wedges is not None:
        yield from _wedges(ring.wedges, units)
    else:
        yield "", "line", " and ".join(ring.woods)
    if ring.strip is not None:
        yield "", "strip to cut", format_length(ring.strip.cut_length, units, decimals=1)
    yield "", "stock", f"{format_length(ring.tile_thickness, units)} thick"


def _wedges(wedges: Wedges, units: Units) -> Iterator[Row]:
    blank = wedges.blank
    woods = ", ".join(f"{one.count} {one.wood}" for one in wedges.woods)
    spares = sum(one.spares for one in wedges.woods)
    yield "", "wedges", f"{woods}; {wedges.visible_segments} show; {spares} more to spare"
    yield "", "saw off square", f"{wedges.mitre_angle:.2f}°"
    yield "", "wedge blank, wide end", format_length(blank.outer_width, units)
    yield "", "wedge blank, narrow end", format_length(blank.inner_width, units)
    yield "", "wedge blank, length (strip width)", format_length(blank.height, units)


def _channel(channel: Channel, units: Units) -> Iterator[Row]:
    name = f"channel {channel.index}"
    inner, outer = channel.inner_radius, channel.outer_radius
    yield name, "radii", f"{format_length(inner, units)} to {format_length(outer, units)}"
    yield "", "deep", f"{format_length(channel.depth, units)}"
    yield "", "wood left under it", f"{format_length(channel.floor, units)}"
    yield "", "bit", format_length(channel.bit_diameter, units, decimals=3)


def _warnings(plan: Plan, made: tuple[Item, ...], units: Units) -> Iterator[Block]:
    warnings = [*plan.warnings, *(one for one in made if isinstance(one, Finding))]
    if warnings:
        yield Heading(text="To think over before cutting", level=2)
        for one in warnings:
            yield Caution(text=one.text(units))


def _files(made: tuple[Item, ...]) -> Iterator[Block]:
    yield Heading(text="What each file is for", level=2)
    rows = [(_shown(names), what) for what, names in _by_purpose(made).items()]
    yield Table(rows=(("file", "what it is for"), *rows), align="ll")
    missing = [one for one in made if isinstance(one, Missing)]
    if missing:
        why = dict.fromkeys(one.why for one in missing)
        names = ", ".join(one.file for one in missing)
        yield Paragraph(text=f"Not made: {names}. {' '.join(why)}")


def _by_purpose(made: tuple[Item, ...]) -> dict[str, list[str]]:
    """Files with one purpose stand together: a sheet's SVG and DXF, a fixture's three."""
    found: dict[str, list[str]] = {}
    for one in made:
        if isinstance(one, Entry):
            found.setdefault(one.what, []).append(one.file)
    return found


def _shown(names: list[str]) -> str:
    """The first name whole, of the others their endings: sheets/ring.svg, .dxf.

    >>> _shown(["sheets/ring.svg", "sheets/ring.dxf"]), _shown(["plan.json", "x.png"])
    ('sheets/ring.svg, .dxf', 'plan.json, x.png')
    """
    stem = names[0].rsplit(".", 1)[0]
    rest = [name.removeprefix(stem) if name.startswith(stem + ".") else name for name in names[1:]]
    return ", ".join([names[0], *rest])
