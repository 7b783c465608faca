"""A fixture of several parts, made for the tests: a plate on feet, four posts and a lid."""

from __future__ import annotations

from dataclasses import dataclass

from jigs.base import Fixture, Part, Place
from jigs.terrace import Block, Step
from rosette.geometry.outline import Outline, circle, polygon

CORNERS = ((-30.0, -20.0), (30.0, -20.0), (30.0, 20.0), (-30.0, 20.0))


def box(width: float, depth: float, x: float = 0.0, y: float = 0.0) -> Outline:
    """A rectangle about a point."""
    a, b = width / 2, depth / 2
    return polygon([(x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b)])


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand(Fixture):
    """Posts stand `clearance` off their holes in the plate; the lid lies on them, turned over."""

    clearance: float = 0.2

    def parts(self) -> tuple[Part, ...]:
        """The plate, with a foot of 3 mm at each end; the posts; the lid with an off-centre rim."""
        holes = tuple(Step(outline=circle(4.0 + self.clearance, one), top=0.0) for one in CORNERS)
        feet = tuple(Step(outline=box(8, 40, x), top=-3.0) for x in (-18.0, 18.0))
        plate = Block(outline=box(80, 60), top=6.0, steps=holes, under=feet)
        rim = Step(outline=box(20, 10, 5, 15), top=5.0)
        lid = Block(outline=box(80, 60), top=3.0, steps=(rim,))
        return (
            Part(name="plate", title="Stand: plate", block=plate),
            Part(
                name="post",
                title="Stand: post",
                block=Block(outline=circle(4.0), top=20.0),
                places=tuple(Place(x=x, y=y, turn=30.0) for x, y in CORNERS),
                colour=1,
            ),
            Part(
                name="lid",
                title="Stand: lid",
                block=lid,
                places=(Place(z=23.0, turn=180.0, over=True),),
                print_over=True,
                colour=2,
            ),
        )


STAND = Stand(name="stand", kind="stand", title="Stand & lid", purpose="Stands for the tests.")
