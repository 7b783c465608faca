"""Mosaics for tests."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rosette.design import read_design_text
from rosette.patterns.base import Piece, RingPlan
from rosette.plan import make_plan
from tests.properties.designs import design_text

KERF, GRIP, TRIM, ALLOWANCE, THICK = 0.9, 15.0, 0.2, 1.5, 2.2
WOODS = {"w": "walnut", "m": "maple", "r": "padauk"}
MOTIF = ["wmr", "wwm", "rmm", "mww"]


def mosaic(**keys: Any) -> dict[str, Any]:
    """A mosaic's keys, usual ones where not given."""
    usual: dict[str, Any] = {
        "pattern": "mosaic",
        "inner_radius": 52.0,
        "width": 9.0,
        "motif": None if "motif_file" in keys else MOTIF,
        "palette": WOODS,
        "tiles": None if "cell_width" in keys else 20,
        "edge_wood": "ebony",
        "tile_thickness": THICK,
    }
    return {**usual, **keys}


def made(folder: Path | None = None, **keys: Any) -> RingPlan:
    """A ring of one mosaic."""
    palette = keys.get("palette", WOODS)
    quoted = {f'"{name}"': wood for name, wood in palette.items()}
    text = design_text([mosaic(**keys) | {"palette": quoted}]).encode()
    return make_plan(read_design_text(text, "design.toml", folder)).rings[0]


def cell(piece: Piece) -> tuple[int, str]:
    """A cell's column and row as its label has them: 3 and "2" of "1-07.3.2"."""
    _, column, row = piece.label.split(".")
    return int(column), row


def stage(ring: RingPlan, title: str) -> tuple[Piece, ...]:
    """What a stage shows, found by how its title begins."""
    (found,) = (one for one in ring.stages if one.title.startswith(title))
    return found.shapes
