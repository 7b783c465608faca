"""`rosette explore` as a shell sees it."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from itertools import product
from pathlib import Path

import jsonschema
import pytest

from rosette.design import read_design
from rosette.offcuts import read_box
from rosette.offcuts.explore import explore
from tests.cli.run import rosette

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "patterns_demo" / "damson-parlour"
BOX, DESIGN = str(DEMO / "offcuts.toml"), str(DEMO / "design.toml")
SCHEMA = json.loads((ROOT / "docs" / "schemas" / "explore.schema.json").read_text("utf-8"))
QUICK = ("--wood", "walnut", "--segments", "24,36", "--like", DESIGN)


def box(folder: Path, *, wide: float = 90, wood: str = "walnut", units: str = "mm") -> str:
    path = folder / "box.toml"
    path.write_text(
        f'schema = 1\nunits = "{units}"\n[[offcut]]\nid = "A"\nwood = "{wood}"\n'
        f'thickness = "2.4 mm"\nrectangle = ["{wide} mm", "70 mm"]\ngrain = 90\n',
        encoding="utf-8",
    )
    return str(path)


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_table_of_at_most_eighty_columns(units: str) -> None:
    ran = rosette("explore", BOX, *QUICK, "--units", units)
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert max(map(len, lines)) <= 80
    assert f"width, {units}" in ran.out
    assert "Kerf 0.90 mm" in ran.out if units == "mm" else "Kerf 0.035 in" in ran.out
    assert "left out, thinner than" in ran.out.replace("\n", " ").replace("Left", "left")
    assert any("widest ring" in line for line in lines)


def test_json_keeps_its_schema() -> None:
    ran = rosette("explore", BOX, *QUICK, "--json", "--all")
    found = json.loads(ran.out)
    jsonschema.Draft202012Validator(SCHEMA).validate(found)
    assert ran.code == 0
    assert found["kerf"] == 0.9
    rows = found["rows"]
    assert sorted(row["row"] for row in rows) == list(range(1, len(rows) + 1))
    assert any(row["beaten_by"] for row in rows)
    chosen = [row for row in rows if row["beaten_by"] is None]
    for one, other in product(chosen, chosen):
        same = all(one[key] == other[key] for key in ("woods", "segments", "inner_radius"))
        if same and one is not other:
            assert (
                one["width"] < other["width"]
                or one["offcuts"] > other["offcuts"]
                or one["spares"] < other["spares"]
            )


def test_the_schema_can_refuse() -> None:
    found = json.loads(rosette("explore", BOX, *QUICK, "--json").out)
    found["rows"][0]["offcuts"] = 0
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(SCHEMA).validate(found)


def test_a_row_becomes_a_design_that_is_checked_and_cut(tmp_path: Path) -> None:
    target = tmp_path / "new.toml"
    found = json.loads(rosette("explore", BOX, *QUICK, "--json").out)
    row = found["rows"][-1]
    ran = rosette("explore", BOX, *QUICK, "--write", str(row["row"]), str(target))
    assert ran.code == 0
    assert f"Next: rosette check {target}" in ran.out
    assert rosette("check", str(target)).code == 0
    cut = rosette("cut", str(target), BOX, "--spares", str(row["spares"]), "--json")
    told = json.loads(cut.out)
    assert cut.code == 0
    assert told["shortfall"] == 0
    assert len(told["offcuts_used"]) <= row["offcuts"]
    before, after = read_design(DESIGN), read_design(target)
    assert after.instrument == before.instrument
    assert after.channel == before.channel
    assert after.rings[0].outer_radius == pytest.approx(row["outer_radius"])
    # the line that stood round the ring still does
    assert after.rings[1].inner_radius == pytest.approx(row["outer_radius"])


@pytest.mark.parametrize("units", ["mm", "in"])
def test_without_a_design_the_file_says_what_nobody_measured(tmp_path: Path, units: str) -> None:
    offcuts, target = box(tmp_path, units=units), tmp_path / "new.toml"
    ran = rosette("explore", offcuts, "--segments", "24", "--inner-radius", "40 mm", "--kerf",
                  "0.9 mm", "--width", "6 mm to 20 mm", "--write", "1", str(target))  # fmt: skip
    assert ran.code == 0, ran.err
    text = target.read_text("utf-8")
    told = text.split("soundhole_diameter")[1]
    assert told.split("\n")[0].count("USUAL, NOT MEASURED") == 1
    assert "USUAL, NOT MEASURED; width of the saw" not in text
    design = read_design(target)
    assert design.units == units
    assert design.cutting.kerf == pytest.approx(0.9)
    assert design.rings[0].inner_radius == pytest.approx(40.0)
    assert design.instrument.soundhole_diameter < 80.0
    assert rosette("check", str(target)).code == 0


def test_nothing_is_written_over(tmp_path: Path) -> None:
    target = tmp_path / "mine.toml"
    target.write_text("mine", encoding="utf-8")
    ran = rosette("explore", BOX, *QUICK, "--write", "1", str(target))
    assert ran.code == 2
    assert "stays as it is" in ran.err
    assert ran.out == ""
    assert target.read_text("utf-8") == "mine"


def test_a_row_that_is_not_there_writes_nothing(tmp_path: Path) -> None:
    target = tmp_path / "new.toml"
    for row, sentence in (("99", "there is no row 99"), ("one", "is not the number of a row")):
        ran = rosette("explore", BOX, *QUICK, "--write", row, str(target))
        assert ran.code == 2
        assert sentence in ran.err
    assert list(tmp_path.iterdir()) == []


def test_a_row_that_can_not_be_made_for_another_reason_is_told(tmp_path: Path) -> None:
    text = Path(DESIGN).read_text("utf-8").replace("top_thickness = 3.2", "top_thickness = 2.1")
    like, target = tmp_path / "thin.toml", tmp_path / "new.toml"
    like.write_text(text, encoding="utf-8")
    ran = rosette("explore", BOX, "--segments", "24", "--wood", "walnut", "--like", str(like),
                  "--write", "1", str(target))  # fmt: skip
    assert ran.code == 1
    assert "channel" in ran.err
    assert not target.exists()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--wood", "wallnut"), 'there is no "wallnut" in the box; did you mean walnut?'),
        (("--wood", "walnut,"), 'there is no "" in the box'),
        (("--segments", "48-12"), "runs backwards"),
        (("--segments", "2"), "not between 3 and 720"),
        (("--wood", "walnut,maple", "--segments", "13"), "woods in turn"),
        (("--width", "18-12"), "runs backwards"),
        (("--width", "1"), "too narrow"),
        (("--width", "wide"), "--width"),
        (("--inner-radius", "0"), "not more than zero"),
        (("--inner-radius", "10-900", "--segments", "12-200"), "narrow the ranges"),
        (("--kerf", "fine"), "--kerf"),
        (("--tile", "0"), "too small"),
        (("--spares", "some"), "--spares"),
        (("--ring", "2"), "goes together with --like"),
        (("--like", DESIGN, "--ring", "2"), "no ring of wedges"),
        (("--like", DESIGN, "--kind", "parlour"), "does not go together"),
        (("--like", "nowhere.toml"), "no such file"),
        (("--picture", "choice.jpg"), "neither .svg nor .pdf nor .png"),
        (("--picture", "nowhere/choice.svg"), "there is no folder"),
        (("--method", "axe"), "axe"),
    ],
)
def test_a_wrong_option_ends_with_two_and_a_sentence(words: tuple[str, ...], sentence: str) -> None:
    ran = rosette("explore", BOX, *words)
    assert (ran.code, ran.out) == (2, "")
    assert sentence in ran.err


def test_all_that_is_wrong_is_told_at_once() -> None:
    ran = rosette("explore", BOX, "--wood", "teak", "--segments", "x", "--kerf", "y")
    assert [option in ran.err for option in ("--wood", "--segments", "--kerf")] == [True] * 3


def test_an_empty_box(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text('schema = 1\nunits = "mm"\n', encoding="utf-8")
    ran = rosette("explore", str(path))
    assert ran.code == 2
    assert "holds no offcut" in ran.err


def test_where_nothing_fits_the_nearest_is_told(tmp_path: Path) -> None:
    offcuts = box(tmp_path, wide=60)
    ran = rosette("explore", offcuts, "--segments", "24,36", "--inner-radius", "50", "--width",
                  "14-18")  # fmt: skip
    assert (ran.code, ran.out) == (1, "")
    assert "are missing" in ran.err
    assert "what it can make" in ran.err
    # what it names as the nearest does fit
    width = ran.err.split("wedges of walnut, ")[1].split(" mm wide")[0]
    count = ran.err.split("what it can make: ")[1].split(" ")[0]
    again = rosette("explore", offcuts, "--segments", count, "--inner-radius", "50", "--width",
                    width, "--spares", "0")  # fmt: skip
    assert again.code == 0


def test_wood_that_is_all_too_thin_is_told(tmp_path: Path) -> None:
    ran = rosette("explore", box(tmp_path), "--tile", "3")
    assert ran.code == 1
    assert "--tile" in ran.err
    assert "A" in ran.err


def stop_at(monkeypatch: pytest.MonkeyPatch, step: int) -> None:
    def stopped(*args: object, **more: object) -> object:
        def impatient(done: int, of: int, doing: str) -> None:
            if done == step:
                raise KeyboardInterrupt

        return explore(*args, **{**more, "progress": impatient})  # type: ignore[arg-type]

    monkeypatch.setattr("rosette.offcuts.explore.explore", stopped)


def test_ctrl_c_shows_what_was_found(monkeypatch: pytest.MonkeyPatch) -> None:
    stop_at(monkeypatch, 1)
    ran = rosette("explore", BOX, *QUICK)
    assert ran.code == 130
    assert "STOPPED EARLY: 1 of 2" in ran.out
    assert "Stopped before the end" in ran.err


@pytest.mark.parametrize("method", ["strip", "free"])
def test_ctrl_c_at_once_says_that_nothing_was_found_yet(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, method: str
) -> None:
    stop_at(monkeypatch, 0)
    picture, design = tmp_path / "choice.svg", tmp_path / "ring.toml"
    files = ("--picture", str(picture), "--write", "1", str(design))
    ran = rosette("explore", BOX, *QUICK, "--method", method, *files)
    assert ran.code == 130
    assert "STOPPED EARLY: 0 of 2" in ran.out
    assert "nothing was found yet" in ran.out
    assert f"nothing was found yet. {picture} is not drawn. {design} is not written." in ran.err
    assert not list(tmp_path.iterdir())
    told = rosette("explore", BOX, *QUICK, "--method", method, "--json")
    assert told.code == 130
    jsonschema.validate(json.loads(told.out), SCHEMA)


def test_ctrl_c_before_the_search_says_so_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: object, **__: object) -> object:
        raise KeyboardInterrupt

    monkeypatch.setattr("rosette.offcuts.asking.ask_for", stopped)
    ran = rosette("explore", BOX, *QUICK)
    assert (ran.code, ran.out) == (130, "")
    assert ran.err.strip() == "Stopped: nothing was found yet, and nothing was changed."


def test_three_woods_in_turn_are_listed_as_people_do(tmp_path: Path) -> None:
    path = tmp_path / "box.toml"
    path.write_text(
        'schema = 1\nunits = "in"\n'
        + "".join(
            f'[[offcut]]\nid = "{wood}"\nwood = "{wood}"\nthickness = 0.1\nrectangle = [8, 3]\n'
            for wood in ("ash", "oak", "elm")
        )
    )
    picture = tmp_path / "choice.svg"
    words = ("--wood", "ash,oak,elm", "--segments", "24", "--width", "0.5-0.7")
    ran = rosette("explore", str(path), *words, "--picture", str(picture))
    assert ran.code == 0, ran.err
    assert "Ash, oak and elm in turn" in ran.out
    levels = re.findall(r">([0-9 /]+) in<", picture.read_text("utf-8"))
    assert levels
    assert all(Fraction(one.replace(" ", "+")) % Fraction(1, 16) == 0 for one in levels)


@pytest.mark.parametrize("ending", ["svg", "pdf", "png"])
def test_a_picture_is_drawn(tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"choice.{ending}"
    path.write_bytes(b"an earlier one")
    ran = rosette("explore", BOX, *QUICK, "--picture", str(path))
    assert ran.code == 0
    assert f"Drawn in {path}" in ran.out
    starts = {"svg": b"<?xml", "pdf": b"%PDF", "png": b"\x89PNG"}
    assert path.read_bytes().startswith(starts[ending])
    assert [one.name for one in tmp_path.iterdir()] == [path.name]


def test_the_demo_box_offers_a_choice_with_its_own_design() -> None:
    assert len(read_box(BOX).offcuts) > 3
    assert rosette("explore", BOX, *QUICK).code == 0
