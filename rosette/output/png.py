"""A drawing as a PNG picture on white."""

from __future__ import annotations

from rosette.output.svg import svg_to_typeset
from rosette.output.typeset import typeset
from rosette.sheets.drawing import Drawing
from rosette.units import MM_PER_INCH


def png_bytes(drawing: Drawing, *, pixels_per_mm: float) -> bytes:
    """The whole drawing, the same bytes for the same drawing."""
    data = {
        "svg": svg_to_typeset(drawing),
        "width": drawing.width,
        "height": drawing.height,
    }
    return typeset("picture.typ", data, ppi=pixels_per_mm * MM_PER_INCH)
