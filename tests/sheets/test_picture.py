"""The picture of the rosette: every piece in its wood, told by figure and letter too."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
import shapely

from rosette.figure import chance, figured
from rosette.geometry.outline import Point
from rosette.output.svg import svg_bytes
from rosette.picture import picture
from rosette.sheets.drawing import Drawing, Stroke, Text
from rosette.wood.looks import look, wood_letters
from tests.sheets.ring_plans import LONG, MAKERS, SEVEN, picture_of, plan_of

WOODS = (*SEVEN, "curly maple", "Indian rosewood", "sapele", "padauk", "spruce", "quince")
SHAPES: tuple[list[Point], ...] = (
    [(0.0, 0.0), (12.0, 0.0), (12.0, 7.0), (0.0, 7.0)],
    [(50.0, 4.0), (50.0, -4.0), (68.0, -6.0), (70.0, 0.0), (68.0, 6.0)],
    [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (6.0, 3.0), (0.0, 9.0)],
)


@pytest.mark.parametrize("wood", WOODS)
@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("axis", [0.0, 90.0, -37.0])
def test_a_figure_stays_within_its_piece(wood: str, shape: list[Point], axis: float) -> None:
    room = shapely.Polygon(shape).buffer(1e-6)
    streaks = figured(shape, axis, look(wood), "1-01")
    assert all(room.covers(shapely.LineString(streak.points)) for streak in streaks)
    assert bool(streaks) == (look(wood).figure != "plain")


def test_a_figure_follows_from_its_label_alone() -> None:
    wood = look("walnut")
    one, again, other = (figured(SHAPES[0], 0.0, wood, name) for name in ("a", "a", "b"))
    assert one == again != other


def test_chance_is_even_over_its_range() -> None:
    numbers = [x for x, _ in zip(chance("even"), range(4000), strict=False)]
    assert 0.0 <= min(numbers) < 0.01 < 0.99 < max(numbers) < 1.0
    # mean of a uniform distribution 1/2, its variance 1/12
    assert sum(numbers) / 4000 == pytest.approx(0.5, abs=0.02)
    assert sum((x - 0.5) ** 2 for x in numbers) / 4000 == pytest.approx(1 / 12, abs=0.004)


@pytest.mark.parametrize("name", MAKERS)
def test_every_piece_is_in_the_picture_in_its_place(name: str) -> None:
    plan = plan_of(name)
    filled = [e for e in picture_of(name).elements if isinstance(e, Stroke) and e.fill]
    outlines = [e.outline for e in filled]
    for ring in plan.rings:
        for piece in (*ring.pieces, *ring.spacers):
            assert outlines.count(piece.outline) == 1


@pytest.mark.parametrize("name", MAKERS)
def test_the_key_names_every_wood_by_its_letter(name: str) -> None:
    plan = plan_of(name)
    said = [e.text for e in picture_of(name).elements if isinstance(e, Text)]
    spacers = [r.wedges.spacer_wood for r in plan.rings if r.wedges and r.wedges.spacer_wood]
    woods = [*(wood for ring in plan.rings for wood in ring.woods), *spacers]
    for wood, letter in wood_letters(woods).items():
        assert letter in said
        assert wood in said or wood.startswith(LONG[:5])
    assert len(set(wood_letters(woods).values())) == len(set(woods))


def test_the_fingerboard_lies_over_what_it_hides() -> None:
    plan = plan_of("thirty-six")
    assert plan.hidden is not None
    elements = picture(plan).elements
    half, reach = plan.hidden.width / 2.0, plan.hidden.reach
    board = next(
        i
        for i, e in enumerate(elements)
        if isinstance(e, Stroke) and e.fill and (-half, reach) == e.outline.vertices[0][:2]
    )
    under = shapely.box(-half, reach, half, 200.0)
    fills = [(i, e) for i, e in enumerate(elements) if isinstance(e, Stroke) and e.fill]
    crossing = [
        i for i, e in fills if i > board and shapely.Polygon(e.outline.points()).intersects(under)
    ]
    hidden = [p for p in plan.rings[0].pieces if p.visibility.value != "seen"]
    assert len(crossing) == len(hidden) > 0
    for i in crossing:
        seen = elements[i]
        assert isinstance(seen, Stroke)
        assert under.buffer(1e-6).covers(shapely.Polygon(seen.outline.points()))


def test_without_a_fingerboard_there_is_none() -> None:
    plan = replace(plan_of("thirty-six"), hidden=None)
    said = [e.text for e in picture(plan).elements if isinstance(e, Text)]
    assert "fingerboard" not in said


def test_the_same_plan_gives_the_same_picture() -> None:
    plan = plan_of("several rings")
    assert svg_bytes(picture(plan)) == svg_bytes(picture(replace(plan)))


def test_colours_are_rgb() -> None:
    drawing: Drawing = picture(plan_of("twenty-four with spacers"))
    for one in drawing.elements:
        for colour in (getattr(one, "colour", None), getattr(one, "fill", None)):
            assert colour is None or re.fullmatch("#[0-9a-f]{6}", colour)


def test_neighbouring_woods_differ_in_grey() -> None:
    """Relative luminance by WCAG 2: the demos' pairs are told apart without colour."""
    pairs = [("maple", "walnut"), ("cherry", "walnut"), ("apple", "walnut"), ("ash", "walnut")]
    for one, other in pairs:
        a, b = sorted((luminance(look(one).colour), luminance(look(other).colour)))
        assert (b + 0.05) / (a + 0.05) > 1.5 or look(one).figure != look(other).figure


def luminance(colour: str) -> float:
    def linear(value: int) -> float:
        share = value / 255.0
        return share / 12.92 if share <= 0.03928 else ((share + 0.055) / 1.055) ** 2.4

    r, g, b = (linear(int(colour[i : i + 2], 16)) for i in (1, 3, 5))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b
