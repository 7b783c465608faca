"""The pictures of fixtures that docs/fixtures shows: one of each kind, made for the first design.

Each file keeps a mark of what it was drawn from, so that a test can tell that it is out of date
without drawing it.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import jigs
from jigs.base import Fixture, Part, Place
from jigs.render import lifts, png_bytes
from jigs.terrace import Block
from rosette.plan import Plan

MARK = "Drawn from"
"""The keyword of the text in a picture that holds its mark."""
PIXELS = 1200
DECIMALS = 4
_NUMBER = re.compile(r"-?\d+\.\d+(?:e[-+]?\d+)?")
_SOURCES = sorted(Path(jigs.__file__).parent.glob("render*.py"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """One picture: its name, the fixture, whether it is taken apart, and what lies in it."""

    name: str
    fixture: Fixture
    apart: bool = False
    extras: tuple[Part, ...] = ()

    def mark(self) -> str:
        """A hash of all that the picture shows and of the code that draws it.

        Sizes are rounded, since machines differ in the last digits of their arithmetic.
        """
        shown = repr((self.name, self.fixture.parts(), self.apart, self.extras))
        rounded = _NUMBER.sub(lambda found: _rounded(float(found[0])), shown)
        hashed = hashlib.sha256(rounded.encode())
        for path in _SOURCES:
            hashed.update(path.read_text(encoding="utf-8").encode())
        return hashed.hexdigest()[:32]

    def png(self) -> bytes:
        """The picture, its mark in it."""
        return png_bytes(
            self.fixture,
            pixels=PIXELS,
            explode=self.apart,
            extras=self.extras,
            words={MARK: self.mark()},
        )


def shots(plan: Plan) -> Iterator[Shot]:
    """The pictures of every sort of fixture that a plan has; of several parts, apart as well."""
    for kind in jigs.KINDS:
        sorts: dict[str, Fixture] = {}
        for fixture in jigs.fixtures(plan, [kind]):
            sorts.setdefault(re.sub(r"-\d+-", "-", fixture.name), fixture)
        for sort, fixture in sorts.items():
            name = f"fixture-{kind}" if fixture is next(iter(sorts.values())) else f"fixture-{sort}"
            mates = _mates(fixture, plan)
            yield Shot(name=name, fixture=fixture, extras=mates)
            if any(lifts(fixture.parts())):
                yield Shot(name=f"{name}-apart", fixture=fixture, apart=True, extras=mates)


def _rounded(number: float) -> str:
    return f"{number + 1e-9:.{DECIMALS}f}".replace("-0." + "0" * DECIMALS, "0." + "0" * DECIMALS)


def _mates(fixture: Fixture, plan: Plan) -> tuple[Part, ...]:
    """What lies in a fixture while it is used, where a picture says more with it."""
    from jigs.shooting_block import ShootingBlock

    if isinstance(fixture, ShootingBlock):
        outline = fixture.mapped(fixture.station.wedge(1))
        block = Block(outline=outline, top=fixture.thickness)
        return (Part(name="wedge", title="Wedge", block=block, places=(Place(z=fixture.table),)),)
    return _wedges(plan) if fixture.kind == "tray" else ()


def _wedges(plan: Plan) -> tuple[Part, ...]:
    """A third of the wedges in the tray."""
    from jigs.tray import Tray, tray_for

    ring = plan.wedge_rings[0]
    tray = tray_for(plan, ring)
    assert isinstance(tray, Tray)
    assert ring.wedges is not None
    axes = [piece.axis for piece in ring.pieces if piece.axis is not None]
    places = tuple(Place(turn=axis, z=tray.floor_top) for axis in axes[: len(axes) // 3])
    block = Block(outline=ring.wedges.blank.outline(), top=ring.tile_thickness)
    return (Part(name="wedges", title="Wedges", block=block, places=places),)
