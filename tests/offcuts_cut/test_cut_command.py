"""`rosette cut`: its JSON against the published schema and promise, its report, its folder."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import ezdxf
import jsonschema
import pytest
from shapely import Polygon, unary_union

from rosette.offcuts.cuts_file import read_cuts
from tests.cli.run import Ran, rosette

ROOT = Path(__file__).resolve().parents[2]
DAMSON = ROOT / "patterns_demo" / "damson-parlour"
DESIGN, BOX = str(DAMSON / "design.toml"), str(DAMSON / "offcuts.toml")
SCHEMA = json.loads((ROOT / "docs/schemas/cut.schema.json").read_text("utf-8"))
OPTIONS: list[list[str]] = [
    [],
    ["--spares", "4"],
    ["--spares", "usual", "--keep-neighbours"],
    ["--all"],
    ["--mirrored", "--faces", "both", "--first", "remainder"],
    ["--method", "free", "--skip-hidden"],
    ["--grain-tolerance", "3", "--units", "in"],
]


@cache
def _told(*words: str) -> str:
    ran = rosette("cut", DESIGN, BOX, "--json", *words)
    assert ran.code == 0, ran.err
    return ran.out


def told(*words: str) -> dict[str, Any]:
    """What a cut is told as; each is worked out once."""
    found: dict[str, Any] = json.loads(_told(*words))
    return found


@pytest.mark.parametrize("options", OPTIONS, ids=" ".join)
def test_it_keeps_the_schema(options: list[str]) -> None:
    found = told(*options)
    jsonschema.Draft202012Validator(SCHEMA).validate(found)
    assert found["placed"] == len(found["placements"])
    assert sum(one["placed"] for one in found["offcuts"]) == found["placed"]
    assert all(one["placed"] <= one["bound"] for one in found["offcuts"])
    assert set(found["offcuts_used"]) == {one["offcut"] for one in found["placements"]}


def test_the_schema_can_refuse() -> None:
    found = told()
    found["placements"][0]["flipped"] = "yes"
    del found["kerf"]
    broken = list(jsonschema.Draft202012Validator(SCHEMA).iter_errors(found))
    assert {error.validator for error in broken} == {"type", "required"}


def test_the_promised_keys_say_what_was_promised() -> None:
    found = told()
    assert found["schema"] == "rosette.cut/1"
    assert (found["method"], found["kerf"]) == ("strip", 0.9)
    assert (found["needed"], found["placed"], found["shortfall"]) == (36, 36, 0)
    assert 0.0 < found["yield"] < 1.0
    first = found["placements"][0]
    promised = {"ring", "label", "offcut", "piece", "band", "order", "flipped", "vertices"}
    assert promised <= first.keys()
    assert {"offcut", "piece", "step", "kind", "from", "to"} <= found["cuts"][0].keys()
    assert sorted(one["label"] for one in found["placements"]) == [
        f"1-{n:02d}" for n in range(1, 37)
    ]
    for piece in found["offcuts_used"]:
        steps = [one["step"] for one in found["cuts"] if one["offcut"] == piece]
        assert steps == list(range(1, len(steps) + 1))


def test_a_laser_is_given_no_saw_cuts() -> None:
    found = told("--method", "free")
    assert found["cuts"] == []
    assert found["placed"] == 36


@pytest.mark.parametrize(
    ("words", "by"),
    [
        (("--laser-line", "outside"), 0.45),
        (("--laser-line", "edge"), 0.0),
        (("--laser-line", "edge", "--laser-once"), 0.0),  # no edges fall together
    ],
    ids=["outside", "edge", "edge, once"],
)
def test_files_for_a_laser_run_where_they_are_asked_to(
    tmp_path: Path, words: tuple[str, ...], by: float
) -> None:
    """The kerf is 0.9 mm: outside, the line stands 0.45 mm off each blank."""
    ran = rosette("cut", DESIGN, BOX, "--out", str(tmp_path / "cut"), *words)
    assert ran.code == 0, ran.err
    (file,) = (tmp_path / "cut" / "sheets").glob("*-laser.dxf")
    cuts = ezdxf.readfile(file).modelspace().query('LWPOLYLINE[layer=="cut"]')  # type: ignore[attr-defined]
    document = json.loads((tmp_path / "cut" / "cuts.json").read_text("utf-8"))
    blanks = [Polygon(one["vertices"]) for one in document["placements"]]
    lines = [Polygon(one.get_points("xy")) for one in cuts]
    assert all(one.closed for one in cuts)
    wanted = unary_union([one.buffer(by, join_style="mitre") for one in blanks])
    assert len(lines) == len(blanks)
    assert unary_union(lines).symmetric_difference(wanted).area < 0.5
    assert sum(one.area for one in lines) > sum(one.area for one in blanks) - 1e-6


def test_the_report_fits_the_terminal_and_tells_every_cut() -> None:
    ran = rosette("cut", DESIGN, BOX, "--spares", "usual")
    assert ran.code == 0
    assert ran.err == ""
    assert not [line for line in ran.out.splitlines() if len(line) > 80]
    steps = told("--spares", "usual")["cuts"]
    rows = [line.split()[0] for line in ran.out.splitlines() if line.startswith("    ")]
    assert {str(one["step"]) for one in steps} <= set(rows)
    for heading in ("Order round the ring", "What is left", "Proved", "Least to hold"):
        assert heading in ran.out


def test_lengths_are_told_in_the_units_asked_for() -> None:
    ran = rosette("cut", DESIGN, BOX, "--units", "in")
    assert " in (" in ran.out
    assert " mm" not in ran.out


@pytest.mark.parametrize(("units", "limit"), [("mm", 150.0), ("in", 152.4)])
def test_the_least_to_hold_is_a_round_number_of_the_units(units: str, limit: float) -> None:
    assert told("--units", units)["least_in_hand"]["limit"] == pytest.approx(limit)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--spares", "-1"), "not a number from 0 to 500"),
        (("--spares", "١"), "not a number from 0 to 500"),
        (("--spares", "9" * 5000), "not a number from 0 to 500"),
        (("--grain-tolerance", "50"), "--grain-tolerance"),
        (("--grain-tolerance", "nan"), "--grain-tolerance"),
        (("--least-in-hand", "0"), "more than zero"),
        (("--least-in-hand", "soon"), "--least-in-hand"),
        (("--method", "axe"), "--method"),
        (("--first", "speed"), "--first"),
    ],
)
def test_a_slip_in_the_options_is_told(words: tuple[str, str], said: str) -> None:
    ran = rosette("cut", DESIGN, BOX, *words)
    assert ran.code == 2
    assert said in ran.err
    assert ran.out == ""


def test_a_missing_box_and_a_bad_design_are_told() -> None:
    assert rosette("cut", DESIGN, "nowhere.toml").code == 2
    assert rosette("cut", BOX, BOX).code == 2


def _written(out: Path, *words: str) -> Ran:
    return rosette("cut", DESIGN, BOX, "--out", str(out), *words)


def test_a_folder_holds_the_cuts_and_their_sheets(tmp_path: Path) -> None:
    out = tmp_path / "cuts"
    assert _written(out).code == 0
    manifest = json.loads((out / "manifest.json").read_text("utf-8"))
    names = {one["file"] for one in manifest["files"]}
    assert {"cuts.json", "sheets/box.svg", "sheets/box.dxf"} <= names
    assert all((out / name).is_file() for name in names)
    assert list(out.rglob("*-laser.dxf")) == []  # none was asked for
    again = read_cuts(out)
    assert sum(len(piece.wedges) for piece in again.pieces) == 36


def test_a_whole_job_is_not_overwritten_by_its_cuts(tmp_path: Path) -> None:
    (tmp_path / "packet.pdf").write_bytes(b"a job")
    ran = _written(tmp_path)
    assert ran.code == 2
    assert "whole job" in ran.err
    assert [path.name for path in tmp_path.iterdir()] == ["packet.pdf"]


def test_a_job_can_be_taken_out_of_its_box(tmp_path: Path) -> None:
    """`cut`, then `take`: the wood that was used is gone, what is worth keeping is back."""
    for file in DAMSON.glob("*"):
        if file.suffix in (".toml", ".svg", ".dxf"):
            (tmp_path / file.name).write_bytes(file.read_bytes())
    box, out = str(tmp_path / "offcuts.toml"), tmp_path / "cuts"
    assert rosette("cut", DESIGN, box, "--out", str(out)).code == 0
    used = json.loads((out / "cuts.json").read_text("utf-8"))["offcuts_used"]
    ran = rosette("offcuts", "take", box, str(out))
    assert ran.code == 0, ran.err
    listed = json.loads(rosette("offcuts", "list", box, "--json").out)
    names = {one["id"] for one in listed["offcuts"]}
    assert not names & set(used)


def test_options_that_need_a_box_are_refused_without_one(tmp_path: Path) -> None:
    ran = rosette("make", DESIGN, "--out", str(tmp_path / "job"), "--keep-neighbours")
    assert ran.code == 2
    assert "--offcuts" in ran.err
    assert not (tmp_path / "job").exists()


def test_a_job_out_of_offcuts_holds_its_cuts_and_says_so(tmp_path: Path) -> None:
    out = tmp_path / "job"
    ran = rosette("make", DESIGN, "--offcuts", BOX, "--out", str(out), "--no-fixtures")
    assert ran.code == 0, ran.err
    cuts = json.loads((out / "cuts.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(SCHEMA).validate(cuts)
    assert cuts["spares_placed"] == 4  # a tenth of 36, rounded up
    manifest = json.loads((out / "manifest.json").read_text("utf-8"))
    files = {one["file"] for one in manifest["files"]}
    assert {"cuts.json", "sheets/box.svg", "sheets/sources-1.svg"} <= files
    assert any(name.startswith("sheets/offcut-") for name in files)
    assert "cuts.json" in ran.out


def test_a_long_wood_stands_clear_of_its_count(tmp_path: Path) -> None:
    design, box = tmp_path / "design.toml", tmp_path / "box.toml"
    design.write_text(Path(DESIGN).read_text().replace('"walnut"', '"curly maple"'))
    box.write_text(
        'schema = 1\n[[offcut]]\nid = "A"\nwood = "curly maple"\nthickness = 3\n'
        "rectangle = [400, 120]\n"
    )
    assert "  Ring 1, curly maple 36 of 36 wedges\n" in rosette("cut", str(design), str(box)).out


def interrupted(*_: object, **__: object) -> object:
    raise KeyboardInterrupt


@pytest.mark.parametrize("method", ["strip", "free"])
def test_ctrl_c_at_once_says_that_nothing_was_found_yet(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, method: str
) -> None:
    monkeypatch.setattr("rosette.offcuts.layouts.layout_of", interrupted)
    out = tmp_path / "job"
    ran = rosette("cut", DESIGN, BOX, "--method", method, "--out", str(out))
    assert ran.code == 130
    assert "STOPPED BEFORE THE END: nothing was found yet." in ran.out
    assert "0 of 36 wedges" in ran.out
    assert f"nothing was found yet. Nothing is written to {out}." in ran.err
    assert "best plan" not in ran.out + ran.err
    assert not out.exists()


def test_ctrl_c_while_offcuts_are_chosen_says_that_there_is_no_plan(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("rosette.offcuts.cutting.chosen", interrupted)
    ran = rosette("cut", DESIGN, BOX)
    assert (ran.code, ran.out) == (130, "")
    assert ran.err.strip() == "Stopped: no plan was found yet, and nothing was changed."


def test_ctrl_c_while_it_looks_for_other_designs_keeps_the_plan(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("rosette.offcuts.alternatives.alternatives", interrupted)
    ran = rosette("cut", DESIGN, BOX, "--spares", "400")
    assert ran.code == 130
    assert "36 of 36 wedges" in ran.out
    assert "what the box does allow was not found yet" in ran.err
