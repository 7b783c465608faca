"""Any file whatever is a design, or findings, or refusals; never another error, never a hang."""

from __future__ import annotations

import datetime
import json
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from rosette.design import read_design_text
from rosette.design.model import DesignKeys
from rosette.design.names import homes
from rosette.design.schema import design_schema
from rosette.errors import CannotMakeError, InputError, RosetteError
from rosette.patterns import patterns
from rosette.plan import make_plan
from tests.properties.designs import BASE, design_text, line, radial, toml

ROOT = Path(__file__).resolve().parents[2]
DEMOS = sorted((ROOT / "patterns_demo").glob("*/design.toml"))
LONGEST = 5.0
"""Seconds that no file of any content may take; the worst found take one, on a busy machine."""


def outcome(data: bytes) -> str:
    """Read and plan; anything but the two errors of the house escapes and fails the test."""
    started = time.perf_counter()
    told: RosetteError | None = None
    try:
        make_plan(read_design_text(data, "fuzz.toml"))
    except (InputError, CannotMakeError) as error:
        told = error
    assert time.perf_counter() - started < LONGEST
    if told is None:
        return "plan"
    assert told.findings
    for line_ in told.lines():
        assert line_.isprintable()
        assert line_.startswith("fuzz.toml: ")
        assert len(line_) < 1000
    return "input" if isinstance(told, InputError) else "refused"


HOSTILE = st.one_of(
    st.sampled_from(
        [
            float("nan"), float("inf"), -float("inf"), 1e308, -1e308, 5e-324, -0.0, 0, -1, 1e-9,
            9999.99, 720, 3, 10**30, -(10**30), True, False, "", " ", "36", "3 3/4 in", "1/64 in",
            "3 mm", "٣ mm", "1e3 mm", "0 mm", "9999 mm", "\x7f", "\u202e", "a" * 300, [], [[]],
            [1], ["a"], {}, {"wood": "maple"}, {"wood": "maple", "thickness": 0.5}, {"a": {"b": 1}},
        ]
    ),
    st.integers(),
    st.floats(),
    st.floats(0, 200, allow_nan=False),
    st.integers(0, 1000),
    st.text(max_size=20).filter(lambda text: "\x00" not in text),
)  # fmt: skip
KEYS = st.one_of(
    st.sampled_from(sorted({*homes(), *DesignKeys.known, "ring"})), st.text(max_size=12)
)


def written(value: Any) -> str:
    """A value as TOML, whatever it is."""
    if isinstance(value, str):
        return json.dumps(value).replace("\x7f", "\\u007f")
    if isinstance(value, float):
        return repr(value).replace("e+", "e")
    return toml(value)


@st.composite
def mutated(draw: st.DrawFn) -> bytes:
    """A design that could be made, with a few values, keys and tables changed."""
    rings = [line(inner_radius=50.0), radial(inner_radius=None), line(), radial(space=2.0)]
    rings = [{**ring} for ring in rings[: draw(st.integers(1, 4))]]
    if draw(st.booleans()):
        rings[-1]["spacer"] = {"wood": "maple", "thickness": 0.5}
    tables: dict[str, dict[str, Any]] = {n: {**t} for n, t in BASE.items() if isinstance(t, dict)}
    climate = {"temperature": 21, "humidity": 45}
    tables["climate"] = {"build": climate, "dry": {**climate, "humidity": 20}}
    spots = [*tables.values(), *rings]
    for _ in range(draw(st.integers(1, 4))):
        spot = draw(st.sampled_from(spots))
        known = sorted(spot)
        name = draw(st.one_of(st.sampled_from(known), KEYS)) if known else draw(KEYS)
        if draw(st.booleans()):
            spot.pop(name, None)
        else:
            spot[name] = draw(HOSTILE)
    units = draw(st.sampled_from(["mm", "in", "mm", "cm"]))
    lines = ["schema = 1", f'units = "{units}"']
    for name, table in tables.items():
        lines += [f"[{name}]", *(f"{json.dumps(k)} = {written(v)}" for k, v in table.items())]
    for ring in rings:
        lines += ["[[ring]]", *(f"{json.dumps(k)} = {written(v)}" for k, v in ring.items())]
    return "\n".join(lines).replace("\x7f", "\\u007f").encode("utf-8", "replace")


@settings(max_examples=250, deadline=None)
@given(mutated())
def test_a_design_with_a_few_things_changed(data: bytes) -> None:
    outcome(data)


MEASURES = st.one_of(
    st.floats(0.001, 10, allow_subnormal=False),
    st.floats(10, 300),
    st.sampled_from([1e-9, 1e-3, 0.05, 0.8, 1.5, 3.175, 45.0, 50.0, 94.0, 9999.0]),
)
TABLES = {
    "instrument": ["soundhole_diameter", "top_thickness", "fingerboard_width", "fingerboard_reach"],
    "cutting": ["kerf", "inner_allowance", "outer_allowance"],
    "channel": ["proud", "gap", "minimum_floor", "bit_diameter", "depth_per_pass"],
}


@st.composite
def readable(draw: st.DrawFn) -> bytes:
    """A design that reads, with lengths from a hair to a house and counts from 3 to 720."""
    tables: dict[str, dict[str, Any]] = {name: {} for name in TABLES}
    for name, keys in TABLES.items():
        for key in draw(st.sets(st.sampled_from(keys), max_size=2)):
            tables[name][key] = draw(MEASURES)
    air = st.fixed_dictionaries({"temperature": st.floats(-20, 60), "humidity": st.floats(0.1, 99)})
    if draw(st.booleans()):
        tables["climate"] = {"build": draw(air), "dry": draw(air), "humid": draw(air)}
    rings: list[dict[str, Any]] = []
    for _ in range(draw(st.integers(1, 3))):
        ring = draw(st.sampled_from([radial, line]))(inner_radius=None)
        ring["space"] = draw(st.one_of(st.floats(0, 5), MEASURES))
        for key in draw(st.sets(st.sampled_from(["width", "tile_thickness", "backing"]))):
            ring[key] = draw(MEASURES)
        if ring["pattern"] == "radial":
            ring["segments"] = draw(st.one_of(st.integers(3, 48), st.integers(3, 720)))
            ring["at_centreline"] = draw(st.sampled_from(["joint", "wedge"]))
            if draw(st.booleans()):
                ring["segments"], ring["segment_width"] = None, draw(MEASURES)
            if draw(st.booleans()):
                ring["spacer"] = {"wood": "maple", "thickness": draw(MEASURES)}
        rings.append(ring)
    return design_text(rings, **tables).encode()


@settings(max_examples=200, deadline=None)
@given(readable())
def test_a_design_that_reads_is_planned_or_refused(data: bytes) -> None:
    assert outcome(data) in ("plan", "refused")


@settings(max_examples=60, deadline=None)
@given(mutated())
def test_the_schema_takes_whatever_the_reader_takes(data: bytes) -> None:
    try:
        read_design_text(data)
    except InputError:
        return
    content = json.loads(json.dumps(tomllib.loads(data.decode()), default=datetime.date.isoformat))
    Draft202012Validator(design_schema()).validate(content)


@pytest.mark.parametrize(
    ("keys", "end"),
    [({}, "plan"), ({"width": -1.0}, "input"), ({"tile_thickness": 30.0}, "refused")],
)
def test_each_end_can_be_reached(keys: dict[str, float], end: str) -> None:
    assert outcome(design_text([radial(**keys)]).encode()) == end


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=300))
def test_random_bytes(data: bytes) -> None:
    assert outcome(data) == "input"


@settings(max_examples=150, deadline=None)
@given(st.text(alphabet="[]{}=\"'\\#.,\n\t abc012eE+-_:TZ", max_size=120))
def test_random_toml(text: str) -> None:
    assert outcome(text.encode()) == "input"


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_a_demo_with_bytes_changed(data: st.DataObject) -> None:
    demo = bytearray(data.draw(st.sampled_from(DEMOS)).read_bytes())
    for _ in range(data.draw(st.integers(1, 5))):
        at = data.draw(st.integers(0, len(demo) - 1))
        demo[at : at + data.draw(st.integers(0, 30))] = data.draw(st.binary(max_size=5))
    outcome(bytes(demo))


def test_a_demo_cut_off_anywhere() -> None:
    demo = DEMOS[0].read_bytes()
    ends = [outcome(demo[:end]) for end in range(len(demo))]
    assert ends[0] == "input"
    # cut off in the last ring's remarks or blanks it is whole; before the first ring it never is
    assert set(ends[: demo.index(b"[[ring]]")]) == {"input"}


FILL = 256 * 1024


@pytest.mark.parametrize(
    "text",
    [
        "a." * 49 + "a=1\n" + "".join(f"k{i}{'.a' * 99}=1\n" for i in range(FILL // 210)),
        "".join(f"[k{i}{'.a' * 99}]\n" for i in range(FILL // 210)),
        "k={" + ",".join(f"a{i}.b=1" for i in range(FILL // 10)) + "}",
        "[[ring]]\n" * (FILL // 10),
        "[" * FILL,
        "a=" + "[" * 400 + "]" * 400,
        "a=" + "{a=" * 200 + "1" + "}" * 200,
        "ring=" + "[{spacer=" * 100 + "1" + "}]" * 100,
        "a=" + "1_" * (FILL // 3) + "1",
        "a=0x" + "f" * (FILL - 10),
        "a=1e" + "9" * (FILL - 10),
        'a="' + "x" * (FILL - 10) + '"',
        'a="' + "\\u0041" * (FILL // 6 - 2) + '"',
        "x" * FILL,
        "".join(f"k{i}=1\n" for i in range(FILL // 9)),
        "[cutting]\n" + "".join(f"kerf{i}=1\n" for i in range(FILL // 12)),
        "[[ring]]\npattern='line'\nwood=[" + "'a'," * (FILL // 5) + "]",
        "[[ring]]\npattern='radial'\nwood=[" + "1," * (FILL // 3) + "]",
        "\n" * FILL,
        "#" * FILL,
        "a=" + " " * (FILL - 3),
        "='" * (FILL // 2),
        "1970-01-01" * (FILL // 12),
        "a=[" + "1979-05-27T07:32:00Z," * (FILL // 22) + "]",
    ],
    ids=lambda text: f"{text[:14]!r}",
)
def test_hostile_files_end_soon(text: str) -> None:
    assert outcome(text.encode()) == "input"


def test_every_pattern_is_among_the_designs() -> None:
    used = {ring["pattern"] for ring in (line(), radial())}
    used |= {one["pattern"] for demo in DEMOS for one in tomllib.loads(demo.read_text())["ring"]}
    assert used == set(patterns())
