"""The channel gauge: for each depth a plate with tongues, shoulders beside them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from jigs.base import Check, Part, Place
from jigs.gauges import ChannelGauge
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, Point, Vertex
from rosette.plan.model import ChannelStep

BEYOND = 6.0
"""How far shoulders reach past the channel's walls."""
LEAST_ROOT = 0.5
LEAST_HALF = 8.0
"""So much of the body's half, before its shoulders, leaves room for the marks."""
WIDEST_FEELER, LEAST_FEELER, BESIDE_FEELER = 6.0, 1.5, 1.0
"""Width of the tongue that feels for too deep a floor, and its room to the walls of its step."""
BETWEEN = 12.0
CLOSE = 0.03


@dataclass(frozen=True, slots=True, kw_only=True)
class Tongue:
    """A tongue in the middle of an edge (mm)."""

    width: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A gauge for one depth: half its body both ways, its go, no-go and too-deep tongues."""

    number: int
    half: float
    root: float
    go: Tongue
    no: Tongue
    feeler: Tongue | None
    feeler_radius: float


def plates(gauge: ChannelGauge) -> tuple[Plate, ...]:
    """A plate for every depth, shallowest first."""
    return tuple(_plate(gauge, i) for i in range(len(gauge.channel.steps)))


def _plate(gauge: ChannelGauge, i: int) -> Plate:
    channel, step, limits = gauge.channel, gauge.channel.steps[i], gauge.limits[i]
    root = max(LEAST_ROOT, gauge.process.inside_radius)
    length = step.depth - min(gauge.shallow, step.depth / 2.0)
    floor = _floor(step, channel.steps[i + 1 :])
    feeler_width = min(WIDEST_FEELER, floor[1] - floor[0] - 2.0 * BESIDE_FEELER)
    feeler = None
    if feeler_width >= LEAST_FEELER:
        feeler = Tongue(width=feeler_width, length=step.depth + gauge.deep)
    middles = ((step.inner_radius + step.outer_radius) / 2.0, sum(floor) / 2.0)
    reach = max(
        max(middle - channel.inner_radius, channel.outer_radius - middle) for middle in middles
    )
    widest = limits.tongue_no(gauge.thick)
    return Plate(
        number=i + 1,
        half=max(reach, widest / 2.0, LEAST_HALF) + 2.0 * root + BEYOND,
        root=root,
        go=Tongue(width=limits.tongue_go(gauge.thick), length=length),
        no=Tongue(width=widest, length=length),
        feeler=feeler,
        feeler_radius=middles[1],
    )


def _floor(step: ChannelStep, deeper: tuple[ChannelStep, ...]) -> tuple[float, float]:
    """The widest run of a step's own floor, between the deeper steps in it."""
    holes = [
        (one.inner_radius, one.outer_radius)
        for one in deeper
        if one.outer_radius > step.inner_radius and one.inner_radius < step.outer_radius
    ]
    runs, start = [], step.inner_radius
    for left, right in sorted(holes):
        runs.append((start, max(start, left)))
        start = max(start, right)
    runs.append((start, max(start, step.outer_radius)))
    return max(runs, key=lambda run: run[1] - run[0])


def parts(gauge: ChannelGauge) -> tuple[Part, ...]:
    """The plates, side by side."""
    found, x = [], 0.0
    for one in plates(gauge):
        x += one.half + one.go.length
        name = "plate" if len(gauge.channel.steps) == 1 else f"plate-{one.number}"
        title = f"{gauge.title}: {name}"
        found.append(
            Part(
                name=name,
                title=title,
                block=block(gauge, one),
                places=(Place(x=x),),
                colour=one.number - 1,
            )
        )
        x += one.half + one.no.length + BETWEEN
    return tuple(found)


def block(gauge: ChannelGauge, one: Plate) -> Block:
    """The body with its tongues: go to the left, too wide to the right, too deep away from you."""
    return Block(outline=outline(one), top=gauge.thick, steps=tuple(_marks(gauge, one)))


def outline(one: Plate) -> Outline:
    """Counter-clockwise from the lower left corner."""
    half = one.half
    vertices = [Vertex(-half, -half), Vertex(half, -half)]
    vertices += _tongue((half, 0.0), (0.0, 1.0), one.no, one.root)
    vertices.append(Vertex(half, half))
    if one.feeler:
        vertices += _tongue((0.0, half), (-1.0, 0.0), one.feeler, one.root)
    vertices.append(Vertex(-half, half))
    vertices += _tongue((-half, 0.0), (0.0, -1.0), one.go, one.root)
    return Outline(tuple(vertices))


def _tongue(middle: Point, along: Point, tongue: Tongue, root: float) -> Iterator[Vertex]:
    """A tongue in an edge that runs `along`, a round relief in the shoulder at each root."""
    (x, y), (dx, dy) = middle, along
    out = (dy, -dx)
    half, far = tongue.width / 2.0, tongue.length

    def at(side: float, length: float, bulge: float = 0.0) -> Vertex:
        return Vertex(x + side * dx + length * out[0], y + side * dy + length * out[1], bulge)

    yield at(-half - 2.0 * root, 0.0, -1.0)
    yield at(-half, 0.0)
    yield at(-half, far)
    yield at(half, far)
    yield at(half, 0.0, -1.0)
    yield at(half + 2.0 * root, 0.0)


def _marks(gauge: ChannelGauge, one: Plate) -> Iterator[Step]:
    off, room = one.half - 2.0 * one.root - 5.0, one.half
    yield from gauge.marker.go((-off, 0.0), room=room)
    yield from gauge.marker.no_go((off, 0.0), room=room)
    if one.feeler:
        yield from gauge.marker.no_go((0.0, off), room=room)
    words = f"C{gauge.channel.index}"
    words += f"-{one.number}" if len(gauge.channel.steps) > 1 else ""
    yield from gauge.marker.line(words, (0.0, -off), room=2.0 * room - 4.0)


def checks(gauge: ChannelGauge) -> tuple[Check, ...]:
    """Width and length of every tongue."""
    found: list[Check] = []
    for one, part in zip(plates(gauge), parts(gauge), strict=True):
        for name, tongue, sign in (("go", one.go, -1.0), ("no-go", one.no, 1.0)):
            x, y = sign * (one.half + tongue.length / 2.0), tongue.width / 2.0
            ends = ((x, -y), (x, y))
            what = f"the {name} tongue's width"
            found.append(_check(part.name, what, tongue.width, ends))
        x = -one.half
        ends = ((x - one.go.length, 0.0), (x, 0.0))
        found.append(_check(part.name, "the go tongue's length", one.go.length, ends))
        if one.feeler:
            ends = ((0.0, one.half), (0.0, one.half + one.feeler.length))
            what = "the third tongue's length"
            found.append(_check(part.name, what, one.feeler.length, ends))
    return tuple(found)


def _check(part: str, what: str, size: float, ends: tuple[Point, Point]) -> Check:
    return Check(part=part, what=what, size=size, ends=ends, minus=CLOSE, plus=CLOSE)
