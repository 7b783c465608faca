"""The strip: published board lengths, and cuts that leave wedges of the very shape asked for."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from shapely.geometry import Polygon

from rosette.patterns.base import Blank
from rosette.sheets.drawing import Drawing, Stroke
from rosette.sheets.saw import drawings
from rosette.sheets.strip import (
    kerf_along,
    pitch,
    rise_and_run,
    strip_cuts,
    strip_to_take,
    strip_wedges,
)
from tests.sheets.hard_plans import RINGS, plan

INCH = 25.4

# A woodturning association's handout "Segmented turning": 12 segments, outer diameter 6 in,
# inner 4 in, long edge 1.608 in, short edge 1.035 in, stock 1.068 in wide, kerf 0.125 in.
HANDOUT = Blank(
    inner_width=1.035 * INCH,
    outer_width=1.608 * INCH,
    height=1.068 * INCH,
    inner_distance=1.9315 * INCH,
    outer_distance=3.0 * INCH,
)


def test_the_handouts_board_length() -> None:
    # its own formula, (l + l')·n/2 + n·kerf/cos 15°, gives 17.411 in; the 17.307 in that it
    # prints multiplied by the cosine instead
    assert 12 * pitch(HANDOUT, kerf=0.125 * INCH, mitre=15.0) / INCH == pytest.approx(
        17.411, abs=5e-4
    )


def test_the_handouts_cuts_lie_that_far_apart() -> None:
    cuts = strip_cuts(HANDOUT, kerf=0.125 * INCH, mitre=15.0, count=12)
    assert len(cuts) == 13
    assert (cuts[-1].left - cuts[0].left) / INCH == pytest.approx(17.411, abs=5e-4)


@pytest.mark.parametrize("kerf", [0.4, 1.0, 2.4])
def test_the_wedges_fill_the_strip_to_the_derived_length(kerf: float) -> None:
    # n 24, radii 54 and 70, 2 mm left both ways: lengths worked out from the geometry
    derived = {0.4: 402.3632, 1.0: 416.2823, 2.4: 448.7601}
    blank = Blank(
        inner_width=13.57472,
        outer_width=18.95796,
        height=20.44487,
        inner_distance=51.555131,
        outer_distance=72.0,
    )
    wedges = strip_wedges(blank, kerf=kerf, mitre=7.5, count=24)
    xs = [vertex.x for wedge in wedges for vertex in wedge.vertices]
    assert max(xs) - min(xs) == pytest.approx(derived[kerf], abs=2e-4)


def drawn(sheets: tuple[Drawing, ...], prefix: str) -> list[Polygon]:
    strokes = [one for sheet in sheets for one in sheet.elements if isinstance(one, Stroke)]
    return [
        Polygon([(v.x, v.y) for v in one.outline.vertices])
        for one in strokes
        if one.name.startswith(prefix)
    ]


@pytest.mark.parametrize("name", [name for name in RINGS if name != "lines alone"])
def test_the_picture_shows_kerfs_and_wedges_true_to_its_scale(name: str) -> None:
    made = plan(name)
    ring = made.wedge_rings[0]
    assert ring.wedges is not None
    blank, kerf, mitre = ring.wedges.blank, ring.wedges.kerf, math.radians(ring.wedges.mitre_angle)
    sheets = drawings(made)
    cuts, wedges = drawn(sheets, "cut-"), drawn(sheets, "strip-wedge-")
    assert len(cuts) == len(wedges) + 1
    bottom, top = wedges[0].bounds[1::2]
    scale = (top - bottom) / blank.height
    for wedge in wedges:
        area = blank.height * (blank.inner_width + blank.outer_width) / 2.0
        assert wedge.area == pytest.approx(area * scale**2, rel=1e-9)
        left, _, right, _ = wedge.bounds
        assert right - left == pytest.approx(blank.outer_width * scale, rel=1e-9)
    for cut in cuts:
        # the kerf square to the cut, as the blade is thick
        slanted = blank.height * scale / math.cos(mitre)
        assert cut.area / slanted == pytest.approx(kerf * scale, rel=1e-9)
    for before, after in pairwise(wedges):
        assert before.distance(after) == pytest.approx(kerf * scale, abs=1e-6)


@pytest.mark.parametrize("name", [name for name in RINGS if name != "lines alone"])
def test_all_the_cuts_come_to_the_planned_strip(name: str) -> None:
    for ring in plan(name).wedge_rings:
        wedges = ring.wedges
        assert wedges is not None
        for wood in wedges.woods:
            shapes = strip_wedges(
                wedges.blank,
                kerf=wedges.kerf,
                mitre=wedges.mitre_angle,
                count=wood.count + wood.spares,
            )
            xs = [vertex.x for shape in shapes for vertex in shape.vertices]
            assert max(xs) - min(xs) == pytest.approx(wood.strip_with_spares, abs=1e-9)
            take = strip_to_take(wood.strip_with_spares, wedges, "mm")
            assert take - wood.strip_with_spares > 150.0


def test_kerf_and_rise_agree_with_tables_of_tangents_and_secants() -> None:
    # five-figure tables: sec 15° 1.03528, tan 5° .08749, tan 7.5° .13165, tan 15° .26795
    assert kerf_along(100.0, 15.0) == pytest.approx(103.528, abs=1e-3)
    for mitre, slope in ((5.0, 0.08749), (7.5, 0.13165), (15.0, 0.26795)):
        rise, run = rise_and_run(mitre, (100.0, 50.0), most=58.0)
        assert (run, rise / run) == (100.0, pytest.approx(slope, abs=5e-6))


def test_a_steep_mitre_takes_a_shorter_run() -> None:
    rise, run = rise_and_run(60.0, (100.0, 50.0, 25.0), most=45.0)
    # tan 60° is √3
    assert (run, rise) == (25.0, pytest.approx(25.0 * math.sqrt(3.0)))
