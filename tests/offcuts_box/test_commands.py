"""`rosette offcuts` from outside: what it prints, writes and ends with."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image
from shapely.geometry import Polygon

from rosette.offcuts import read_box
from rosette.sheets.drawing import Stroke, Text
from rosette.sheets.inventory import inventory, inventory_pages
from tests.cli.run import rosette
from tests.offcuts_box.jobs import TEXT, cuts, put_box

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "patterns_demo" / "damson-parlour" / "offcuts.toml"
PLAIN = ["--id", "S2", "--wood", "walnut", "--thickness", "2.4"]


def test_the_group_names_its_commands() -> None:
    ran = rosette("offcuts")
    assert ran.code == 0
    assert all(f"\n  {name} " in ran.out for name in ("list", "add", "take"))
    wrong = rosette("offcuts", "lst")
    assert (wrong.code, wrong.err.splitlines()[0]) == (
        2, "rosette offcuts: there is no command lst; did you mean list?",
    )  # fmt: skip


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_table_fits_a_terminal(units: str, tmp_path: Path) -> None:
    path = tmp_path / "box.toml"
    path.write_text(
        "schema = 1\n" + "".join(
            f'[[offcut]]\nid = "{"N" * 30}{i}"\nwood = "{"very " * 12}walnut"\nthickness = 2\n'
            "rectangle = [9999, 9999]\ncount = 999\n"
            for i in range(9)
        )
    )  # fmt: skip
    for ran in (rosette("offcuts", "list", str(path), "--units", units),
                rosette("offcuts", "list", str(DEMO), "--units", units)):  # fmt: skip
        assert ran.code == 0
        assert max(map(len, ran.out.splitlines())) <= 80


def test_the_table_says_what_a_rule_would() -> None:
    lines = rosette("offcuts", "list", str(DEMO)).out.splitlines()
    (row,) = [line.split() for line in lines if line.startswith("L1")]
    # 420 × 14 is 5880 mm²
    assert row == ["L1", "walnut", "1.60", "420", "14", "58.8", "3"]
    (row,) = [line.split() for line in lines if line.startswith("S1")]
    # a trapezoid of 265 by (31 + 24) / 2: 7287.5 mm²
    assert row == ["S1", "walnut", "2.30", "265", "31", "72.9", "2"]


def test_json_for_scripts() -> None:
    told = json.loads(rosette("offcuts", "list", str(DEMO), "--json").out)
    box = read_box(DEMO)
    assert (told["schema"], told["sha256"]) == ("rosette.offcuts/1", box.sha256)
    for one, offcut in zip(told["offcuts"], box.offcuts, strict=True):
        bad = [Polygon(ring) for ring in (*one["holes"], *one["defects"])]
        shape = Polygon(one["outline"])
        for ring in bad:
            shape = shape.difference(ring)
        assert one["usable_area"] == pytest.approx(shape.area)
        assert (one["id"], one["count"]) == (offcut.id, offcut.count)


def test_an_empty_box(tmp_path: Path) -> None:
    (tmp_path / "box.toml").write_text("schema = 1\n")
    for words in ((), ("--picture", str(tmp_path / "p.svg"))):
        ran = rosette("offcuts", "list", str(tmp_path / "box.toml"), *words)
        assert ran.code == 0
        assert "is empty" in ran.out


def test_a_box_that_is_not_sound(tmp_path: Path) -> None:
    (tmp_path / "box.toml").write_text("schema = 1\n[[offcut]]\nid = 'a'\n[[offcut]]\nid = 'a'\n")
    ran = rosette("offcuts", "list", str(tmp_path / "box.toml"), "--picture", "p.svg")
    assert (ran.code, ran.out) == (2, "")
    assert len(ran.err.splitlines()) == 7
    assert not (tmp_path / "p.svg").exists()


def test_pictures(tmp_path: Path) -> None:
    for name in ("p.svg", "p.png", "p.pdf"):
        ran = rosette("offcuts", "list", str(DEMO), "--picture", str(tmp_path / name))
        assert ran.code == 0
    ET.parse(tmp_path / "p.svg")
    assert min(Image.open(tmp_path / "p.png").size) > 500
    pdf = pypdfium2.PdfDocument(tmp_path / "p.pdf")
    words = pdf[0].get_textpage().get_text_bounded()
    assert all(one.id in words for one in read_box(DEMO).offcuts)
    wrong = rosette("offcuts", "list", str(DEMO), "--picture", "p.jpg")
    assert (wrong.code, "neither .svg nor .png nor .pdf" in wrong.err) == (2, True)


def test_the_picture_is_to_scale() -> None:
    box = read_box(DEMO)
    drawing = inventory(box)
    shapes = {
        one.name: Polygon(one.outline.points())
        for one in drawing.elements
        if isinstance(one, Stroke) and one.name
    }
    assert set(shapes) == {one.id for one in box.offcuts}
    for one in box.offcuts:
        # 1:4 is a sixteenth of the area
        assert shapes[one.id].area == pytest.approx(Polygon(one.outline).area / 16, rel=1e-6)


def box_file(folder: Path, sizes: list[tuple[int, int]], units: str = "mm") -> Path:
    """A box of rectangles, one for each of the sizes in mm."""
    path = folder / "box.toml"
    path.write_text(
        f'schema = 1\nunits = "{units}"\n' + "".join(
            f'[[offcut]]\nid = "N{i}"\nwood = "walnut"\nthickness = "2 mm"\n'
            f'rectangle = ["{along} mm", "{across} mm"]\n'
            for i, (along, across) in enumerate(sizes)
        )
    )  # fmt: skip
    return path


@pytest.mark.parametrize("units", ["mm", "in"])
def test_what_a_small_offcut_measures_is_told_whole(tmp_path: Path, units: str) -> None:
    """However narrow the piece is drawn."""
    box = read_box(box_file(tmp_path, [(114, 79), (1250, 40), (9, 160)], units))
    told = [one.text for one in inventory(box).elements if isinstance(one, Text)]
    assert not [text for text in told if "…" in text]
    square = "cm²" if units == "mm" else "in²"
    assert len([text for text in told if " × " in text and text.endswith(square)]) == 3


@pytest.mark.parametrize("longest", [300, 3000])
def test_many_offcuts_take_several_pages(tmp_path: Path, longest: int) -> None:
    path = box_file(tmp_path, [(300, 200)] * 80 + [(longest, 70)])
    pages = inventory_pages(read_box(path))
    assert len(pages) > 1
    assert all(page.height <= 235 and page.width <= 185 for page in pages)


@pytest.mark.parametrize(
    ("words", "area"),
    [
        (["--rectangle", "100", "2 in"], 5080),
        (["--taper", "100", "40", "20"], 3000),
        (["--taper", "100", "40", "20", "--sits", "-4"], 3000),
        (["--curved", "100", "40", "40", "0"], 4000),
        (
            ["--rectangle", "100", "50", "--knot", "50", "25", "10", "--knot", "20", "20", "4"],
            4908.9,
        ),
    ],
)
def test_what_is_added_reads_back(words: list[str], area: float, tmp_path: Path) -> None:
    path = tmp_path / "box.toml"
    ran = rosette("offcuts", "add", str(path), *PLAIN, *words, "--grain", "90", "--note", 'a "b"')
    assert ran.code == 0, ran.err
    (found,) = read_box(path).offcuts
    shape = Polygon(found.outline)
    for ring in found.defects:
        shape = shape.difference(Polygon(ring))
    assert shape.area == pytest.approx(area, abs=1)
    assert (found.grain, found.note, found.thickness) == (90, 'a "b"', 2.4)


def test_a_tracing_is_added_by_its_path_from_the_box(tmp_path: Path) -> None:
    (tmp_path / "traced").mkdir()
    traced = tmp_path / "traced" / "a.svg"
    traced.write_text('<svg viewBox="0 0 99 99"><rect width="80" height="40"/></svg>')
    path = tmp_path / "box.toml"
    ran = rosette("offcuts", "add", str(path), *PLAIN, "--file", str(traced), "--count", "2")
    assert ran.code == 0, ran.err
    (found,) = read_box(path).offcuts
    assert (found.file, found.count) == ("traced/a.svg", 2)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "one of --rectangle, --taper, --curved and --file says the shape"),
        (["--rectangle", "1", "2", "--taper", "1", "2", "3"], "--rectangle; --taper"),
        (["--rectangle", "long", "wide"], '--rectangle: "long" can\'t be read as a length'),
        (["--rectangle", "3/4", "20"], '--rectangle: "3/4" lacks its unit'),
        (["--rectangle", "30", "-20"], "offcut[1].rectangle[2] (S2): -20 is negative"),
        (["--rectangle", "30", "20", "--count", "0"], "offcut[1].count (S2)"),
        (["--rectangle", "30", "20", "--sits", "top"], "--sits goes with --taper"),
        (["--file", "/etc/passwd"], "not a file in the folder"),
    ],
)
def test_what_can_not_be_added(words: list[str], told: str, tmp_path: Path) -> None:
    path = tmp_path / "box.toml"
    ran = rosette("offcuts", "add", str(path), *PLAIN, *words)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err
    assert list(tmp_path.iterdir()) == []


def test_taking_tells_what_went_and_what_came(tmp_path: Path) -> None:
    path = put_box(tmp_path)
    job = cuts(path, {"S2": 1, "T": 2})
    ran = rosette("offcuts", "take", str(path), str(job), "--keep", "10")
    assert ran.code == 0, ran.err
    assert "Taken for Otter no. 1: S2, 2 of T." in ran.out
    assert "offcuts.toml.before" in ran.out.replace("\n  ", "")
    for one in read_box(path).taken[0].back:
        assert f"- {one}: walnut" in ran.out
    again = rosette("offcuts", "take", str(path), str(job))
    assert (again.code, again.out) == (2, "")
    assert "taken out of it already" in again.err


@pytest.mark.parametrize("keep", ["wide", "0", "-3"])
def test_a_side_to_keep_that_is_none(keep: str, tmp_path: Path) -> None:
    path = put_box(tmp_path)
    ran = rosette("offcuts", "take", str(path), str(cuts(path, {"S2": 1})), f"--keep={keep}")
    assert ran.code == 2
    assert "--keep" in ran.err
    assert path.read_text() == TEXT


def test_one_wood_by_two_names_is_summed_as_one(tmp_path: Path) -> None:
    """However it is written: 100 x 50 mm and 2 of 60 x 50 mm are 110 cm² in 3 pieces."""
    box = tmp_path / "box.toml"
    box.write_text(
        'schema = 1\n[[offcut]]\nid = "A"\nwood = "walnut"\nthickness = 2\nrectangle = [100, 50]\n'
        '[[offcut]]\nid = "B"\nwood = "Black Walnut"\nthickness = 2\nrectangle = [60, 50]\n'
        "count = 2\n",
        encoding="utf-8",
    )
    assert "walnut: 3 pieces, 110.0 cm² usable" in rosette("offcuts", "list", str(box)).out
