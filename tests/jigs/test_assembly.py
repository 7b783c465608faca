"""Proof by assembly: the plan's blanks, as solids, placed in the tray that was made for them.

The blanks come from the plan alone (their outline and each piece's axis), the distances and
common volumes from the CAD kernel.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from jigs.tray import proud_of
from tests.jigs.fit_tray import MOST, relief_amiss, wedges_amiss
from tests.jigs.mates import joints, shared, together
from tests.jigs.trays import CASES, SPACER, ring, solid, tray


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
    assert wedges_amiss(solid(made), made, ring(**asked)) == []


@pytest.mark.parametrize("asked", [{"segments": 6}, {"segments": 48}], ids=["flats", "round"])
def test_a_tray_that_does_not_fit_is_caught(asked: dict[str, Any]) -> None:
    made = tray(**asked)
    assert made.flats is (asked["segments"] == 6)
    tight = replace(made, wall=made.wall - 0.05)
    fat = replace(made, post=made.post + 0.05)
    assert any("outer end" in one for one in wedges_amiss(solid(tight), tight, ring(**asked)))
    assert any("inner end" in one for one in wedges_amiss(solid(fat), fat, ring(**asked)))
    looked_at = range(0, made.segments, max(1, made.segments // MOST))
    assert len(wedges_amiss(solid(made), made, ring(**asked), grown=0.05)) == 2 * len(looked_at)


def test_a_tray_turned_by_half_a_wedge_is_caught() -> None:
    """And so is a blank half a millimetre too high: both reach into the tray."""
    made, of = tray(segments=6), ring(segments=6)
    turned = replace(made, turn=made.turn + 30.0)
    assert any("reach" in one for one in wedges_amiss(solid(turned), turned, of))
    assert any("reach" in one for one in wedges_amiss(solid(made), made, of, grown=0.5))


@pytest.mark.parametrize("name", ["hexagon with spacers", "36", "tiny"])
def test_relief_is_cut_under_every_joint(name: str) -> None:
    asked = CASES[name]
    made, of = tray(**asked), ring(**asked)
    assert len(joints(of, 0.0, 1.0, 1.0)) == made.segments
    assert relief_amiss(solid(made), made, of) == []


def test_a_relief_too_shallow_or_beside_the_joint_is_seen() -> None:
    made, of = tray(segments=6), ring(segments=6)
    deeper = joints(of, made.floor_top - 1.1, made.floor_top, 0.6)
    assert shared(solid(made), together(deeper)) > 1.0
    turned = replace(made, turn=made.turn + 10.0)
    assert "under the joints" in relief_amiss(solid(turned), turned, of)[0]


def test_spacers_go_in_with_the_wedges() -> None:
    asked = {"segments": 6, "spacer": SPACER}
    made, of = tray(**asked), ring(**asked)
    spacers = together(joints(of, made.floor_top, made.floor_top + 2.2, 0.5))
    assert shared(solid(made), spacers) < 1e-6


def test_wedges_stand_above_the_wall_so_that_a_caul_presses_them() -> None:
    for thickness in (0.9, 2.2, 3.0):
        made = tray(thickness=thickness)
        proud = made.floor_top + thickness - made.top
        assert proud == pytest.approx(proud_of(thickness))
        assert 0.29 < proud < 0.51
        assert made.depth > thickness / 2
