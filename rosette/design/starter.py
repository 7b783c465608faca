"""A design file to start from: a maker's answers, every key explained, the rest switched off."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from textwrap import wrap

from rosette.design.model import DesignKeys
from rosette.design.typed import as_toml, habit, typed_length
from rosette.keys import Key, Keys, RingKeys
from rosette.keys.show import toml_value
from rosette.patterns import MODULES, patterns
from rosette.units import Units, parse_length

COMMENTS_FROM = 32
WIDTH = 84

HEAD = """\
{name}: a design to start from.
Change any value and try again: "rosette check" says whether it can be made.
{bare}
A length in quotes carries its own unit: "62 mm", "6.2 cm", "3 3/4 in".
Keys that start with # are switched off; take the # away to use them."""
BARE = {
    "mm": "Bare numbers are millimetres.",
    "in": "Bare numbers are inches; fractions go in quotes with their unit.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What a starter is made from; lengths as typed, read in `units` where they carry none.

    `inner_radius` or `space`, and `segments` or `segment_width`: one of each. `assumed` names
    the answers that nobody gave, so that the file says so.
    """

    units: Units
    name: str
    soundhole: str
    top: str
    tile: str
    kerf: str
    bit: str
    width: str
    wood: tuple[str, ...]
    board: str | None = None
    reach: str | None = None
    inner_radius: str | None = None
    space: str | None = None
    segments: str | None = None
    segment_width: str | None = None
    assumed: frozenset[str] = frozenset()


def starter(answers: Answers) -> str:
    """The text of a design file.

    Raises:
        LengthError: where an answer is not a length.
    """
    head = HEAD.format(name=answers.name, bare=BARE[answers.units])
    lines = [f"# {line}" for line in head.split("\n")]
    live = _live(answers)
    for name, key in DesignKeys.known.items():
        if key.kind.table is None:
            value = toml_value({"schema": 1, "units": answers.units}[name])
            lines += key_lines(key, value, on=True)
            continue
        on = name in live or name == "fixtures"
        lines += ["", *header_line(f"[{name}]", key.about, on=on)]
        lines += _table(key.kind.table, live.get(name, {}), answers, on=on)
    lines += ["", *header_line("[[ring]]", "one for each ring, from the inside out", on=True)]
    lines += _table(patterns()["radial"].keys, live["ring"], answers, on=True)
    lines += ["", *header_line("[[ring]]", "another ring: a line round the first", on=False)]
    lines += _line_ring(answers)
    return "\n".join(lines) + "\n"


def _live(answers: Answers) -> dict[str, dict[str, str]]:
    """Every key that the answers settle, by table, as TOML."""
    units = answers.units

    def lengths(**typed: str | None) -> dict[str, str]:
        return {name: as_toml(text, units) for name, text in typed.items() if text is not None}

    wood = answers.wood[0] if len(answers.wood) == 1 else list(answers.wood)
    ring = {"pattern": toml_value("radial"), "wood": toml_value(wood)}
    ring |= lengths(inner_radius=answers.inner_radius, space=answers.space, width=answers.width)
    ring |= lengths(tile_thickness=answers.tile, segment_width=answers.segment_width)
    if answers.segments is not None:
        ring["segments"] = answers.segments
    return {
        "instrument": {"name": toml_value(answers.name)}
        | lengths(
            soundhole_diameter=answers.soundhole,
            top_thickness=answers.top,
            fingerboard_width=answers.board,
            fingerboard_reach=answers.reach,
        ),
        "cutting": lengths(kerf=answers.kerf),
        "channel": lengths(bit_diameter=answers.bit),
        "ring": ring,
    }


def _instead(answers: Answers) -> dict[str, str]:
    """The ring's keys that could stand instead of those that do, saying the same."""
    units = answers.units
    if answers.inner_radius is not None:
        inner = typed_length(answers.inner_radius, units)
    else:
        edge = typed_length(answers.soundhole, units) / 2
        inner = edge + typed_length(answers.space or "0", units)
    outer = inner + typed_length(answers.width, units)
    found = {"inner_radius": habit(inner, units), "outer_radius": habit(outer, units)}
    if answers.segments is not None:
        found["segment_width"] = habit(2 * math.pi * outer / int(answers.segments), units, 1)
    return {name: as_toml(text, units) for name, text in found.items()}


def _table(
    table: type[Keys], values: Mapping[str, str], answers: Answers, *, on: bool
) -> Iterator[str]:
    instead = _instead(answers) if issubclass(table, RingKeys) else {}
    for name, key in table.known.items():
        if name in values:
            yield from key_lines(key, values[name], on=on, assumed=name in _assumed(answers))
        elif key.required or key.default is None:
            value = instead.get(name) or _written(key, key.example, answers.units)
            yield from key_lines(key, value, on=False)
        else:
            yield from key_lines(key, _written(key, key.default, answers.units), on=on)


def _assumed(answers: Answers) -> set[str]:
    return {_MEASURED[name] for name in answers.assumed if name in _MEASURED}


_MEASURED = {
    "soundhole": "soundhole_diameter",
    "top": "top_thickness",
    "tile": "tile_thickness",
    "kerf": "kerf",
    "bit": "bit_diameter",
    "board": "fingerboard_width",
    "reach": "fingerboard_reach",
}
"""The answers that only a rule or a caliper can give, and their keys."""


def _written(key: Key, value: object, units: Units) -> str:
    if key.kind.is_length:
        return as_toml(habit(parse_length(value), units), units)
    return toml_value(value)


def _line_ring(answers: Answers) -> Iterator[str]:
    units = answers.units
    values = {
        "pattern": toml_value("line"),
        "width": as_toml(habit(0.8, units), units),
        "tile_thickness": as_toml(answers.tile, units),
    }
    for name, key in patterns()["line"].keys.known.items():
        if name in values or name not in RingKeys.known:
            value = values.get(name) or _written(key, key.example, units)
            yield from key_lines(key, value, on=False)


def header_line(name: str, about: str, *, on: bool) -> Iterator[str]:
    """A table's header with what it is for beside it; switched off where not `on`."""
    yield f"{'' if on else '#'}{name}".ljust(COMMENTS_FROM - 1) + f" # {about}"


def key_lines(key: Key, value: str, *, on: bool, assumed: bool = False) -> Iterator[str]:
    """A key with its value, and what it is for beside and below it."""
    line = f"{'' if on else '#'}{key.name} = {value}"
    about = key.about
    if key.name == "pattern":
        about += ": " + " or ".join(toml_value(name) for name in MODULES)
    if assumed:
        about = f"USUAL, NOT MEASURED; {about}"
    told = wrap(about, WIDTH - COMMENTS_FROM - 2)
    first = told.pop(0) if len(line) < COMMENTS_FROM else ""
    yield f"{line.ljust(COMMENTS_FROM - 1)} # {first}" if first else line
    for more in told:
        yield " " * COMMENTS_FROM + f"# {more}"
