"""An outline out of a DXF file, read with ezdxf, whose own flattening makes lines of curves."""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator
from itertools import islice
from typing import TYPE_CHECKING, Any

import numpy as np

from rosette.geometry.chains import closed_lines
from rosette.geometry.tracing import (
    ERROR,
    MOST_LINES,
    MOST_POINTS,
    Chain,
    TracingError,
    kept,
)
from rosette.offcuts.model import Point
from rosette.offcuts.tracing import Traced, nested
from rosette.units import LONGEST_MM

if TYPE_CHECKING:
    from ezdxf.document import Drawing

LARGEST_FILE = 2 * 1024 * 1024
"""ezdxf reads about a megabyte a second."""
MM_PER_UNIT = {0: 1.0, 1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 8: 2.54e-5, 9: 0.0254,
               10: 914.4, 13: 0.001, 14: 100.0}  # fmt: skip
"""$INSUNITS; 0 says nothing, and is taken as mm."""
MOST_DEGREE = 9
MOST_CONTROL_POINTS = 4000
CUT = "cut"
_FINER = 0.25
"""ezdxf looks at a spline only halfway along each chord: it is asked for more than is needed."""


def read_dxf(data: bytes) -> Traced:
    """The outline in the model space of a DXF file, in mm, coordinates as they are in the file.

    Lines, arcs, polylines, circles, ellipses and splines count, those on layers that are
    switched off do not. Where there is a layer named "cut", nothing else is read.

    Raises:
        TracingError: saying what is wrong with the file.
    """
    drawing = _loaded(data)
    scale = _scale(drawing)
    off = {
        layer.dxf.name.lower() for layer in drawing.layers if layer.is_off() or layer.is_frozen()
    }
    found = [
        (one, str(one.dxf.get("layer", "0")).lower())
        for one in drawing.modelspace()
        if one.dxftype() in _KINDS and not one.dxf.get("invisible", 0)
    ]
    if len(found) > MOST_LINES:
        raise TracingError("has more than {most} lines in it; simplify it", most=MOST_LINES)
    only_cut = any(layer == CUT for _, layer in found)
    chains: list[Chain] = []
    total = 0
    for one, layer in found:
        if layer in off or (only_cut and layer != CUT):
            continue
        chain = _chain(one, scale, total)
        total += len(chain.points)
        chains.append(chain)
    if not chains and any(one.dxftype() == "INSERT" for one in drawing.modelspace()):
        raise TracingError("has only blocks in it; explode them in the program that drew it")
    return nested(closed_lines(chains))


def _loaded(data: bytes) -> Drawing:
    if len(data) > LARGEST_FILE:
        raise TracingError(
            "is larger than {most} MB; an outline is some kB", most=LARGEST_FILE // 2**20
        )
    if data.startswith(b"AutoCAD Binary DXF") or b"\x00" in data:
        raise TracingError("is a binary file; save it as DXF in text, R12 or later")
    from ezdxf.filemanagement import read

    try:
        return read(io.StringIO(data.decode("utf-8", "replace"), newline=None))
    except Exception:  # whatever it stumbles over, it is the file that is wrong
        raise TracingError("can't be read as DXF; save it again, R12 or later") from None


def _scale(drawing: Drawing) -> float:
    unit = drawing.header.get("$INSUNITS", 0)
    per = MM_PER_UNIT.get(unit) if isinstance(unit, int) else None
    if per is None:
        raise TracingError("is in units that no shop works in ($INSUNITS); save it in mm")
    return per


def _chain(entity: Any, scale: float, total: int) -> Chain:
    try:
        points, closed = _KINDS[entity.dxftype()](entity, ERROR / scale)
        flat = ((x * scale, y * scale) for x, y in islice(points, MOST_POINTS + 1))
        with np.errstate(all="ignore"):  # what overflows is found by `kept`
            return Chain(kept(flat, total), closed)
    except TracingError:
        raise
    except Exception:  # as above: knots out of order, weights of 0, no end to halving
        raise TracingError(
            "has a {kind} in it that can't be drawn; draw it anew", kind=entity.dxftype().lower()
        ) from None


Drawn = tuple[Iterable[Point], bool]


def _flat(points: Iterable[Any]) -> Iterator[Point]:
    for point in points:
        yield float(point.x), float(point.y)


def _line(entity: Any, _: float) -> Drawn:
    return _flat((entity.dxf.start, entity.dxf.end)), False


def _arc(entity: Any, error: float) -> Drawn:
    _check_size(entity.dxf.radius, error)
    return _flat(entity.flattening(error)), False


def _circle(entity: Any, error: float) -> Drawn:
    _check_size(entity.dxf.radius, error)
    return _flat(entity.flattening(error)), True


def _ellipse(entity: Any, error: float) -> Drawn:
    _check_size(entity.dxf.major_axis.magnitude, error)
    turn = abs(entity.dxf.end_param - entity.dxf.start_param)
    return _flat(entity.flattening(error)), math.isclose(turn, 2.0 * math.pi, abs_tol=1e-9)


def _check_size(radius: float, error: float) -> None:
    if not 0.0 < radius * ERROR / error <= LONGEST_MM:
        raise TracingError("has an arc or circle in it that is nothing or larger than 10 m")


def _polyline(entity: Any, error: float) -> Drawn:
    if entity.dxftype() == "POLYLINE" and not entity.is_2d_polyline:
        if not entity.is_3d_polyline:
            raise TracingError("has a mesh in it; save the outline alone")
        return _flat(entity.points()), bool(entity.is_closed)
    closed = bool(entity.closed if entity.dxftype() == "LWPOLYLINE" else entity.is_closed)
    return _flat(_run(entity, error)), closed


def _run(entity: Any, error: float) -> Iterator[Any]:
    """Its lines and arcs one after the other, each turned the way that it is gone."""
    here = None
    for part in entity.virtual_entities():
        if part.dxftype() == "LINE":
            points = [part.dxf.start, part.dxf.end]
        else:
            _check_size(part.dxf.radius, error)
            points = list(part.flattening(error))
        if here is None:
            here = _first(entity)
        if points[-1].distance(here) < points[0].distance(here):
            points.reverse()
        yield from points
        here = points[-1]


def _first(entity: Any) -> Any:
    if entity.dxftype() == "LWPOLYLINE":
        return next(iter(entity.vertices_in_wcs()))
    return next(iter(entity.points_in_wcs()))


def _spline(entity: Any, error: float) -> Drawn:
    controls = [*entity.control_points, *entity.fit_points]
    if len(controls) > MOST_CONTROL_POINTS or not 1 <= entity.dxf.degree <= MOST_DEGREE:
        raise TracingError("has a spline in it that is far too long or of too high a degree")
    far = LONGEST_MM * error / ERROR
    if not all(abs(value) <= far for point in controls for value in tuple(point)[:2]):
        raise TracingError("has a point that lies farther away than 10 m, or nowhere at all")
    # with larger ones a step along the curve can be lost in rounding, and has no end
    if not all(abs(knot) <= 1e6 for knot in entity.knots):
        raise TracingError("has a spline in it whose knots are far too large")
    if not all(1e-3 <= weight <= 1e3 for weight in entity.weights):
        raise TracingError("has a spline in it whose weights are out of all proportion")
    return _flat(entity.flattening(error * _FINER, segments=8)), bool(entity.closed)


_KINDS = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "ELLIPSE": _ellipse,
    "LWPOLYLINE": _polyline,
    "POLYLINE": _polyline,
    "SPLINE": _spline,
}
