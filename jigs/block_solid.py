"""A block of flat steps as a solid, face by face, and the checks that every solid must pass.

The faces are put together directly, each edge shared by the two faces that meet in it. Cutting
every step out of the block instead gives the same solid in many times the time.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from jigs.base import Part
from jigs.faults import failure, first_fault
from jigs.kernel import load
from jigs.letters import inside
from jigs.terrace import Block, Contour, Step, counter_clockwise
from rosette.geometry.outline import Outline, Point, arc_between

if TYPE_CHECKING:
    import cadquery

VOLUME_TOLERANCE = 1e-7
"""How far, relatively, a solid's volume may be from the formula's."""
SAME_HEIGHT = 1e-9


def checked_solid(part: Part, fixture: str) -> cadquery.Solid:
    """The solid of a part, in its own coordinates, after every check.

    `fixture` is the name of the fixture, for what errors say.

    Raises:
        MissingLibraryError: the CAD kernel can't be loaded.
        FixtureError: the kernel failed, or the solid is not what was asked for.
    """
    load()
    try:
        solid = block_solid(part.block)
        problem = problem_of(solid, part.block.volume())
    except Exception as error:  # the kernel throws its own kinds, with its own words
        raise failure(fixture, part, f"the CAD kernel failed ({_first_line(error)})") from error
    if problem:
        raise failure(fixture, part, problem)
    return solid


def problem_of(shape: cadquery.Shape, volume: float) -> str:
    """What is wrong with a solid that should have `volume` mm³; empty where nothing is."""
    count = len(shape.Solids())
    if count != 1:
        return f"the kernel made {count} solids instead of one"
    if not shape.isValid():
        return f"the kernel made a solid that is not valid ({first_fault(shape)})"
    found = shape.Volume()
    if not abs(found - volume) <= VOLUME_TOLERANCE * volume:
        return f"the solid holds {found:.6f} mm³ instead of {volume:.6f} mm³"
    return ""


def block_solid(block: Block) -> cadquery.Solid:
    """The solid of a block, unchecked."""
    from cadquery import Solid
    from OCP.BRep import BRep_Builder
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeSolid
    from OCP.TopoDS import TopoDS_Shell

    builder, shell = BRep_Builder(), TopoDS_Shell()
    builder.MakeShell(shell)
    for face in _faces(block):
        builder.Add(shell, face)
    shell.Closed(True)
    return Solid(BRepBuilderAPI_MakeSolid(shell).Solid())


def _faces(block: Block) -> Iterator[Any]:
    """Every face, its outward side turned outward."""
    sides, bottom, top = _sides(block)
    yield from sides
    through: list[_Hole] = []
    yield from _steps(top, block.steps, block.top, _Bottom(block.under, through))
    yield from _underside(bottom, block.under, 0.0, through)


@dataclass(frozen=True, slots=True)
class _Hole:
    """Where a hole from the top comes out below: a point of it, and its wire."""

    point: Point
    wire: Any


@dataclass(frozen=True, slots=True)
class _Bottom:
    """The steps of the underside, and the holes found so far that come out there."""

    under: tuple[Step, ...]
    holes: list[_Hole]

    def height_at(self, point: Point) -> float:
        """How high the bottom stands over a point of the plan."""
        steps, height = self.under, 0.0
        while True:
            step = next((one for one in steps if _holds(one, point)), None)
            if step is None:
                return height
            steps, height = step.steps, step.top


def _holds(step: Step, point: Point) -> bool:
    return inside(point, step.outline.points())


def _first_point(outline: Outline | Contour) -> Point:
    return outline.points()[0]


def _sides(block: Block) -> tuple[list[Any], Any, Any]:
    """The outer faces with the chamfer, and the wires of bottom and top."""
    low = _wire(block.outline, block.chamfer)
    slope: list[Any] = []
    bottom = low
    if block.chamfer:
        slope, bottom, low = _slope(low, block.chamfer)
    walls, top = _walls(low, block.top - block.chamfer)
    return [*slope, *(wall.Reversed() for wall in walls)], bottom, top


def _slope(wire: Any, height: float) -> tuple[list[Any], Any, Any]:
    """The faces that lean in at 45° from a wire down to z = 0, the wire there and the upper one."""
    from cadquery import Face, Solid, Vector
    from OCP.BRepTools import BRepTools

    below = Face(_flat(wire, [], up=True))
    solid = Solid.extrudeLinear(below, Vector(0, 0, -height), 45)
    bottom, top = (solid.faces(end).Faces()[0].wrapped for end in ("<Z", ">Z"))
    leaning = [one.wrapped for one in solid.Faces()]
    leaning = [one for one in leaning if not one.IsSame(bottom) and not one.IsSame(top)]
    return leaning, BRepTools.OuterWire_s(bottom), BRepTools.OuterWire_s(top)


def _steps(wire: Any, steps: tuple[Step, ...], level: float, bottom: _Bottom) -> Iterator[Any]:
    """The face at `level` inside `wire`, and all that stands or is sunk in it."""
    edges = []
    for step in steps:
        edge = _wire(step.outline, level)
        walls, foot = _walls(edge, step.top - level)
        edges.append(edge)
        yield from (wall.Reversed() for wall in walls)
        point = _first_point(step.outline)
        if abs(step.top - bottom.height_at(point)) < SAME_HEIGHT:
            bottom.holes.append(_Hole(point, foot))
        else:
            yield from _steps(foot, step.steps, step.top, bottom)
    yield _flat(wire, edges, up=True)


def _underside(
    wire: Any, steps: tuple[Step, ...], level: float, holes: list[_Hole]
) -> Iterator[Any]:
    """The face at `level` inside `wire`, looking down, and all that is sunk in it or hangs down.

    `holes` are those that come out inside `wire`.
    """
    edges = []
    for step in steps:
        edge = _wire(step.outline, level)
        walls, foot = _walls(edge, step.top - level)
        edges.append(edge)
        yield from walls
        within = [hole for hole in holes if _holds(step, hole.point)]
        holes = [hole for hole in holes if hole not in within]
        yield from _underside(foot, step.steps, step.top, within)
    yield _flat(wire, edges + [hole.wire for hole in holes], up=False)


def _walls(wire: Any, height: float) -> tuple[list[Any], Any]:
    """The faces that a wire sweeps going up or down, and the wire it ends as.

    The kernel turns the faces of a counter-clockwise wire inward when it is swept up and
    outward when it is swept down: right for pockets and feet of the underside, the wrong way for
    pockets and islands of the top.
    """
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec
    from OCP.TopAbs import TopAbs_FACE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    sweep = BRepPrimAPI_MakePrism(wire, gp_Vec(0, 0, height))
    explorer, faces = TopExp_Explorer(sweep.Shape(), TopAbs_FACE), []
    while explorer.More():
        faces.append(explorer.Current())
        explorer.Next()
    return faces, TopoDS.Wire_s(sweep.LastShape())


def _flat(wire: Any, holes: list[Any], *, up: bool) -> Any:
    """The level face inside `wire` and outside `holes`, facing up or down."""
    from OCP.BRep import BRep_Tool
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
    from OCP.TopAbs import TopAbs_VERTEX
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    corner = TopoDS.Vertex_s(TopExp_Explorer(wire, TopAbs_VERTEX).Current())
    plane = gp_Pln(gp_Pnt(0, 0, BRep_Tool.Pnt_s(corner).Z()), gp_Dir(0, 0, 1))
    maker = BRepBuilderAPI_MakeFace(plane, wire, True)
    for hole in holes:
        maker.Add(TopoDS.Wire_s(hole.Reversed()))
    face = maker.Face()
    return face if up else face.Reversed()


def _wire(outline: Outline | Contour, z: float) -> Any:
    """A closed outline as a counter-clockwise wire at height `z`."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeWire

    outline = counter_clockwise(outline)
    edges = _curves(outline, z) if isinstance(outline, Outline) else _letter_edges(outline, z)
    maker = BRepBuilderAPI_MakeWire()
    for edge in edges:
        maker.Add(edge.wrapped)
    return maker.Wire()


def _curves(outline: Outline, z: float) -> Iterator[cadquery.Edge]:
    from cadquery import Edge, Vector

    for a, b in outline.edges():
        start, end = Vector(a.x, a.y, z), Vector(b.x, b.y, z)
        if not a.bulge:
            yield Edge.makeLine(start, end)
            continue
        arc = arc_between(a, b)
        half = arc.start_rad + arc.sweep_rad / 2.0
        middle = Vector(arc.x + arc.radius * math.cos(half), arc.y + arc.radius * math.sin(half), z)
        yield Edge.makeThreePointArc(start, middle, end)


def _letter_edges(contour: Contour, z: float) -> Iterator[cadquery.Edge]:
    from cadquery import Edge, Vector

    starts = [Vector(*point, z) for point, _ in contour.segments]
    for i, (_, control) in enumerate(contour.segments):
        start, end = starts[i], starts[(i + 1) % len(starts)]
        if control is None:
            yield Edge.makeLine(start, end)
        else:
            yield Edge.makeBezier([start, Vector(*control, z), end])


def _first_line(error: Exception) -> str:
    lines = str(error).strip().splitlines()
    return lines[0] if lines else type(error).__name__
