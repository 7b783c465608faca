"""Regular polygons and segmented rings against published tables."""

from __future__ import annotations

import math

import pytest

from rosette.geometry import wedge
from rosette.units import MM_PER_INCH

# WOOD Magazine, "Staves and segments": across flats / side and across points / side.
POLYGONS = {
    6: (1.73205, 2.0),
    8: (2.41421, 2.61313),
    10: (3.07768, 3.23607),
    12: (3.73205, 3.86370),
    16: (5.02734, 5.12583),
}

# Common table of mitre settings in segmented work.
MITRES = {
    6: 30, 8: 22.5, 10: 18, 12: 15, 14: 12.86, 16: 11.25,
    18: 10, 20: 9, 24: 7.5, 26: 6.92, 28: 6.43,
}  # fmt: skip


@pytest.mark.parametrize(("sides", "ratios"), POLYGONS.items())
def test_polygon_across_flats_and_points(sides: int, ratios: tuple[float, float]) -> None:
    flats, points = ratios
    apothem = 50.0
    side = wedge.width_at(apothem, segments=sides)
    assert 2 * apothem / side == pytest.approx(flats, abs=6e-6)
    assert 2 * math.hypot(apothem, side / 2) / side == pytest.approx(points, abs=6e-6)


def test_hexagon_24_inches_across_flats() -> None:
    """WOOD Magazine, "Staves and segments": its side is 13.85641 in."""
    side = wedge.width_at(12 * MM_PER_INCH, segments=6)
    assert side / MM_PER_INCH == pytest.approx(13.85641, abs=5e-6)


@pytest.mark.parametrize(("segments", "setting"), MITRES.items())
def test_mitre_settings(segments: int, setting: float) -> None:
    assert round(wedge.mitre_angle(segments), 2) == setting


def test_side_of_a_20_gon_in_the_unit_circle() -> None:
    """OEIS A272536: 0.31286893008046173802…

    A wedge whose inner corners stand on the unit circle has that side as its inner chord.
    """
    distance = wedge.inner_distance(1.0, segments=20)
    side = wedge.width_at(distance, segments=20)
    assert side == pytest.approx(0.31286893008046173802, abs=1e-15)


class TestSegmentedRingOfTwelve:
    """A woodturning association's handout "Segmented turning": 12 segments, 6 in over 4 in.

    No allowance; segments mitred 15°, so that the long edge spans the outer circle outside
    and the short edge spans the inner circle's corners.
    """

    outer, inner, count = 3.0, 2.0, 12

    def test_edges_and_stock_width(self) -> None:
        distance = wedge.inner_distance(self.inner, segments=self.count)
        assert wedge.mitre_angle(self.count) == 15
        assert wedge.width_at(self.outer, segments=self.count) == pytest.approx(1.608, abs=5e-4)
        assert wedge.width_at(distance, segments=self.count) == pytest.approx(1.035, abs=5e-4)
        assert self.outer - distance == pytest.approx(1.068, abs=5e-4)

    def test_board_length_by_its_formula(self) -> None:
        """Its formula (l+l')·n/2 + n·kerf/cos 15° gives 17.411 in at a kerf of 0.125 in.

        The handout prints 17.307 in: it multiplied by the cosine where its formula divides.
        The formula is right, since a kerf square to a slanted cut is wider along the board.
        Ours counts one kerf less (the last cut parts nothing) and the taper of the two ends.
        """
        long, short, kerf = 1.608, 1.035, 0.125
        cosine = math.cos(math.radians(15))
        handout = (long + short) * 12 / 2 + 12 * kerf / cosine
        assert handout == pytest.approx(17.411, abs=5e-4)
        ours = wedge.strip_length(12, inner_width=short, outer_width=long, kerf=kerf, mitre=15)
        assert ours == pytest.approx(17.411 - kerf / cosine + (long - short) / 2, abs=5e-4)
