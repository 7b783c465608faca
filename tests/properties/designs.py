"""Designs for property tests: built in code, and drawn at random by hypothesis."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from rosette.design import read_design_text
from rosette.design.model import Design

BASE: dict[str, Any] = {
    "schema": 1,
    "units": "mm",
    "instrument": {
        "name": "Test",
        "soundhole_diameter": 90.0,
        "top_thickness": 3.5,
        "fingerboard_width": 57.0,
        "fingerboard_reach": 40.0,
    },
    "cutting": {"kerf": 0.9, "inner_allowance": 1.5, "outer_allowance": 1.5},
    "channel": {"bit_diameter": 1.0, "proud": 0.2, "gap": 0.05, "minimum_floor": 0.8},
}


def toml(value: Any) -> str:
    """A value as TOML."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{k} = {toml(v)}" for k, v in value.items()) + " }"
    return repr(value)


def design_text(rings: list[dict[str, Any]], **tables: Any) -> str:
    """A design file: the base, with tables and top keys laid over it, and these rings."""
    content = {
        name: {**value, **tables.get(name, {})}
        if isinstance(value, dict)
        else tables.get(name, value)
        for name, value in BASE.items()
    }
    content |= {k: v for k, v in tables.items() if k not in content}
    lines = [f"{k} = {toml(v)}" for k, v in content.items() if not isinstance(v, dict)]
    for name, table in content.items():
        if isinstance(table, dict):
            lines += [f"[{name}]", *(f"{k} = {toml(v)}" for k, v in table.items())]
    for ring in rings:
        lines += ["[[ring]]", *(f"{k} = {toml(v)}" for k, v in ring.items() if v is not None)]
    return "\n".join(lines) + "\n"


def design(rings: list[dict[str, Any]], **tables: Any) -> Design:
    """The same, read."""
    return read_design_text(design_text(rings, **tables).encode(), "design.toml")


def radial(**keys: Any) -> dict[str, Any]:
    """A radial ring's keys, usual ones where not given."""
    usual: dict[str, Any] = {
        "pattern": "radial",
        "inner_radius": 52.0,
        "width": 18.0,
        "segments": 36,
        "wood": ["walnut"],
        "tile_thickness": 2.2,
    }
    return {**usual, **keys}


def line(**keys: Any) -> dict[str, Any]:
    """A line's keys, usual ones where not given."""
    usual: dict[str, Any] = {
        "pattern": "line",
        "width": 1.2,
        "wood": "maple",
        "tile_thickness": 2.2,
    }
    return {**usual, **keys}


@st.composite
def radial_rings(draw: st.DrawFn) -> dict[str, Any]:
    """Rings of wedges that can be made: 3 to 180 wedges, hair-thin to wide, jointed or not."""
    segments = draw(st.integers(3, 180))
    inner = draw(st.floats(46.0, 80.0))
    thinnest_joint = draw(st.sampled_from([0.0, 0.0, 0.2, 0.6]))
    keys = radial(
        inner_radius=inner,
        width=draw(st.floats(1.1, 40.0)),
        segments=segments,
        wood=draw(st.sampled_from([["walnut"], ["walnut", "maple"], ["koa", "maple", "cherry"]])),
        at_centreline=draw(st.sampled_from(["joint", "wedge"])),
    )
    if thinnest_joint:
        keys["spacer"] = {"wood": "maple", "thickness": thinnest_joint}
        keys["glue_line"] = draw(st.sampled_from([0.0, 0.05]))
    return keys
