"""The bars that prove a print true to scale: 100 mm and 4 in along both axes of every page."""

from __future__ import annotations

from collections.abc import Callable

from rosette.geometry.outline import Point, polygon
from rosette.lettering import text_width
from rosette.sheets.drawing import HAIR, Element, Stroke, Text
from rosette.units import MM_PER_INCH

BAR_MARGIN = 17.0
"""Room in mm that the bars take along the left and the lower edge of a page."""

ADVICE = "Print at 100 %. Measure these bars first."
"""What every page says beside its bars."""

_INSET = 7.5
_THICK = 1.7
_HEIGHT = 2.0
_BARS = (("100-mm", "100 mm", 10.0, 10, 5.4), ("4-in", "4 in", MM_PER_INCH, 4, 1.2))


def bars(corner: Point, across: float, up: float) -> tuple[Element, ...]:
    """Both bars along the lower and the left edge of a page.

    `corner` is the page's lower left corner, `across` and `up` are the lengths in mm of the
    frame's sides that they run along, from the frame's lower left corner.
    """
    x, y = corner

    def along_bottom(u: float, v: float) -> Point:
        return x + BAR_MARGIN + u, y + _INSET + v

    def along_left(u: float, v: float) -> Point:
        return x + BAR_MARGIN - 1.0 - v, y + BAR_MARGIN + u

    return (*_strip(along_bottom, across, 0.0, "x"), *_strip(along_left, up, 90.0, "y"))


def _strip(
    place: Callable[[float, float], Point], length: float, turn: float, axis: str
) -> list[Element]:
    """The bars and words along one edge; `place` takes lengths along the edge and up from it."""
    elements: list[Element] = []

    def words(text: str, u: float, v: float) -> None:
        elements.append(Text(text=text, at=place(u, v), height=_HEIGHT, turn=turn, bold=True))

    def box(u0: float, u1: float, v: float, *, name: str = "") -> None:
        corners = [place(u0, v), place(u1, v), place(u1, v + _THICK), place(u0, v + _THICK)]
        elements.append(
            Stroke(
                outline=polygon(corners),
                layer="note",
                weight=HAIR,
                colour="#000000" if name else None,
                fill=None if name else "#000000",
                name=name,
            )
        )

    for name, label, part, count, v in _BARS:
        for i in range(0, count, 2):
            box(i * part, (i + 1) * part, v)
        box(0.0, part * count, v, name=f"bar-{name}-{axis}")
        words(label, 4 * MM_PER_INCH + 2.0, v - 0.15)
    words(ADVICE, length - text_width(ADVICE, _HEIGHT, bold=True), 3.2)
    return elements
