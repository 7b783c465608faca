"""The starter file: it reads back as what was answered, explains every key, and can be made."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from rosette.design import read_design_text
from rosette.design.kinds import KINDS
from rosette.design.model import Design, DesignKeys
from rosette.design.questions import complete
from rosette.design.starter import Answers, starter
from rosette.design.typed import as_toml, typed_length
from rosette.errors import InputError
from rosette.keys import Keys
from rosette.patterns import patterns
from rosette.plan import make_plan
from rosette.units import LengthError, Units

EVERY = [(kind, units) for kind in KINDS for units in ("mm", "in")]
MEASURED = {"soundhole": "3 3/4", "top": "1/8", "tile": "1/16", "bit": '1/8"', "kerf": "0.03"}


def read(text: str) -> Design:
    return read_design_text(text.encode(), "new.toml")


def answers(kind: str = "parlour", units: Units = "mm") -> Answers:
    return complete({}, units, kind)


@pytest.mark.parametrize(("kind", "units"), EVERY)
def test_a_kind_of_guitar_can_be_made_as_it_stands(kind: str, units: Units) -> None:
    plan = make_plan(read(starter(answers(kind, units))))
    assert plan.units == units
    assert not plan.warnings


@pytest.mark.parametrize(("kind", "units"), EVERY)
def test_what_is_usual_is_in_the_range_of_common_practice(kind: str, units: Units) -> None:
    # common practice: soundholes 90-105 steel, about 95 parlour, 82-86 classical; rings 10-20
    # and 18-22 wide; 8-36 wedges; stock 1.3-2.5; boards 56-60 (the inch ones to 1/64 in)
    design = read(starter(answers(kind, units)))
    hole = {"steel": (90, 105), "parlour": (94, 96), "classical": (82, 86)}[kind]
    wide = {"steel": (10, 20), "parlour": (10, 20), "classical": (18, 22)}[kind]
    (ring,) = design.rings
    assert hole[0] <= design.instrument.soundhole_diameter <= hole[1]
    assert wide[0] <= ring.outer_radius - ring.inner_radius <= wide[1]
    assert 1.3 <= ring.keys.tile_thickness <= 2.5
    assert 55.6 <= (design.instrument.fingerboard_width or 0) <= 60.4
    assert 8 <= make_plan(design).wedge_rings[0].wedges.segments <= 36  # type: ignore[union-attr]


@pytest.mark.parametrize("units", ["mm", "in"])
def test_it_reads_back_as_answered(units: Units) -> None:
    given = {**MEASURED, "name": 'The "Otter" \\ no. 1', "wood": ("walnut", "maple")}
    given |= {"inner_radius": "50.5 mm", "width": "16 mm", "segments": "20"}
    given = {k: v.replace('"', " in") if k == "bit" else v for k, v in given.items()}  # type: ignore[attr-defined]
    if units == "mm":
        given |= {k: f"{given[k]} in" for k in ("soundhole", "top", "tile", "kerf")}
    design = read(starter(complete(given, units, None)))
    assert design.units == units
    assert design.instrument.name == 'The "Otter" \\ no. 1'
    assert design.instrument.soundhole_diameter == pytest.approx(3.75 * 25.4)
    assert design.instrument.top_thickness == pytest.approx(25.4 / 8)
    assert design.instrument.fingerboard_width is None
    assert design.channel.bit_diameter == pytest.approx(25.4 / 8)
    assert design.cutting.kerf == pytest.approx(0.03 * 25.4)
    (ring,) = design.rings
    assert (ring.inner_radius, ring.outer_radius) == pytest.approx((50.5, 66.5))
    assert ring.keys.wood == ("walnut", "maple")  # type: ignore[attr-defined]
    assert ring.keys.segments == 20  # type: ignore[attr-defined]


def test_fractions_stay_as_typed() -> None:
    text = starter(complete({**MEASURED, "kerf": "3/128"}, "in", "steel"))
    assert 'soundhole_diameter = "3 3/4 in"' in text
    assert 'bit_diameter = "1/8 in"' in text
    assert 'kerf = "3/128 in"' in text


def test_every_key_stands_in_it_with_its_words() -> None:
    text = " ".join(re.sub(r"\s*\n\s+#\s", " ", starter(answers())).split())

    def all_of(table: type[Keys]) -> None:
        for name, key in table.known.items():
            assert f"{name} = " in text or f"[{name}]" in text
            assert " ".join(key.about.split()) in text

    all_of(DesignKeys)
    for key in DesignKeys.known.values():
        if key.kind.table is not None:
            all_of(key.kind.table)
    for name in ("radial", "line"):
        all_of(patterns()[name].keys)


def _codes(text: str) -> set[str]:
    try:
        read(text)
    except InputError as error:
        return {one.code for one in error.findings}
    return set()


@pytest.mark.parametrize(("kind", "units"), EVERY)
def test_switching_any_one_key_on_is_right_or_a_choice_to_make(kind: str, units: Units) -> None:
    lines = starter(answers(kind, units)).split("\n")
    body = "\n".join(lines).split("\n#[[ring]]")[0].split("\n")
    off = [i for i, line in enumerate(body) if line.startswith("#") and line[1] not in " ["]
    assert len(off) > 10
    for i in off:
        changed = [*body]
        changed[i] = body[i][1:]
        header = max(j for j in range(i) if re.match(r"#?\[", body[j]))
        for j in range(header, i):
            if body[header].startswith("#") and body[j].startswith("#build"):
                changed[j] = body[j][1:]
        changed[header] = body[header].removeprefix("#")
        assert _codes("\n".join(changed)) <= {"clash"}


def test_the_second_ring_can_be_switched_on() -> None:
    head, ring = starter(answers()).split("\n#[[ring]]")
    on = "\n".join(line.removeprefix("#") for line in f"#[[ring]]{ring}".split("\n"))
    design = read(f"{head}\n{on}")
    assert [one.keys.pattern for one in design.rings] == ["radial", "line"]
    make_plan(design)


def test_what_nobody_measured_is_marked() -> None:
    text = starter(complete({"top": "3.1"}, "mm", "parlour"))
    marked = [line for line in text.split("\n") if "NOT MEASURED" in line]
    assert [line.split()[0] for line in marked] == [
        "soundhole_diameter",
        "fingerboard_width",
        "fingerboard_reach",
        "kerf",
        "bit_diameter",
        "tile_thickness",
    ]


def test_the_other_ways_to_say_the_same_are_offered() -> None:
    lines = starter(answers()).split("\n")
    for name, instead in (("outer_radius", "width"), ("inner_radius", "space")):
        changed = [
            line[1:] if line.startswith(f"#{name} =") else line
            for line in lines
            if not line.startswith(f"{instead} =")
        ]
        (other,), (ring,) = read("\n".join(changed)).rings, read("\n".join(lines)).rings
        assert other.inner_radius == pytest.approx(ring.inner_radius)
        assert other.outer_radius == pytest.approx(ring.outer_radius)


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize(
    ("typed", "inches"),
    [("3 3/4 in", "15/4"), ('3-3/4"', "15/4"), ("3¾ in", "15/4"), ("0.5 in", "1/2"), ("7″", "7")],
)
def test_a_typed_length_keeps_its_value(typed: str, inches: str, units: Units) -> None:
    assert typed_length(typed, units) == pytest.approx(float(Fraction(inches) * Fraction("25.4")))


@pytest.mark.parametrize("typed", ["", " ", ".", "1.2.3", "abc", "3 4", "2,5", "٣", "1e3", "nan"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_what_is_typed_and_no_length(typed: str, units: Units) -> None:
    with pytest.raises(LengthError):
        as_toml(typed, units)


def test_answers_that_are_no_answers_are_told_at_once() -> None:
    given = {"top": "x", "kerf": "-1", "segments": "3.5", "wood": (" ",), "name": "a\nb"}
    given |= {"space": "3", "inner_radius": "50", "board": "57", "reach": "none"}
    with pytest.raises(InputError) as caught:
        complete(given, "mm", "parlour")
    assert [one.where for one in caught.value.findings] == [
        "--name",
        "--top",
        "--kerf",
        "--segments",
        "--wood",
        "--space",
        "--fingerboard-width",
    ]


def test_without_a_kind_every_measure_is_asked_for() -> None:
    with pytest.raises(InputError) as caught:
        complete({"board": "57"}, "mm", None)
    assert [one.where for one in caught.value.findings] == [
        "--soundhole",
        "--top",
        "--tile",
        "--bit",
        "--kerf",
        "--fingerboard-reach",
    ]


def test_an_answer_stands_for_the_one_it_makes_needless() -> None:
    made = complete({"inner_radius": "55", "segment_width": "9"}, "mm", "steel")
    assert (made.space, made.segments) == (None, None)
    assert read(starter(made)).rings[0].inner_radius == 55
