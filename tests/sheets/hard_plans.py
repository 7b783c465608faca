"""Plans that ask a lot of a sheet: few wedges and many, hair-thin, jointed, in inches."""

from __future__ import annotations

from functools import cache
from typing import Any

from rosette.design import read_design_text
from rosette.plan import make_plan
from rosette.plan.model import Plan
from tests.properties.designs import BASE, design, design_text, line, radial

SPACER = {"wood": "maple", "thickness": 0.5}
LONG_NAME = "quilted bigleaf maple from the tree that fell across the lower ford in winter"

RINGS: dict[str, list[dict[str, Any]]] = {
    "3 wedges": [radial(segments=3, width=10.0)],
    "5 wedges": [radial(segments=5, width=10.0)],
    "6 wedges": [radial(segments=6, inner_radius=50.8, width=25.4)],
    "12 wedges": [radial(segments=12)],
    "24 wedges of two woods between lines": [
        line(inner_radius=48.0, width=1.1),
        radial(segments=24, inner_radius=None, space=2.0, wood=["walnut", "maple"]),
        line(space=2.0),
    ],
    "36 wedges with spacers": [radial(spacer=SPACER, glue_line=0.05), line()],
    "72 wedges, backed": [radial(segments=72, spacer=SPACER, backing=0.4), line()],
    "180 wedges": [radial(segments=180, spacer=SPACER)],
    "a hair-thin ring": [radial(segments=24, width=1.1)],
    "a long name of a wood": [radial(segments=20, wood=[LONG_NAME, "walnut"])],
    "a large ring": [radial(segments=30, inner_radius=70.0, width=40.0)],
    "lines alone": [line(inner_radius=50.0), line(wood="ebony", width=2.0), line(space=2.0)],
    "three depths": [
        line(inner_radius=50.0, tile_thickness=1.2),
        radial(tile_thickness=2.2, segments=36, inner_radius=None),
        line(tile_thickness=1.6),
    ],
}


@cache
def plan(name: str, units: str = "mm") -> Plan:
    """One of the plans above; a design in inches means the same lengths."""
    tables = {
        table: {key: _said(value) for key, value in keys.items()}
        for table, keys in BASE.items()
        if isinstance(keys, dict)
    }
    rings = [{key: _said(value) for key, value in ring.items()} for ring in RINGS[name]]
    return make_plan(design(rings, units=units, **tables))


def _said(value: Any) -> Any:
    """A length with its unit, so that it means the same in any file."""
    if isinstance(value, dict):
        return {key: _said(one) for key, one in value.items()}
    return f"{value} mm" if isinstance(value, float) else value


@cache
def bare(name: str) -> Plan:
    """The same without a fingerboard, with nothing left to trim, no gap and nothing proud."""
    text = design_text(
        RINGS[name],
        cutting={"inner_allowance": 0.0, "outer_allowance": 0.0},
        channel={"gap": 0.0, "proud": 0.0},
    )
    kept = [one for one in text.splitlines() if not one.startswith("fingerboard_")]
    return make_plan(read_design_text("\n".join(kept).encode(), "design.toml"))
