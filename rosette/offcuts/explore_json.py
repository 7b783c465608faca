"""The choice as JSON: `rosette.explore/1`, all lengths in mm."""

from __future__ import annotations

from typing import Any

from rosette.offcuts.explored import Exploration, Kind, Row

SCHEMA = "rosette.explore/1"


def exploration_json(found: Exploration) -> dict[str, Any]:
    """Plain values, as docs/schemas/explore.schema.json has them."""
    ask = found.ask
    keys, cutting = ask.design.rings[ask.ring - 1].keys, ask.design.cutting
    return {
        "schema": SCHEMA,
        "box": {"file": found.box_file, "sha256": found.box_sha256},
        "method": ask.options.method,
        "kerf": cutting.kerf,
        "inner_allowance": cutting.inner_allowance,
        "outer_allowance": cutting.outer_allowance,
        "tile_thickness": keys.tile_thickness,
        "narrowest": ask.narrowest,
        "widest": ask.widest,
        "step": ask.step,
        "worth": ask.worth,
        "kinds": found.kinds,
        "looked_at": found.looked_at,
        "stopped": found.stopped,
        "rows": [_row(row) for row in found.rows],
        "nothing": [_kind(kind) for kind in found.nothing],
        "notes": [{"code": one.code, "message": one.saying.text(ask.units)} for one in found.notes],
    }


def _kind(kind: Kind) -> dict[str, Any]:
    return {
        "woods": list(kind.woods),
        "segments": kind.segments,
        "inner_radius": kind.inner_radius,
    }


def _row(row: Row) -> dict[str, Any]:
    return {
        "row": row.number,
        **_kind(row.kind),
        "width": row.width,
        "outer_radius": row.outer_radius,
        "mitre_angle": row.mitre,
        "blank": {
            "inner_width": row.size.inner_width,
            "outer_width": row.size.outer_width,
            "height": row.size.height,
        },
        "offcuts": row.offcuts,
        "uses": [{"offcut": name, "pieces": pieces} for name, pieces in row.uses],
        "spares": row.spares,
        "yield": row.yielded,
        "proved": row.proved,
        "at_limit": row.at_limit,
        "best_at": list(row.best),
        "beaten_by": row.beaten_by,
    }
