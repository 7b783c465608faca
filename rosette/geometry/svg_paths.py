"""The `d` of an SVG path as lines in mm (SVG 1.1, chapter 8.3)."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rosette.geometry.curves import Matrix, arc_between, bezier
from rosette.geometry.outline import Point
from rosette.geometry.tracing import ERROR, MOST_LINES, Chain, TracingError, kept
from rosette.words import plain

NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?")
LARGEST = 1e9
"""No number in a drawing of a scrap is larger."""

_SKIP = re.compile(r"[\s,]*")
_TAKES = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "t": 2, "a": 7, "z": 0}
_FLAGS = (3, 4)


def number(text: str) -> float:
    """A number of the file.

    Raises:
        TracingError: it is far too large.
    """
    value = float(text)
    if not abs(value) <= LARGEST:
        raise TracingError("has a number in it that is far too large to be a length")
    return value


def path_chains(data: str, matrix: Matrix, total: int) -> Iterator[Chain]:
    """Each part of a path, flattened to within 0.02 mm; `total` points were read before.

    Raises:
        TracingError: it can't be read, or is too much.
    """
    pen = _Pen(matrix, total)
    for command, numbers in _commands(data):
        pen.draw(command, numbers)
        if len(pen.chains) > MOST_LINES:
            raise TracingError("has more than {most} lines in it; simplify it", most=MOST_LINES)
    pen.lift(closed=False)
    yield from pen.chains


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Every command with its numbers, repeated ones written out."""
    at = _skipped(data, 0)
    first = True
    while at < len(data):
        command = data[at]
        takes = _TAKES.get(command.lower())
        if takes is None or (first and command not in "Mm"):
            raise _unreadable(data, at)
        at, first = _skipped(data, at + 1), False
        if takes == 0:
            yield command, []
            continue
        while True:
            numbers, at = _numbers(data, at, command, takes)
            yield command, numbers
            command = {"M": "L", "m": "l"}.get(command, command)
            if at >= len(data) or data[at].isalpha():
                break


def _numbers(data: str, at: int, command: str, takes: int) -> tuple[list[float], int]:
    numbers: list[float] = []
    while len(numbers) < takes:
        if command in "Aa" and len(numbers) in _FLAGS:
            if data[at : at + 1] not in ("0", "1"):
                raise _unreadable(data, at)
            numbers.append(number(data[at]))
            at = _skipped(data, at + 1)
            continue
        match = NUMBER.match(data, at)
        if match is None:
            raise _unreadable(data, at)
        numbers.append(number(match[0]))
        at = _skipped(data, match.end())
    return numbers, at


def _skipped(data: str, at: int) -> int:
    match = _SKIP.match(data, at)
    return match.end() if match else at


def _unreadable(data: str, at: int) -> TracingError:
    return TracingError(
        'has a path that can\'t be read, at character {at} of its d: "{text}"',
        at=at + 1,
        text=plain(data[at : at + 12]) or "its end",
    )


class _Pen:
    """Follows the commands of one path."""

    def __init__(self, matrix: Matrix, total: int) -> None:
        self.matrix, self.total = matrix, total
        self.chains: list[Chain] = []
        self.here: Point = (0.0, 0.0)
        self.begun: Point = (0.0, 0.0)
        self.handle: tuple[str, Point] | None = None
        self.points: list[Point] = []

    def lift(self, *, closed: bool) -> None:
        """End the part that is being drawn."""
        if len(self.points) > 1:
            self.chains.append(Chain(tuple(self.points), closed))
        self.points = []

    def draw(self, command: str, n: list[float]) -> None:
        """Follow one command."""
        lower = command.lower()
        by = self.here if command.islower() else (0.0, 0.0)
        if lower == "h":
            n = [n[0], self.here[1] - by[1]]
        elif lower == "v":
            n = [self.here[0] - by[0], n[0]]
        if lower == "a":
            self._arc(n, (by[0] + n[5], by[1] + n[6]))
            return
        places = [(by[0] + x, by[1] + y) for x, y in zip(n[::2], n[1::2], strict=True)]
        if lower == "z":
            self.lift(closed=True)
            self.here, self.handle = self.begun, None
        elif lower == "m":
            self.lift(closed=False)
            self.here = self.begun = places[0]
            self.handle = None
        else:
            self._curve(lower, places)

    def _curve(self, lower: str, places: list[Point]) -> None:
        if lower in "st":
            places.insert(0, self._mirrored("cs" if lower == "s" else "qt"))
        self._add(bezier(tuple(map(self.matrix.moved, (self.here, *places))), ERROR))
        self.handle = (lower, places[-2]) if lower in "csqt" else None
        self.here = places[-1]

    def _mirrored(self, kinds: str) -> Point:
        """The handle that goes on from the one before, where that was of the same kind."""
        if self.handle is None or self.handle[0] not in kinds:
            return self.here
        x, y = self.handle[1]
        return 2.0 * self.here[0] - x, 2.0 * self.here[1] - y

    def _arc(self, n: list[float], end: Point) -> None:
        arc = arc_between(
            self.here, end, (n[0], n[1]), turn=n[2], large=n[3] == 1.0, sweep=n[4] == 1.0
        )
        if arc is None:
            self._add(iter([self.matrix.moved(end)]))
        else:
            flat = list(arc._replace(matrix=self.matrix.after(arc.matrix)).points(ERROR))
            self._add(iter([*flat[:-1], self.matrix.moved(end)]))
        self.here, self.handle = end, None

    def _add(self, points: Iterator[Point]) -> None:
        if not self.points:
            self.points = list(kept([self.matrix.moved(self.here)], self.total))
        more = kept(points, self.total)
        self.total += len(more)
        self.points.extend(more)
