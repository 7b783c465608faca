"""What every format needs of a drawing's elements, before any of them is written."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rosette.geometry.outline import Vertex, arc_between
from rosette.sheets.drawing import Circle, Stroke, Text

if TYPE_CHECKING:
    from rosette.geometry.outline import Outline

Mark = Stroke | Circle | Text
"""An element that draws something itself, rather than a window on others."""

QUARTER = 90.0
"""The longest arc, in degrees, to be given by its ends and its radius.

Near a half turn these fix the centre badly: at radius 70 a last digit of 1e-6 mm moves it by
0.01 mm. Up to a quarter turn the error stays that of the digits.
"""

EIGHTH = 45.0
"""The longest arc, in degrees, to be left to a typesetter that makes one Bézier curve of it.

A quarter circle as one curve is off by 0.027 % of its radius (0.019 mm at 70), an eighth by
0.0004 % (0.0003 mm).
"""

_NOT_PRINTED = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]")


def printable(text: str) -> str:
    """The text on one line, without characters that no drawing file may hold.

    >>> printable("two" + chr(9) + "words" + chr(0))
    'two words'
    """
    return _NOT_PRINTED.sub("", re.sub("[\t\r\n\u2028\u2029]+", " ", text))


def is_tint(mark: Mark) -> bool:
    """Whether a mark's fill is a ground under the lines, not ink of the line's own colour."""
    if isinstance(mark, Text) or mark.fill is None:
        return False
    return mark.fill not in (mark.colour, "#000000")


def is_ink(mark: Mark) -> bool:
    """Whether a mark's fill is ink: an arrowhead, a block of a bar."""
    return not isinstance(mark, Text) and mark.fill is not None and not is_tint(mark)


def is_drawn(mark: Mark) -> bool:
    """Whether anything but a tint is left of a mark: words, a line, or ink."""
    return isinstance(mark, Text) or mark.colour is not None or is_ink(mark)


def split_arcs(outline: Outline, longest: float) -> Iterator[tuple[Vertex, Vertex]]:
    """An outline's edges, every arc in equal parts of `longest` degrees at most."""
    for a, b in outline.edges():
        parts = math.ceil(abs(4.0 * math.atan(a.bulge)) / math.radians(longest) - 1e-9)
        if parts <= 1:
            yield a, b
            continue
        arc = arc_between(a, b)
        bulge = math.tan(arc.sweep_rad / parts / 4.0)
        start = a._replace(bulge=bulge)
        for i in range(1, parts):
            angle = arc.start_rad + arc.sweep_rad * i / parts
            end = Vertex(
                arc.x + arc.radius * math.cos(angle), arc.y + arc.radius * math.sin(angle), bulge
            )
            yield start, end
            start = end
        yield start, b
