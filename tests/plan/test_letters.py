"""Words of the maker's that the shipped lettering can't show are told of, not printed as boxes."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from rosette.lettering import font_path
from rosette.plan import Plan, make_plan
from rosette.plan.letters import ALWAYS_THERE
from tests.properties.designs import design, radial


def told(made: Plan) -> dict[str, str]:
    return {one.where: one.text() for one in made.warnings if one.code == "no-such-letters"}


def test_a_name_in_another_script_is_warned_of() -> None:
    made = make_plan(design([radial()], instrument={"name": "\u540d\u524d no. 3"}))
    assert list(told(made)) == ["instrument.name"]
    assert "\u540d\u524d" in told(made)["instrument.name"]
    assert "no. 3" not in told(made)["instrument.name"]


def test_woods_spacers_and_the_shop_are_looked_at_too() -> None:
    ring = radial(wood=["walnut", "\u6728"], spacer={"wood": "\u6728", "thickness": 0.5})
    made = make_plan(design([ring], job={"owner": "\U0001f3b8 shop"}))
    assert set(told(made)) == {"job.owner", "ring[1].wood", "ring[1].spacer.wood"}


@pytest.mark.parametrize("name", ["Häussler № 3", "Ørsted “fine”", "Žofie's", "½ size – deluxe"])
def test_usual_letters_are_not(name: str) -> None:
    assert not told(make_plan(design([radial()], instrument={"name": name})))


@pytest.mark.parametrize("bold", [False, True])
def test_the_letters_taken_for_granted_are_in_the_font(bold: bool) -> None:
    with TTFont(font_path(bold)) as font:
        known = font.getBestCmap()
    printed = [*range(0x20, 0x7F), *range(0xA0, ord(ALWAYS_THERE) + 1)]
    assert [hex(code) for code in printed if code not in known] in ([], ["0xad"])
