"""A drawing as an SVG 1.1 file: millimetres, real layers, arcs as arcs.

The file's user units are millimetres and its point 0,0 is the drawing's own origin (the
ring's centre, where the sheet shows a ring); only y is turned over, since SVG counts it
downwards. One group a layer, named as the layer. Tints lie in a group of their own below
all layers, so that a fill never hides a line.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from typing import Any

import svgwrite

from rosette.geometry.outline import Outline, circle
from rosette.lettering import FAMILY, font_size
from rosette.output.parts import (
    EIGHTH,
    QUARTER,
    Mark,
    is_drawn,
    is_ink,
    is_tint,
    printable,
    split_arcs,
)
from rosette.sheets.drawing import LAYERS, Circle, Drawing, Element, Stroke, Text, Window

FONTS = f"'{FAMILY}', Inter, Arial, Helvetica, sans-serif"
"""Our own letters where they are to be had, else the plainest at hand."""

_ANCHORS = {"left": "start", "middle": "middle", "right": "end"}
_LAYER_SPACE = "http://www.inkscape.org/namespaces/inkscape"
"""The name space in which open SVG editors keep the names of layers."""


def svg_bytes(drawing: Drawing) -> bytes:
    """The whole file, the same bytes for the same drawing."""
    return _file(_Writer(drawing, longest=QUARTER))


def svg_to_typeset(drawing: Drawing) -> str:
    """The same picture for the typesetter: arcs and circles as arcs of 45° at most.

    Its own curves for a whole circle stand off by 0.02 mm at radius 70.
    """
    return _file(_Writer(drawing, longest=EIGHTH)).decode("utf-8")


def _file(writer: _Writer) -> bytes:
    text: str = writer.svg.tostring().replace("><", ">\n<")
    return b'<?xml version="1.0" encoding="UTF-8"?>\n' + text.encode("utf-8") + b"\n"


def number(value: float) -> str:
    """A coordinate with six decimals at most, none of them idle.

    >>> number(2.50000004), number(-0.0000001), number(1e-5)
    ('2.5', '0', '0.00001')
    """
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_data(outlines: Iterable[Outline], longest: float = QUARTER) -> str:
    """The `d` of a path: moves, lines and circular arcs, y turned over."""
    return "".join(_sub_path(outline, longest) for outline in outlines)


def _sub_path(outline: Outline, longest: float) -> str:
    first = outline.vertices[0]
    pieces = [f"M{number(first.x)},{number(-first.y)}"]
    for a, b in split_arcs(outline, longest):
        if outline.closed and b is first and not a.bulge:
            continue  # Z draws it
        end = f"{number(b.x)},{number(-b.y)}"
        if a.bulge:
            chord = ((b.x - a.x) ** 2 + (b.y - a.y) ** 2) ** 0.5
            radius = number(chord * (1.0 + a.bulge**2) / (4.0 * abs(a.bulge)))
            pieces.append(f"A{radius},{radius} 0 0 {0 if a.bulge > 0 else 1} {end}")
        else:
            pieces.append(f"L{end}")
    return "".join(pieces) + ("Z" if outline.closed else "")


class _Writer:
    """Builds one file; keeps count of the ids given out, since a file may hold each once."""

    def __init__(self, drawing: Drawing, *, longest: float) -> None:
        self.longest = longest
        self.taken: set[str] = set(LAYERS)
        left, _, _, top = drawing.bounds
        box = " ".join(number(v) for v in (left, -top, drawing.width, drawing.height))
        self.svg = svgwrite.Drawing(
            size=(f"{number(drawing.width)}mm", f"{number(drawing.height)}mm"),
            viewBox=box,
            debug=False,
        )
        self.svg["xmlns:inkscape"] = _LAYER_SPACE
        self.svg.set_desc(title=printable(drawing.title), desc=_description(drawing))
        ground = self.svg.g(stroke="none")
        if self._add(ground, drawing.elements, is_tint, self._tint):
            self.svg.add(ground)
        for layer in LAYERS:
            self._layer(layer, drawing.elements)

    def _layer(self, layer: str, elements: tuple[Element, ...]) -> None:
        group = self.svg.g(id=layer, fill="none", stroke="none")
        group["inkscape:groupmode"] = "layer"
        group["inkscape:label"] = layer
        self._add(group, elements, lambda m: m.layer == layer and is_drawn(m), self._mark)
        self.svg.add(group)

    def _add(
        self,
        group: Any,
        elements: Iterable[Element],
        wanted: Callable[[Mark], bool],
        shape: Callable[[Mark], Any],
    ) -> bool:
        """Put the wanted marks into a group; whether there were any."""
        found = False
        for element in elements:
            if not isinstance(element, Window):
                if wanted(element):
                    group.add(shape(element))
                    found = True
                continue
            dx, dy = element.shift
            inside = self.svg.g(transform=f"translate({number(dx)},{number(-dy)})")
            if self._add(inside, element.elements, wanted, shape):
                seen = self.svg.g(clip_path=f"url(#{self._clip(element)})")
                seen.add(inside)
                group.add(seen)
                found = True
        return found

    def _clip(self, window: Window) -> str:
        left, bottom, right, top = window.frame
        name = self._id("window")
        clip = self.svg.clipPath(id=name)
        clip.add(
            self.svg.rect(
                (number(left), number(-top)), (number(right - left), number(top - bottom))
            )
        )
        self.svg.defs.add(clip)
        return name

    def _tint(self, mark: Mark) -> Any:
        return self._shape(mark, {"fill": printable(str(getattr(mark, "fill", "")))})

    def _mark(self, mark: Mark) -> Any:
        if isinstance(mark, Text):
            return self._words(mark)
        look: dict[str, Any] = {"id": self._id(mark.name)} if mark.name else {}
        if mark.colour is not None:
            look |= {"stroke": mark.colour, "stroke_width": number(mark.weight)}
            if mark.dashes:
                look["stroke_dasharray"] = " ".join(number(dash) for dash in mark.dashes)
        if is_ink(mark):
            look["fill"] = mark.fill
        return self._shape(mark, look)

    def _shape(self, mark: Mark, look: dict[str, Any]) -> Any:
        if isinstance(mark, Circle):
            if self.longest < QUARTER:
                return self.svg.path(
                    path_data([circle(mark.radius, mark.centre)], self.longest), **look
                )
            x, y = mark.centre
            return self.svg.circle((number(x), number(-y)), number(mark.radius), **look)
        assert isinstance(mark, Stroke)  # words have no shape
        if mark.holes and "fill" in look:
            look["fill_rule"] = "evenodd"
        return self.svg.path(path_data([mark.outline, *mark.holes], self.longest), **look)

    def _words(self, text: Text) -> Any:
        x, y = number(text.at[0]), number(-text.at[1])
        look: dict[str, Any] = {
            "font_family": FONTS,
            "font_size": number(font_size(text.height)),
            "text_anchor": _ANCHORS[text.anchor],
            "fill": text.colour,
            "kerning": "0",
        }
        if text.bold:
            look["font_weight"] = "bold"
        if text.turn:
            look["transform"] = f"rotate({number(-text.turn)},{x},{y})"
        return self.svg.text(printable(text.text), insert=(x, y), **look)

    def _id(self, name: str) -> str:
        """A name as an id: letters, digits, dots and dashes, and no two alike."""
        plain = re.sub(r"[^A-Za-z0-9._-]+", "-", name)
        plain = plain if re.match(r"[A-Za-z_]", plain) else f"_{plain}"
        unique = next(one for one in _numbered(plain) if one not in self.taken)
        self.taken.add(unique)
        return unique


def _numbered(name: str) -> Iterator[str]:
    """A name, then the name with 2, 3 and so on behind it."""
    yield name
    count = 2
    while True:
        yield f"{name}-{count}"
        count += 1


def _description(drawing: Drawing) -> str:
    lead = f"{printable(drawing.purpose)} " if drawing.purpose else ""
    return f"{lead}True scale in millimetres; the drawing's own origin is at 0,0."
