"""The files of a cutting plan: cuts.json and its sheets, in a job or in a folder of their own."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from rosette import __version__
from rosette.design.model import Design
from rosette.errors import InputError, finding
from rosette.offcuts.cutplan import CuttingPlan
from rosette.packet.entry import Entry
from rosette.packet.folder import Placed, put
from rosette.packet.manifest import FILE, Listed, Manifest, manifest_bytes
from rosette.packet.title import title_block
from rosette.plan import make_plan
from rosette.plan.model import Plan
from rosette.sheets.cutting import cutting_sheets, laser_sheets
from rosette.sheets.drawing import Drawing
from rosette.units import Units

WHOLE_JOB = "packet.pdf"


def cuts_entry(cutting: CuttingPlan) -> Entry:
    """cuts.json."""
    from rosette.offcuts.as_json import cut_json

    document = cut_json(cutting)
    return Entry(
        file="cuts.json",
        what="Every wedge's place in the offcuts and every cut in order, for other programs and"
        ' for "rosette offcuts take".',
        data=(json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode(),
    )


def laser_entries(cutting: CuttingPlan) -> Iterator[Entry]:
    """Drawings for a laser or CNC, where they are asked for."""
    from rosette.output.dxf import dxf_bytes
    from rosette.output.svg import svg_bytes

    for drawing in laser_sheets(cutting):
        name = f"sheets/{drawing.name}"
        yield Entry(file=f"{name}.svg", what=drawing.purpose, data=svg_bytes(drawing))
        yield Entry(file=f"{name}.dxf", what=drawing.purpose, data=dxf_bytes(drawing))


def write_cutting(
    cutting: CuttingPlan, design: Design, out: Path, *, units: Units | None = None
) -> Placed:
    """Write cuts.json and the cutting sheets into a folder, all or nothing.

    Raises:
        InputError: the folder can't be written, or holds a whole job; nothing has changed then.
    """
    if (out / WHOLE_JOB).exists():
        raise InputError(
            [
                finding(
                    "whole-job",
                    "--out",
                    "{out} holds a whole job; choose another folder, or cut with the job:"
                    " rosette make with --offcuts",
                    out=str(out),
                )
            ]
        )
    plan = make_plan(design)
    plan = replace(plan, units=units or plan.units)
    entries = [cuts_entry(cutting), *_sheets(cutting, plan), *laser_entries(cutting)]

    def finish(yours: frozenset[str]) -> Entry:
        manifest = Manifest(
            version=__version__,
            design_name=plan.name,
            design_file=design.source,
            design_sha256=design.sha256,
            files=tuple(
                Listed(file=one.file, what=one.what, sha256=one.sha256, yours=one.file in yours)
                for one in entries
            ),
        )
        return Entry(
            file=FILE,
            what="Every file here, what it is for, and its hash.",
            data=manifest_bytes(manifest),
        )

    return put(out, entries, finish)


def _sheets(cutting: CuttingPlan, plan: Plan) -> Iterator[Entry]:
    from rosette.output.dxf import dxf_bytes
    from rosette.output.svg import svg_bytes
    from rosette.sheets.frame import framed

    drawings: tuple[Drawing, ...] = cutting_sheets(cutting, plan)
    for place, drawing in enumerate(drawings, start=1):
        sheet = framed(drawing, title_block(plan, f"{place} / {len(drawings)}"))
        name = f"sheets/{drawing.name}"
        yield Entry(file=f"{name}.svg", what=drawing.purpose, data=svg_bytes(sheet))
        yield Entry(file=f"{name}.dxf", what=drawing.purpose, data=dxf_bytes(sheet))
