"""What bands refuse, and what they warn of: each with its place and what would do."""

from __future__ import annotations

import math
from typing import Any

import pytest

from rosette.errors import CannotMakeError, InputError
from rosette.patterns.laminate_form import strain_percent
from tests.patterns.bands import PLIES, ring


@pytest.mark.parametrize(
    ("pattern", "given", "where", "told"),
    [
        ("rope", {"plies": PLIES[:1]}, "ring[1].plies", "2 to 24"),
        ("rope", {"plies": "maple"}, "ring[1].plies", "not a list"),
        ("rope", {"plies": [{"wood": "ash"}, PLIES[0]]}, "thickness", "is missing"),
        ("rope", {"plies": [{**PLIES[0], "width": 2}, PLIES[1]]}, "width", "not a known key"),
        ("rope", {"angle": 5}, "ring[1].angle", "between 15 and 80"),
        ("rope", {"twist": "clockwize"}, "ring[1].twist", 'did you mean "clockwise"'),
        ("rope", {"bend_limit": -1}, "ring[1].bend_limit", "between 0.1 and 10"),
        ("herringbone", {"line": {"wood": "holly"}}, "ring[1].line.thickness", "is missing"),
        ("ladder", {"angle": 45}, "ring[1].angle", "not a known key"),
        ("ladder", {"block_height": 0}, "ring[1].block_height", "more than zero"),
        ("checker", {"wood": ["maple"]}, "ring[1].wood", "two woods"),
        ("checker", {"wood": "maple"}, "ring[1].wood", "two woods"),
        ("checker", {"wood": ["ash", "oak", "elm"]}, "ring[1].wood", "at most 2"),
        ("checker", {"rows": 1}, "ring[1].rows", "between 2 and 12"),
    ],
)
def test_bad_keys_are_told_with_their_place(
    pattern: str, given: dict[str, Any], where: str, told: str
) -> None:
    with pytest.raises(InputError) as caught:
        ring(pattern, **given)
    (line,) = caught.value.lines()
    assert where in line
    assert told in line


THICK = [{"wood": "maple", "thickness": 90}, {"wood": "walnut", "thickness": 90}]


@pytest.mark.parametrize(
    ("pattern", "given", "code", "told"),
    [
        ("rope", {"form": "bent"}, "would-break", "no wider than"),
        ("rope", {"form": "bent", "width": 1, "segments": 20}, "clash", "leave segments out"),
        ("rope", {"form": "straight", "segments": 6}, "too-few-segments", "or more"),
        ("rope", {"width": 1.5, "plies": THICK}, "no-repeat", "thinner plies"),
        ("ladder", {"width": 1.5, "plies": THICK}, "no-repeat", "thinner plies"),
        ("herringbone", {"width": 3.0, "plies": THICK}, "no-repeat", "thinner plies"),
        ("rope", {"form": "straight", "bar_length": 12}, "short-bar", "or more"),
        ("rope", {"form": "straight", "block_length": 12}, "short-block", "or more"),
        ("checker", {"form": "straight", "bar_length": 12}, "short-bar", "or more"),
        ("checker", {"form": "straight", "block_length": 7}, "short-block", "or more"),
        ("checker", {"glue_line": 7}, "no-band", "thinner"),
        ("checker", {"width": 1.8, "square_length": 90}, "no-repeat", "shorter"),
        ("checker", {"square_length": 0.05}, "too-many-pieces", "larger"),
        ("rope", {"plies": [{**one, "thickness": 0.02} for one in PLIES]}, "too-many", "larger"),
        (
            "herringbone",
            {"line": {"wood": "holly", "thickness": 5.5}},
            "no-band",
            "a thinner line or a wider ring",
        ),
    ],
)
def test_what_can_not_be_made_is_refused_with_what_would_work(
    pattern: str, given: dict[str, Any], code: str, told: str
) -> None:
    with pytest.raises(CannotMakeError) as caught:
        ring(pattern, **given)
    (found,) = caught.value.findings
    assert found.code.startswith(code)
    assert told in found.text()


@pytest.mark.parametrize(
    ("given", "key", "unit"),
    [
        ({"form": "bent", "width": 3.0}, "width", "no wider than "),
        ({"form": "straight", "segments": 6}, "segments", "; use "),
        ({"form": "straight", "bar_length": 12}, "bar_length", "; use "),
        ({"form": "straight", "block_length": 12}, "block_length", "; use "),
    ],
)
def test_what_is_said_to_work_works(given: dict[str, Any], key: str, unit: str) -> None:
    with pytest.raises(CannotMakeError) as caught:
        ring("rope", **given)
    number = caught.value.findings[0].text().partition(unit)[2].split()[0]
    ring("rope", **{**given, key: int(number) if key == "segments" else float(number)})


def test_strain_of_a_bent_strip() -> None:
    """Elementary bending: the outer fibre of a circle's arc is longer by half the depth over R."""
    width, radius = 2.4, 53.0
    outer, middle = math.tau * (radius + width / 2.0), math.tau * radius
    assert strain_percent(width, radius) == pytest.approx(100.0 * (outer / middle - 1.0))


def test_auto_bends_up_to_the_limit_and_no_further() -> None:
    # b/2R: 2 % at a middle radius of 51 is 2.04 wide
    assert not _straight(width=2.0)
    assert _straight(width=2.1)
    assert not _straight(width=2.1, bend_limit=2.2)
    assert _straight(width=2.0, segments=40)


def _straight(**given: Any) -> bool:
    return any("mitred" in stage.title for stage in ring("rope", **given).stages)


@pytest.mark.parametrize(
    ("pattern", "given", "code"),
    [
        ("rope", {"width": 1.9}, "tight-bend"),
        ("checker", {"width": 1.9}, "small-squares"),
        (
            "rope",
            {"segments": 40, "plies": [{"wood": w, "thickness": 1.9} for w in ("ash", "elm")]},
            "large-adjustment",
        ),
        (
            "ladder",
            {"segments": 36, "plies": [{"wood": w, "thickness": 3.1} for w in ("ash", "elm")]},
            "large-adjustment",
        ),
        ("rope", {"width": 1.8, "instrument": {"fingerboard_width": 1.2}}, "seam-seen"),
        ("checker", {"instrument": {"fingerboard_reach": 55.0}}, "seam-seen"),
    ],
)
def test_what_is_to_be_thought_over_is_told(pattern: str, given: dict[str, Any], code: str) -> None:
    assert code in {one.code for one in ring(pattern, **given).warnings}


def test_a_calm_design_has_nothing_to_think_over() -> None:
    assert ring("rope", width=1.4).warnings == ()
    assert ring("checker", width=8.0).warnings == ()


def test_what_was_adjusted_is_told_first() -> None:
    by_angle = ring("rope", width=1.4).steps[0].text()
    assert "the angle was changed from 45.00°" in by_angle
    by_plies = ring("rope", width=1.4, adjust="plies").steps[0].text()
    assert "maple from 0.600 mm to" in by_plies


def test_grain_at_an_angle_swells_by_the_square_of_its_sine() -> None:
    """The strain of a sheet that moves along one direction alone, turned (Mohr's circle)."""
    rope = ring("rope", width=1.4)
    ladder = ring("ladder", width=1.4)
    round_it = math.tau * 51.4
    assert sum(mm for _, mm in ladder.across_grain) == pytest.approx(round_it)
    # at 45° Mohr's circle stands at its middle
    assert sum(mm for _, mm in rope.across_grain) == pytest.approx(round_it / 2.0, rel=0.01)
    assert ring("checker").across_grain == ()
