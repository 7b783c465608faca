"""Reads the lines of a PDF page back with pdfium, every matrix applied; mm, y up."""

from __future__ import annotations

import ctypes
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

MM = 25.4 / 72.0
Matrix = tuple[float, float, float, float, float, float]
IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
STEPS = 16


@dataclass(frozen=True)
class Line:
    """A path with its curves flattened, and how many of the parts were curves."""

    points: tuple[complex, ...]
    curves: int

    @property
    def size(self) -> tuple[float, float]:
        xs, ys = [p.real for p in self.points], [p.imag for p in self.points]
        return max(xs) - min(xs), max(ys) - min(ys)


def opened(data: bytes) -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument(data)


def words(data: bytes) -> list[str]:
    """The text of each page."""
    return [page.get_textpage().get_text_range() for page in opened(data)]


def sizes(data: bytes) -> list[tuple[float, float]]:
    """Width and height of each page in mm."""
    return [(width * MM, height * MM) for width, height in map(_size, opened(data))]


def _size(page: pypdfium2.PdfPage) -> tuple[float, float]:
    width, height = page.get_size()
    return width, height


def lines(data: bytes, page_number: int) -> list[Line]:
    """Every path of a page, sub-paths apart."""
    document = opened(data)
    page = document[page_number]  # kept alive while its objects are read
    found: list[Line] = []
    raw = page.raw
    _walk(
        lambda i: pdfium.FPDFPage_GetObject(raw, i),
        pdfium.FPDFPage_CountObjects(raw),
        IDENTITY,
        found,
    )
    return found


def _walk(get: Callable[[int], Any], count: int, outer: Matrix, found: list[Line]) -> None:
    for i in range(count):
        thing = get(i)
        kind = pdfium.FPDFPageObj_GetType(thing)
        matrix = _times(_matrix(thing), outer)
        if kind == pdfium.FPDF_PAGEOBJ_FORM:
            _walk(
                lambda k, form=thing: pdfium.FPDFFormObj_GetObject(form, k),  # type: ignore[misc]
                pdfium.FPDFFormObj_CountObjects(thing),
                matrix,
                found,
            )
        elif kind == pdfium.FPDF_PAGEOBJ_PATH:
            found.extend(_flattened(_segments(thing, matrix)))


def _matrix(thing: Any) -> Matrix:
    m = pdfium.FS_MATRIX()
    pdfium.FPDFPageObj_GetMatrix(thing, m)
    return m.a, m.b, m.c, m.d, m.e, m.f


def _times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    )


def _segments(path: Any, matrix: Matrix) -> list[tuple[int, complex]]:
    a, b, c, d, e, f = matrix
    segments = []
    for i in range(pdfium.FPDFPath_CountSegments(path)):
        segment = pdfium.FPDFPath_GetPathSegment(path, i)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        point = complex(a * x.value + c * y.value + e, b * x.value + d * y.value + f) * MM
        segments.append((pdfium.FPDFPathSegment_GetType(segment), point))
    return segments


def _flattened(segments: list[tuple[int, complex]]) -> list[Line]:
    parts: list[tuple[list[complex], int]] = []
    i = 0
    while i < len(segments):
        kind, point = segments[i]
        if kind == pdfium.FPDF_SEGMENT_MOVETO:
            parts.append(([point], 0))
        elif kind == pdfium.FPDF_SEGMENT_LINETO:
            parts[-1][0].append(point)
        else:
            points, curves = parts[-1]
            points.extend(_bezier(points[-1], *(one for _, one in segments[i : i + 3])))
            parts[-1] = (points, curves + 1)
            i += 2
        i += 1
    return [Line(tuple(points), curves) for points, curves in parts]


def _bezier(a: complex, b: complex, c: complex, d: complex) -> list[complex]:
    return [
        (1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c + t**3 * d
        for t in (i / STEPS for i in range(1, STEPS + 1))
    ]
