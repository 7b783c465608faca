"""An outline out of a drawing: which of its closed lines is the edge, and which are holes.

Drawings come from strangers. They are read with limits on size, depth and points, never lead
anywhere else, and whatever is wrong with them ends in a `TracingError`.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

import shapely
from shapely.geometry import Polygon

from rosette.geometry.tracing import TracingError, place
from rosette.offcuts.model import Ring
from rosette.offcuts.sound import cleaned, fault
from rosette.words import Saying

MOST_BYTES = 4 * 1024 * 1024
MOST_CLOSED = 300
"""Closed lines of one drawing: its edge and its holes."""

_DOUBLED = 0.9
"""A hole that takes more of its outline than this is the other side of a drawn line."""
_SAME_SHAPE = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Traced:
    """The edge of one piece of wood and the holes in it, in mm with y up."""

    outline: Ring
    holes: tuple[Ring, ...] = ()


def read_tracing(folder: Path, name: str) -> Traced:
    """The outline in the SVG or DXF file `name`, a path relative to `folder` that stays in it.

    Links are followed; what they lead to must be an ordinary file.

    Raises:
        TracingError: saying what is wrong with the path, the file or what is drawn in it.
    """
    reader = _reader(name)
    return reader(_bytes(folder / PurePosixPath(name)))


def _reader(name: str) -> Callable[[bytes], Traced]:
    parts = name.split("/")
    if "\\" in name or ":" in name or any(part in ("", ".", "..") for part in parts):
        raise TracingError(
            "is not a file in the folder of the offcuts file or below it; copy it there and name"
            " it with / between folders"
        )
    ending = PurePosixPath(name).suffix.lower()
    if ending == ".svg":
        from rosette.offcuts.tracing_svg import read_svg

        return read_svg
    if ending == ".dxf":
        from rosette.offcuts.tracing_dxf import read_dxf

        return read_dxf
    raise TracingError("is neither an SVG nor a DXF file; save the outline as one of these")


def _bytes(path: Path) -> bytes:
    try:
        # without O_NONBLOCK a named pipe would keep us waiting for ever
        number = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(number, "rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise TracingError("is not an ordinary file")
            data = file.read(MOST_BYTES + 1)
    except TracingError:
        raise
    except FileNotFoundError:
        raise TracingError("is not there; it is looked for beside the offcuts file") from None
    except IsADirectoryError:
        raise TracingError("is a folder; name the file in it") from None
    except (OSError, ValueError) as error:
        raise TracingError(
            "can't be read: {why}", why=getattr(error, "strerror", None) or "its name can't be used"
        ) from None
    if len(data) > MOST_BYTES:
        raise TracingError(
            "is larger than {most} MB; an outline is some kB", most=MOST_BYTES // 2**20
        )
    return data


def nested(rings: Iterable[Ring]) -> Traced:
    """Closed lines told apart: one edge, and the holes that lie in it.

    Raises:
        TracingError: there is no edge, there are several, or lines cross.
    """
    shapes = _shapes(rings)
    if not shapes:
        raise TracingError("has no closed line in it; draw the outline as one closed path")
    if len(shapes) > MOST_CLOSED:
        raise TracingError(
            "has {n} closed lines; at most {most} do", n=len(shapes), most=MOST_CLOSED
        )
    edge, *others = sorted(shapes, key=lambda shape: -float(shape.area))
    shapely.prepare(edge)
    holes: list[Polygon] = []
    for shape in others:
        if any(_same(shape, one) for one in (edge, *holes)):
            continue
        holes.append(_hole(edge, shape, holes))
    return Traced(outline=_ring(edge), holes=tuple(_ring(hole) for hole in holes))


def _shapes(rings: Iterable[Ring]) -> list[Polygon]:
    shapes = []
    for raw in rings:
        ring = cleaned(raw)
        if len(ring) < 2:
            continue  # a dot of the pen
        wrong = fault(ring)
        if wrong is not None:
            raise TracingError(Saying("has a closed line that " + wrong.template, wrong.words))
        shapes.append(Polygon(ring))
    return shapes


def _hole(edge: Polygon, shape: Polygon, before: list[Polygon]) -> Polygon:
    spot = place(_ring(shape)[0])
    if not edge.intersects(shape) or edge.intersection(shape).area == 0.0:
        raise TracingError(
            "has several separate outlines in it, one of them at x {x}, y {y}; one file holds one"
            " piece of wood",
            **spot,
        )
    if not edge.covers(shape):
        raise TracingError("has two closed lines that cross, one of them at x {x}, y {y}", **spot)
    if shape.area > _DOUBLED * edge.area:
        raise TracingError(
            "has a hole that leaves only a rim: both sides of a drawn line, it seems; delete the"
            " inner one"
        )
    for other in before:
        if other.intersection(shape).area == 0.0:
            continue
        if other.covers(shape):
            raise TracingError(
                "has a piece of wood inside a hole, at x {x}, y {y}; one file holds one piece of"
                " wood",
                **spot,
            )
        raise TracingError("has two closed lines that cross, one of them at x {x}, y {y}", **spot)
    return shape


def _same(one: Polygon, other: Polygon) -> bool:
    """Drawn twice, one on the other, as some programs do."""
    near = abs(one.area - other.area) <= _SAME_SHAPE * other.area
    return near and bool(one.symmetric_difference(other).area <= _SAME_SHAPE * other.area)


def _ring(shape: Polygon) -> Ring:
    return tuple((x, y) for x, y in shape.exterior.coords[:-1])
