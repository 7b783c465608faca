"""What a job folder holds: its parts, each made from the plan. This is their register.

To add one: write a function from a `Request` and the files made so far to more files, and
give it a line in `PARTS`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rosette.design.model import Design
from rosette.packet.entry import Entry
from rosette.packet.fixtures import Item
from rosette.plan.model import Plan
from rosette.sheets.drawing import Drawing

if TYPE_CHECKING:
    from rosette.offcuts.cutplan import CuttingPlan

PICTURE_PIXELS = 1600
"""Width of picture.png: sharp on a whole screen, and some hundred kilobytes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """One job: the design, its file's bytes, its plan and sheets, how it is wanted.

    `fixtures` waits for the fixtures, which are being made meanwhile: first for what they
    will be, so that the packet can tell of them, then for the files. `cutting` says how the
    wedges come out of offcuts, where they do.
    """

    design: Design
    record: bytes
    plan: Plan
    drawings: tuple[Drawing, ...]
    paper: str
    picture: Drawing
    fixtures: Iterator[tuple[Item, ...]]
    cutting: CuttingPlan | None = None


Made = Iterator[Item]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the folder: what is shown while it is made, its share of the time, its maker."""

    doing: str
    share: int
    make: Callable[[Request, tuple[Item, ...]], Made]


def _design(request: Request, _: tuple[Item, ...]) -> Made:
    yield Entry(
        file="design.toml",
        what="A copy of your design, from which all this was made.",
        data=request.record,
    )
    for one in request.design.files():
        yield Entry(file=one.name, what="A copy of a file that your design names.", data=one.data)


def _plan(request: Request, _: tuple[Item, ...]) -> Made:
    from rosette.plan.as_json import plan_json

    document = plan_json(request.plan)
    yield Entry(
        file="plan.json",
        what="Every number in full, for other programs.",
        data=(json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode(),
    )


def _sheets(request: Request, _: tuple[Item, ...]) -> Made:
    from rosette.output.dxf import dxf_bytes
    from rosette.output.svg import svg_bytes
    from rosette.packet.title import title_block
    from rosette.sheets.frame import framed

    for place, drawing in enumerate(request.drawings, start=1):
        block = title_block(request.plan, f"{place} / {len(request.drawings)}")
        sheet = framed(drawing, block)
        name = f"sheets/{drawing.name}"
        yield Entry(file=f"{name}.svg", what=drawing.purpose, data=svg_bytes(sheet))
        yield Entry(file=f"{name}.dxf", what=drawing.purpose, data=dxf_bytes(sheet))


def _picture(request: Request, _: tuple[Item, ...]) -> Made:
    from rosette.output.png import png_bytes
    from rosette.output.svg import svg_bytes

    drawing = request.picture
    yield Entry(file="picture.svg", what=drawing.purpose, data=svg_bytes(drawing))
    yield Entry(
        file="picture.png",
        what=drawing.purpose,
        data=png_bytes(drawing, pixels_per_mm=PICTURE_PIXELS / drawing.width),
    )


def _packet(request: Request, made: tuple[Item, ...]) -> Made:
    from rosette.output.pdf import pdf_bytes
    from rosette.packet.pages import packet_document
    from rosette.packet.title import title_block

    document = packet_document(
        request.plan,
        request.drawings,
        request.picture,
        made=made + next(request.fixtures),
        paper=request.paper,
        cutting=request.cutting,
    )
    yield Entry(
        file="packet.pdf",
        what="Everything to print: the numbers, the checklist, every sheet at true scale.",
        data=pdf_bytes(document, title_block(request.plan)),
    )


def _fixtures(request: Request, _: tuple[Item, ...]) -> Made:
    yield from next(request.fixtures)


def _cuts(request: Request, _: tuple[Item, ...]) -> Made:
    if request.cutting is None:
        return
    from rosette.packet.cutfolder import cuts_entry, laser_entries

    yield cuts_entry(request.cutting)
    yield from laser_entries(request.cutting)
    yield from request.cutting.warnings


PARTS = (
    Part(doing="Writing the numbers", share=1, make=_plan),
    Part(doing="Writing the numbers", share=1, make=_cuts),
    Part(doing="Keeping the design", share=1, make=_design),
    Part(doing="Drawing the sheets", share=20, make=_sheets),
    Part(doing="Drawing the picture", share=10, make=_picture),
    Part(doing="Setting the packet", share=28, make=_packet),
    Part(doing="Making the fixtures", share=40, make=_fixtures),
)
"""Every part, in the order of making; the packet tells of the others, also of those to come."""
