"""Marks of gauges: GO and NO in letters, or one spot and two where there are none."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jigs.letters import engraving, extent_of
from jigs.process import Process
from jigs.terrace import Step
from rosette.geometry.outline import Point, circle

SPOT, APART, DEPTH = 0.8, 2.8, 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Marker:
    """How a plate is marked: how it is made, the height of its face, whether with letters."""

    process: Process
    top: float
    text: bool

    def go(self, at: Point, *, room: float) -> Iterator[Step]:
        """The mark of a go end about a point, in `room` mm across."""
        yield from self._mark("GO", 1, at, room)

    def no_go(self, at: Point, *, room: float) -> Iterator[Step]:
        """The mark of a no-go end."""
        yield from self._mark("NO", 2, at, room)

    def line(self, words: str, at: Point, *, room: float) -> Iterator[Step]:
        """A line of words about a point, if they are wanted and fit into `room` mm."""
        height = self.process.text_height
        if self.text and extent_of(words, height).width <= room:
            yield from engraving(
                words,
                middle=at[0],
                baseline=at[1] - height / 2.0,
                height=height,
                top=self.top,
                depth=self.process.text_depth,
            )

    def _mark(self, words: str, spots: int, at: Point, room: float) -> Iterator[Step]:
        lettered = list(self.line(words, at, room=room))
        yield from lettered
        if not lettered:
            for i in range(spots):
                up = APART * (i - (spots - 1) / 2.0)
                yield Step(outline=circle(SPOT, (at[0], at[1] + up)), top=self.top - DEPTH)
