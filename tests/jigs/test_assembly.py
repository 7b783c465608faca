"""Proof by assembly: the plan's blanks, as solids, placed in the tray that was made for them.

The blanks come from the plan alone (their outline and each piece's axis), the distances and
common volumes from the CAD kernel.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from jigs.tray import Tray, proud_of
from rosette.patterns.base import RingPlan
from tests.jigs.trays import CASES, SPACER, blanks, joints, ring, solid, tray

FIT = 0.01
"""How far the stand-off may be from the clearance asked for, in mm."""


def _shared(a: Any, several: list[Any]) -> float:
    from cadquery import Compound

    return float(a.intersect(Compound.makeCompound(several)).Volume())


def _ends(blank: Any) -> tuple[Any, Any]:
    """The faces of a blank that look to the centre and away from it."""

    def looks_out(face: Any) -> float:
        middle, normal = face.Center(), face.normalAt()
        return float((middle.x * normal.x + middle.y * normal.y) / math.hypot(middle.x, middle.y))

    ordered = sorted(blank.Faces(), key=looks_out)
    return ordered[0], ordered[-1]


def _upright(made: Any, low: float, high: float) -> Any:
    """The walls of a tray between two heights, as one shape: what wedges stand off from."""
    from cadquery import Compound

    walls = [
        face
        for face in made.Faces()
        if (box := face.BoundingBox()).zmax > high - 1e-6 and box.zmin < low - 1e-6
    ]
    return Compound.makeCompound(walls)


def misfits(made: Any, of: Tray, with_ring: RingPlan, *, grown: float = 0.0) -> list[str]:
    """What is wrong with the wedges in the tray; empty where all stand as they should."""
    thickness, middle = with_ring.tile_thickness, of.floor_top + of.depth / 2.0
    found = []
    whole = blanks(with_ring, of.floor_top, of.floor_top + thickness, grown=grown)
    shared = _shared(made, whole)
    if shared > 1e-6:
        found.append(f"the blanks reach {shared} mm³ into the tray")
    # the upper part of each blank, so that what it stands on is not the nearest
    upper = blanks(with_ring, middle, of.floor_top + thickness, grown=grown)
    walls = _upright(made, of.floor_top, of.top)
    for number, blank in enumerate(upper, start=1):
        for name, face in zip(("inner", "outer"), _ends(blank), strict=True):
            off = face.distance(walls)
            if abs(off - of.clearance) > FIT:
                found.append(f"the {name} end of blank {number} stands off by {off}")
    return found


@pytest.mark.parametrize(
    "name",
    [
        "triangle",
        "hexagon with spacers",
        "17, a wedge at 12",
        "36",
        "72 with spacers",
        "hair-thin",
        "hair-thin, no allowance",
        "tiny",
        "thin",
    ],
)
def test_every_blank_stands_off_wall_and_post_by_the_clearance(name: str) -> None:
    asked = CASES[name]
    made = tray(**asked)
    assert misfits(solid(made), made, ring(**asked)) == []


@pytest.mark.parametrize("asked", [{"segments": 6}, {"segments": 48}], ids=["flats", "round"])
def test_a_tray_that_does_not_fit_is_caught(asked: dict[str, Any]) -> None:
    made = tray(**asked)
    assert made.flats is (asked["segments"] == 6)
    tight = replace(made, wall=made.wall - 0.05)
    fat = replace(made, post=made.post + 0.05)
    assert any("outer end" in one for one in misfits(solid(tight), tight, ring(**asked)))
    assert any("inner end" in one for one in misfits(solid(fat), fat, ring(**asked)))
    assert len(misfits(solid(made), made, ring(**asked), grown=0.05)) == 2 * made.segments


def test_a_tray_turned_by_half_a_wedge_is_caught() -> None:
    """And so is a blank half a millimetre too high: both reach into the tray."""
    made, of = tray(segments=6), ring(segments=6)
    turned = replace(made, turn=made.turn + 30.0)
    assert any("reach" in one for one in misfits(solid(turned), turned, of))
    assert any("reach" in one for one in misfits(solid(made), made, of, grown=0.5))


@pytest.mark.parametrize("name", ["hexagon with spacers", "36", "tiny"])
def test_relief_is_cut_under_every_joint(name: str) -> None:
    """Bars along all joints, 0.29 mm wider on either side, as deep as the relief: all air."""
    asked = CASES[name]
    made, of = tray(**asked), ring(**asked)
    assert of.wedges is not None
    wide = of.wedges.joint + 0.58
    bars = joints(of, made.floor_top - 1.0, made.floor_top, wide)
    assert len(bars) == made.segments
    assert _shared(solid(made), bars) < 1e-6


def test_a_relief_too_shallow_or_beside_the_joint_is_seen() -> None:
    made, of = tray(segments=6), ring(segments=6)
    deeper = joints(of, made.floor_top - 1.1, made.floor_top, 0.6)
    assert _shared(solid(made), deeper) > 1.0
    turned = replace(made, turn=made.turn + 10.0)
    assert _shared(solid(turned), joints(of, made.floor_top - 1.0, made.floor_top, 0.6)) > 1.0


def test_spacers_go_in_with_the_wedges() -> None:
    asked = {"segments": 6, "spacer": SPACER}
    made, of = tray(**asked), ring(**asked)
    assert _shared(solid(made), joints(of, made.floor_top, made.floor_top + 2.2, 0.5)) < 1e-6


def test_wedges_stand_above_the_wall_so_that_a_caul_presses_them() -> None:
    for thickness in (0.9, 2.2, 3.0):
        made = tray(thickness=thickness)
        proud = made.floor_top + thickness - made.top
        assert proud == pytest.approx(proud_of(thickness))
        assert 0.29 < proud < 0.51
        assert made.depth > thickness / 2
