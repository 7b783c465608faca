"""What of a fixture is printed: every part, whole or in pieces, as it lies on the bed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from jigs.base import Fixture, Part
from jigs.bed import Printer, printer_for
from jigs.block_solid import checked_solid
from jigs.membrane import closed
from jigs.mesh import Corner, Mesh, joined, mesh_of
from jigs.orient import hanging_findings, lie_of
from jigs.pieces import Piece, TooLargeError, pieces_for, split_for
from jigs.printing import Lying, laid_down
from jigs.process import process_for
from jigs.split import split_solid
from jigs.thin_findings import worst_findings
from rosette.errors import Finding, finding
from rosette.plan.model import FixtureWishes

if TYPE_CHECKING:
    import cadquery


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """One body to print: a part, or a piece of one."""

    part: Part
    piece: Piece

    @property
    def ending(self) -> str:
        """What its file's name has more than its part's."""
        return f"-{self.piece.suffix}" if self.piece.suffix else ""

    @property
    def words(self) -> str:
        """What its title has more than its part's."""
        return f", piece {self.piece.number} of {self.piece.of}" if self.piece.suffix else ""

    @property
    def lying(self) -> Lying:
        """What it takes of the bed, and how often."""
        way = -1.0 if self.part.print_over else 1.0
        points = [_turned((x, way * y), way * self.piece.turn) for x, y in self.piece.hull]
        xs, ys = zip(*points, strict=True)
        box = (min(xs), min(ys), max(xs), max(ys))
        return Lying(box=box, count=len(self.part.places))


def prints_of(fixture: Fixture) -> Iterator[Print]:
    """All that is printed, part by part and piece by piece; no kernel needed."""
    for part in fixture.parts():
        for piece in pieces_for(part.block, fixture.printer):
            yield Print(part=part, piece=piece)


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A part as it is made: the meshes of its pieces as they lie, and what was found in them."""

    meshes: tuple[Mesh, ...]
    findings: tuple[Finding, ...]


def printed(fixture: Fixture, part: Part, solid: cadquery.Solid) -> Printed:
    """The meshes of a part's prints, in the order of `prints_of`, and what was found in them.

    A part is turned over if it hangs in the air else, and holes in ceilings are closed by a thin
    layer if nothing else helps; only for a printer.

    Raises:
        FixtureError: the kernel failed, or a solid or mesh is not what was asked for.
    """
    mesh, where = mesh_of(solid, fixture.name, part), f"{fixture.name}.{part.name}"
    thin = worst_findings(mesh, fixture.process, where) if fixture.process else ()
    if fixture.printer is None:
        return Printed(meshes=(laid_down(mesh, part),), findings=thin)
    split, lie = split_for(part.block, fixture.printer), lie_of(part, mesh)
    part = replace(part, print_over=lie.over)
    if lie.closed:
        part = replace(part, block=closed(part.block, over=lie.over))
        solid = checked_solid(part, fixture.name)
    if lie.closed or split.seams:
        bodies = split_solid(solid, split, fixture.name)
        meshes = [mesh_of(one, fixture.name, part) for one in bodies]
    else:
        meshes = [mesh]
    return Printed(
        meshes=tuple(
            _turned_mesh(laid_down(one, part), -piece.turn if lie.over else piece.turn)
            for one, piece in zip(meshes, split.pieces, strict=True)
        ),
        findings=(*thin, *hanging_findings(lie, where)),
    )


def as_wished(fixture: Fixture, wishes: FixtureWishes) -> Fixture:
    """A fixture as the maker's own way of making has it."""
    return on_printer(replace(fixture, process=process_for(wishes)), printer_for(wishes))


def on_printer(fixture: Fixture, printer: Printer | None) -> Fixture:
    """A fixture as one printer makes it, with a finding where that is in pieces or not at all."""
    try:
        made = replace(fixture, printer=printer)
        cut = [one for one in prints_of(made) if one.piece.suffix]
    except TooLargeError as error:
        told = tuple(replace(one, where=fixture.name) for one in error.findings)
        return replace(fixture, warnings=(*fixture.warnings, *told))
    if not cut:
        return made
    told = (
        finding(
            "in-pieces",
            fixture.name,
            "{count} pieces, since the printer's bed does not hold it whole; they go together one"
            " way only: glue them on a flat surface before use, and try the joints by hand",
            count=len(cut),
        ),
    )
    return replace(made, warnings=(*fixture.warnings, *told))


def _turned_mesh(mesh: Mesh, turn: float) -> Mesh:
    if not turn:
        return mesh
    corners: list[Corner] = [(*_turned((x, y), turn), z) for x, y, z in mesh.corners]
    return joined(corners, list(mesh.triangles))


def _turned(point: tuple[float, float], turn: float) -> tuple[float, float]:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    x, y = point
    return c * x - s * y, s * x + c * y
