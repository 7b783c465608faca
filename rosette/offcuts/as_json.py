"""A cutting plan as JSON: the format `rosette.cut/1`, described in docs/file-formats.md."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rosette.offcuts.alternatives import Alternative
from rosette.offcuts.cutplan import CutPiece, CuttingPlan, CutWedge, Remainder, SawCut, Tally
from rosette.offcuts.fingerprint import fingerprint
from rosette.offcuts.model import Point
from rosette.units import Units

SCHEMA = "rosette.cut/1"


def cut_json(
    cutting: CuttingPlan, units: Units = "mm", offered: Sequence[Alternative] = ()
) -> dict[str, Any]:
    """Everything in millimetres and degrees; `units` only tells the sentences.

    `offered`: what the box does allow where it lacks wood for the plan.
    """
    holding = [one.least_in_hand for one in cutting.touched if one.least_in_hand is not None]
    return {
        "schema": SCHEMA,
        "name": cutting.name,
        "method": cutting.method,
        "kerf": cutting.kerf,
        "needed": cutting.needed,
        "placed": cutting.placed,
        "shortfall": cutting.missing,
        "spares": sum(tally.spares for tally in cutting.tallies),
        "spares_placed": sum(tally.spares_placed for tally in cutting.tallies),
        "offcuts_used": list(dict.fromkeys(piece.id for piece in cutting.touched)),
        "fewest_offcuts": cutting.fewest_offcuts,
        "yield": cutting.yielded,
        "complete": cutting.complete,
        "interrupted": cutting.interrupted,
        "arrangement": cutting.arrangement,
        "faces": cutting.faces,
        "objectives": list(cutting.objectives),
        "grain_tolerance": cutting.grain_tolerance,
        "least_in_hand": {"limit": cutting.least_in_hand, "least": min(holding, default=None)},
        "box": {"file": cutting.box_file, "sha256": cutting.box_sha256},
        "design": {"sha256": cutting.design_sha256},
        "rings": [_tally(one) for one in cutting.tallies],
        "offcuts": [_piece(one) for one in cutting.pieces],
        "placements": [_wedge(one) for one in cutting.wedges],
        "cuts": [_cut(piece, one) for piece, one in cutting.cuts()],
        "remainders": [
            _remainder(piece, one) for piece in cutting.touched for one in piece.remainders
        ],
        "warnings": [
            {"code": one.code, "where": one.where, "message": one.saying.text(units)}
            for one in cutting.warnings
        ],
        "alternatives": [
            {"what": one.what.text(units), "toml": one.toml, "options": one.flags}
            for one in offered
        ],
    }


def _tally(one: Tally) -> dict[str, Any]:
    return {
        "ring": one.ring,
        "wood": one.wood,
        "name": one.name,
        "thickness": one.thickness,
        "mitre": one.mitre,
        "blank": {
            "inner_width": one.size.inner_width,
            "outer_width": one.size.outer_width,
            "height": one.size.height,
        },
        "needed": one.needed,
        "placed": one.placed,
        "shortfall": one.missing,
        "spares": one.spares,
        "spares_placed": one.spares_placed,
        "fewest_offcuts": one.fewest,
        "arrangement": one.arrangement,
    }


def _piece(one: CutPiece) -> dict[str, Any]:
    return {
        "id": one.id,
        "piece": one.piece,
        "wood": one.wood.wood,
        "thickness": one.wood.thickness,
        "sha256": fingerprint(one.wood),
        "placed": len(one.wedges),
        "bound": one.bound,
        "proved": one.proved,
        "area": one.area,
        "tilt": one.tilt,
        "least_in_hand": one.least_in_hand,
        "holds": [
            {
                "ring": held.ring,
                "capacity": held.capacity,
                "bound": held.bound,
                "proved": held.proved,
            }
            for held in one.holds
        ],
        "planed": [{"ring": ring, "thickness": thickness} for ring, thickness in one.planed],
    }


def _wedge(one: CutWedge) -> dict[str, Any]:
    return {
        "ring": one.ring,
        "label": one.label,
        "position": one.position,
        "spare": one.spare,
        "wood": one.wood,
        "name": one.name,
        "visibility": one.visibility.value,
        "offcut": one.offcut,
        "piece": one.piece,
        "band": one.band,
        "order": one.order,
        "run": one.run,
        "flipped": one.flipped,
        "turn": one.turn,
        "face": one.face,
        "laid": one.laid,
        "centre": _point(one.centre),
        "vertices": _points(one.vertices),
    }


def _cut(piece: CutPiece, one: SawCut) -> dict[str, Any]:
    return {
        "offcut": piece.id,
        "piece": piece.piece,
        "step": one.step,
        "kind": one.kind,
        "from": _point(one.start),
        "to": _point(one.end),
        "band": one.band,
        "ring": one.ring,
        "mitre": one.mitre,
        "swing": one.swing,
        "turn_over": one.turn_over,
        "fence": None if one.fence_line is None else _points(one.fence_line),
        "frees": list(one.frees),
        "in_hand": one.in_hand,
    }


def _remainder(piece: CutPiece, one: Remainder) -> dict[str, Any]:
    return {
        "offcut": piece.id,
        "piece": piece.piece,
        "area": one.area,
        "along": one.along,
        "across": one.across,
        "useful": one.useful,
        "outline": _points(one.outline),
        "holes": [_points(ring) for ring in one.holes],
        "defects": [_points(ring) for ring in one.defects],
    }


def _points(points: Sequence[Point]) -> list[list[float]]:
    return [_point(point) for point in points]


def _point(point: Point) -> list[float]:
    return [float(point[0]), float(point[1])]
