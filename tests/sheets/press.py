"""A made-up fixture of three parts with steps on both sides, for drawings and pictures."""

from __future__ import annotations

from dataclasses import dataclass

from jigs.base import Check, Fixture, Part, Place
from jigs.hardware import Fastener
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, circle, polygon

HOLES = ((-60.0, -30.0), (60.0, -30.0), (60.0, 30.0), (-60.0, 30.0))


def box(left: float, low: float, right: float, high: float) -> Outline:
    return polygon([(left, low), (right, low), (right, high), (left, high)])


def plate() -> Block:
    """A recess with a bored boss in it, four holes with pockets under them, a broken edge."""
    bore = Step(outline=circle(3.3), top=0.0)
    boss = Step(outline=circle(8.0), top=7.0, steps=(bore,))
    recess = Step(outline=box(-40, -20, 40, 20), top=4.0, steps=(boss,))
    return Block(
        outline=box(-80, -50, 80, 50),
        top=10.0,
        steps=(recess, *(Step(outline=circle(2.25, hole), top=3.5) for hole in HOLES)),
        under=tuple(Step(outline=circle(3.7, hole), top=3.5) for hole in HOLES),
        chamfer=0.4,
    )


def lid() -> Block:
    """A window, four holes, and a pocket in its underside; one corner is cut off."""
    window = Step(outline=box(-30, -15, 30, 15), top=0.0)
    return Block(
        outline=polygon([(-80, -50), (80, -50), (80, 20), (50, 50), (-80, 50)]),
        top=8.0,
        steps=(window, *(Step(outline=circle(2.25, hole), top=0.0) for hole in HOLES)),
        under=(Step(outline=box(-70, -5, -45, 5), top=3.0),),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Press(Fixture):
    """A plate, a lid on it and two keys on the lid."""

    def parts(self) -> tuple[Part, ...]:
        return (
            Part(name="plate", title="Plate", block=plate()),
            Part(name="lid", title="Lid", block=lid(), places=(Place(z=10),), colour=1),
            Part(
                name="key",
                title="Key",
                block=Block(outline=box(-2, -10, 2, 10), top=12.0),
                places=(Place(x=-55, z=18), Place(x=45, z=18, turn=90)),
                print_over=True,
                colour=2,
            ),
        )

    def checks(self) -> tuple[Check, ...]:
        return (
            Check(part="plate", what="length of the plate", size=160, ends=((-80, 0), (80, 0))),
            Check(
                part="plate",
                what="width of the plate",
                size=100,
                minus=0.2,
                plus=0,
                ends=((0, -50), (0, 50)),
            ),
            Check(part="plate", what="across the recess", size=80, ends=((-40, 0), (40, 0))),
            Check(part="plate", what="across the boss", size=16, ends=((-8, 0), (8, 0))),
            Check(part="plate", what="depth of the recess", size=6, at=(25, 0), heights=(4, 10)),
            Check(part="plate", what="thickness", size=10, at=(-60, 0), heights=(0, 10)),
            Check(part="plate", what="thickness again", size=10, at=(-60, 0), heights=(0, 10)),
            Check(part="lid", what="the cut corner", size=42.4264, ends=((80, 20), (50, 50))),
            Check(part="lid", what="thickness of the lid", size=8, at=(10, 35), heights=(10, 18)),
            Check(part="lid", what="over two holes", size=124.5, ends=((-62.25, 30), (62.25, 30))),
            Check(part="key", what="the key", size=4, plus=0.05, ends=((-57, 0), (-53, 0))),
        )  # fmt: skip

    def hardware(self) -> tuple[Fastener, ...]:
        return (
            Fastener(what="socket head screw M4 x 25", standard="ISO 4762", count=4),
            Fastener(what="hexagon nut M4", standard="ISO 4032", count=4),
        )


PRESS = Press(
    name="ring-1-press",
    kind="press",
    title="Press, ring 1",
    purpose="Presses the ring while its glue sets.",
    section=((-80.0, 0.0), (80.0, 0.0)),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Alone(Fixture):
    """One block by itself."""

    block: Block
    place: Place
    sizes: tuple[Check, ...]

    def parts(self) -> tuple[Part, ...]:
        return (Part(name="plate", title="Plate", block=self.block, places=(self.place,)),)

    def checks(self) -> tuple[Check, ...]:
        return self.sizes


def alone(block: Block, *, place: Place | None = None, checks: tuple[Check, ...] = ()) -> Alone:
    """A fixture of one block."""
    return Alone(
        name="ring-1-plate",
        kind="plate",
        title="Plate",
        purpose="A plate.",
        block=block,
        place=place or Place(),
        sizes=checks,
        section=((-1.0, 0.0), (1.0, 0.0)),
    )
