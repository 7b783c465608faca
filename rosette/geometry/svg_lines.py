"""The closed lines of an SVG file, read by the standard library's own XML parser.

A document type with declarations of its own is refused before any of them is read, and none is
ever fetched; nothing else in a file can grow or lead out of it: see docs/decisions on drawings
from strangers.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from xml.parsers import expat

from rosette.geometry.chains import closed_lines
from rosette.geometry.curves import Ellipse, Matrix
from rosette.geometry.outline import Point
from rosette.geometry.svg_page import Page, page_of, transform_of
from rosette.geometry.svg_paths import NUMBER, number, path_chains
from rosette.geometry.tracing import ERROR, MOST_LINES, Chain, Ring, TracingError, kept

DEEPEST = 64
MOST_ELEMENTS = 20_000
CUT = "cut"
"""Where a layer (a group by its id or label) has this name, nothing else is read."""

_AS_GROUPS = {"g", "a", "switch"}
_SKIPPED = {"defs", "symbol", "clipPath", "mask", "pattern", "marker", "metadata", "style"}
_LABEL = "http://www.inkscape.org/namespaces/inkscape}label"
_HIDDEN = re.compile(r"(?:^|;)\s*display\s*:\s*none\b")

Attributes = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class SvgLines:
    """Closed lines in mm, y up; `sized` where the page's lower left corner is at 0,0."""

    rings: tuple[Ring, ...]
    sized: bool


def svg_lines(data: bytes) -> SvgLines:
    """The closed lines in an SVG file: its edges, open lines joined where they meet.

    Width, height and viewBox scale it as SVG 1.1 has it, a px being 1/96 in; without width and
    height its units are taken to be mm.

    Raises:
        TracingError: saying what is wrong with the file.
    """
    found = _Reader()
    parser = expat.ParserCreate(namespace_separator="}")
    parser.StartDoctypeDeclHandler = _refuse_declarations
    parser.EntityDeclHandler = _refuse_entity
    parser.StartElementHandler = found.start
    parser.EndElementHandler = found.end
    try:
        parser.Parse(data, True)
    except TracingError:
        raise
    except (LookupError, ValueError):
        raise TracingError("is in an encoding that can't be read; save it as UTF-8") from None
    except expat.ExpatError as error:
        raise TracingError(
            "can't be read as SVG: line {line}: {why}",
            line=error.lineno,
            why=expat.ErrorString(error.code),
        ) from None
    return found.lines()


def _refuse_declarations(_name: str, _system: object, _public: object, own: int) -> None:
    if own:
        _refuse_entity()


def _refuse_entity(*_: object) -> None:
    raise TracingError(
        "has declarations of its own in its document type, which could hide anything; save it as"
        " plain SVG"
    )


class _Reader:
    """Gathers closed and open lines while the file is read."""

    def __init__(self) -> None:
        self.page: Page | None = None
        self.levels: list[tuple[Matrix, bool, bool]] = []
        self.elements = self.points = 0
        self.chains: list[tuple[bool, Chain]] = []
        self.clones = False

    def start(self, name: str, attributes: Attributes) -> None:
        """An element begins."""
        self.elements += 1
        if self.elements > MOST_ELEMENTS:
            raise TracingError("has more than {most} elements", most=MOST_ELEMENTS)
        if len(self.levels) >= DEEPEST:
            raise TracingError("has elements inside each other more than {most} deep", most=DEEPEST)
        tag = name.rsplit("}", 1)[-1]
        if self.page is None:
            self.page = self._page(tag, attributes)
            self.levels.append((self.page.matrix, True, False))
            return
        outer, shown, in_cut = self.levels[-1]
        shown = shown and not _hidden(attributes)
        if tag == "svg" and shown:
            raise TracingError("has an svg inside its svg; ungroup it in the program that drew it")
        in_cut = in_cut or CUT in (attributes.get("id"), attributes.get(_LABEL))
        matrix = outer.after(transform_of(attributes.get("transform", "")))
        self.levels.append((matrix, shown and tag in _AS_GROUPS, in_cut))
        self.clones = self.clones or (shown and tag == "use")
        if shown and tag in _SHAPES:
            for chain in _SHAPES[tag](attributes, matrix, self.points):
                self.points += len(chain.points)
                self.chains.append((in_cut, chain))
                if len(self.chains) > MOST_LINES:
                    raise TracingError(
                        "has more than {most} lines in it; simplify it", most=MOST_LINES
                    )

    def end(self, _: str) -> None:
        """An element ends."""
        self.levels.pop()

    @staticmethod
    def _page(tag: str, attributes: Attributes) -> Page:
        if tag != "svg":
            raise TracingError("is no SVG file, though it is called one")
        return page_of(attributes)

    def lines(self) -> SvgLines:
        """What was gathered; of a layer named "cut" alone, where there is one."""
        if self.clones and not self.chains:
            raise TracingError("has only clones in it; unlink them in the program that drew it")
        only_cut = any(in_cut for in_cut, _ in self.chains)
        chains = [chain for in_cut, chain in self.chains if in_cut or not only_cut]
        sized = self.page is not None and self.page.sized
        return SvgLines(rings=tuple(closed_lines(chains)), sized=sized)


def _hidden(attributes: Attributes) -> bool:
    return attributes.get("display", "").strip() == "none" or bool(
        _HIDDEN.search(attributes.get("style", "")[:10_000])
    )


Shape = Callable[[Attributes, Matrix, int], Iterator[Chain]]


def _path(attributes: Attributes, matrix: Matrix, total: int) -> Iterator[Chain]:
    yield from path_chains(attributes.get("d", ""), matrix, total)


def _polygon(attributes: Attributes, matrix: Matrix, total: int) -> Iterator[Chain]:
    yield Chain(_listed(attributes, matrix, total), True)


def _polyline(attributes: Attributes, matrix: Matrix, total: int) -> Iterator[Chain]:
    yield Chain(_listed(attributes, matrix, total), False)


def _listed(attributes: Attributes, matrix: Matrix, total: int) -> Ring:
    numbers = (number(match[0]) for match in NUMBER.finditer(attributes.get("points", "")))
    return kept(map(matrix.moved, zip(numbers, numbers, strict=False)), total)


def _line(attributes: Attributes, matrix: Matrix, total: int) -> Iterator[Chain]:
    x1, y1, x2, y2 = (_measure(attributes, name) for name in ("x1", "y1", "x2", "y2"))
    yield Chain(kept(map(matrix.moved, ((x1, y1), (x2, y2))), total), False)


def _rect(attributes: Attributes, matrix: Matrix, total: int) -> Iterator[Chain]:
    x, y, wide, high = (_measure(attributes, name) for name in ("x", "y", "width", "height"))
    rx = _measure(attributes, "rx") if "rx" in attributes else _measure(attributes, "ry")
    ry = _measure(attributes, "ry") if "ry" in attributes else rx
    rx, ry = min(abs(rx), wide / 2.0), min(abs(ry), high / 2.0)
    if wide <= 0.0 or high <= 0.0:
        return  # SVG draws none
    if rx <= 0.0 or ry <= 0.0:
        corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
        yield Chain(kept(map(matrix.moved, corners), total), True)
        return
    right, low = x + wide, y + high
    round_ = f"a{rx},{ry} 0 0 1"
    yield from path_chains(
        f"M{x + rx},{y}H{right - rx}{round_} {rx},{ry}V{low - ry}{round_} {-rx},{ry}"
        f"H{x + rx}{round_} {-rx},{-ry}V{y + ry}{round_} {rx},{-ry}Z",
        matrix,
        total,
    )


def _ellipse(attributes: Attributes, matrix: Matrix, total: int) -> Iterator[Chain]:
    centre: Point = (_measure(attributes, "cx"), _measure(attributes, "cy"))
    both = attributes.get("r")
    rx, ry = (_measure(attributes, "r" if both is not None else name) for name in ("rx", "ry"))
    if rx > 0.0 and ry > 0.0:
        round_ = Ellipse(matrix.after(Matrix(rx, 0.0, 0.0, ry, *centre)))
        yield Chain(kept(round_.points(ERROR), total), True)


def _measure(attributes: Attributes, name: str) -> float:
    text = attributes.get(name, "0").strip()
    match = NUMBER.match(text)
    if match is None or text[match.end() :] not in ("", "px"):
        raise TracingError(
            "has a shape whose {name} is no plain number; turn shapes into paths in the program"
            " that drew it",
            name=name,
        )
    return number(match[0])


_SHAPES: Mapping[str, Shape] = {
    "path": _path,
    "polygon": _polygon,
    "polyline": _polyline,
    "line": _line,
    "rect": _rect,
    "circle": _ellipse,
    "ellipse": _ellipse,
}
