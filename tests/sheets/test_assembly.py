"""The assembly map: every wedge listed once, in its half, as the fingerboard leaves it."""

from __future__ import annotations

import re

import pytest

from rosette.geometry.hidden import Visibility
from rosette.patterns.base import RingPlan, Wedges
from rosette.sheets.assembly import HALF_B
from rosette.sheets.drawing import Drawing, Stroke, Text
from rosette.sheets.frame import TitleBlock, pages
from tests.sheets.looking import texts
from tests.sheets.ring_plans import MAKERS, drawings_of, plan_of

WITH_WEDGES = [name for name in MAKERS if name != "lines alone"]
SHOWS = {"hidden": Visibility.HIDDEN, "partly": Visibility.PARTLY, "seen": Visibility.SEEN}


def rings(name: str) -> list[tuple[RingPlan, Wedges, Drawing, list[Drawing]]]:
    plan = plan_of(name)
    made = drawings_of(name, "assembly")
    found = []
    for ring in plan.rings:
        if ring.wedges is not None:
            mine = [d for d in made if re.match(rf"assembly-{ring.index}(-list|$)", d.name)]
            found.append((ring, ring.wedges, mine[0], mine))
    return found


def rows(drawing: Drawing) -> list[tuple[str, str, str, str]]:
    """The list's rows, told by what stands on one line to the right of a bold number."""
    found = []
    words = texts(drawing)
    heads = [text.at[0] for text in words if text.text == "no."]
    for text in words:
        if not (text.bold and text.anchor == "right" and text.text.isdigit()):
            continue
        limit = min((x for x in heads if x > text.at[0] + 1.0), default=1e9) - 1.0
        line = sorted(
            (other.at[0], other.text)
            for other in words
            if abs(other.at[1] - text.at[1]) < 0.1 and text.at[0] <= other.at[0] < limit
            if other is not text and other.height == text.height
        )
        wood, half, shows = (said for _, said in line)
        found.append((text.text, wood, half, shows))
    return found


@pytest.mark.parametrize("name", ["six wedges", "seven woods", "thirty-six", "several rings"])
def test_the_list_tells_every_wedge_once(name: str) -> None:
    for ring, wedges, _, sheets in rings(name):
        found = [row for sheet in sheets for row in rows(sheet)]
        assert [int(number) for number, *_ in found] == list(range(1, wedges.segments + 1))
        for piece, (_, wood, half, shows) in zip(ring.pieces, found, strict=True):
            assert piece.wood in wood or wedges.segments >= 60
            assert SHOWS[shows] is piece.visibility
            first = piece.position <= wedges.segments / 2
            assert half == ("–" if wedges.segments % 2 else "A" if first else "B")


@pytest.mark.parametrize("name", WITH_WEDGES)
def test_half_the_wedges_of_an_even_ring_are_in_each_half(name: str) -> None:
    for ring, wedges, sheet, _ in rings(name):
        toned = [
            e.name
            for e in sheet.elements
            if isinstance(e, Stroke) and e.fill == HALF_B and e.name.startswith("wedge-")
        ]
        even = wedges.segments % 2 == 0
        later = [p for p in ring.pieces if p.position > wedges.segments // 2]
        assert toned == ([f"wedge-{p.label}" for p in later] if even else [])


@pytest.mark.parametrize("name", WITH_WEDGES)
def test_the_halves_and_the_seam_are_named_in_the_order_of_glue_up(name: str) -> None:
    for _, wedges, sheet, _ in rings(name):
        words = " ".join(text.text for text in texts(sheet))
        half, count = wedges.segments // 2, wedges.segments
        assert f"SEAM {count} & 1" in words
        if count % 2:
            assert f"Glue up wedges 1 to {count - 1} in order." in words
        else:
            assert f"half A (1 to {half}) and half B ({half + 1} to {count})" in words
            assert f"{half} & {half + 1} glued with the seam" in words


def test_hidden_wedges_are_named_where_plain_wood_may_go() -> None:
    [(ring, _, sheet, _)] = rings("thirty-six")
    words = " ".join(text.text for text in texts(sheet))
    hidden = [p.position for p in ring.pieces if p.visibility is Visibility.HIDDEN]
    said = re.search(r"wholly: ([\d–, ]+);", words)
    assert said is not None
    named = [
        number
        for part in said[1].split(", ")
        for number in range(int(part.split("–")[0]), int(part.split("–")[-1]) + 1)
    ]
    assert sorted(named) == hidden != []


@pytest.mark.parametrize("name", [n for n in WITH_WEDGES if n not in ("large", "three wedges")])
def test_usual_maps_and_lists_go_on_one_page(name: str) -> None:
    for drawing in drawings_of(name, "assembly"):
        assert len(pages(drawing, "a4", TitleBlock())) == 1, drawing.name


def test_the_map_numbers_each_wedge() -> None:
    [(ring, _, sheet, _)] = rings("thirty-six")
    numbers = [e.text for e in sheet.elements if isinstance(e, Text) and e.layer == "engrave"]
    assert sorted(map(int, numbers)) == [p.position for p in ring.pieces]


@pytest.mark.parametrize("name", ["six wedges", "thirty-six", "a hundred and eighty"])
def test_the_list_has_room_to_tick_each_wedge_off(name: str) -> None:
    for ring, _, _, sheets in rings(name):
        words = [text for sheet in sheets for text in texts(sheet)]
        heads = [text for text in words if text.text == "cut" and text.bold]
        assert len(heads) == len([text for text in words if text.text == "shows" and text.bold])
        lines = {round(t.at[1], 2) for t in words if t.text in SHOWS}
        beside = [t for t in words if round(t.at[1], 2) in lines and t.at[0] > 0.0]
        assert len(ring.pieces) >= len(lines) > 0
        for head in heads:
            assert not [t for t in beside if abs(t.at[0] - head.at[0]) < 2.0]


@pytest.mark.parametrize("name", WITH_WEDGES)
def test_wedges_are_sent_under_the_fingerboard_only_where_it_hides_some(name: str) -> None:
    for ring, _, sheet, _ in rings(name):
        words = " ".join(text.text for text in texts(sheet))
        hides = any(piece.visibility is Visibility.HIDDEN for piece in ring.pieces)
        assert ("Plain or doubtful wedges" in words) == hides


def test_ends_of_halves_with_spacers_are_trued_half_a_joint_short_of_the_centre() -> None:
    # The sides of a wedge stand half a joint inside the radial planes (docs/formulas.md).
    ((_, _, sheet, _),) = rings("twenty-four with spacers")
    words = " ".join(text.text for text in texts(sheet))
    assert "half a joint short of the centre" in words
    ((_, _, plain, _),) = rings("thirty-six")
    assert "through the centre" in " ".join(text.text for text in texts(plain))


@pytest.mark.parametrize("name", ["six wedges", "thirty-six", "seven woods", "seventy-two"])
def test_letters_of_woods_are_explained_where_the_map_has_any(name: str) -> None:
    for ring, _, sheet, _ in rings(name):
        letters = {t.text for t in texts(sheet) if t.bold and re.fullmatch("[A-Z]{1,2}", t.text)}
        assert bool(letters - {"A", "B"}) == (len(ring.woods) > 1)
