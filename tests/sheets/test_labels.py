"""Labels: one for each wedge and the spares, each within its blank, none over another.

That a label fits is checked with shapely on the blank's trapezoid by the promised formulas.
"""

from __future__ import annotations

import math
import re

import pytest
import shapely

from rosette.patterns.base import RingPlan, Wedges
from rosette.sheets.drawing import Drawing, Stroke, Text
from tests.sheets.looking import ink, texts
from tests.sheets.ring_plans import MAKERS, drawings_of, plan_of
from tests.sheets.test_ring import blank_corners

OVERHANGING = "hair-thin, with little to trim"
"""Its blanks are lower than letters that can be read."""
WITH_WEDGES = [name for name in MAKERS if name != "lines alone"]


def rings(name: str) -> list[tuple[RingPlan, Wedges, list[Drawing]]]:
    plan = plan_of(name)
    made = drawings_of(name, "labels")
    return [
        (
            ring,
            ring.wedges,
            [d for d in made if re.fullmatch(rf"labels-{ring.index}(-\d+)?", d.name)],
        )
        for ring in plan.rings
        if ring.wedges is not None
    ]


def outlines(sheets: list[Drawing]) -> dict[str, shapely.Polygon]:
    return {
        one.name: shapely.Polygon(one.outline.points())
        for sheet in sheets
        for one in sheet.elements
        if isinstance(one, Stroke) and one.name.startswith("label-")
    }


def labelled(names: list[str], ring: RingPlan) -> list[str]:
    """The wedges and spares that labels stand for; a strip is named by its first and last."""
    found: list[str] = []
    order = [f"label-{p.label}" for p in ring.pieces]
    spares = len(ring.pieces) + 500
    order += [f"label-{ring.index}-spare-{i}" for i in range(1, spares)]
    for name in names:
        first, _, last = name.partition("..")
        found += order[order.index(first) : order.index(last or first) + 1]
    return found


@pytest.mark.parametrize("name", WITH_WEDGES)
def test_there_is_one_label_for_each_wedge_and_spare(name: str) -> None:
    for ring, wedges, sheets in rings(name):
        found = labelled(list(outlines(sheets)), ring)
        spares = sum(wood.spares for wood in wedges.woods)
        assert len(found) == len(set(found)) == wedges.segments + spares
        assert {f"label-{p.label}" for p in ring.pieces} <= set(found)


@pytest.mark.parametrize("name", [one for one in WITH_WEDGES if one != OVERHANGING])
def test_every_label_lies_within_its_blank(name: str) -> None:
    for ring, wedges, sheets in rings(name):
        corners = [(c.real, c.imag) for c in blank_corners(ring, wedges)]
        for label, outline in outlines(sheets).items():
            if ".." in label or len(outline.exterior.coords) > 5:
                within_neighbours(outline, corners, wedges, len(labelled([label], ring)))
                continue
            left, bottom, right, top = outline.bounds
            tall, wide = top - bottom, right - left
            outer = corners[2][0] - 0.2
            laid = shapely.box(outer - tall, -wide / 2.0, outer, wide / 2.0)
            assert shapely.Polygon(corners).buffer(1e-6).covers(laid)


def within_neighbours(
    strip: shapely.Polygon, corners: list[tuple[float, float]], wedges: Wedges, count: int
) -> None:
    """A strip lies on its wedges side by side, with their joints, as they lie in the ring."""
    step = math.radians(wedges.included_angle)
    joint = wedges.joint / 2.0 / math.cos(step / 2.0) + 1e-6
    (xi, a), _, (xo, _), (_, b) = corners
    cell = shapely.Polygon([(xi, a + joint), (xi, -a - joint), (xo, -b - joint), (xo, b + joint)])
    fan = shapely.unary_union(
        [
            shapely.affinity.rotate(
                cell, ((count - 1) / 2.0 - i) * step, origin=(0.0, 0.0), use_radians=True
            )
            for i in range(count)
        ]
    )
    # on the sheet a strip stands upright about 12 o'clock, the fan along +x; their top edges meet
    turned = shapely.affinity.rotate(strip, -90.0, origin=(0.0, 0.0))
    _, y0, x1, y1 = turned.bounds
    outer = (xo - 0.4) / (math.cos(step / 2.0) if count % 2 == 0 else 1.0)
    laid = shapely.affinity.translate(turned, outer - x1, -(y0 + y1) / 2.0)
    assert fan.buffer(0.01).covers(laid)


def test_a_strip_too_high_for_its_blanks_says_that_it_hangs_over() -> None:
    ((_, wedges, sheets),) = rings(OVERHANGING)
    words = " ".join(text.text for sheet in sheets for text in texts(sheet))
    assert "hangs over the narrow ends" in words
    assert max(one.bounds[3] - one.bounds[1] for one in outlines(sheets).values()) > (
        wedges.blank.height
    )


@pytest.mark.parametrize("name", WITH_WEDGES)
def test_lines_of_a_strip_run_through_no_word(name: str) -> None:
    for _, _, sheets in rings(name):
        for sheet in sheets:
            edges = [one.exterior for one in outlines([sheet]).values()]
            for text in texts(sheet):
                if text.layer == "engrave":
                    near = [edge for edge in edges if edge.distance(ink(text)) < 0.1]
                    assert not near, text.text


@pytest.mark.parametrize("name", WITH_WEDGES)
def test_no_two_labels_share_paper(name: str) -> None:
    for _, _, sheets in rings(name):
        for sheet in sheets:
            found = list(outlines([sheet]).values())
            together = shapely.unary_union(found).area
            assert together == pytest.approx(sum(one.area for one in found), rel=1e-6)


@pytest.mark.parametrize("name", WITH_WEDGES)
def test_words_of_labels_lie_within_their_paper(name: str) -> None:
    for _, _, sheets in rings(name):
        for sheet in sheets:
            paper = shapely.unary_union(list(outlines([sheet]).values()))
            for text in texts(sheet):
                if text.layer == "engrave":
                    assert paper.buffer(1e-6).covers(ink(text)), text.text


@pytest.mark.parametrize("name", WITH_WEDGES)
def test_each_wedge_can_be_told_by_its_label(name: str) -> None:
    for ring, wedges, sheets in rings(name):
        said = [t.text for sheet in sheets for t in sheet.elements if isinstance(t, Text)]
        words = " ".join(said)
        for piece in ring.pieces:
            number = piece.label.split("-")[1]
            assert re.search(rf"\b{number}\b", words) or in_a_range(said, int(number))
        arrows = [
            e
            for sheet in sheets
            for e in sheet.elements
            if isinstance(e, Stroke) and e.layer == "grain" and not e.outline.closed
        ]
        assert len(arrows) in (
            len(outlines(sheets)),
            wedges.segments + sum(w.spares for w in wedges.woods),
        )
        assert "show face" in words
        assert "wide end" in words


def in_a_range(said: list[str], number: int) -> bool:
    ranges = [re.fullmatch(r"\d+-(\d+)–(\d+)", text) for text in said]
    return sum(1 for r in ranges if r and int(r[1]) <= number <= int(r[2])) == 1
