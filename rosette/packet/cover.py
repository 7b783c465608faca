"""The cover: the picture, the key numbers, what to think over, and what each file is for."""

from __future__ import annotations

from collections.abc import Iterator

from rosette.errors import Finding
from rosette.output.document import Block, Caution, Figure, Heading, Paragraph, Table, TextPages
from rosette.packet.entry import Entry, Missing
from rosette.packet.fixtures import Item
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Channel, Plan
from rosette.sheets.drawing import Drawing
from rosette.units import MM_PER_INCH, Units, format_length, nearest_fraction, number_in, rounded
from rosette.words import listed

PICTURE_WIDTH = 92.0
"""mm: large enough to tell the woods apart, small enough that the numbers stand below it."""

HOW_TO_PRINT = (
    'Print at 100 % ("actual size"), never "fit to page", on {paper} paper. Every page carries a'
    " 100 mm bar and a 4 in bar, across and up: measure them before anything else. A sheet larger"
    " than the paper comes in parts: cut along the crop marks, lay the join marks over one another"
    " and tape."
)

_LENGTHS = {
    "mm": "Lengths below are millimetres.",
    "in": "Lengths below are inches, with the nearest 1/64 in brackets.",
}

Row = tuple[str, ...]


def cover(
    plan: Plan,
    drawings: tuple[Drawing, ...],
    picture: Drawing,
    *,
    made: tuple[Item, ...],
    paper: str,
    units: Units,
) -> TextPages:
    """The first page and what flows over from it."""
    blocks: list[Block] = [
        Heading(text=plan.name),
        Figure(drawing=picture, width=PICTURE_WIDTH),
        Paragraph(text=f"{_guitar(plan, units)} {_LENGTHS[units]}"),
        _rings(plan, units),
        *_wedges(plan, units),
        _channels(plan, units),
        *_movement(plan, units),
        *_warnings(plan, made, units),
        Heading(text="How to print", level=2),
        Paragraph(text=HOW_TO_PRINT.format(paper=paper.capitalize())),
        Heading(text="In this packet", level=2),
        _contents(drawings),
        *_files(made),
    ]
    return TextPages(title="Cover: the job at a glance", blocks=tuple(blocks))


def _guitar(plan: Plan, units: Units) -> str:
    told = (
        f"Soundhole {format_length(plan.soundhole_diameter, units)} across; top"
        f" {format_length(plan.top_thickness, units)} thick when the ring goes in"
    )
    if plan.hidden is None:
        return told + "; no fingerboard covers the ring."
    return told + (
        f"; fingerboard {format_length(plan.hidden.width, units)} wide over the ring, ending"
        f" {format_length(plan.hidden.reach, units)} from the centre."
    )


def _bare(length: float, units: Units) -> str:
    """A length for a table whose head names the unit; inches with the nearest 1/64."""
    number = number_in(length, units)
    return f"{number} ({nearest_fraction(length)})" if units == "in" else number


def _rings(plan: Plan, units: Units) -> Table:
    head = ("ring", "what", "inner radius", "outer radius", "stock")
    rows = [
        (
            str(ring.index),
            _what(ring),
            _bare(ring.inner_radius, units),
            _bare(ring.outer_radius, units),
            _bare(ring.tile_thickness, units),
        )
        for ring in plan.rings
    ]
    return Table(rows=(head, *rows), align="clrrr")


def _what(ring: RingPlan) -> str:
    if ring.wedges is None:
        kind = "line" if ring.strip is not None else ring.pattern
        return f"{kind} of {listed(ring.woods)}"
    return "wedges: " + ", ".join(f"{one.count} {one.wood}" for one in ring.wedges.woods)


def _wedges(plan: Plan, units: Units) -> Iterator[Block]:
    rows: list[Row] = []
    for ring in plan.rings:
        if ring.wedges is not None:
            rows.append((str(ring.index), *_blank(ring.wedges, units)))
    if rows:
        head = (
            *("ring", "wedges + spares", "saw off square"),
            *("wide end", "narrow end", "length"),
        )
        yield Table(rows=(head, *rows), align="ccrrrr")


def _blank(wedges: Wedges, units: Units) -> Row:
    blank, spares = wedges.blank, sum(one.spares for one in wedges.woods)
    return (
        f"{wedges.segments} + {spares}",
        f"{rounded(wedges.mitre_angle, 2)}°",
        _bare(blank.outer_width, units),
        _bare(blank.inner_width, units),
        _bare(blank.height, units),
    )


def _channels(plan: Plan, units: Units) -> Table:
    head = (
        *("channel", "inner radius", "outer radius"),
        *("deep", "floor", "bit"),
    )
    return Table(rows=(head, *(_channel(one, units) for one in plan.channels)), align="crrrrr")


def _channel(channel: Channel, units: Units) -> Row:
    return (
        str(channel.index),
        _bare(channel.inner_radius, units),
        _bare(channel.outer_radius, units),
        _bare(channel.depth, units),
        _bare(channel.floor, units),
        _bit(channel.bit_diameter, units),
    )


def _bit(diameter: float, units: Units) -> str:
    """A router bit as it is sold: a fraction of an inch, or millimetres.

    >>> _bit(3.175, "in"), _bit(3.175, "mm"), _bit(3.0, "in")
    ('1/8', '3.175', '0.118')
    """
    sixty_fourths = diameter / MM_PER_INCH * 64.0
    if units == "in" and abs(sixty_fourths - round(sixty_fourths)) < 1e-6:
        return nearest_fraction(diameter)
    return number_in(diameter, units, decimals=2 if units == "in" else 3)


def _movement(plan: Plan, units: Units) -> Iterator[Block]:
    if not plan.movement:
        return
    yield Heading(text="With the weather, if the ring were free to move", level=2)
    rows = [
        (
            str(one.ring),
            f"{one.case}: {rounded(one.temperature, 0)} °C, {rounded(one.humidity, 0)} %",
            f"{rounded(one.moisture_build, 1)} → {rounded(one.moisture, 1)} %",
            _signed(one.circumference_change, units, 2 if units == "mm" else 3),
            _signed(one.per_joint, units, 3),
        )
        for one in plan.movement
    ]
    head = ("ring", "air", "water in the wood", f"round, {units}", f"at a joint, {units}")
    yield Table(rows=(head, *rows), align="cllrr")


def _signed(mm: float, units: Units, decimals: int) -> str:
    """A change with its sign.

    >>> _signed(3.811, "mm", 2), _signed(-3.811, "mm", 2)
    ('+3.81', '-3.81')
    """
    text = number_in(mm, units, decimals=decimals)
    return text if text.startswith("-") or float(text) == 0 else f"+{text}"


def _warnings(plan: Plan, made: tuple[Item, ...], units: Units) -> Iterator[Block]:
    warnings = [*plan.warnings, *(one for one in made if isinstance(one, Finding))]
    if warnings:
        yield Heading(text="To think over before cutting", level=2)
        for one in warnings:
            yield Caution(text=one.text(units))


def _contents(drawings: tuple[Drawing, ...]) -> Table:
    rows = [(one.title, f"sheets/{one.name}") for one in drawings]
    return Table(
        rows=(
            ("page", "the same alone, as .svg and .dxf"),
            *rows,
            ("Checklist, in the order of work", "start there"),
            ("Record", "to fill in, for the next guitar"),
        ),
        align="ll",
    )


def _files(made: tuple[Item, ...]) -> Iterator[Block]:
    yield Heading(text="The files beside this one", level=2)
    rows = [
        (_shown(names), what)
        for what, names in _by_purpose(made).items()
        if not names[0].startswith("sheets/")
    ]
    itself = ("manifest.json", "Every file here and its hash.")
    yield Table(rows=(("file", "what it is for"), *rows, itself), align="ll")
    missing = [one for one in made if isinstance(one, Missing)]
    if missing:
        why = dict.fromkeys(one.why for one in missing)
        names = ", ".join(one.file for one in missing)
        yield Paragraph(text=f"Not made: {names}. {' '.join(why)}")


def _by_purpose(made: tuple[Item, ...]) -> dict[str, list[str]]:
    """Files with one purpose stand together: a picture's SVG and PNG, a fixture's three."""
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
