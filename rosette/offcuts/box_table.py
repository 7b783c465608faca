"""The box as a table of words, and as JSON."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import shapely
from shapely.geometry import Polygon

from rosette.offcuts.box import Box, BoxOffcut
from rosette.offcuts.demand import wood_key
from rosette.offcuts.model import Point
from rosette.offcuts.region import frame_for
from rosette.offcuts.sound import usable_area
from rosette.units import MM_PER_INCH, Units, number_in, rounded

HEAD = ("id", "wood", "thick", "along", "across", "usable", "count")
_LEFT = 2
_NEARLY = 0.75
_SQUARE: dict[Units, str] = {"mm": "cm²", "in": "in²"}
_LONGEST = {0: 18, 1: 20}
"""Characters shown of ids and woods, so that a line stays within 80."""


def size(offcut: BoxOffcut) -> tuple[float, float]:
    """How far it reaches along its grain and across it, in mm."""
    turned = frame_for(offcut.grain, (0.0, 0.0)).along_grain(np.array(offcut.outline))
    across, along = np.ptp(turned, axis=0)
    return float(along), float(across)


def area(offcut: BoxOffcut) -> float:
    """mm² of one piece without holes and defects."""
    return usable_area(offcut.outline, offcut.holes, offcut.defects)


def clear_circle(offcut: BoxOffcut) -> tuple[Point, float]:
    """The largest circle in its usable wood, for marks that belong inside: centre and radius."""
    whole = Polygon(offcut.outline)
    bad = [Polygon(ring) for ring in (*offcut.holes, *offcut.defects)]
    usable = max(
        shapely.get_parts(whole.difference(shapely.union_all(bad))),
        key=lambda part: float(part.area),
    )
    reach = shapely.maximum_inscribed_circle(usable, tolerance=0.05 * math.sqrt(usable.area))
    (x, y), edge = reach.coords
    radius = math.dist((x, y), edge)
    middle = usable.centroid
    room = float(usable.exterior.distance(middle)) if usable.contains(middle) else 0.0
    room = min([room, *(float(ring.distance(middle)) for ring in usable.interiors)])
    # along a strip there are many such circles: the one in its middle looks best
    return ((middle.x, middle.y), room) if room > _NEARLY * radius else ((x, y), radius)


def lines(box: Box, units: Units | None = None) -> Iterator[str]:
    """The box as a table no wider than 80 columns, and what there is of each wood."""
    units = units or box.units
    if not box.offcuts:
        yield f"{box.source or 'The box'} is empty."
        return
    square = _SQUARE[units]
    rows: list[tuple[str, ...]] = [HEAD, ("", "", units, units, units, square, "")]
    rows += [_row(one, units) for one in box.offcuts]
    yield from _ruled(rows)
    yield ""
    for wood, count, whole in _sums(box):
        pieces = "1 piece" if count == 1 else f"{count} pieces"
        yield f"{_short(wood, 40)}: {pieces}, {area_words(whole, units)} usable"
    yield ""
    yield "along, across: how far a piece reaches along its grain and across it."


def _row(one: BoxOffcut, units: Units) -> tuple[str, ...]:
    along, across = size(one)
    return (
        _short(one.id, _LONGEST[0]),
        _short(one.wood, _LONGEST[1]),
        number_in(one.thickness, units),
        number_in(along, units, decimals=1 if units == "in" else 0),
        number_in(across, units, decimals=1 if units == "in" else 0),
        _area(area(one), units),
        str(one.count),
    )


def area_words(square_mm: float, units: Units) -> str:
    """An area for people.

    >>> area_words(645.16, "in"), area_words(645.16, "mm")
    ('1.0 in²', '6.5 cm²')
    """
    return f"{_area(square_mm, units)} {_SQUARE[units]}"


def _area(square_mm: float, units: Units) -> str:
    return rounded(square_mm / (MM_PER_INCH**2 if units == "in" else 100.0), 1)


def _short(text: str, longest: int) -> str:
    return text if len(text) <= longest else text[: longest - 1] + "…"


def _ruled(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for number, row in enumerate(rows):
        cells = [
            cell.ljust(width) if i < _LEFT else cell.rjust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  ".join(cells).rstrip()
        if number == 1:
            yield "-" * (sum(widths) + 2 * (len(widths) - 1))


def _sums(box: Box) -> Iterator[tuple[str, int, float]]:
    """Each wood with its pieces and its usable area."""
    woods: dict[str, list[BoxOffcut]] = {}
    for one in box.offcuts:
        woods.setdefault(wood_key(one.wood), []).append(one)
    for mine in woods.values():
        yield (
            mine[0].wood,
            sum(one.count for one in mine),
            sum(one.count * area(one) for one in mine),
        )


def box_json(box: Box) -> dict[str, Any]:
    """The box for other programs: lengths in mm, areas in mm², every shape as its outline."""
    return {
        "schema": "rosette.offcuts/1",
        "file": box.source,
        "sha256": box.sha256,
        "units": box.units,
        "offcuts": [_offcut_json(one) for one in box.offcuts],
        "taken": [
            {"cuts": one.cuts, "job": one.job, "used": list(one.used), "back": list(one.back)}
            for one in box.taken
        ],
    }


def _offcut_json(one: BoxOffcut) -> dict[str, Any]:
    along, across = size(one)
    return {
        "id": one.id,
        "wood": one.wood,
        "thickness": one.thickness,
        "count": one.count,
        "note": one.note,
        "form": one.form,
        "file": one.file,
        "grain": one.grain,
        "along": along,
        "across": across,
        "usable_area": area(one),
        "outline": [list(point) for point in one.outline],
        "holes": [[list(point) for point in ring] for ring in one.holes],
        "defects": [[list(point) for point in ring] for ring in one.defects],
        "sha256": one.sha256,
    }
