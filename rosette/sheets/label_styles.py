"""How one label is set: the words across it, along it, or on a strip over several wedges.

Every style is tried from the largest words down; the first that lies within the blank is taken.
A label stands with its outer end up: width across the wedge, height along its grain (mm).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rosette.geometry.outline import polygon
from rosette.patterns.base import Blank
from rosette.sheets.drawing import HAIR, Element, Stroke, Text
from rosette.sheets.label_parts import (
    BACK,
    INSET,
    MARKED,
    NUMBER_HEIGHTS,
    PAD,
    TALLEST,
    WIDEST,
    Label,
    Origin,
    Style,
    longest,
    width_at_end,
)
from rosette.sheets.label_strips import strip_across, strip_along, strip_beside
from rosette.sheets.marks import SMALLEST, arrow, centred

__all__ = ["BACK", "INSET", "MARKED", "Label", "Origin", "Style", "drawn", "style_for", "words_on"]


def style_for(labels: Sequence[Label], blank: Blank) -> Style | None:
    """The first style whose words fit the blank; None where no wedge holds a readable number."""
    tries = (
        *((_across_from, _beside_from, _along_from) if any(one.offcut for one in labels) else ()),
        _across,
        _short,
        _along_full,
        _along_bare,
        _line_full,
        _line_bare,
        _line_number,
        strip_across,
        strip_along,
        strip_beside,
    )
    found = (
        style
        for attempt in tries
        for height in NUMBER_HEIGHTS
        if (style := attempt(labels, blank, height)) is not None
    )
    return next(found, None)


def _across_from(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    return _across(labels, blank, size, origin=True)


def _across(
    labels: Sequence[Label], blank: Blank, size: float, *, origin: bool = False
) -> Style | None:
    """Arrow, number, wood, perhaps origin, and face, one below the other."""
    small = max(SMALLEST, 0.65 * size)
    lines = 3 if origin else 2
    rows = 3.0 + size + lines * small + (lines + 1) * 1.2 + 1.6
    if rows > blank.height - 2.0 * INSET:
        return None
    numbers = longest([one.text for one in labels], size, bold=True)
    needed = max(numbers, longest([one.face for one in labels], small))
    if origin:
        needed = max(needed, *(longest(_from(one), small) for one in labels))
    tall = min(TALLEST, rows + 3.0, blank.height - 2.0 * INSET)
    height = tall if width_at_end(blank, tall) - 2.0 * PAD >= needed else rows
    width = min(WIDEST, width_at_end(blank, height))
    room = width - 2.0 * PAD
    if needed > room:
        return None
    named = longest([one.wood for one in labels], small) <= room
    tip = height - 0.8
    tail = tip - 3.0 - (height - rows)

    def words(label: Label) -> list[Element]:
        y = tail - 1.2 - size / 2.0
        wood_y = y - size / 2.0 - 1.2 - small / 2.0
        wood = label.wood if named else label.letter
        below = [*_from(label), label.face] if origin else [wood, label.face]
        return [
            *arrow((0.0, tail), (0.0, tip), layer="grain"),
            centred(label.text, (0.0, y), height=size, layer="engrave", bold=True),
            *(
                centred(one, (0.0, wood_y - i * (small + 1.2)), height=small)
                for i, one in enumerate(below)
            ),
        ]

    roomy = min(
        WIDEST, width, max(10.0, needed + 2.0 * PAD if origin else 0.0, 2.0 * max(numbers, 8.0))
    )
    return Style(kind="across", width=roomy, height=height, words=words)


def _from(label: Label) -> list[str]:
    """Two lines that say where a wedge was cut; its wood alone where nobody knows."""
    return [label.offcut, f"{label.letter} {label.place}"] if label.offcut else ["", label.letter]


def _short(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    """Arrow and number side by side, wood and face below: for short, wide blanks."""
    small = SMALLEST
    height = size + small + 1.0 + 1.6
    width = min(WIDEST, width_at_end(blank, height))
    top = longest([one.text for one in labels], size, bold=True) + 3.2
    low = longest([f"{one.letter} {one.face}" for one in labels], small)
    if height > blank.height - 2.0 * INSET or max(top, low) > width - 2.0 * PAD:
        return None
    y, low_y = height - 0.8 - size / 2.0, 0.8 + small / 2.0

    def words(label: Label) -> list[Element]:
        x = -top / 2.0 + 1.0
        middle = (x + 1.2 + top / 2.0) / 2.0
        return [
            *arrow((x, y - size / 2.0), (x, y + size / 2.0), layer="grain", head=0.5 * size),
            centred(label.text, (middle, y), height=size, layer="engrave", bold=True),
            centred(f"{label.letter} {label.face}", (0.0, low_y), height=small),
        ]

    return Style(kind="short", width=min(width, max(top, low) + 3.0), height=height, words=words)


def _along_full(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    return _along(labels, blank, size, lambda one: f"{one.text} {one.letter} {one.face}")


def _beside_from(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    """Number and origin side by side along the grain, and an arrow at their outer end."""
    small = max(SMALLEST, 0.65 * size)
    long = max(
        longest([f"{one.text} {one.letter}" for one in labels], size, bold=True),
        longest([_origin_line(one) for one in labels], small),
    )
    height = long + 2.4 + 0.6 + 2.0 * 0.5
    width = min(size + small + 3.2, width_at_end(blank, height))
    if height > blank.height - 2.0 * INSET or size + small + 1.0 + 2.0 * PAD > width:
        return None

    def words(label: Label) -> list[Element]:
        left, middle = -(size + small + 1.0) / 2.0, 0.5 + long / 2.0
        lines = [
            centred(
                f"{label.text} {label.letter}",
                (left + size / 2.0, middle),
                height=size,
                turn=90.0,
                layer="engrave",
                bold=True,
            )
        ]
        if label.offcut:
            right = (left + size + 1.0 + small / 2.0, middle)
            lines.append(centred(_origin_line(label), right, height=small, turn=90.0))
        return [
            *arrow((0.0, height - 2.9), (0.0, height - 0.5), layer="grain", head=1.4),
            *lines,
        ]

    return Style(kind="along", width=width, height=height, words=words)


def _origin_line(label: Label) -> str:
    """Offcut and place; the face where it is not the marked one."""
    face = label.face if label.face == BACK else ""
    return f"{label.offcut} {label.place} {face}".rstrip()


def _along_from(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    return _along(
        labels,
        blank,
        size,
        lambda one: f"{one.text} {_origin_line(one)}".rstrip(),
    )


def _along_bare(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    return _along(labels, blank, size, lambda one: f"{one.text} {one.letter}")


def _along(
    labels: Sequence[Label], blank: Blank, size: float, said: Callable[[Label], str]
) -> Style | None:
    """One line along the grain, and an arrow at its outer end."""
    long = longest([said(one) for one in labels], size, bold=True)
    height = long + 2.4 + 0.6 + 2.0 * 0.5
    width = min(size + 3.0, width_at_end(blank, height))
    if height > blank.height - 2.0 * INSET or size + 2.0 * PAD > width:
        return None

    def words(label: Label) -> list[Element]:
        return [
            *arrow((0.0, height - 2.9), (0.0, height - 0.5), layer="grain", head=1.4),
            centred(
                said(label),
                (0.0, 0.5 + long / 2.0),
                height=size,
                turn=90.0,
                layer="engrave",
                bold=True,
            ),
        ]

    return Style(kind="along", width=width, height=height, words=words)


def _line_full(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    return _line(labels, blank, size, lambda one: f"{one.text} {one.letter}")


def _line_bare(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    return _line(labels, blank, size, lambda one: f"{one.position} {one.letter}".strip())


def _line_number(labels: Sequence[Label], blank: Blank, size: float) -> Style | None:
    return _line(labels, blank, size, lambda one: one.position)


def _line(
    labels: Sequence[Label], blank: Blank, size: float, said: Callable[[Label], str]
) -> Style | None:
    """An arrow and one line across: for the blanks of a hair-thin ring."""
    long = longest([said(one) for one in labels], size, bold=True)
    height = size + 0.6
    width = min(long + 1.6 + 2.0, width_at_end(blank, height))
    if height > blank.height - 2.0 * INSET or long + 1.6 + 2.0 * PAD > width:
        return None

    def words(label: Label) -> list[Element]:
        x = -(long + 1.6) / 2.0 + 0.5
        return [
            *arrow((x, 0.3), (x, height - 0.3), layer="grain", head=1.0),
            centred(said(label), (0.8, height / 2.0), height=size, layer="engrave", bold=True),
        ]

    return Style(kind="line", width=width, height=height, words=words)


def drawn(label: Label, style: Style) -> list[Element]:
    """One label, its lower edge's middle at the origin."""
    half = style.width / 2.0
    corners = [(-half, 0.0), (half, 0.0), (half, style.height), (-half, style.height)]
    edge = Stroke(outline=polygon(corners), layer="cut", weight=HAIR, name=label.name)
    return [edge, *words_on(label, style)]


def words_on(label: Label, style: Style) -> list[Element]:
    """A label's arrow and words; a number that is left to write in is no words."""
    return [one for one in style.words(label) if not isinstance(one, Text) or one.text]
