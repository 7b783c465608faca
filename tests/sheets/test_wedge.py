"""The wedge's sheet holds the blank and the finished wedge of the promised formulas."""

from __future__ import annotations

import math

import pytest

from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.sheets.drawing import Drawing, Stroke, Text
from rosette.sheets.wedge import drawings
from tests.properties.designs import design, radial
from tests.sheets.hard_plans import RINGS, plan

ROUND = [name for name in RINGS if name != "lines alone"]


def outline(sheets: tuple[Drawing, ...], name: str) -> Stroke:
    (found,) = (
        one
        for sheet in sheets
        for one in sheet.elements
        if isinstance(one, Stroke) and one.name == name
    )
    return found


def words(sheets: tuple[Drawing, ...]) -> list[str]:
    return [one.text for sheet in sheets for one in sheet.elements if isinstance(one, Text)]


@pytest.mark.parametrize("name", ROUND)
def test_the_blank_is_true_size(name: str) -> None:
    made = plan(name)
    sheets = drawings(made)
    for ring in made.wedge_rings:
        assert ring.wedges is not None
        n, d = ring.wedges.segments, ring.wedges.joint
        alpha = math.pi / n
        # blank: outer edge at Ro + 1.5, inner corners on the circle of Ri - 1.5
        outer = ring.outer_radius + 1.5
        inner_circle = ring.inner_radius - 1.5
        inner = inner_circle * math.cos(alpha - math.asin(d / (2 * inner_circle)))

        def width(x: float, alpha: float = alpha, d: float = d) -> float:
            return 2 * (x * math.tan(alpha) - d / (2 * math.cos(alpha)))

        blank = outline(sheets, f"blank-{ring.index}")
        assert blank.layer == "cut"
        a, b, c, e = ((v.x, v.y) for v in blank.outline.vertices)
        assert math.dist(a, b) == pytest.approx(width(inner), abs=1e-9)
        assert math.dist(c, e) == pytest.approx(width(outer), abs=1e-9)
        assert c[1] - b[1] == pytest.approx(outer - inner, abs=1e-9)
        assert (a[1], c[1]) == (pytest.approx(b[1]), pytest.approx(e[1]))


@pytest.mark.parametrize("name", ROUND)
def test_the_finished_wedge_is_true_size(name: str) -> None:
    made = plan(name)
    sheets = drawings(made)
    for ring in made.wedge_rings:
        assert ring.wedges is not None
        done = outline(sheets, f"wedge-{ring.index}")
        assert done.layer == "cut"
        n, d = ring.wedges.segments, ring.wedges.joint
        for (a, b), size in zip(
            list(done.outline.edges())[::2], (ring.outer_radius, ring.inner_radius), strict=True
        ):
            angle = 2.0 * (math.pi / n - math.asin(d / (2.0 * size)))
            assert math.dist(a[:2], b[:2]) == pytest.approx(
                2 * size * math.sin(angle / 2), abs=1e-9
            )
            assert 4.0 * math.atan(abs(a.bulge)) == pytest.approx(angle, abs=1e-9)


def handout() -> Plan:
    """12 wedges, outer diameter 6 in, inner 4 in, nothing left to trim, in inches."""
    ring = radial(segments=12, inner_radius=2.0, width=1.0, tile_thickness=0.08, wood=["walnut"])
    tables = {
        "instrument": {
            "soundhole_diameter": 3.5,
            "top_thickness": 0.14,
            "fingerboard_width": 2.25,
            "fingerboard_reach": 1.8,
        },
        "cutting": {"kerf": 0.125, "inner_allowance": 0.0, "outer_allowance": 0.0},
        "channel": {"bit_diameter": 0.125, "proud": 0.01, "gap": 0.002, "minimum_floor": 0.03},
    }
    return make_plan(design([ring], units="in", **tables))


def test_a_published_ring_of_twelve() -> None:
    # a woodturning association's handout: long edge 1.608 in, short 1.035 in, mitre 15°;
    # its stock is 1.068 in wide, from outer flat to the inner corners
    found = words(drawings(handout()))
    assert "1.608 (1 39/64)" in found
    assert "1.035 (1 1/32)" in found
    assert "1.068 (1 1/16)" in found
    assert "15°" in found


def test_a_derived_ring_of_twenty_four() -> None:
    # radii 54 and 70, 2 mm left both ways
    made = make_plan(
        design(
            [radial(segments=24, inner_radius=54.0, width=16.0)],
            cutting={"inner_allowance": 2.0, "outer_allowance": 2.0},
        )
    )
    found = words(drawings(made))
    assert {"18.96", "13.57", "20.44", "51.56", "72.00", "7.5°", "15°"} <= set(found)


@pytest.mark.parametrize("name", ROUND)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_dimension_is_told(name: str, units: str) -> None:
    made = plan(name, units)
    found = " | ".join(words(drawings(made)))
    for ring in made.wedge_rings:
        assert ring.wedges is not None
        blank, done = ring.wedges.blank, ring.wedges.finished
        lengths = (
            blank.inner_width,
            blank.outer_width,
            blank.height,
            blank.inner_distance,
            blank.outer_distance,
            done.inner_arc,
            done.outer_arc,
            done.inner_chord,
            done.outer_chord,
            ring.inner_radius,
            ring.outer_radius,
        )
        for length in lengths:
            said = f"{length:.2f}" if units == "mm" else f"{length / 25.4:.3f}"
            assert said in found


def test_what_is_enlarged_is_not_on_the_layer_that_is_cut() -> None:
    for name in ROUND:
        for sheet in drawings(plan(name)):
            cut = [one for one in sheet.elements if isinstance(one, Stroke) and one.layer == "cut"]
            assert all(one.name for one in cut)
