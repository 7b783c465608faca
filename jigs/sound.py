"""Whether a block's steps can be a solid at all: by plane geometry, without the CAD kernel.

Asked when the kernel has failed, to say which two outlines are in each other's way, and in tests.
Exact to half a thousandth of a millimetre.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise, product

from jigs.crossing import Loop, meeting, own_crossing
from jigs.terrace import Block, Contour, Step
from rosette.geometry.outline import Outline, Point, circle
from rosette.words import Length, Saying, Word, say

SAME_HEIGHT = 1e-9
LEAST_AREA = 1e-6
"""An outline of less, in mm², is none."""


@dataclass(frozen=True, slots=True)
class _Name:
    """What people call a step, with gaps for lengths."""

    text: str
    words: tuple[tuple[str, Word], ...] = ()

    def other(self) -> _Name:
        """The same with gaps of other names, for a sentence of two."""
        text = self.text.replace("{", "{other_")
        return _Name(text, tuple((f"other_{word}", value) for word, value in self.words))


WHOLE = _Name("the part's outline")


@dataclass(frozen=True, slots=True)
class _Face:
    """A level face: the outline that bounds it, the steps in it, its height, what it is called."""

    loop: Loop
    steps: tuple[Loop, ...]
    height: float
    name: _Name

    def holds(self, point: Point) -> bool:
        return self.loop.holds(point) and not any(one.holds(point) for one in self.steps)


def problems(block: Block) -> tuple[Saying, ...]:
    """What keeps a block from being a solid, each with the place; empty where nothing does.

    Every outline must go round something without crossing itself, every step lie inside what
    holds it and apart from its neighbours, and the steps from above must meet those of the
    underside in holes only: inside one face of it and ending at its height.
    """
    shapeless = tuple(_shapeless(block))
    if shapeless:
        return shapeless
    tops, bottoms = _faces_of(block)
    found = [*_misplaced(tops), *_misplaced(bottoms)]
    if not found:
        found += [*_too_deep(tops, bottoms), *_broken_edge(block, tops + bottoms)]
    return tuple(found)


def _faces_of(block: Block) -> tuple[list[_Face], list[_Face]]:
    """The faces that look up and those that look down, the outermost first."""
    loop = Loop.of(block.outline)
    tops = list(_faces(loop, block.steps, block.top, WHOLE))
    bottoms = list(_faces(loop, block.under, 0.0, WHOLE))
    return tops, bottoms


def _faces(loop: Loop, steps: tuple[Step, ...], height: float, name: _Name) -> Iterator[_Face]:
    loops = tuple(Loop.of(step.outline) for step in steps)
    yield _Face(loop, loops, height, name)
    for step, inner in zip(steps, loops, strict=True):
        yield from _faces(inner, step.steps, step.top, _called(step.outline, inner, step.top))


def _called(outline: Outline | Contour, loop: Loop, height: float) -> _Name:
    """What people call a step: its size, its middle, its height."""
    box, (x, y) = loop.box, loop.middle
    round_one = isinstance(outline, Outline) and outline == circle(
        outline.vertices[0].x - x, (x, y)
    )
    size = "{width} across" if round_one else "{width} by {depth}"
    kind = "letter" if isinstance(outline, Contour) else "step"
    words = {
        "width": Length(box.right - box.left),
        "depth": Length(box.high - box.low),
        "x": Length(x),
        "y": Length(y),
        "height": Length(height),
    }
    text = f"the {kind} at height {{height}} ({size}, its middle at x {{x}}, y {{y}})"
    return _Name(text, tuple(words.items()))


def _shapeless(block: Block) -> Iterator[Saying]:
    """Outlines that go round nothing or cross themselves."""
    outlines: list[tuple[Outline | Contour, float]] = [(block.outline, block.top)]
    waiting = [*block.steps, *block.under]
    while waiting:
        step = waiting.pop()
        outlines.append((step.outline, step.top))
        waiting += step.steps
    for outline, height in outlines:
        loop = Loop.of(outline)
        name = _called(outline, loop, height)
        if abs(outline.area()) < LEAST_AREA:
            yield _said(name, "goes round nothing", loop.points[0])
            continue
        at = own_crossing(loop)
        if at is not None:
            yield _said(name, "crosses itself", at)


def _misplaced(faces: list[_Face]) -> Iterator[Saying]:
    """Steps that leave what holds them, or meet their neighbours."""
    called = {id(face.loop): face.name for face in faces}
    for face in faces:
        for step in face.steps:
            at = meeting(face.loop, step)
            if at is None and not face.loop.holds(step.points[0]):
                at = step.points[0]
            if at is not None:
                yield _between(called[id(step)], "leaves", face.name, at)
        for a, b in _neighbours(face.steps):
            at = meeting(a, b)
            if at is None:
                at = next((p.points[0] for p, q in ((a, b), (b, a)) if q.holds(p.points[0])), None)
            if at is not None:
                yield _between(called[id(a)], "meets", called[id(b)], at)


def _neighbours(loops: tuple[Loop, ...]) -> Iterator[tuple[Loop, Loop]]:
    """Pairs of outlines whose boxes meet."""
    active: list[Loop] = []
    for loop in sorted(loops, key=lambda one: one.box.left):
        active = [one for one in active if one.box.right > loop.box.left - 0.001]
        yield from ((one, loop) for one in active if one.box.near(loop.box))
        active.append(loop)


def _too_deep(tops: list[_Face], bottoms: list[_Face]) -> Iterator[Saying]:
    """Faces seen from above that are not above the face below them, holes apart."""
    for top, bottom in product(tops, bottoms):
        if top.height > bottom.height + SAME_HEIGHT or not _overlap(top, bottom):
            continue
        hole = abs(top.height - bottom.height) < SAME_HEIGHT and top is not tops[0]
        at = _edge_met(top, bottom) if hole else top.loop.points[0]
        if at is not None:
            yield _between(top.name, "is not above the underside in", bottom.name, at)


def _overlap(top: _Face, bottom: _Face) -> bool:
    """Whether two faces share some of the plan."""
    if not top.loop.box.near(bottom.loop.box):
        return False
    for a, b in product((top.loop, *top.steps), (bottom.loop, *bottom.steps)):
        if a is not b and a.points != b.points and meeting(a, b) is not None:
            return True
    return any(bottom.holds(one.points[0]) for one in (top.loop, *top.steps)) or any(
        top.holds(one.points[0]) for one in (bottom.loop, *bottom.steps)
    )


def _edge_met(hole: _Face, bottom: _Face) -> Point | None:
    """Where a hole from above does not come out within one face of the underside."""
    for edge in (bottom.loop, *bottom.steps):
        at = meeting(hole.loop, edge)
        if at is not None:
            return at
    return None if bottom.holds(hole.loop.points[0]) else hole.loop.points[0]


def _broken_edge(block: Block, faces: list[_Face]) -> Iterator[Saying]:
    """An outline that can't have its bottom edge broken, and steps that reach into that."""
    if not block.chamfer:
        return
    loop = faces[0].loop
    points = loop.points if block.outline.area() > 0 else loop.points[::-1]
    ways = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise((*points, points[0], points[1]))]
    turns = zip(pairwise(ways), points[1:] + points[:1], strict=True)
    at = next((at for ((ux, uy), (vx, vy)), at in turns if ux * vy - uy * vx < -1e-9), None)
    if at is not None:
        yield _said(WHOLE, "turns inwards, so that its bottom edge can't be broken", at)
        return
    for face in faces:
        if face.loop.points != loop.points and face.height < block.chamfer:
            at = meeting(loop, face.loop, block.chamfer)
            if at is not None:
                yield _said(face.name, "reaches into the broken bottom edge", at)


def _between(name: _Name, verb: str, other: _Name, at: Point) -> Saying:
    second = other.other()
    return _said(_Name(name.text, name.words + second.words), f"{verb} {second.text}", at)


def _said(name: _Name, what: str, at: Point) -> Saying:
    where = {"at_x": Length(at[0]), "at_y": Length(at[1])}
    return say(f"{name.text} {what}, at x {{at_x}}, y {{at_y}}", **dict(name.words), **where)
