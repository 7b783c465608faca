"""A drawing: lines, circles, fills and words in millimetres on named layers, y up.

A sheet builds one; `rosette.output` writes it to a file format. Nothing here knows a format.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from rosette.geometry.outline import Outline, Point

Layer = Literal["cut", "engrave", "grain", "dimension", "note", "centreline", "hidden"]
LAYERS: tuple[Layer, ...] = ("cut", "engrave", "grain", "dimension", "note", "centreline", "hidden")
Anchor = Literal["left", "middle", "right"]

THICK, MEDIUM, THIN, HAIR = 0.5, 0.35, 0.18, 0.1
"""Line weights in mm: outlines, secondary outlines, dimensions, hatching."""
TRUE_SCALE = "Drawing, scale 1:1"
"""What a title block calls a sheet to lay wood on or to measure from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line along an outline. `dashes` are on and off lengths in mm; empty is continuous.

    `fill` is a #rrggbb colour inside a closed outline, `holes` are cut out of it; `colour`
    None draws no line. A fill lies below all lines of the drawing, unless it is ink: black, or in
    the colour of its own line. `name` is an id for programs that read the drawing back.
    """

    outline: Outline
    layer: Layer
    weight: float = MEDIUM
    dashes: tuple[float, ...] = ()
    colour: str | None = "#000000"
    fill: str | None = None
    holes: tuple[Outline, ...] = ()
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A whole circle, written as a circle wherever a format has one."""

    centre: Point
    radius: float
    layer: Layer
    weight: float = MEDIUM
    dashes: tuple[float, ...] = ()
    colour: str | None = "#000000"
    fill: str | None = None
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of words. `height` is the height of a capital in mm; `at` the baseline's anchor.

    `turn` in degrees counter-clockwise; `bold` for titles and wedge numbers.
    """

    text: str
    at: Point
    height: float = 2.5
    anchor: Anchor = "left"
    turn: float = 0.0
    layer: Layer = "note"
    bold: bool = False
    colour: str = "#000000"


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """Another drawing through a rectangle: shifted by `shift`, cut off at the frame.

    `frame` is left, bottom, right, top in this drawing's own coordinates.
    """

    elements: tuple[Element, ...]
    shift: Point
    frame: tuple[float, float, float, float]


Element = Stroke | Circle | Text | Window


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A flat drawing at true scale. `bounds` is left, bottom, right, top in mm.

    `name` is the file's stem, `title` what its title block says, `purpose` one sentence for
    the manifest and the packet, `document_type` what the title block calls it: what is drawn
    larger or not to scale says so there.
    """

    name: str
    title: str
    purpose: str
    bounds: tuple[float, float, float, float]
    elements: tuple[Element, ...] = field(default=())
    number: str = ""
    document_type: str = TRUE_SCALE

    @property
    def width(self) -> float:
        """Right less left."""
        return self.bounds[2] - self.bounds[0]

    @property
    def height(self) -> float:
        """Top less bottom."""
        return self.bounds[3] - self.bounds[1]

    def with_elements(self, *more: Element) -> Drawing:
        """The same drawing with more on top."""
        return replace(self, elements=self.elements + more)
