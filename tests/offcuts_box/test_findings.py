"""Every mistake in an offcuts file is told with its place, the offcut's name and the point."""

from __future__ import annotations

import pytest

from rosette.offcuts.box import read_box
from tests.offcuts_box.boxes import PLAIN, SQUARE, wrong

BOW = "outline = [[0, 0], [30, 20], [30, 0], [0, 20]]"
HAIR = "outline = [[0, 0], [30, 0], [60, 0]]"


@pytest.mark.parametrize(
    ("lines", "where", "told"),
    [
        (BOW, "offcut[1].outline (S2)", "crosses or touches itself at x 15.00 mm, y 10.00 mm"),
        (BOW, "offcut[1].outline (S2)", "points 1 to 2 and 3 to 4"),
        ("outline = [[0,0],[40,0],[40,20],[20,0],[0,20]]", "outline (S2)", "x 20.00 mm, y 0.00"),
        (HAIR, "offcut[1].outline (S2)", "one line, or nearly, through x 0.00 mm, y 0.00 mm"),
        ("outline = [[0, 0], [30, 0]]", "offcut[1].outline (S2)", "has 2 points"),
        ("outline = [[0, 0], [30, 0], [0, 0]]", "offcut[1].outline (S2)", "has 2 points"),
        ("outline = [[5, 5]]", "offcut[1].outline (S2)", "has one point"),
        ("outline = []", "offcut[1].outline (S2)", "has no points"),
        ("outline = [[0,0],[0.5,0],[0,0.5]]", "offcut[1].outline (S2)", "encloses no wood"),
        ("outline = [[0, 0], [30, nan], [0, 9]]", "outline[2][2] (S2)", "not a finite number"),
        ("outline = [[0, 0], [30, inf], [0, 9]]", "outline[2][2] (S2)", "not a finite number"),
        ("outline = [[0, 0], [1e308, 0], [0, 9]]", "outline[2][1] (S2)", "longer than 10 m"),
        ("outline = [[0, 0], [30], [0, 9]]", "outline[2] (S2)", "a list of 1 is not two lengths"),
        ("outline = [[0, 0], [1, 2, 3], [0, 9]]", "outline[2] (S2)", "a list of 3"),
        ("outline = [[0, 0], ['3', 2], [0, 9]]", "outline[2][1] (S2)", "lacks its unit"),
        ("outline = 'S2.svg'", "offcut[1].outline (S2)", "not a list of points"),
        ("outline = [0, 0, 30, 20]", "offcut[1].outline (S2)", "not a list of points"),
        ("rectangle = [40]", "offcut[1].rectangle (S2)", "not two lengths in brackets"),
        ("rectangle = [40, 0]", "offcut[1].rectangle[2] (S2)", "more than zero"),
        ("rectangle = [40, -3]", "offcut[1].rectangle[2] (S2)", "negative"),
        ("taper = { length = 9 }", "offcut[1].taper.ends (S2)", "is missing"),
        ("taper = { length = 9, ends = [0, 0] }", "offcut[1].taper.ends (S2)", "one must be wider"),
        ("taper = { length = 9, ends = [-1, 4] }", "taper.ends (S2)", "narrower than 0"),
        ("taper = { length = 9, ends = 4, sits = 'up' }", "taper.sits (S2)", 'neither "bottom"'),
        ("taper = { length = 9, ends = 4, sit = 3 }", "taper.sit (S2)", "did you mean sits?"),
        ("curved = { length = 9, ends = 4, rise = 9 }", "curved.rise (S2)", "half the length"),
        ("curved = { length = 90, ends = 4, rise = -4 }", "curved.rise (S2)", "hollower"),
        (SQUARE + "outline = [[0,0],[1,0],[1,9]]", "rectangle (S2)", "does not go together with"),
        ("", "offcut[1].outline (S2)", "rectangle or taper or curved or file; give one"),
        (SQUARE + "grain = 'along'", "offcut[1].grain (S2)", "not a number of degrees"),
        (SQUARE + "grain = nan", "offcut[1].grain (S2)", "not a number of degrees"),
        (SQUARE + "grain = 361", "offcut[1].grain (S2)", "between -360 and 360"),
        (SQUARE + "count = 0", "offcut[1].count (S2)", "between 1 and 999"),
        (SQUARE + "count = 2.0", "offcut[1].count (S2)", "decimal point"),
        (SQUARE + "colour = 1", "offcut[1].colour (S2)", "not a known key"),
        (SQUARE + "hole = []", "offcut[1].hole (S2)", "did you mean holes?"),
        (SQUARE + "units = 'mm'", "offcut[1].units (S2)", "belongs at the top"),
        (SQUARE + "defects = [[[50, 3], [60, 3], [60, 9]]]", "offcut[1].defects[1] (S2)",
         "wholly outside the outline; its point nearest the wood is x 50.00 mm, y 3.00 mm, 10.00"),
        (SQUARE + "defects = [[[40, 3], [60, 3], [60, 9]]]", "defects[1] (S2)", "wholly outside"),
        (SQUARE + "holes = [{ at = [-9, 9], across = 2 }]", "holes[1] (S2)", "wholly outside"),
        (SQUARE + "defects = [[[5, 5], [9, 9], [9, 5], [5, 9]]]", "defects[1] (S2)", "crosses"),
        (SQUARE + "defects = [[[5, 5], [9, 9]]]", "defects[1] (S2)", "has 2 points"),
        (SQUARE + "defects = [[5, 5], [9, 9], [9, 5]]", "defects (S2)", "one defect where a list"),
        (SQUARE + "defects = { at = [5, 5], across = 2 }", "defects (S2)", "one defect where"),
        (SQUARE + "defects = [{ at = [5, 5] }]", "offcut[1].defects[1].across (S2)", "is missing"),
        (SQUARE + "defects = [[[-1, -1], [41, -1], [41, 31], [-1, 31]]]", "offcut[1] (S2)", "no"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_an_offcut(lines: str, where: str, told: str) -> None:
    found = wrong(PLAIN + lines)
    assert any(where in line and told in line for line in found), found


@pytest.mark.parametrize(
    "name",
    ["a/b", "a\\b", "..", ".x", "x.", " x", "x ", "-x", "a:b", 'a"b', "a*b", "con", "LPT1.x"],
)  # fmt: skip
def test_an_id_that_could_not_name_a_file(name: str) -> None:
    (line,) = wrong(f"[[offcut]]\nid = '{name}'\nwood = 'w'\nthickness = 2\n{SQUARE}")
    assert "offcut[1].id" in line
    assert "can't name a file" in line


@pytest.mark.parametrize(
    ("value", "told"),
    [("''", "blank"), ("7", "not words"), (f"'{'x' * 33}'", "at most 32"), ('"a\\nb"', "printed")],
)
def test_an_id_that_is_none(value: str, told: str) -> None:
    lines = wrong(f"[[offcut]]\nid = {value}\nwood = 'w'\nthickness = 2\n{SQUARE}")
    assert any("offcut[1].id" in line and told in line for line in lines)


@pytest.mark.parametrize("other", ["S2", "s2"])
def test_two_offcuts_of_one_id(other: str) -> None:
    (line,) = wrong(PLAIN + SQUARE + PLAIN.replace("S2", other) + SQUARE)
    assert "offcut[2].id" in line
    assert "offcut[1] has it already" in line


def test_everything_is_told_at_once() -> None:
    lines = wrong(PLAIN + BOW + "\ncount = 0\n" + PLAIN.replace("S2", "S3") + HAIR + "\n[[taken]]")
    assert [line for line in lines if "S2" in line and "crosses" in line]
    assert [line for line in lines if "S2" in line and "count" in line]
    assert [line for line in lines if "S3" in line and "one line" in line]
    assert [line for line in lines if "taken[1].cuts" in line]


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ("[offcut]\nid = 'a'", "in double brackets"),
        ("offcut = 3", "write [[offcut]]"),
        ("offcut = [1, 2]", "write [[offcut]]"),
        ("kerf = 1", "known here: schema, units, offcut"),
        ("wood = 'maple'", "it belongs in an [[offcut]]"),
        ("offcuts = []", "did you mean offcut?"),
        (PLAIN + "outline = [[0, 0], [1, 0]", "a list is not closed"),
    ],
)
def test_what_is_wrong_with_the_file(body: str, told: str) -> None:
    assert told in "\n".join(wrong(body))


def test_too_many_of_anything_is_told() -> None:
    many = "".join(f"[{x}, {x % 7}], " for x in range(20_001))
    assert "20001 points; at most 20000" in "\n".join(wrong(PLAIN + f"outline = [{many}]"))
    knots = "{ at = [1, 1], across = 1 }, " * 201
    assert "at most 200" in "\n".join(wrong(PLAIN + SQUARE + f"defects = [{knots}]"))
    pieces = [PLAIN.replace("S2", f"P{i}") + SQUARE + "count = 999\n" for i in range(11)]
    assert "10989 pieces of wood in all; at most 10000" in "\n".join(wrong("".join(pieces)))
    short = "[[offcut]]\n" * 2001
    assert "2001 are more than a box can hold" in "\n".join(wrong(short))


def test_a_hundred_bad_points_do_not_hide_what_else_is_wrong() -> None:
    bad = "['x', 'y'], " * 100
    lines = wrong(PLAIN + f"outline = [{bad}]\n" + PLAIN.replace("S2", "S3") + "count = 0")
    assert any("(S3)" in line for line in lines)
    assert len(lines) < 20


def test_no_such_file(tmp_path) -> None:
    with pytest.raises(ValueError, match="there is no such file"):
        read_box(tmp_path / "box.toml")
    (tmp_path / "empty.toml").write_text("")
    with pytest.raises(ValueError, match="rosette offcuts add"):
        read_box(tmp_path / "empty.toml")
