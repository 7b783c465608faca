"""`rosette plan --json` against its published schema, and what the schema can't say."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from rosette.plan import make_plan
from rosette.plan.as_json import plan_json
from tests.properties.designs import design, line, radial

SCHEMA = json.loads((Path(__file__).parents[2] / "docs/schemas/plan.schema.json").read_text())
CLIMATE = {
    "build": {"temperature": 20, "humidity": 45.0},
    "humid": {"temperature": 25, "humidity": 60.0},
}
RINGS: list[list[dict[str, Any]]] = [
    [radial()],
    [radial(segments=None, segment_width=9.0, spacer={"wood": "maple", "thickness": 0.5}), line()],
    [line(inner_radius=50.0), radial(inner_radius=None, space=2.0, wood=["a", "walnut"])],
]


def told(rings: list[dict[str, Any]]) -> dict[str, Any]:
    made = plan_json(make_plan(design(rings, climate=CLIMATE)))
    again: dict[str, Any] = json.loads(json.dumps(made, allow_nan=False))
    assert again == made
    return again


@pytest.mark.parametrize("rings", RINGS)
def test_it_keeps_the_schema(rings: list[dict[str, Any]]) -> None:
    jsonschema.Draft202012Validator(SCHEMA).validate(told(rings))


def test_the_schema_can_refuse() -> None:
    broken = told(RINGS[0])
    del broken["rings"][0]["blank"]["height"]
    broken["rings"][0]["extra"] = 1
    errors = list(jsonschema.Draft202012Validator(SCHEMA).iter_errors(broken))
    assert len(errors) == 2


def test_lengths_are_never_rounded() -> None:
    """Full precision: a third of a turn's chord has more than 12 digits."""
    chord = told([radial(segments=7)])["rings"][0]["finished"]["outer_chord"]
    assert round(chord, 9) != chord


def test_a_piece_per_segment_numbered_from_the_seam() -> None:
    (ring,) = told([radial(segments=120)])["rings"]
    assert [piece["label"] for piece in ring["pieces"]][:2] == ["1-001", "1-002"]
    assert [piece["position"] for piece in ring["pieces"]] == list(range(1, 121))
