"""Plan → JSON, as docs/file-formats.md promises it: millimetres, degrees, full precision."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from rosette.errors import Finding
from rosette.geometry.hidden import Visibility
from rosette.geometry.outline import Outline
from rosette.patterns.base import CutBlank, Piece, RingPlan, Stage, Wedges
from rosette.plan.model import Channel, Movement, Plan
from rosette.units import Units

SCHEMA = "rosette.plan/1"

Json = dict[str, Any]


def plan_json(plan: Plan, units: Units | None = None) -> Json:
    """The plan as plain JSON values.

    Numbers are mm, degrees, °C and percent whatever `units` says; it only words the steps and
    warnings, in the design's own units where it is None.
    """
    spoken = units or plan.units
    hidden = plan.hidden
    return {
        "schema": SCHEMA,
        "name": plan.name,
        "instrument": {
            "soundhole_diameter": plan.soundhole_diameter,
            "top_thickness": plan.top_thickness,
            "fingerboard": None
            if hidden is None
            else {"width": hidden.width, "reach": hidden.reach},
        },
        "kerf": plan.kerf,
        "rings": [_ring(ring, spoken) for ring in plan.rings],
        "channels": [_channel(channel) for channel in plan.channels],
        "movement": [_movement(one) for one in plan.movement],
        "fixtures": {**asdict(plan.fixtures), "kinds": list(plan.fixtures.kinds)},
        "warnings": findings_json(plan.warnings, spoken),
    }


def findings_json(findings: Iterable[Finding], units: Units) -> list[Json]:
    """Findings as code, place and sentence."""
    return [
        {"code": one.code, "where": one.where, "message": one.saying.text(units)}
        for one in findings
    ]


def _ring(ring: RingPlan, units: Units) -> Json:
    told: Json = {
        "index": ring.index,
        "pattern": ring.pattern,
        "inner_radius": ring.inner_radius,
        "outer_radius": ring.outer_radius,
        "tile_thickness": ring.tile_thickness,
        "backing": ring.backing,
        "woods": list(ring.woods),
    }
    if ring.wedges is not None:
        told |= _wedges(ring.wedges, units)
    if ring.strip is not None:
        told["strip"] = asdict(ring.strip)
    told["pieces"] = [_piece(piece) for piece in ring.pieces]
    if ring.spacers:
        told["spacers"] = [_piece(piece) for piece in ring.spacers]
    if ring.stock:
        told["stock"] = [asdict(one) for one in ring.stock]
    if ring.stages:
        told["stages"] = [_stage(one, units) for one in ring.stages]
    if ring.blanks:
        told["blanks"] = [_cut_blank(one) for one in ring.blanks]
    told["steps"] = [step.text(units) for step in ring.steps]
    return told


def _stage(stage: Stage, units: Units) -> Json:
    return {
        "title": stage.title,
        "saying": stage.saying.text(units),
        "sizes": [{"what": what, "size": size} for what, size in stage.sizes],
        "shapes": [_piece(one) for one in stage.shapes],
    }


def _cut_blank(blank: CutBlank) -> Json:
    told = asdict(blank)
    told["places"] = [
        {"label": one.label, "position": one.position, "visibility": one.visibility.value}
        for one in blank.places
    ]
    return told


def _wedges(wedges: Wedges, units: Units) -> Json:
    told: Json = {
        "segments": wedges.segments,
        "visible_segments": wedges.visible_segments,
        "included_angle": wedges.included_angle,
        "mitre_angle": wedges.mitre_angle,
        "joint": wedges.joint,
        "spacer": None
        if wedges.spacer_wood is None
        else {"wood": wedges.spacer_wood, "thickness": wedges.spacer_thickness},
        "glue_line": wedges.glue_line,
        "at_centreline": wedges.at_centreline,
        "blank": asdict(wedges.blank),
        "finished": asdict(wedges.finished),
        "glue_up": asdict(wedges.glue_up),
        "wood_counts": [asdict(one) for one in wedges.woods],
        "closing": asdict(wedges.closing),
        "seam": asdict(wedges.seam),
    }
    if wedges.chosen is not None:
        told["chosen"] = wedges.chosen.text(units)
    return told


def _piece(piece: Piece) -> Json:
    told: Json = {
        "label": piece.label,
        "position": piece.position,
        "wood": piece.wood,
        "kind": piece.kind,
        "hidden": piece.visibility is Visibility.HIDDEN,
        "visibility": piece.visibility.value,
        "grain": piece.axis,
        "outline": _points(piece.outline),
    }
    if piece.holes:
        told["holes"] = [_points(hole) for hole in piece.holes]
    return told


def _points(outline: Outline) -> list[list[float]]:
    return [[x, y] for x, y in outline.points()]


def _channel(channel: Channel) -> Json:
    told = asdict(channel)
    told["rings"] = list(channel.rings)
    told["steps"] = [{**step, "rings": list(step["rings"])} for step in told["steps"]]
    told["passes"] = list(told["passes"])
    return told


def _movement(movement: Movement) -> Json:
    return {**asdict(movement), "sources": list(movement.sources)}
