"""A drawing as a DXF file, release R2010, in millimetres.

Coordinates are the drawing's own. Arcs are bulges of polylines and circles are circles, so
every outline is exact; each closed outline is one closed polyline. Tints are left out: a DXF
is for cutting and measuring. Words use a common typeface, since a DXF can't carry one.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from ezdxf._options import options
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.math import Vec2
from ezdxf.math.clipping import ClippingRect2d

from rosette.geometry.outline import Outline, circle, polygon
from rosette.output.parts import Mark, is_drawn, printable
from rosette.sheets.drawing import LAYERS, Circle, Drawing, Element, Layer, Stroke, Text, Window

if TYPE_CHECKING:
    from ezdxf.document import Drawing as DxfFile
    from ezdxf.entities.dxfgfx import DXFGraphic
    from ezdxf.layouts.layout import Modelspace

COLOURS: dict[Layer, int] = {
    "cut": 7,
    "engrave": 5,
    "grain": 30,
    "dimension": 3,
    "note": 8,
    "centreline": 6,
    "hidden": 4,
}
"""Colour number of each layer; 7 is black on white and white on black."""

WEIGHTS = (5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158)
"""The line weights that a DXF knows, in 1/100 mm."""

LINE_TYPES: dict[int, tuple[str, ...]] = {
    2: ("DASHED2", "DASHED", "DASHEDX2"),
    4: ("CENTER2", "CENTER", "CENTERX2"),
    6: ("DIVIDE2", "DIVIDE", "DIVIDEX2"),
}
"""Usual names by the number of lengths in a pattern: some programs draw only those they know."""

APPLICATION = "ROSETTE"
"""Under this name each entity keeps the name of its element."""

NARROW = 0.85
"""How wide letters are set: a CAD program has its own in place of ours, up to a sixth wider, and
words would run out of their cells and over the frame."""

_ANCHORS = {
    "left": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}


def dxf_bytes(drawing: Drawing) -> bytes:
    """The whole file, the same bytes for the same drawing."""
    with _no_clock():
        file = _empty_file(drawing)
        space = file.modelspace()
        for mark in _marks(drawing.elements):
            if is_drawn(mark):
                _write(mark, file, space)
        for kind in sorted(file.entitydb.dxf_types_in_use()):
            file.classes.add_class(kind)  # left to the writer they come in a set's order
        stream = io.StringIO()
        file.write(stream)
    return stream.getvalue().encode("utf-8", errors="replace")


@contextmanager
def _no_clock() -> Iterator[None]:
    """Fixed dates and identifiers instead of the clock's, for as long as one file is made."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _empty_file(drawing: Drawing) -> DxfFile:
    file = new("R2010", units=4)
    left, bottom, right, top = drawing.bounds
    file.header["$MEASUREMENT"] = 1
    file.header["$LTSCALE"] = 1.0
    file.header["$EXTMIN"] = (left, bottom, 0.0)
    file.header["$EXTMAX"] = (right, top, 0.0)
    file.header["$LIMMIN"] = (left, bottom)
    file.header["$LIMMAX"] = (right, top)
    file.appids.add(APPLICATION)
    for layer in LAYERS:
        file.layers.add(layer, color=COLOURS[layer], lineweight=35 if layer == "cut" else 18)
    file.styles.add("WORDS", font="arial.ttf")
    file.styles.add("WORDS_BOLD", font="arialbd.ttf")
    file.modelspace().reset_extents((left, bottom, 0.0), (right, top, 0.0))
    return file


def _write(mark: Mark, file: DxfFile, space: Modelspace) -> None:
    look: dict[str, Any] = {"layer": mark.layer}
    if isinstance(mark, Text):
        if words := _coded(printable(mark.text)):
            _write_words(mark, words, space, look)
        return
    look |= {"lineweight": _weight(mark.weight), "linetype": _line_type(mark.dashes, file)}
    if isinstance(mark, Circle):
        _named(space.add_circle(mark.centre, mark.radius, dxfattribs=look), mark.name)
        return
    for outline in (mark.outline, *mark.holes):
        _named(_write_outline(outline, space, look), mark.name)


def _write_outline(outline: Outline, space: Modelspace, look: dict[str, Any]) -> DXFGraphic:
    vertices = outline.vertices
    if not outline.closed and len(vertices) == 2 and not vertices[0].bulge:
        return space.add_line(vertices[0][:2], vertices[1][:2], dxfattribs=look)
    return space.add_lwpolyline(vertices, format="xyb", close=outline.closed, dxfattribs=look)


def _write_words(text: Text, words: str, space: Modelspace, look: dict[str, Any]) -> None:
    look |= {"style": "WORDS_BOLD" if text.bold else "WORDS", "rotation": text.turn}
    look["width"] = NARROW
    entity = space.add_text(words, height=text.height, dxfattribs=look)
    entity.set_placement(text.at, align=_ANCHORS[text.anchor])


def _named(entity: DXFGraphic, name: str) -> None:
    if name:
        entity.set_xdata(APPLICATION, [(1000, printable(name)[:255])])


def _coded(text: str) -> str:
    """Words in which no two characters are taken for one of the format's own codes.

    >>> _coded("100 %"), _coded("50 %%c ^ 2")
    ('100 %', '50 %%%%%%c ^  2')
    """
    text = text.replace("^", "^ ").replace("\\U+", "\\ U+").replace("\\M+", "\\ M+")
    return text.replace("%", "%%%") if "%%" in text else text


def _weight(millimetres: float) -> int:
    return min(WEIGHTS, key=lambda weight: abs(weight - 100.0 * millimetres))


def _line_type(dashes: tuple[float, ...], file: DxfFile) -> str:
    """The name of a line type with these dashes, made where the file has none yet."""
    if not dashes:
        return "Continuous"
    pairs = dashes if len(dashes) % 2 == 0 else dashes * 2
    exact = " ".join(f"{dash:g}" for dash in pairs)
    own = "DASHES_" + exact.replace(" ", "_")
    for name in LINE_TYPES.get(len(pairs), ()):
        if _is_line_type(name, pairs, exact, file):
            return name
    _is_line_type(own, pairs, exact, file)
    return own


def _is_line_type(name: str, pairs: tuple[float, ...], exact: str, file: DxfFile) -> bool:
    """Whether a name stands for these dashes, which it does from now on if it was free."""
    if name not in file.linetypes:
        signed = [dash if i % 2 == 0 else -dash for i, dash in enumerate(pairs)]
        file.linetypes.add(name, [sum(pairs), *signed], description=exact)
    return bool(file.linetypes.get(name).dxf.description == exact)


def _marks(elements: Iterable[Element]) -> Iterator[Mark]:
    """All marks, those behind windows moved into place and cut off at the frame."""
    for element in elements:
        if not isinstance(element, Window):
            yield element
            continue
        for mark in _marks(element.elements):
            yield from _clipped(_moved(mark, element.shift), element.frame)


def _moved(mark: Mark, shift: tuple[float, float]) -> Mark:
    if isinstance(mark, Text):
        return replace(mark, at=(mark.at[0] + shift[0], mark.at[1] + shift[1]))
    if isinstance(mark, Circle):
        return replace(mark, centre=(mark.centre[0] + shift[0], mark.centre[1] + shift[1]))
    holes = tuple(hole.mapped(shift=shift) for hole in mark.holes)
    return replace(mark, outline=mark.outline.mapped(shift=shift), holes=holes)


def _clipped(mark: Mark, frame: tuple[float, float, float, float]) -> Iterator[Mark]:
    """What of a mark lies inside a rectangle; a cut outline becomes open lines."""
    left, bottom, right, top = frame
    rectangle = ClippingRect2d(Vec2(left, bottom), Vec2(right, top))
    if isinstance(mark, Text):
        if rectangle.is_inside(Vec2(mark.at)):
            yield mark
        return
    outline = circle(mark.radius, mark.centre) if isinstance(mark, Circle) else mark.outline
    if all(rectangle.is_inside(Vec2(point)) for point in outline.points()):
        yield mark
        return
    for one in (outline, *(mark.holes if isinstance(mark, Stroke) else ())):
        points = one.points()
        closing = points[:1] if one.closed else []
        for part in rectangle.clip_polyline(Vec2.list([*points, *closing])):
            piece = Outline(polygon([(p.x, p.y) for p in part]).vertices, closed=False)
            yield Stroke(
                outline=piece,
                layer=mark.layer,
                weight=mark.weight,
                dashes=mark.dashes,
                colour=mark.colour or "#000000",
                name=mark.name,
            )
