"""The ring gauge: a plate whose slots straddle the ring, an arm that shows where its edges lie."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base import Check, Part, Place
from jigs.gauges import RingGauge
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, Point, Vertex, circle

LEG, BACK = 8.0, 16.0
"""Width of the legs beside the slots, and of the plate above them."""
WINDOW = 8.0
"""Half the width of the arm's window."""
SEEN = 10.0
"""How much of the table the window shows inside the ring."""
LEAST_SEEN = 3.0
BESIDE = 10.0
QUARTER = math.tan(math.pi / 8.0)
"""The bulge of a quarter of a circle."""
CLOSE = 0.03


def parts(gauge: RingGauge) -> tuple[Part, ...]:
    """The plate, lying beside the arm, which lies about its pivot."""
    low = -arm_half(gauge) - BESIDE - BACK - gauge.deep
    return (
        Part(name="arm", title=f"{gauge.title}: arm", block=arm(gauge)),
        Part(
            name="plate",
            title=f"{gauge.title}: plate",
            block=plate(gauge),
            places=(Place(y=low),),
            colour=1,
        ),
    )


def plate(gauge: RingGauge) -> Block:
    """Three legs with a slot between each two: left for the fattest ring, right too narrow."""
    wide, tight = (round(one, 9) for one in slots(gauge))
    first, second, third = LEG, LEG + wide, 2.0 * LEG + wide
    end = third + tight + LEG
    xs = ((first, second), (third, third + tight))
    high = gauge.deep + BACK
    vertices = [Vertex(0.0, 0.0)]
    for left, right in xs:
        vertices += _slot(left, right, gauge.deep, gauge.process.inside_radius)
    vertices += [Vertex(end, 0.0), Vertex(end, high), Vertex(0.0, high)]
    y = gauge.deep + BACK / 2.0
    marks = (
        *gauge.marker.go((sum(xs[0]) / 2.0, y), room=wide + LEG),
        *gauge.marker.no_go((sum(xs[1]) / 2.0, y), room=tight + LEG),
    )
    return Block(outline=Outline(tuple(vertices)), top=gauge.thick, steps=marks)


def _slot(left: float, right: float, deep: float, radius: float) -> Iterator[Vertex]:
    """A slot open downwards, its corners as the cutter leaves them."""
    yield Vertex(left, 0.0)
    if radius:
        yield Vertex(left, deep - radius, -QUARTER)
        yield Vertex(left + radius, deep)
        yield Vertex(right - radius, deep, -QUARTER)
        yield Vertex(right, deep - radius)
    else:
        yield from (Vertex(left, deep), Vertex(right, deep))
    yield Vertex(right, 0.0)


def slots(gauge: RingGauge) -> tuple[float, float]:
    """Widths of the go slot and of the no-go slot."""
    return gauge.limits.slot_go(gauge.thick), gauge.limits.slot_no(gauge.thick)


def arm_half(gauge: RingGauge) -> float:
    """Half the arm's width."""
    return WINDOW + max(4.0, gauge.process.wall)


def window_start(gauge: RingGauge) -> float:
    """How far from the pivot the window begins."""
    hub = gauge.pin / 2.0 + gauge.process.slide + max(3.0, gauge.process.wall)
    return max(hub, gauge.limits.inner_go - SEEN)


def arm(gauge: RingGauge) -> Block:
    """The arm along +x: its go half is y > 0, its no-go half y < 0."""
    limits, half = gauge.limits, arm_half(gauge)
    back = -(gauge.pin / 2.0 + gauge.process.slide + max(4.0, gauge.process.wall))
    outline = Outline(
        (
            Vertex(back, -half),
            *_stepped(limits.outer_no, limits.outer_go, half),
            Vertex(back, half),
        )
    )
    start = window_start(gauge)
    radius = min(gauge.process.inside_radius, LEAST_SEEN - 0.5)
    window = Outline(
        (
            *_corner((start, radius - WINDOW), (start + radius, -WINDOW)),
            *_stepped(limits.inner_no, limits.inner_go, WINDOW),
            *_corner((start + radius, WINDOW), (start, WINDOW - radius)),
        )
    )
    hole = circle(gauge.pin / 2.0 + gauge.process.slide)
    middle, y = (limits.inner_no + limits.outer_no) / 2.0, WINDOW / 2.0
    x, room = math.sqrt(middle**2 - y**2), limits.outer_no - limits.inner_no - 3.0
    marks = (
        *gauge.marker.go((x, y), room=room),
        *gauge.marker.no_go((x, -y), room=room),
    )
    steps = (Step(outline=hole, top=0.0), Step(outline=window, top=0.0), *marks)
    return Block(outline=outline, top=gauge.thick, steps=steps)


def _corner(a: Point, b: Point) -> tuple[Vertex, ...]:
    """A corner rounded from one point to the other, or sharp where they are the same."""
    return (Vertex(*a),) if a == b else (Vertex(*a, QUARTER), Vertex(*b))


def _stepped(low: float, high: float, half: float) -> tuple[Vertex, ...]:
    """An end of two arcs about the pivot: of radius `low` up to y = 0, of radius `high` above."""
    a, b = math.asin(half / low), math.asin(half / high)
    return (
        Vertex(low * math.cos(a), -half, math.tan(a / 4.0)),
        Vertex(low, 0.0),
        Vertex(high, 0.0, math.tan(b / 4.0)),
        Vertex(high * math.cos(b), half),
    )


def checks(gauge: RingGauge) -> tuple[Check, ...]:
    """Both slots; from the pivot hole's far side to the arm's ends."""
    wide, tight = slots(gauge)
    third, y = 2.0 * LEG + wide, gauge.deep / 2.0
    hole, limits = gauge.pin / 2.0 + gauge.process.slide, gauge.limits
    return (
        Check(
            part="plate",
            what="the go slot",
            size=wide,
            ends=((LEG, y), (LEG + wide, y)),
            minus=CLOSE,
            plus=CLOSE,
        ),
        Check(
            part="plate",
            what="the no-go slot",
            size=tight,
            ends=((third, y), (third + tight, y)),
            minus=CLOSE,
            plus=CLOSE,
        ),
        *(
            Check(
                part="arm",
                what=f"from the pivot hole's far side to the {name} end",
                size=radius + hole,
                ends=((-hole, 0.0), (radius, 0.0)),
                minus=0.05,
                plus=0.05,
            )
            for name, radius in (("go", limits.outer_go), ("no-go", limits.outer_no))
        ),
    )
