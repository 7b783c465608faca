"""`rosette check`: one answer to whether a design can be made, in words and as JSON."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.cli.run import rosette
from tests.properties.designs import design_text, line, radial

ROOT = Path(__file__).resolve().parents[2]
DEMOS = sorted((ROOT / "patterns_demo").glob("*/design.toml"))

# docs/design-file.md, "For editors and scripts"
ANSWER = {
    "type": "object",
    "additionalProperties": False,
    "required": ["schema", "ok", "findings"],
    "properties": {
        "schema": {"const": "rosette.check/1"},
        "ok": {"type": "boolean"},
        "findings": {
            "type": "array",
            "items": {
                "type": "object",
                "additionalProperties": False,
                "required": ["kind", "code", "where", "message"],
                "properties": {
                    "kind": {"enum": ["input", "refusal", "warning"]},
                    "code": {"pattern": "^[a-z][a-z0-9-]+$"},
                    "where": {"type": "string"},
                    "message": {"type": "string", "minLength": 5},
                },
            },
        },
    },
}


@pytest.fixture
def written(tmp_path: Path) -> Any:
    def write(*rings: dict[str, Any], **tables: Any) -> str:
        file = tmp_path / "guitar.toml"
        file.write_text(design_text(list(rings), **tables), encoding="utf-8")
        return str(file)

    return write


def answer(*words: str) -> tuple[int, dict[str, Any]]:
    ran = rosette("check", *words, "--json")
    assert not ran.err
    told = json.loads(ran.out)
    Draft202012Validator(ANSWER).validate(told)
    assert told["ok"] is (ran.code == 0)
    return ran.code, told


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.parent.name)
def test_the_demos_can_be_made(demo: Path) -> None:
    ran = rosette("check", str(demo))
    assert ran.code == 0
    assert " can be made" in ran.out
    assert not ran.err
    assert answer(str(demo))[0] == 0


def test_a_sound_design(written: Any) -> None:
    ran = rosette("check", written(radial(tile_thickness=1.8)))
    assert (ran.code, ran.out, ran.err) == (0, "Test can be made as it stands.\n", "")


def test_what_to_think_over(written: Any) -> None:
    # two woods in turn do not go into 35
    file = written(radial(segments=35, wood=["walnut", "maple"]))
    ran = rosette("check", file)
    assert ran.code == 0
    assert ran.out.startswith("Test can be made. To think over before cutting:\n- ring[1].")
    assert max(map(len, ran.out.split("\n"))) <= 80
    code, told = answer(file)
    assert code == 0
    assert {one["kind"] for one in told["findings"]} == {"warning"}


def test_what_can_not_be_made(written: Any) -> None:
    file = written(radial(tile_thickness=9.0), line(inner_radius=60.0))
    ran = rosette("check", file)
    assert (ran.code, ran.out) == (1, "")
    assert "ring[2].inner_radius" in ran.err
    code, told = answer(file)
    assert code == 1
    assert {one["kind"] for one in told["findings"]} == {"refusal"}


def test_what_is_wrong(written: Any) -> None:
    file = written(radial(width=-1.0, segments="36"))
    ran = rosette("check", file)
    assert (ran.code, ran.out) == (2, "")
    assert [told.split(": ")[1] for told in ran.err.rstrip().split("\n")] == [
        "ring[1].width",
        "ring[1].segments",
    ]
    code, told = answer(file)
    assert code == 2
    assert {one["kind"] for one in told["findings"]} == {"input"}
    assert [one["where"] for one in told["findings"]] == ["ring[1].width", "ring[1].segments"]


def test_no_file_at_all(tmp_path: Path) -> None:
    code, told = answer(str(tmp_path / "none.toml"))
    assert code == 2
    assert told["findings"] == [
        {"kind": "input", "code": "missing-file", "where": "", "message": "there is no such file"}
    ]


@pytest.mark.parametrize(
    ("own", "asked", "told"),
    [("mm", None, " mm"), ("in", None, " in "), ("mm", "in", " in "), ("in", "mm", " mm")],
)
def test_lengths_are_told_in_the_designs_units_or_those_asked_for(
    written: Any, own: str, asked: str | None, told: str
) -> None:
    file = written(radial(tile_thickness="9 mm", inner_radius="52 mm", width="18 mm"), units=own)
    text = Path(file).read_text(encoding="utf-8")
    lines = [
        f'{line.split(" = ")[0]} = "{line.split(" = ")[1]} mm"' if _bare(line) else line
        for line in text.split("\n")
    ]
    Path(file).write_text("\n".join(lines), encoding="utf-8")
    ran = rosette("check", file, *(["--units", asked] if asked else []))
    assert ran.code == 1
    assert told in ran.err


def _bare(line: str) -> bool:
    name, _, value = line.partition(" = ")
    return value.replace(".", "").isdigit() and name not in ("schema", "segments")
