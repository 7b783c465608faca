"""The key of a sheet: a sample of each line type and wood with its words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from rosette.geometry.outline import polygon
from rosette.lettering import text_width
from rosette.sheets.block import Block
from rosette.sheets.drawing import HAIR, MEDIUM, THICK, THIN, Element, Stroke, Text
from rosette.sheets.marks import (
    CHAIN,
    DASHED,
    GREY,
    SEAM_COLOUR,
    SHORT_DASHED,
    arrow,
    centred,
    fitted,
    hatching,
    segment,
    swatch,
)

SIZE = 2.2
STEP = 4.8
SAMPLE = 13.0
"""Width of a sample in mm."""

Sample = Callable[[float], list[Element]]
"""Draws a sample from x 0 to `SAMPLE`, its middle at the given y."""


class Entry(NamedTuple):
    """A sample and what it means."""

    sample: Sample
    words: str


def key_block(title: str, entries: Sequence[Entry], *, width: float = 90.0) -> Block:
    """Entries one below the other, no wider than `width` mm."""
    elements: list[Element] = [Text(text=title, at=(0.0, -2.6), height=2.6, bold=True)]
    y = -2.6 - STEP
    widest = text_width(title, 2.6, True)
    for entry in entries:
        words, height = fitted(entry.words, width=width - SAMPLE - 3.0, height=SIZE)
        elements.extend(entry.sample(y + SIZE / 2.0))
        elements.append(Text(text=words, at=(SAMPLE + 3.0, y), height=height))
        widest = max(widest, SAMPLE + 3.0 + text_width(words, height))
        y -= STEP
    return Block(elements=tuple(elements), bounds=(0.0, y + STEP - 1.2, widest, 0.0))


def outline_entry(words: str, *, weight: float = MEDIUM) -> Entry:
    """A continuous line."""
    return Entry(lambda y: [segment((0.0, y), (SAMPLE, y), weight=weight)], words)


def blank_entry() -> Entry:
    """A blank before it is trimmed."""
    return Entry(
        lambda y: [segment((0.0, y), (SAMPLE, y), weight=HAIR, dashes=SHORT_DASHED)],
        "blank before trimming",
    )


def dashed_entry(words: str) -> Entry:
    """Thin short dashes."""
    return Entry(
        lambda y: [segment((0.0, y), (SAMPLE, y), weight=THIN, dashes=SHORT_DASHED)], words
    )


def centreline_entry() -> Entry:
    """The guitar's centreline."""
    return Entry(
        lambda y: [segment((0.0, y), (SAMPLE, y), layer="centreline", dashes=CHAIN)],
        "centreline; cross: pivot",
    )


def hidden_entry() -> Entry:
    """The strip under the fingerboard."""

    def sample(y: float) -> list[Element]:
        box = [(0.0, y - 1.6), (SAMPLE, y - 1.6), (SAMPLE, y + 1.6), (0.0, y + 1.6)]
        hatch = [
            segment(a, b, layer="hidden", weight=HAIR, colour=GREY)
            for a, b in hatching(box, [], angle=45.0, spacing=1.5)
        ]
        edge = Stroke(outline=polygon(box), layer="hidden", weight=MEDIUM, dashes=DASHED)
        return [*hatch, edge]

    return Entry(sample, "under the fingerboard")


def seam_entry() -> Entry:
    """The joint where the ring closes."""
    return Entry(
        lambda y: [segment((0.0, y), (SAMPLE, y), weight=THICK, colour=SEAM_COLOUR)],
        "SEAM: count from here",
    )


def grain_entry() -> Entry:
    """The way the grain runs outward."""
    return Entry(
        lambda y: list(arrow((1.0, y), (SAMPLE - 3.0, y), layer="grain")),
        "grain, outward to the wide end",
    )


def spacer_entry(words: str) -> Entry:
    """A veneer in every joint."""
    return Entry(
        lambda y: [swatch((0.0, y - 0.6), width=SAMPLE, height=1.2, fill="#d0d0d0", weight=HAIR)],
        words,
    )


def letter_entry(letter: str, words: str) -> Entry:
    """A wood by its letter."""
    return Entry(lambda y: [centred(letter, (SAMPLE / 2.0, y), height=2.4, bold=True)], words)


def channel_entry() -> Entry:
    """The wall of a channel in the top."""
    return Entry(
        lambda y: [
            segment((0.0, y), (SAMPLE, y), weight=MEDIUM, dashes=SHORT_DASHED, colour="#0072b2")
        ],
        "wall of a channel in the top",
    )
