"""An outline out of an SVG file."""

from __future__ import annotations

from rosette.geometry.svg_lines import svg_lines
from rosette.offcuts.tracing import Traced, nested


def read_svg(data: bytes) -> Traced:
    """The outline in an SVG file, in mm, its page's lower left corner at 0,0 and y up.

    A file with no page at all has the outline's own lower left corner at 0,0.

    Raises:
        TracingError: saying what is wrong with the file.
    """
    lines = svg_lines(data)
    traced = nested(lines.rings)
    if lines.sized:
        return traced
    left = min(x for x, _ in traced.outline)
    low = min(y for _, y in traced.outline)
    outline, *holes = (
        tuple((x - left, y - low) for x, y in ring) for ring in (traced.outline, *traced.holes)
    )
    return Traced(outline=outline, holes=tuple(holes))
