"""The rings at full size, read back from what was drawn and from the files.

Blanks are held to the promised formulas of a wedge, worked out anew here: mitre 180°/n, the
outer edge square to the axis at Ro + aₒ, the inner corners on the circle of Ri − aᵢ, sides d/2
inside the radial planes.
"""

from __future__ import annotations

import io
import math

import ezdxf
import pytest
import shapely

from rosette.geometry.outline import at_angle
from rosette.output.document import Document, SheetPages
from rosette.output.dxf import dxf_bytes
from rosette.output.pdf import pdf_bytes
from rosette.output.svg import svg_bytes
from rosette.patterns.base import RingPlan, Wedges
from rosette.plan.model import Plan
from rosette.sheets.drawing import Circle, Drawing, Stroke, Text, Window
from rosette.sheets.frame import TitleBlock, pages
from tests.output.pdf_reading import Line, lines
from tests.output.svg_reading import shapes
from tests.sheets.ring_plans import MAKERS, drawings_of, plan_of

NEAR = 0.01
"""mm: what a circle or a blank may be off in any file."""
ONE_RING = [name for name in MAKERS if name not in ("lines alone", "in inches", "several rings")]
READ_BACK = ("six wedges", "twenty-four with spacers", "hair-thin", "in inches", "several rings")


def sheets(name: str) -> list[tuple[RingPlan, Wedges, Drawing]]:
    plan = plan_of(name)
    made = {drawing.name: drawing for drawing in drawings_of(name, "ring")}
    return [
        (ring, ring.wedges, made[f"ring-{ring.index}"])
        for ring in plan.rings
        if ring.wedges is not None
    ]


def blank_corners(ring: RingPlan, wedges: Wedges) -> list[complex]:
    """The blank's corners with its axis along +x, by the promised formulas."""
    angle, joint = math.pi / wedges.segments, wedges.joint
    inner_radius = ring.inner_radius - wedges.inner_allowance
    outer = ring.outer_radius + wedges.outer_allowance
    inner = inner_radius * math.cos(angle - math.asin(joint / (2.0 * inner_radius)))

    def half(x: float) -> float:
        return x * math.tan(angle) - joint / (2.0 * math.cos(angle))

    return [
        complex(inner, half(inner)),
        complex(inner, -half(inner)),
        complex(outer, -half(outer)),
        complex(outer, half(outer)),
    ]


def blanks(ring: RingPlan, wedges: Wedges) -> dict[str, list[complex]]:
    seam = 90.0 if wedges.at_centreline == "joint" else 90.0 + 180.0 / wedges.segments
    turned = {}
    for piece in ring.pieces:
        axis = math.radians(seam - (2 * piece.position - 1) * 180.0 / wedges.segments)
        turn = complex(math.cos(axis), math.sin(axis))
        turned[f"blank-{piece.label}"] = [turn * corner for corner in blank_corners(ring, wedges)]
    return turned


def circles(plan: Plan, ring: RingPlan) -> dict[str, float]:
    return {
        f"ring-{ring.index}-inner": ring.inner_radius,
        f"ring-{ring.index}-outer": ring.outer_radius,
        "soundhole": plan.soundhole_diameter / 2.0,
    }


def apart(found: list[complex], wanted: list[complex]) -> float:
    """The greatest distance from a wanted corner to the nearest one found."""
    return max(min(abs(a - b) for b in found) for a in wanted)


@pytest.mark.parametrize("name", READ_BACK)
def test_circles_and_blanks_come_back_from_svg(name: str) -> None:
    for ring, wedges, drawing in sheets(name):
        found = {shape.name: shape for shape in shapes(svg_bytes(drawing)) if shape.name}
        for circle, radius in circles(plan_of(name), ring).items():
            assert abs(found[circle].radius - radius) < NEAR
            assert abs(found[circle].centre or 0j) < NEAR
        for blank, corners in blanks(ring, wedges).items():
            assert apart(list(found[blank].points[0]), corners) < NEAR


@pytest.mark.parametrize("name", READ_BACK)
def test_circles_and_blanks_come_back_from_dxf(name: str) -> None:
    for ring, wedges, drawing in sheets(name):
        file = ezdxf.read(io.StringIO(dxf_bytes(drawing).decode("utf-8")))
        found = {
            entity.get_xdata("ROSETTE")[0].value: entity
            for entity in file.modelspace()
            if entity.has_xdata("ROSETTE")
        }
        for circle, radius in circles(plan_of(name), ring).items():
            assert abs(found[circle].dxf.radius - radius) < NEAR
            assert found[circle].dxf.center.magnitude < NEAR
        for blank, corners in blanks(ring, wedges).items():
            points = [complex(x, y) for x, y, *_ in found[blank].get_points("xy")]
            assert apart(points, corners) < NEAR
            assert found[blank].closed


def whole_circle(found: list[Line], centre: complex, radius: float) -> bool:
    """Whether a path is that circle; other arcs of it are shorter than its whole diameter."""
    return any(
        max(abs(abs(point - centre) - radius) for point in one.points) < NEAR
        and min(one.size) > 2.0 * radius - NEAR
        for one in found
        if one.curves
    )


@pytest.mark.parametrize("name", READ_BACK)
def test_circles_and_blanks_come_back_from_pdf(name: str) -> None:
    block = TitleBlock(title="", name=name)
    for ring, wedges, drawing in sheets(name):
        document = Document(title=name, paper="a3", parts=(SheetPages(drawing=drawing),))
        found = lines(pdf_bytes(document, block), 0)
        window = pages(drawing, "a3", block)[0].elements[-1]
        assert isinstance(window, Window)
        zero = complex(*window.shift)
        for radius in circles(plan_of(name), ring).values():
            assert whole_circle(found, zero, radius)
        straight = [list(one.points) for one in found if not one.curves and len(one.points) >= 4]
        for corners in blanks(ring, wedges).values():
            wanted = [zero + corner for corner in corners]
            assert min(apart(points, wanted) for points in straight) < NEAR


@pytest.mark.parametrize("name", MAKERS)
def test_every_wedge_and_spacer_is_drawn_once_as_planned_on_layer_cut(name: str) -> None:
    for ring, _, drawing in sheets(name):
        cut = [e for e in drawing.elements if isinstance(e, Stroke) and e.layer == "cut"]
        wanted = {f"wedge-{p.label}": p.outline for p in ring.pieces}
        wanted |= {f"spacer-{p.label.removesuffix('s')}": p.outline for p in ring.spacers}
        assert len(cut) == len(wanted)
        assert {one.name: one.outline for one in cut} == wanted


def number_of(text: Text) -> str:
    return text.text.split()[0]


@pytest.mark.parametrize("name", MAKERS)
def test_every_wedge_has_its_number_once_or_a_tick(name: str) -> None:
    for ring, wedges, drawing in sheets(name):
        numbers = [e for e in drawing.elements if isinstance(e, Text) and e.layer == "engrave"]
        by_number = {number_of(text): text for text in numbers}
        assert len(by_number) == len(numbers)
        assert set(by_number) <= {str(p.position) for p in ring.pieces}
        if len(numbers) < wedges.segments:
            assert pitch_of_numbers(numbers, wedges.segments) < 1.8 * 1.25
            assert ticks(drawing, ring, wedges) == wedges.segments
        for piece in ring.pieces:
            text = by_number.get(str(piece.position))
            if text is not None:
                assert abs(direction(middle(text)) - direction(centroid(piece.outline))) < (
                    0.25 * math.radians(wedges.included_angle) + 1e-6
                )


def middle(text: Text) -> complex:
    """The middle of the capitals; numbers are anchored at their middle."""
    assert text.anchor == "middle"
    turn = math.radians(text.turn)
    return complex(*text.at) + text.height / 2.0 * complex(-math.sin(turn), math.cos(turn))


def centroid(outline: object) -> complex:
    x, y = shapely.Polygon(outline.points()).centroid.coords[0]  # type: ignore[attr-defined]
    return complex(x, y)


def direction(point: complex) -> float:
    """Radians clockwise from 12 o'clock, 0 to 2π but for the last hair before 12."""
    angle = math.atan2(point.real, point.imag) % (2.0 * math.pi)
    return 0.0 if angle > 2.0 * math.pi - 1e-6 else angle


def pitch_of_numbers(numbers: list[Text], segments: int) -> float:
    """How close neighbours' numbers would stand if each wedge had one where these stand."""
    return 2.0 * math.pi * max(abs(middle(text)) for text in numbers) / segments


def ticks(drawing: Drawing, ring: RingPlan, wedges: Wedges) -> int:
    """Short lines outside the ring on the axes of wedges."""
    found = set()
    for one in drawing.elements:
        if isinstance(one, Stroke) and one.layer == "note" and len(one.outline.vertices) == 2:
            (x, y, _), (u, v, _) = one.outline.vertices
            if math.hypot(x, y) > ring.outer_radius and abs(x * v - y * u) < 1e-6:
                turn = direction(complex(x, y)) / math.radians(wedges.included_angle)
                if abs(turn % 1.0 - 0.5) < 1e-3:
                    found.add(round(turn - 0.5))
    return len(found)


@pytest.mark.parametrize("name", ONE_RING)
def test_an_arrow_runs_outward_along_each_wedges_grain(name: str) -> None:
    for ring, wedges, drawing in sheets(name):
        grain = [e for e in drawing.elements if isinstance(e, Stroke) and e.layer == "grain"]
        shafts = [e.outline.vertices for e in grain if not e.outline.closed]
        key_samples = len(shafts) - wedges.segments
        assert key_samples == 1
        for piece, (foot, tip) in zip(ring.pieces, shafts, strict=False):
            along = at_angle(1.0, piece.axis or 0.0)
            length = math.dist(foot[:2], tip[:2])
            out = (tip.x - foot.x) * along[0] + (tip.y - foot.y) * along[1]
            assert out == pytest.approx(length)
            shape = shapely.Polygon(piece.outline.points()).buffer(1e-6)
            assert shape.covers(shapely.LineString([foot[:2], tip[:2]]))


@pytest.mark.parametrize("name", ONE_RING)
def test_the_seam_is_the_joint_before_the_first_wedge(name: str) -> None:
    for ring, wedges, drawing in sheets(name):
        words = [e for e in drawing.elements if isinstance(e, Text) and e.text.startswith("SEAM ")]
        assert [text.text for text in words] == [f"SEAM {wedges.segments} & 1"]
        bold = [
            e.outline.vertices
            for e in drawing.elements
            if isinstance(e, Stroke) and e.colour == "#d55e00" and e.weight == 0.5
        ]
        (a, b), _key = bold
        seam = shapely.LineString([a[:2], b[:2]])
        first, last = (shapely.Polygon(ring.pieces[i].outline.points()) for i in (0, -1))
        assert seam.distance(first) <= wedges.joint / 2.0 + NEAR
        assert seam.distance(last) <= wedges.joint / 2.0 + NEAR
        assert math.hypot(*a[:2]) < ring.inner_radius
        assert math.hypot(*b[:2]) > ring.outer_radius


@pytest.mark.parametrize("name", ["six wedges", "thirty-six", "several rings"])
def test_the_hidden_strip_stands_where_the_fingerboard_does(name: str) -> None:
    plan = plan_of(name)
    assert plan.hidden is not None
    for _, _, drawing in sheets(name):
        edges = [
            shapely.LineString([v[:2] for v in e.outline.vertices])
            for e in drawing.elements
            if isinstance(e, Stroke) and e.layer == "hidden" and e.weight > 0.3
            if not e.outline.closed
        ]
        half = plan.hidden.width / 2.0
        left, bottom, right, _ = shapely.unary_union(edges).bounds
        assert (left, bottom, right) == pytest.approx((-half, plan.hidden.reach, half))
        words = " ".join(e.text for e in drawing.elements if isinstance(e, Text))
        assert "under the fingerboard" in words


@pytest.mark.parametrize("name", [n for n in MAKERS if n not in ("large", "three wedges")])
def test_usual_rings_go_on_one_page(name: str) -> None:
    for drawing in drawings_of(name, "ring"):
        assert len(pages(drawing, "a4", TitleBlock())) == 1, drawing.name


@pytest.mark.parametrize("name", MAKERS)
def test_the_whole_rosette_is_drawn_where_there_is_more_than_one_ring(name: str) -> None:
    plan = plan_of(name)
    whole = [drawing for drawing in drawings_of(name, "ring") if drawing.name == "rosette"]
    if len(plan.rings) == 1 and plan.rings[0].wedges is not None:
        assert whole == []
        return
    found = {e.name: e.radius for e in whole[0].elements if isinstance(e, Circle) and e.name}
    for channel in plan.channels:
        assert found[f"channel-{channel.index}-inner"] == channel.inner_radius
        assert found[f"channel-{channel.index}-outer"] == channel.outer_radius
    for ring in plan.rings:
        assert found[f"ring-{ring.index}-inner"] == ring.inner_radius
        assert found[f"ring-{ring.index}-outer"] == ring.outer_radius
    assert found["soundhole"] == plan.soundhole_diameter / 2.0
    assert "pivot" in found
