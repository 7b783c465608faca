"""Labels on one strip of paper over several narrow wedges, cut through between them."""

from __future__ import annotations

from collections.abc import Sequence

from rosette.patterns.base import Blank
from rosette.sheets.drawing import Element
from rosette.sheets.label_parts import INSET, PAD, Label, Style, longest, width_at_end
from rosette.sheets.marks import arrow, centred


def strip_across(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    """Each wedge's number across it, under an arrow, on a strip over several wedges."""
    wide = longest([one.position for one in labels], size, bold=True)
    height = size + 1.3 + 0.4 + 0.8
    width = width_at_end(blank, height) + 2.0 * INSET
    if height > blank.height - 2.0 * INSET or wide + 2.0 * PAD > width:
        return None

    def words(label: Label) -> list[Element]:
        return [
            *arrow((0.0, height - 1.7), (0.0, height - 0.4), layer="grain", head=1.0),
            centred(
                label.position, (0.0, 0.4 + size / 2.0), height=size, layer="engrave", bold=True
            ),
        ]

    return Style(kind="strip", width=width, height=height, words=words)


def strip_along(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    """Each wedge's number along it on a strip over several wedges."""
    long = longest([one.position for one in labels], size, bold=True)
    height = long + 1.3 + 0.4 + 0.8
    width = width_at_end(blank, height) + 2.0 * INSET
    if height > blank.height - 2.0 * INSET or size + 0.4 > width:
        return None

    def words(label: Label) -> list[Element]:
        return [
            *arrow((0.0, height - 1.7), (0.0, height - 0.4), layer="grain", head=1.0),
            centred(
                label.position,
                (0.0, 0.4 + long / 2.0),
                height=size,
                turn=90.0,
                layer="engrave",
                bold=True,
            ),
        ]

    return Style(kind="strip", width=width, height=height, words=words)


def strip_beside(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    """Each wedge's number along it and the arrow beside it: for the shortest cells."""
    long = longest([one.position for one in labels], size)
    height = long + 0.8
    width = width_at_end(blank, height) + 2.0 * INSET
    if height > blank.height - 2.0 * INSET or size + 1.0 > width:
        return None

    def words(label: Label) -> list[Element]:
        x = -(size + 0.7) / 2.0
        return [
            *arrow((x + 0.25, 0.5), (x + 0.25, height - 0.5), layer="grain", head=1.2),
            centred(label.position, (0.35, height / 2.0), height=size, turn=90.0, layer="engrave"),
        ]

    return Style(kind="strip", width=width, height=height, words=words)
