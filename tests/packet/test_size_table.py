"""The table of a size range: rows become designs, and mistakes are named by their lines."""

from __future__ import annotations

from pathlib import Path

import pytest

from rosette.design.read import read_design_text
from rosette.errors import InputError
from rosette.packet.size_table import Row, read_sizes

ROOT = Path(__file__).resolve().parents[2]
DESIGN = ROOT / "patterns_demo" / "damson-parlour" / "design.toml"


def _rows(folder: Path, text: str) -> tuple[Row, ...]:
    table = folder / "sizes.csv"
    table.write_text(text, encoding="utf-8")
    return read_sizes(table, DESIGN)


def test_each_row_is_the_design_with_its_own_ring(tmp_path: Path) -> None:
    one, two = _rows(
        tmp_path, "name,inner_radius,width,segments\nsmall,50,14,24\n\nlarge,56,20,48\n"
    )
    assert (one.name, two.name) == ("small", "large")
    assert (one.line, two.line) == (2, 4)
    assert one.design is not None
    assert two.design is not None
    ring = one.design.rings[0]
    assert (ring.inner_radius, ring.outer_radius) == (50.0, 64.0)
    assert getattr(two.design.rings[0].keys, "segments") == 48  # noqa: B009
    assert one.design.instrument.name == two.design.instrument.name


def test_the_file_kept_of_a_row_is_that_very_design(tmp_path: Path) -> None:
    (row,) = _rows(tmp_path, "inner_radius,outer_radius,segments\n52.5,70,30\n")
    assert row.design is not None
    again = read_design_text(row.record, "again.toml")
    assert again.rings[0].outer_radius == 70.0
    assert again.sha256 == row.design.sha256
    assert row.name == "52.5-70-30"


@pytest.mark.parametrize(
    ("text", "radius"),
    [
        ("inner_radius;width;segments\n52,5;18;36\n", 52.5),
        ("inner_radius\twidth\tsegments\n2 1/16 in\t18\t36\n", 52.3875),
        ('inner_radius,width,segments\n"2.1""",18,36\n', 53.34),
        ("\ufeffinner_radius,width,segments\r\n52,18,36\r\n", 52.0),
    ],
    ids=["semicolons and decimal commas", "tabs and fractions", "quotes", "as a spreadsheet saves"],
)
def test_tables_as_programs_write_them(tmp_path: Path, text: str, radius: float) -> None:
    (row,) = _rows(tmp_path, text)
    assert row.wrong == ()
    assert row.design is not None
    assert row.design.rings[0].inner_radius == pytest.approx(radius)


def test_a_row_that_is_wrong_is_kept_apart(tmp_path: Path) -> None:
    bad, good, odd = _rows(
        tmp_path,
        "name,ring,inner_radius,width,segments\na,,wide,18,36\nb,,52,18,36\nc,9,52,18,36\n",
    )
    assert bad.design is None
    assert "ring[1].inner_radius" in bad.wrong[0].text()
    assert good.design is not None
    assert "it has 1 to" in odd.wrong[0].text()


def test_an_unknown_column_is_told_of_with_the_nearest(tmp_path: Path) -> None:
    (row,) = _rows(tmp_path, "inner_radius,width,segmants\n52,18,36\n")
    assert any("segments" in one.text() for one in row.wrong)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "first line is empty"),
        ("name,ring\na,1\n", "names no size"),
        ("width,width\n1,2\n", "two columns are called 'width'"),
        ("inner_radius,width\n", "no rows"),
        ("name,width\na,18\nA,19\n", "lines 2 and 3 both make the folder A"),
        ("name,width\n../x,18\n", "line 2: \"../x\" can't be a folder's name"),
        ("name,width\nnul,18\n", "can't be a folder's name"),
        ("width\n" + "18\n" * 3000, "at most 2000"),
    ],
)
def test_a_table_that_can_not_be_used(tmp_path: Path, text: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        _rows(tmp_path, text)
    assert any(told in line for line in caught.value.lines()), caught.value.lines()
    assert all("sizes.csv" in line for line in caught.value.lines())
