"""Every drawing in `cases.py` against its golden, and the proof that the comparison can fail."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from rosette.geometry.outline import polygon
from rosette.output.svg import svg_bytes
from rosette.sheets.drawing import Circle, Drawing, Element, Stroke, Text
from tests.golden.cases import CASES
from tests.golden.compare import FOLDER, check, differences
from tests.output.samples import sample


@pytest.mark.parametrize("name", sorted(CASES))
def test_drawing_is_its_golden(name: str) -> None:
    check(CASES[name](), name)


def test_every_golden_has_a_case() -> None:
    assert {path.stem for path in FOLDER.glob("*.svg")} == set(CASES)


def changed(change: Callable[[Element], Element | None]) -> Drawing:
    made = [change(element) for element in sample().elements]
    return replace(sample(), elements=tuple(one for one in made if one is not None))


def named(name: str, **new: object) -> Callable[[Element], Element | None]:
    def change(element: Element) -> Element | None:
        if getattr(element, "name", "") != name:
            return element
        return replace(element, **new) if new else None  # type: ignore[type-var]

    return change


CHANGES = {
    "a circle moved by 0.02 mm": named("outer", centre=(0.02, 0.0)),
    "a circle 0.01 mm larger": named("pin", radius=1.01),
    "an outline with a corner elsewhere": named(
        "triangle", outline=polygon([(0.0, 0.0), (13.3333, 0.2), (7.7777, 9.9999)])
    ),
    "another layer": named("quarter", layer="cut"),
    "another colour": named("quarter", colour="#ff0000"),
    "another fill": named("blank", fill="#d9c3a6"),
    "no hole": named("washer", holes=()),
    "thicker": named("half", weight=0.5),
    "dashed": named("half", dashes=(2.0, 1.0)),
    "an element less": named("inner"),
    "other words": lambda e: replace(e, text="½") if isinstance(e, Text) else e,
    "smaller words": lambda e: replace(e, height=2.4) if isinstance(e, Text) else e,
    "turned words": lambda e: replace(e, turn=e.turn + 1.0) if isinstance(e, Text) else e,
}


@pytest.mark.parametrize("what", CHANGES)
def test_the_comparison_can_fail(what: str) -> None:
    assert differences(svg_bytes(changed(CHANGES[what])), svg_bytes(sample()))


def test_one_more_element_is_noticed() -> None:
    more = sample().with_elements(Circle(centre=(1.0, 1.0), radius=1.0, layer="cut"))
    assert differences(svg_bytes(more), svg_bytes(sample()))


def test_a_last_digit_does_not_matter() -> None:
    moved = polygon([(0.0002, 0.0), (13.3332, 0.1001), (7.7777, 9.9998)])
    for almost in (
        changed(named("outer", centre=(0.0004, -0.0003))),
        changed(named("triangle", outline=moved)),
    ):
        assert svg_bytes(almost) != svg_bytes(sample())
        assert differences(svg_bytes(almost), svg_bytes(sample())) == []


def test_drawing_the_same_outline_from_the_same_start_is_the_same() -> None:
    stroke = Stroke(outline=polygon([(0, 0), (1, 0), (1, 1)]), layer="cut")
    one = replace(sample(), elements=(stroke,))
    assert differences(svg_bytes(one), svg_bytes(replace(one, elements=(replace(stroke),)))) == []
