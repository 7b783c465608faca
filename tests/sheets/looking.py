"""What an eye would see on a sheet: the room that words take, and lines that run through them.

The width of words is measured by Pillow from the font file, not by the tool's own lettering.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache

from PIL import ImageFont
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box
from shapely.prepared import prep
from shapely.strtree import STRtree

from rosette.lettering import font_path
from rosette.sheets.drawing import Circle, Drawing, Element, Stroke, Text

EM = 1000


@cache
def _font(bold: bool) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(font_path(bold)), EM, layout_engine=ImageFont.Layout.BASIC)


@cache
def _ink(text: str, bold: bool) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of the words' ink, for capitals 1 high."""
    left, top, right, bottom = _font(bold).getbbox(text, anchor="ls")
    capital = -_font(bold).getbbox("H", anchor="ls")[1]
    return left / capital, -bottom / capital, right / capital, -top / capital


def ink(text: Text) -> Polygon:
    """The rectangle round a line of words as they are drawn."""
    left, bottom, right, top = (side * text.height for side in _ink(text.text, text.bold))
    shift = {"left": 0.0, "middle": -right / 2.0, "right": -right}[text.anchor]
    flat = box(left + shift, bottom, right + shift, top)
    turned = affinity.rotate(flat, text.turn, origin=(0.0, 0.0))
    return affinity.translate(turned, *text.at)


def texts(drawing: Drawing) -> list[Text]:
    return [one for one in drawing.elements if isinstance(one, Text)]


def line_of(element: Element) -> LineString | None:
    """What of an element is drawn as a line."""
    if isinstance(element, Circle):
        return Point(element.centre).buffer(element.radius, 64).exterior
    if isinstance(element, Stroke):
        points = element.outline.points()
        return LineString([*points, points[0]] if element.outline.closed else points)
    return None


def overlaps(drawing: Drawing) -> list[str]:
    """Words that run into other words."""
    found = texts(drawing)
    inks = [ink(one) for one in found]
    first, second = STRtree(inks).query(inks, predicate="intersects")
    return [
        f"{found[a].text!r} and {found[b].text!r}"
        for a, b in zip(first, second, strict=True)
        if a < b
    ]


def struck(drawing: Drawing, words: Iterable[Text] | None = None) -> Iterator[str]:
    """Words that a line runs through."""
    lines = [line for line in map(line_of, drawing.elements) if line is not None]
    tree = STRtree(lines)
    for one in texts(drawing) if words is None else words:
        if len(tree.query(ink(one), predicate="intersects")):
            yield one.text


def outside(drawing: Drawing) -> list[str]:
    """Elements that reach past the drawing's bounds."""
    room = prep(box(*drawing.bounds).buffer(1e-6))
    lost = [one.text for one in texts(drawing) if not room.contains(ink(one))]
    for element in drawing.elements:
        line = line_of(element)
        if line is not None and not room.contains(line):
            lost.append(getattr(element, "name", "") or "a line")
    return lost
